import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { NumericsRangeError } from './errors.ts';
import { normalCdf, normalQuantile } from './normal.ts';

/** A stream of uniform numbers, 0 (included) to 1 (excluded). Each call moves the stream on. */
export type Random = () => number;

/**
 * A repeatable stream of uniform numbers: equal seeds give equal streams on every machine.
 *
 * @param seed  integer, -2^31 to 2^31 - 1
 * @returns the stream
 * @throws NumericsRangeError when the seed is not a 32-bit integer
 * @source xoroshiro128+ (Blackman & Vigna 2018), by the pure-rand library
 * @example seededRandom(7)() // always the same first number
 */
export function seededRandom(seed: number): Random {
  if ((seed | 0) !== seed) throw new NumericsRangeError('seed', seed, 'a 32-bit integer');
  const generator = xoroshiro128plus(seed);
  return () => uniformFloat64(generator);
}

/** A uniform number of the open interval: a quantile function may be asked for it safely. */
function openUniform(random: Random): number {
  return random() + 2 ** -54;
}

/**
 * One standard normal number.
 *
 * @param random  uniform stream
 * @returns standard score [-]
 * @source inversion of the normal distribution: one uniform gives one normal, monotone in it
 * @example normal(seededRandom(1))
 */
export function normal(random: Random): number {
  return normalQuantile(Math.min(openUniform(random), 1 - 2 ** -53));
}

/**
 * One log-normal number.
 *
 * @param random  uniform stream
 * @param median  median [any unit], above 0
 * @param lnSd  standard deviation of the logarithm [-], 0 or more
 * @returns number above 0 [unit of the median]
 * @source definition
 * @example lognormal(seededRandom(1), 4, 0.2)
 */
export function lognormal(random: Random, median: number, lnSd: number): number {
  return median * Math.exp(lnSd * normal(random));
}

/**
 * One normal number kept between two bounds (the rest of the bell is cut off, not piled up).
 *
 * @param random  uniform stream
 * @param mean  mean of the uncut bell [any unit]
 * @param sd  standard deviation of the uncut bell [same unit], above 0
 * @param low  lower bound [same unit]
 * @param high  upper bound [same unit], above low
 * @returns number from low to high [same unit]
 * @throws NumericsRangeError when the bounds are crossed or no part of the bell lies between them
 * @source inversion
 * @example truncatedNormal(seededRandom(1), 90, 4, 78, 99)
 */
export function truncatedNormal(
  random: Random,
  mean: number,
  sd: number,
  low: number,
  high: number,
): number {
  if (!(high > low)) throw new NumericsRangeError('high', high, `above low (${low})`);
  const from = normalCdf((low - mean) / sd);
  const to = normalCdf((high - mean) / sd);
  if (!(to > from)) throw new NumericsRangeError('low', low, `within 8 sd of the mean (${mean})`);
  const z = normalQuantile(Math.min(Math.max(from + (to - from) * random(), 1e-300), 1 - 2 ** -53));
  return Math.min(high, Math.max(low, mean + sd * z));
}
