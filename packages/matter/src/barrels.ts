import { fromHouse } from '@ladlework/quantity';
import { inRange, OutOfRange } from './errors.ts';

/** Rounds a half up, deaf to the last bits that binary fractions leave behind. */
function roundHalfUp(x: number, digits: number): number {
  const scale = 10 ** digits;
  return Math.floor(x * scale + 0.5 + 1e-9 * Math.max(1, x)) / scale;
}

/**
 * US barrels in a case or a keg, as the law's tables print them.
 *
 * @param containerL contents of one container [L], 0.01 to 1e5
 * @param containers number of containers, a whole number 1 to 1e6
 * @returns barrels of 31 US gallons, rounded to 5 decimals
 * @throws OutOfRange outside the ranges
 * @source 27 CFR 25.156 and 25.158
 * @example barrelEquivalent(50, 1) // 0.42608
 */
export function barrelEquivalent(containerL: number, containers: number): number {
  const litres = inRange('contents of a container', containerL, 0.01, 1e5, 'L');
  const count = inRange('containers', containers, 1, 1e6, '');
  if (!Number.isInteger(count)) {
    throw new OutOfRange('number of containers, which must be whole,', count, 1, 1e6, '');
  }
  return roundHalfUp(fromHouse('volume', 'bbl', litres * count), 5);
}

/**
 * Barrels of a day's removals: the equivalents are added first and only the sum is rounded.
 *
 * @param equivalents barrels, each to 5 decimals, 0 to 1e6
 * @returns barrels to 2 decimals
 * @throws OutOfRange outside the range
 * @source 27 CFR 25.156 and 25.158
 */
export function barrelsForDay(equivalents: readonly number[]): number {
  let sum = 0;
  for (const e of equivalents) sum += inRange('barrels', e, 0, 1e6, 'bbl');
  return roundHalfUp(sum, 2);
}
