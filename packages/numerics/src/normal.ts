import { NumericsRangeError } from './errors.ts';
import {
  CENTRE_DEN,
  CENTRE_NUM,
  FAR_DEN,
  FAR_NUM,
  HART_DEN,
  HART_NUM,
  TAIL_DEN,
  TAIL_NUM,
} from './normal-coefficients.ts';

function polynomial(coefficients: readonly number[], x: number): number {
  let sum = 0;
  for (const c of coefficients) sum = sum * x + c;
  return sum;
}

/**
 * Density of the standard normal distribution.
 *
 * @param z  standard score [-], any
 * @returns density [-]
 * @source definition
 * @example normalDensity(0) // 0.3989
 */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
}

/**
 * Share of a standard normal population below z.
 *
 * @param z  standard score [-], any; beyond ±37 the answer is 0 or 1
 * @returns probability [-], absolute error below 1e-14
 * @source Hart et al. 1968, double precision form of West 2005 (Wilmott Magazine)
 * @example normalCdf(1.2815515655446004) // 0.9
 */
export function normalCdf(z: number): number {
  const size = Math.abs(z);
  if (size > 37) return z > 0 ? 1 : 0;
  const bell = Math.exp(-0.5 * size * size);
  let upper: number;
  if (size < 7.07106781186547) {
    upper = (bell * polynomial(HART_NUM, size)) / polynomial(HART_DEN, size);
  } else {
    // Continued fraction of Mills' ratio, five levels.
    let fraction = size + 0.65;
    for (let level = 4; level >= 1; level--) fraction = size + level / fraction;
    upper = bell / fraction / 2.506628274631;
  }
  return z > 0 ? 1 - upper : upper;
}

/**
 * Standard score below which a share p of a normal population lies.
 *
 * @param p  probability [-], strictly between 0 and 1
 * @returns standard score [-], relative error about 1e-15
 * @throws NumericsRangeError when p is not strictly between 0 and 1
 * @source Wichura 1988, Applied Statistics 37(3):477-484, AS 241 (PPND16)
 * @example normalQuantile(0.9) // 1.2815515655446
 */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new NumericsRangeError('p', p, 'strictly between 0 and 1');
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * polynomial(CENTRE_NUM, r)) / polynomial(CENTRE_DEN, r);
  }
  const r = Math.sqrt(-Math.log(q < 0 ? p : 1 - p));
  const z =
    r <= 5
      ? polynomial(TAIL_NUM, r - 1.6) / polynomial(TAIL_DEN, r - 1.6)
      : polynomial(FAR_NUM, r - 5) / polynomial(FAR_DEN, r - 5);
  return q < 0 ? -z : z;
}
