/** The exact front of many plans: those that nothing else is no worse than in everything. */

/** Rows between two steps. */
const ROWS_A_STEP = 500;

/**
 * Rows that no other row dominates: no worse in every column and better in one. Of equal rows the
 * first stays.
 * @param columns one array a thing weighed, all of one length; the smaller the better, each
 * @returns row numbers, rising
 * @source maxima of a set of vectors by a sorted sweep: in the order of any sum that rises with every
 *   column a row can only be dominated by one before it (sort-filter skyline, Chomicki et al. 2003,
 *   from memory)
 */
export function* frontOf(columns: readonly Float64Array[]): Generator<void, number[], void> {
  const size = columns[0]?.length ?? 0;
  const width = columns.length;
  const rows = new Float64Array(size * width);
  columns.forEach((column, k) => {
    for (let i = 0; i < size; i++) rows[i * width + k] = column[i] as number;
  });
  const spans = columns.map((c) => 1 / Math.max(1e-12, spanOf(c)));
  const sums = new Float64Array(size);
  for (let i = 0; i < size; i++)
    for (let k = 0; k < width; k++)
      sums[i] = (sums[i] as number) + (spans[k] as number) * (rows[i * width + k] as number);
  const order = Array.from({ length: size }, (_, i) => i).sort((a, b) => {
    const less = (sums[a] as number) - (sums[b] as number);
    if (less !== 0) return less;
    for (let k = 0; k < width; k++) {
      const gap = (rows[a * width + k] as number) - (rows[b * width + k] as number);
      if (gap !== 0) return gap;
    }
    return a - b;
  });
  const front: number[] = [];
  for (const [done, row] of order.entries()) {
    if (done % ROWS_A_STEP === ROWS_A_STEP - 1) yield;
    let beaten = false;
    for (let f = 0; f < front.length && !beaten; f++) {
      const other = (front[f] as number) * width;
      const own = row * width;
      let k = 0;
      while (k < width && (rows[other + k] as number) <= (rows[own + k] as number)) k++;
      beaten = k === width;
      // Who beats one plan tends to beat its neighbours: it is asked first next time.
      if (beaten && f > 0) {
        const kept = front[f] as number;
        front[f] = front[f >> 1] as number;
        front[f >> 1] = kept;
      }
    }
    if (!beaten) front.push(row);
  }
  return front.sort((a, b) => a - b);
}

function spanOf(column: Float64Array): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const x of column) {
    low = Math.min(low, x);
    high = Math.max(high, x);
  }
  return high - low;
}
