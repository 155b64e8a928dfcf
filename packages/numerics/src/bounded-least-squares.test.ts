import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundedLeastSquares } from './bounded-least-squares.ts';
import { NumericsRangeError } from './errors.ts';

const value = fc.double({ min: -5, max: 5, noNaN: true });
const problem = fc.integer({ min: 1, max: 4 }).chain((columns) =>
  fc.record({
    a: fc.array(fc.array(value, { minLength: columns, maxLength: columns }), {
      minLength: 1,
      maxLength: 6,
    }),
    low: fc.array(fc.double({ min: -3, max: 0, noNaN: true }), {
      minLength: columns,
      maxLength: columns,
    }),
    width: fc.array(fc.double({ min: 0, max: 4, noNaN: true }), {
      minLength: columns,
      maxLength: columns,
    }),
    b: fc.array(value, { minLength: 6, maxLength: 6 }),
  }),
);

describe('least squares between bounds', () => {
  it('fits where the bounds do not matter', () => {
    const fit = boundedLeastSquares(
      [
        [1, 1],
        [1, 2],
        [1, 3],
      ],
      [1, 3, 5],
      [-9, -9],
      [9, 9],
    );
    expect(fit.x[0]).toBeCloseTo(-1, 9);
    expect(fit.x[1]).toBeCloseTo(2, 9);
    expect(fit.residual).toBeCloseTo(0, 9);
  });

  it('stays between the bounds, and no small move inside them does better', () => {
    fc.assert(
      fc.property(problem, ({ a, low, width, b }) => {
        const high = low.map((x, j) => x + (width[j] ?? 0));
        const right = b.slice(0, a.length);
        const { x, residual } = boundedLeastSquares(a, right, low, high);
        x.forEach((v, j) => {
          expect(v).toBeGreaterThanOrEqual(low[j] ?? 0);
          expect(v).toBeLessThanOrEqual(high[j] ?? 0);
        });
        const miss = (y: readonly number[]) =>
          Math.hypot(
            ...a.map((row, i) => row.reduce((s, v, j) => s + v * (y[j] ?? 0), 0) - (right[i] ?? 0)),
          );
        expect(miss(x)).toBeCloseTo(residual, 9);
        // The problem is convex: a better point anywhere would show in some coordinate or diagonal.
        for (let j = 0; j < x.length; j++) {
          for (let k = 0; k < x.length; k++) {
            for (const [dj, dk] of [
              [1, 0],
              [-1, 0],
              [1, 1],
              [1, -1],
              [-1, 1],
              [-1, -1],
            ] as const) {
              const y = [...x];
              y[j] = Math.min(high[j]!, Math.max(low[j]!, y[j]! + 1e-3 * dj));
              y[k] = Math.min(high[k]!, Math.max(low[k]!, y[k]! + 1e-3 * dk));
              expect(miss(y)).toBeGreaterThanOrEqual(residual - 1e-7);
            }
          }
        }
      }),
    );
  });

  it('two columns that are the same share nothing twice', () => {
    const fit = boundedLeastSquares([[1, 1]], [3], [0, 0], [2, 2]);
    expect((fit.x[0] ?? 0) + (fit.x[1] ?? 0)).toBeCloseTo(3, 9);
  });

  it('refuses sizes that do not fit', () => {
    expect(() => boundedLeastSquares([], [], [0], [1])).toThrow(NumericsRangeError);
    expect(() => boundedLeastSquares([[1]], [1], [2], [1])).toThrow(NumericsRangeError);
    expect(() => boundedLeastSquares([[1, 2]], [1], [0], [1])).toThrow(NumericsRangeError);
  });
});
