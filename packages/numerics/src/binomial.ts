import { NumericsRangeError } from './errors.ts';

/**
 * Chance of at least so many successes in independent trials.
 *
 * @param successes  whole number, 0 or more; above the trials the chance is 0
 * @param trials  whole number, 1 to 100 000
 * @param p  chance of one success [-], 0 to 1
 * @returns chance, 0 to 1
 * @throws NumericsRangeError outside the ranges
 * @source binomial distribution; terms by their logarithms, summed from the largest
 * @example binomialAtLeast(5, 6, 1 / 3) // 0.0178: 13/729
 */
export function binomialAtLeast(successes: number, trials: number, p: number): number {
  if (!(Number.isInteger(trials) && trials >= 1 && trials <= 100_000))
    throw new NumericsRangeError('trials', trials, 'a whole number from 1 to 100 000');
  if (!(Number.isInteger(successes) && successes >= 0))
    throw new NumericsRangeError('successes', successes, 'a whole number, 0 or more');
  if (!(p >= 0 && p <= 1)) throw new NumericsRangeError('p', p, '0 to 1');
  if (successes === 0) return 1;
  if (successes > trials || p === 0) return 0;
  if (p === 1) return 1;
  const odds = Math.log(p / (1 - p));
  let log = trials * Math.log1p(-p);
  const logs: number[] = [];
  for (let k = 1; k <= trials; k++) {
    log += odds + Math.log((trials - k + 1) / k);
    if (k >= successes) logs.push(log);
  }
  const largest = Math.max(...logs);
  const sum = logs.reduce((total, l) => total + Math.exp(l - largest), 0);
  return Math.min(1, Math.exp(largest) * sum);
}
