/**
 * Longest paths between all time points of a network of difference constraints, kept up to date
 * arc by arc. `d[i * n + j]` is the least minutes that must lie from point i to point j.
 */

/** No path. Sums of two of these still fit an Int32. */
export const NONE = -1_000_000_000;

/** A network of n points without arcs. */
export function emptyNetwork(n: number): Int32Array {
  const d = new Int32Array(n * n).fill(NONE);
  for (let i = 0; i < n; i++) d[i * n + i] = 0;
  return d;
}

/**
 * Adds t_j - t_i >= w to a closed network and closes it again.
 * @param d the closed matrix, changed in place; spoiled when the answer is false
 * @param n its points
 * @param i from
 * @param j to
 * @param w least minutes between them, negative for a most in the other direction
 * @returns false when the arc contradicts the others
 * @source incremental all-pairs longest paths, O(n^2) an arc (Ausiello et al., J. Algorithms 12, 1991)
 */
export function addArc(d: Int32Array, n: number, i: number, j: number, w: number): boolean {
  const rowI = i * n;
  const rowJ = j * n;
  if (w <= (d[rowI + j] as number)) return true;
  const back = d[rowJ + i] as number;
  if (back > NONE && back + w > 0) return false;
  // Only points that the arc brings further from i can be further from anywhere.
  let count = 0;
  for (let b = 0; b < n; b++) {
    const on = d[rowJ + b] as number;
    if (on > NONE && w + on > (d[rowI + b] as number)) {
      columns[count] = b;
      beyond[count] = w + on;
      count++;
    }
  }
  for (let a = 0; a < n; a++) {
    const row = a * n;
    const to = d[row + i] as number;
    if (to === NONE || to + w <= (d[row + j] as number)) continue;
    for (let k = 0; k < count; k++) {
      const at = row + (columns[k] as number);
      const v = to + (beyond[k] as number);
      if (v > (d[at] as number)) d[at] = v;
    }
  }
  return true;
}

/** Most points a network can have. */
export const MOST_POINTS = 1024;
const columns = new Int32Array(MOST_POINTS);
const beyond = new Int32Array(MOST_POINTS);
