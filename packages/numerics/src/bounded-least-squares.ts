import { NumericsRangeError } from './errors.ts';

/** Solution of a least squares problem between bounds. */
export interface BoundedFit {
  readonly x: readonly number[];
  /** Euclidean length of A x - b [unit of b]. */
  readonly residual: number;
}

/** Shares of the largest gradient, and of the column lengths, below which a number counts as zero. */
const GRADIENT_TOLERANCE = 1e-10;
const PIVOT_TOLERANCE = 1e-12;

/** Solves the normal equations over the free columns by Cholesky; a column that adds nothing is held. */
function solveFree(
  gram: readonly (readonly number[])[],
  right: readonly number[],
  free: readonly number[],
): Map<number, number> {
  const kept: number[] = [];
  const factor: number[][] = [];
  for (const j of free) {
    const row: number[] = [];
    kept.forEach((k, n) => {
      let sum = gram[j]![k]!;
      for (let m = 0; m < n; m++) sum -= row[m]! * factor[n]![m]!;
      row.push(sum / factor[n]![n]!);
    });
    let pivot = gram[j]![j]!;
    for (const value of row) pivot -= value * value;
    if (pivot <= PIVOT_TOLERANCE * gram[j]![j]!) continue;
    kept.push(j);
    factor.push([...row, Math.sqrt(pivot)]);
  }
  const y: number[] = [];
  kept.forEach((j, n) => {
    let sum = right[j]!;
    for (let m = 0; m < n; m++) sum -= factor[n]![m]! * y[m]!;
    y.push(sum / factor[n]![n]!);
  });
  const x = new Map<number, number>();
  for (let n = kept.length - 1; n >= 0; n--) {
    let sum = y[n]!;
    for (let m = n + 1; m < kept.length; m++) sum -= factor[m]![n]! * x.get(kept[m]!)!;
    x.set(kept[n]!, sum / factor[n]![n]!);
  }
  return x;
}

/**
 * Least squares with every unknown between two bounds: min |A x - b|, low <= x <= high. For small
 * dense problems (a dozen unknowns); a column that depends on others stays at its lower bound.
 *
 * @param a  rows of the matrix [any unit], 1 to 200 rows of 1 to 30 numbers
 * @param b  right side, one number a row [any unit]
 * @param low  lower bounds, finite, one a column
 * @param high  upper bounds, finite, not below the lower ones
 * @returns the best point and how far it misses
 * @throws NumericsRangeError when sizes do not fit or a bound is unusable
 * @source active-set method for bounded variables, Stark & Parker 1995, Computational Statistics
 *   10:129-141, after Lawson & Hanson 1974, ch. 23
 * @example boundedLeastSquares([[1, 0], [0, 1]], [3, -1], [0, 0], [2, 2]) // x = [2, 0]
 */
export function boundedLeastSquares(
  a: readonly (readonly number[])[],
  b: readonly number[],
  low: readonly number[],
  high: readonly number[],
): BoundedFit {
  const rows = a.length;
  const columns = low.length;
  if (!(rows >= 1 && rows <= 200)) throw new NumericsRangeError('a.length', rows, '1 to 200');
  if (!(columns >= 1 && columns <= 30))
    throw new NumericsRangeError('low.length', columns, '1 to 30');
  if (b.length !== rows) throw new NumericsRangeError('b.length', b.length, `${rows}`);
  if (high.length !== columns)
    throw new NumericsRangeError('high.length', high.length, `${columns}`);
  a.forEach((row, i) => {
    if (row.length !== columns)
      throw new NumericsRangeError(`a[${i}].length`, row.length, `${columns}`);
  });
  low.forEach((least, j) => {
    if (!(Number.isFinite(least) && Number.isFinite(high[j]) && least <= high[j]!))
      throw new NumericsRangeError(`high[${j}]`, high[j]!, `finite, ${least} or more`);
  });
  const gram = low.map((_, j) =>
    low.map((__, k) => a.reduce((sum, row) => sum + row[j]! * row[k]!, 0)),
  );
  const atb = low.map((_, j) => a.reduce((sum, row, i) => sum + row[j]! * b[i]!, 0));
  const x = [...low];
  const free = new Set<number>();
  const held = new Set<number>();
  const gradient = (j: number) =>
    atb[j]! - gram[j]!.reduce((sum, value, k) => sum + value * x[k]!, 0);
  const scale = Math.max(1e-300, ...atb.map(Math.abs), ...low.map((_, j) => Math.abs(gradient(j))));
  for (let round = 0; round < 20 * columns + 20; round++) {
    // The bound variable that gains most by leaving its bound.
    let best = -1;
    let gain = GRADIENT_TOLERANCE * scale;
    for (let j = 0; j < columns; j++) {
      if (free.has(j) || held.has(j) || low[j] === high[j]) continue;
      const g = gradient(j);
      const inward = x[j] === low[j] ? g : -g;
      if (inward > gain) {
        gain = inward;
        best = j;
      }
    }
    if (best < 0) return { x, residual: length(a, b, x) };
    free.add(best);
    settle(best);
  }
  throw new Error('bounded least squares did not settle');

  /** Moves the free variables to their best point, giving back to its bound each that would cross it. */
  function settle(entered: number): void {
    while (free.size > 0) {
      const order = [...free];
      const right = atb.map((value, j) => {
        let sum = value;
        for (let k = 0; k < columns; k++) if (!free.has(k)) sum -= gram[j]![k]! * x[k]!;
        return sum;
      });
      const wanted = solveFree(gram, right, order);
      if (!wanted.has(entered) && free.has(entered)) {
        // It adds nothing beside the free ones; without this it would be tried for ever.
        free.delete(entered);
        held.add(entered);
        continue;
      }
      let step = 1;
      let blocking = -1;
      for (const j of order) {
        const to = wanted.get(j) ?? x[j]!;
        const bound = to < low[j]! ? low[j]! : to > high[j]! ? high[j]! : undefined;
        if (bound === undefined) continue;
        const share = (bound - x[j]!) / (to - x[j]!);
        if (share < step) {
          step = share;
          blocking = j;
        }
      }
      for (const j of order) x[j]! += step * ((wanted.get(j) ?? x[j]!) - x[j]!);
      if (blocking < 0) {
        held.clear();
        return;
      }
      x[blocking] = (wanted.get(blocking) ?? 0) < low[blocking]! ? low[blocking]! : high[blocking]!;
      free.delete(blocking);
    }
  }
}

function length(
  a: readonly (readonly number[])[],
  b: readonly number[],
  x: readonly number[],
): number {
  return Math.hypot(...a.map((row, i) => row.reduce((sum, v, j) => sum + v * x[j]!, 0) - b[i]!));
}
