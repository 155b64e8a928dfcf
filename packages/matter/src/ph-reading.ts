import { inRange } from './errors.ts';

/** Fall of the pH of mash and wort [1/K]. */
const PH_PER_K = -0.0078;
const ROOM_C = 20;

/**
 * A pH as it would read at room temperature.
 *
 * @param ph as read, 3 to 9
 * @param tC temperature of the sample [°C], 0 to 100
 * @returns pH at 20 °C
 * @throws OutOfRange outside the ranges
 * @source derived line through wort at 65 °C 0.35 and at 78 °C 0.45 below room temperature (Briggs et
 *   al., second hand)
 * @example phAt20(5.25, 65) // 5.60
 */
export function phAt20(ph: number, tC: number): number {
  const read = inRange('pH', ph, 3, 9, '');
  return read - PH_PER_K * (inRange('temperature of the sample', tC, 0, 100, '°C') - ROOM_C);
}

/** Change of mash pH by decoctions. */
export interface PhShift {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/**
 * What boiling parts of a mash does to its pH: somewhere between nothing and a tenth each time.
 *
 * @param decoctions number of boiled parts, 0 to 5
 * @returns shift, low to high; measure it
 * @throws OutOfRange outside the range
 * @source our judgement between a fall claimed without data (common practice) and Lewis & Wahnon, J.
 *   ASBC 42:159 (1984, abstract), who show no clear reaction
 */
export function decoctionPhShift(decoctions: number): PhShift {
  const n = inRange('number of decoctions', decoctions, 0, 5, '');
  return { low: -0.1 * n, likely: -0.05 * n, high: 0 };
}
