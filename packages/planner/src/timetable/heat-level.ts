/** Heat for liquor that stands, by whole minutes. */

/**
 * Heat for so many minutes.
 * @param heatWh by minute from 0, never falling [Wh]
 * @param minutes of standing; below 0 counts as 0, beyond the list as its last
 */
export function heatAt(heatWh: readonly number[], minutes: number): number {
  const k = Math.max(0, Math.min(heatWh.length - 1, minutes));
  return heatWh[k] ?? 0;
}

/**
 * The longest stand for no more than so much heat.
 * @param heatWh by minute from 0, never falling [Wh]
 * @param mostWh the limit
 * @returns minutes; infinite when even the longest keeps to it, -1 when none does
 */
export function longestWithin(heatWh: readonly number[], mostWh: number): number {
  if ((heatWh.at(-1) ?? 0) <= mostWh) return Number.POSITIVE_INFINITY;
  let low = -1;
  let high = heatWh.length - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if ((heatWh[mid] as number) <= mostWh) low = mid;
    else high = mid;
  }
  return low;
}
