import { inRange } from './errors.ts';

/** Splitting of S-methylmethionine at 100 °C [1/min]. Wilson & Booer, J. Inst. Brew. 1979. */
const SPLIT_AT_BOIL = 0.02;
/** Activation energy [J/mol], from the halving per 6 K (Dickenson 1979, second hand). */
const SPLIT_ENERGY = 131_600;
const GAS = 8.314;
const BOIL_K = 373.15;
/** Half-life 38 min at pH 5.2, 32.5 at 5.5 (Dickenson 1979, second hand): rise of ln k per unit. */
const LN_PER_PH = 0.52;
/** pH at which that line has the rate at the boil used here. */
const PH_OF_RATE = 5.2 + Math.log((38 * SPLIT_AT_BOIL) / Math.LN2) / LN_PER_PH;
/** Free DMS driven off [1/min] at an evaporation of 17 %/h. Wilson & Booer 1979. */
const STRIPPING = { perMin: 0.18, atPctH: 17 } as const;

/**
 * Rate at which the precursor splits into DMS.
 *
 * @param tC wort temperature [°C], 70 to 105; below 70 it all but stands still
 * @param ph of the wort, cooled, 4.8 to 6.2; left out, the rate stands as published
 * @returns first-order rate [1/min]
 * @throws OutOfRange outside the ranges
 * @source Wilson & Booer 1979; temperature and pH by Dickenson 1979, second hand
 * @example precursorRate(100) // 0.02
 */
export function precursorRate(tC: number, ph?: number): number {
  const t = inRange('wort temperature', tC, 70, 105, '°C') + 273.15;
  const acid = ph === undefined ? 0 : LN_PER_PH * (inRange('pH', ph, 4.8, 6.2, '') - PH_OF_RATE);
  return SPLIT_AT_BOIL * Math.exp((-SPLIT_ENERGY / GAS) * (1 / t - 1 / BOIL_K) + acid);
}

/** What is left of the precursor, and the free DMS, both in the unit of the precursor at the start. */
export interface DmsLeft {
  readonly precursor: number;
  readonly free: number;
}

/**
 * Precursor and free DMS at the end of a boil: two first-order steps, made and driven off.
 *
 * @param boil precursor at the start as DMS [any unit], 0 to 1e5; free DMS at the start, 0 to 1e5, 0
 *   unless given; minutes [min], 0 to 600; tC [°C], 70 to 105; evaporationPctH [%/h], 0 to 40, 0 for a
 *   closed hot stand; ph of the wort, 4.8 to 6.2, if known
 * @returns precursor and free DMS
 * @throws OutOfRange outside the ranges
 * @source Wilson & Booer, J. Inst. Brew. 1979; stripping taken as proportional to the evaporation
 * @example dmsAfter({ precursor: 1, minutes: 60, tC: 100, evaporationPctH: 8 }).free // 0.09
 */
export function dmsAfter(boil: {
  readonly precursor: number;
  readonly free?: number;
  readonly minutes: number;
  readonly tC: number;
  readonly evaporationPctH: number;
  readonly ph?: number;
}): DmsLeft {
  const start = inRange('precursor', boil.precursor, 0, 1e5, '');
  const free = inRange('free DMS', boil.free ?? 0, 0, 1e5, '');
  const minutes = inRange('time', boil.minutes, 0, 600, 'min');
  const split = precursorRate(boil.tC, boil.ph);
  const evaporation = inRange('evaporation', boil.evaporationPctH, 0, 40, '%/h');
  const strip = (STRIPPING.perMin * evaporation) / STRIPPING.atPctH;
  const precursor = start * Math.exp(-split * minutes);
  const gap = strip - split;
  // At equal rates the closed form is 0/0; its limit is t e^(-k t).
  const made =
    Math.abs(gap * minutes) < 1e-9
      ? split * minutes * Math.exp(-split * minutes)
      : (split / gap) * (Math.exp(-split * minutes) - Math.exp(-strip * minutes));
  return { precursor, free: start * made + free * Math.exp(-strip * minutes) };
}
