import { NumericsRangeError } from './errors.ts';
import { normalQuantile } from './normal.ts';
import { type Random, seededRandom } from './random.ts';

function shuffle(order: Int32Array, random: Random): void {
  for (let i = order.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    const kept = order[i]!;
    order[i] = order[j]!;
    order[j] = kept;
  }
}

/**
 * Standard normal draws for an ensemble by Latin hypercube: in every dimension each of the n equal
 * slices of probability holds exactly one draw, so means and spreads settle far faster than with
 * independent numbers.
 *
 * @param n  number of draws, 1 to 1e6
 * @param dims  number of uncertain quantities, 1 to 1000
 * @param seed  32-bit integer
 * @returns n * dims standard scores [-], row-major: draw i, quantity j at [i * dims + j]
 * @throws NumericsRangeError when a count is outside its range
 * @source McKay, Beckman & Conover 1979, Technometrics 21(2):239-245
 * @example drawMatrix(400, 20, 1) // Float64Array(8000)
 */
export function drawMatrix(n: number, dims: number, seed: number): Float64Array {
  if (!(Number.isInteger(n) && n >= 1 && n <= 1e6))
    throw new NumericsRangeError('n', n, 'an integer from 1 to 1e6');
  if (!(Number.isInteger(dims) && dims >= 1 && dims <= 1000))
    throw new NumericsRangeError('dims', dims, 'an integer from 1 to 1000');
  const random = seededRandom(seed);
  const draws = new Float64Array(n * dims);
  const order = Int32Array.from({ length: n }, (_, i) => i);
  const least = 0.5 / (n * 1024);
  for (let j = 0; j < dims; j++) {
    shuffle(order, random);
    for (let i = 0; i < n; i++) {
      const p = (order[i]! + random()) / n;
      draws[i * dims + j] = normalQuantile(Math.min(Math.max(p, least), 1 - least));
    }
  }
  return draws;
}
