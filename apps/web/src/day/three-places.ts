/** One temperature from three places: what they say together, and whether they agree. Pure. */

/** Places further apart than this have not settled [K]. @source field.md 1.16 */
const SETTLED_K = 1;
/** A thermometer moved from place to place repeats to no better than this [K]. common practice, no source */
const BEST_SD_K = 0.3;

export interface ThreePlaces {
  readonly meanC: number;
  readonly spreadK: number;
  /** Standard error of the mean [K]. */
  readonly sdK: number;
  readonly settled: boolean;
}

/**
 * @param values readings of one vessel, each in another place [°C], at least one
 * @example threePlaces([61.4, 61.9, 62.0]).settled // true
 */
export function threePlaces(values: readonly number[]): ThreePlaces {
  const n = values.length;
  const meanC = values.reduce((sum, x) => sum + x, 0) / n;
  const spreadK = Math.max(...values) - Math.min(...values);
  const variance = values.reduce((sum, x) => sum + (x - meanC) ** 2, 0) / Math.max(1, n - 1);
  return {
    meanC,
    spreadK,
    sdK: Math.max(BEST_SD_K, Math.sqrt(variance / n)),
    settled: spreadK < SETTLED_K,
  };
}
