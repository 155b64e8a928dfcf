import { NumericsRangeError } from './errors.ts';

/** Low, likely and high of a quantity: the 10 %, 50 % and 90 % points, so the band holds 80 %. */
export interface Band {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

function requireSome(name: string, values: ArrayLike<number>): void {
  if (values.length === 0) throw new NumericsRangeError(`${name}.length`, 0, '1 or more');
}

function requireShare(p: number): void {
  if (!(p >= 0 && p <= 1)) throw new NumericsRangeError('p', p, '0 to 1');
}

function requireWeights(values: ArrayLike<number>, weights: ArrayLike<number>): number {
  requireSome('values', values);
  if (weights.length !== values.length)
    throw new NumericsRangeError('weights.length', weights.length, `${values.length}`);
  let total = 0;
  for (let i = 0; i < weights.length; i++) {
    const w = weights[i]!;
    if (!(w >= 0)) throw new NumericsRangeError(`weights[${i}]`, w, '0 or more');
    total += w;
  }
  if (!(total > 0)) throw new NumericsRangeError('sum of weights', total, 'above 0');
  return total;
}

/**
 * Quantile of numbers already in rising order.
 *
 * @param sorted  numbers in rising order [any unit], at least one
 * @param p  share below [-], 0 to 1
 * @returns quantile [same unit], linear between neighbours
 * @throws NumericsRangeError when there are no numbers or p is outside 0 to 1
 * @source Hyndman & Fan 1996, American Statistician 50(4):361-365, type 7
 * @example sortedQuantile([1, 2, 3, 4], 0.5) // 2.5
 */
export function sortedQuantile(sorted: ArrayLike<number>, p: number): number {
  requireSome('sorted', sorted);
  requireShare(p);
  const place = p * (sorted.length - 1);
  const below = Math.floor(place);
  const low = sorted[below]!;
  const high = sorted[Math.min(below + 1, sorted.length - 1)]!;
  return low + (place - below) * (high - low);
}

/**
 * Quantile of numbers in any order. The input is not changed.
 *
 * @param values  numbers [any unit], at least one
 * @param p  share below [-], 0 to 1
 * @returns quantile [same unit], type 7
 * @throws NumericsRangeError when there are no numbers or p is outside 0 to 1
 * @source Hyndman & Fan 1996, type 7
 * @example quantile([3, 1, 4, 2], 0.5) // 2.5
 */
export function quantile(values: ArrayLike<number>, p: number): number {
  return sortedQuantile(Float64Array.from(values).sort(), p);
}

/**
 * Quantile of weighted numbers. Equal weights give the same answer as `quantile`.
 *
 * @param values  numbers [any unit], at least one
 * @param weights  weights [any one unit], each 0 or more, not all 0
 * @param p  share of the weight below [-], 0 to 1
 * @returns quantile [same unit]
 * @throws NumericsRangeError when lengths differ, weights are unusable or p is outside 0 to 1
 * @source type 7 carried over to weights: each number stands at the middle of its weight, the axis
 *   stretched so that the first and the last number are the 0 and 1 quantile
 * @example weightedQuantile([1, 2, 3], [1, 1, 1], 0.5) // 2
 */
export function weightedQuantile(
  values: ArrayLike<number>,
  weights: ArrayLike<number>,
  p: number,
): number {
  requireWeights(values, weights);
  requireShare(p);
  const order = Array.from({ length: values.length }, (_, i) => i)
    .filter((i) => weights[i]! > 0)
    .sort((a, b) => values[a]! - values[b]!);
  const places = new Float64Array(order.length);
  let passed = 0;
  for (let k = 0; k < order.length; k++) {
    const w = weights[order[k]!]!;
    places[k] = passed + w / 2;
    passed += w;
  }
  const first = places[0]!;
  const last = places[order.length - 1]!;
  const place = first + p * (last - first);
  let k = 1;
  while (k < order.length - 1 && places[k]! < place) k++;
  if (order.length === 1) return values[order[0]!]!;
  const low = values[order[k - 1]!]!;
  const high = values[order[k]!]!;
  const from = places[k - 1]!;
  const to = places[k]!;
  return low + Math.min(1, Math.max(0, (place - from) / (to - from))) * (high - low);
}

/**
 * Mean of weighted numbers.
 *
 * @param values  numbers [any unit], at least one
 * @param weights  weights, each 0 or more, not all 0
 * @returns mean [same unit]
 * @throws NumericsRangeError when lengths differ or weights are unusable
 * @source definition
 * @example weightedMean([1, 3], [3, 1]) // 1.5
 */
export function weightedMean(values: ArrayLike<number>, weights: ArrayLike<number>): number {
  const total = requireWeights(values, weights);
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += weights[i]! * values[i]!;
  return sum / total;
}

/**
 * Standard deviation of weighted numbers about their weighted mean (weights are shares of
 * probability, so no n - 1 correction).
 *
 * @param values  numbers [any unit], at least one
 * @param weights  weights, each 0 or more, not all 0
 * @returns standard deviation [same unit]
 * @throws NumericsRangeError when lengths differ or weights are unusable
 * @source definition
 * @example weightedSd([1, 3], [1, 1]) // 1
 */
export function weightedSd(values: ArrayLike<number>, weights: ArrayLike<number>): number {
  const total = requireWeights(values, weights);
  const mean = weightedMean(values, weights);
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += weights[i]! * (values[i]! - mean) ** 2;
  return Math.sqrt(sum / total);
}

/**
 * How many equally weighted draws carry as much information as these weighted ones.
 *
 * @param weights  weights, each 0 or more, not all 0
 * @returns effective number [-], 1 to the number of weights
 * @throws NumericsRangeError when weights are unusable
 * @source Kong 1992; (sum w)^2 / sum w^2
 * @example effectiveSampleSize([1, 1, 0, 0]) // 2
 */
export function effectiveSampleSize(weights: ArrayLike<number>): number {
  const total = requireWeights(weights, weights);
  let squares = 0;
  for (let i = 0; i < weights.length; i++) squares += weights[i]! ** 2;
  return (total * total) / squares;
}

/**
 * The band shown to the brewer: 10 %, 50 % and 90 % points.
 *
 * @param values  one number per draw [any unit], at least one
 * @param weights  weights of the draws; left out, all count alike
 * @returns low, likely and high [same unit]
 * @throws NumericsRangeError when there are no numbers or weights are unusable
 * @source quantiles as above
 * @example band([60, 61, 62, 63, 64]) // { low: 60.4, likely: 62, high: 63.6 }
 */
export function band(values: ArrayLike<number>, weights?: ArrayLike<number>): Band {
  if (weights !== undefined)
    return {
      low: weightedQuantile(values, weights, 0.1),
      likely: weightedQuantile(values, weights, 0.5),
      high: weightedQuantile(values, weights, 0.9),
    };
  const sorted = Float64Array.from(values).sort();
  return {
    low: sortedQuantile(sorted, 0.1),
    likely: sortedQuantile(sorted, 0.5),
    high: sortedQuantile(sorted, 0.9),
  };
}
