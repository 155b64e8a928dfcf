import { inRange } from './errors.ts';

/** Splitting of S-methylmethionine at 100 °C [1/min]. Wilson & Booer, J. Inst. Brew. 1979. */
const SPLIT_AT_BOIL = 0.02;
/** Activation energy [J/mol], from the halving per 6 K (Dickenson 1979, second hand). */
const SPLIT_ENERGY = 131_600;
const GAS = 8.314;
const BOIL_K = 373.15;
/** Free DMS driven off [1/min] at an evaporation of 17 %/h. Wilson & Booer 1979. */
const STRIPPING = { perMin: 0.18, atPctH: 17 } as const;

/**
 * Rate at which the precursor splits into DMS.
 *
 * @param tC wort temperature [°C], 70 to 105; below 70 it all but stands still
 * @returns first-order rate [1/min]
 * @throws OutOfRange outside the range
 * @source Wilson & Booer 1979; temperature by Dickenson 1979, second hand
 * @example precursorRate(100) // 0.02
 */
export function precursorRate(tC: number): number {
  const t = inRange('wort temperature', tC, 70, 105, '°C') + 273.15;
  return SPLIT_AT_BOIL * Math.exp((-SPLIT_ENERGY / GAS) * (1 / t - 1 / BOIL_K));
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
 *   closed hot stand
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
}): DmsLeft {
  const start = inRange('precursor', boil.precursor, 0, 1e5, '');
  const free = inRange('free DMS', boil.free ?? 0, 0, 1e5, '');
  const minutes = inRange('time', boil.minutes, 0, 600, 'min');
  const split = precursorRate(boil.tC);
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
