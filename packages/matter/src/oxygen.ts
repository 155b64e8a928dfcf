import { inRange } from './errors.ts';

/** ln of the saturation [mg/L] of water under moist air at 101.325 kPa, by powers of 1/T. */
const SATURATION = [-139.34411, 1.575701e5, -6.642308e7, 1.2438e10, -8.621949e11] as const;
/** Share of the saturation lost per degree Plato; our judgement, worts of 10-12 °P hold some 15 % less. */
const LOST_PER_PLATO = 0.012;
/** Oxygen in air by volume. */
const AIR = 0.2095;

/** Dissolved oxygen wanted in wort [mg/L]. */
export const WORT_OXYGEN = {
  /** Narziss, second hand. */
  usual: { low: 8, high: 10 },
  /** Common practice, no source. */
  lager: { low: 8, high: 12 },
} as const;

/**
 * Oxygen that wort can take up from air or oxygen.
 *
 * @param wort tC [°C], 0 to 40; plato [°P], 0 to 30; pressureKPa absolute [kPa], 50 to 500; oxygenShare
 *   of the gas by volume [-], 0 to 1, air unless given
 * @returns saturation [mg/L]
 * @throws OutOfRange outside the ranges
 * @source Benson & Krause as in Standard Methods 4500-O, for water (from memory; 9.09 at 20 °C);
 *   Henry's law for pressure and gas; the effect of extract is our judgement
 * @example oxygenSaturation({ tC: 20, plato: 0, pressureKPa: 101.325 }) // 9.09
 */
export function oxygenSaturation(wort: {
  readonly tC: number;
  readonly plato: number;
  readonly pressureKPa: number;
  readonly oxygenShare?: number;
}): number {
  const t = inRange('wort temperature', wort.tC, 0, 40, '°C') + 273.15;
  const plato = inRange('extract', wort.plato, 0, 30, '°P');
  const pressure = inRange('pressure', wort.pressureKPa, 50, 500, 'kPa') / 101.325;
  const share = inRange('oxygen in the gas', wort.oxygenShare ?? AIR, 0, 1, '') / AIR;
  const [a, b, c, d, e] = SATURATION;
  const water = Math.exp(a + (b + (c + (d + e / t) / t) / t) / t);
  return water * (1 - LOST_PER_PLATO * plato) * pressure * share;
}
