import fc from 'fast-check';
import { expect, it } from 'vitest';
import { binomialAtLeast } from './binomial.ts';

it.each([
  // By hand: 6 trials at a third: 6 · (1/3)^5 · 2/3 + (1/3)^6 = 13/729.
  [5, 6, 1 / 3, 13 / 729],
  // A coin: 7 of 8 or more is 9/256.
  [7, 8, 0.5, 9 / 256],
  [0, 5, 0.2, 1],
  [6, 5, 0.2, 0],
  [5, 5, 1, 1],
  [1, 5, 0, 0],
])('at least %d of %d at %d is %d', (k, n, p, chance) => {
  expect(binomialAtLeast(k, n, p)).toBeCloseTo(chance, 14);
});

it('failures counted instead of successes give the rest', () => {
  const count = fc.integer({ min: 1, max: 300 });
  fc.assert(
    fc.property(count, fc.nat(300), fc.double({ min: 0.01, max: 0.99, noNaN: true }), (n, k, p) => {
      const most = Math.min(k, n);
      const either = binomialAtLeast(most, n, p) + binomialAtLeast(n - most + 1, n, 1 - p);
      expect(either).toBeCloseTo(1, 10);
    }),
  );
});

it('refuses what is no count and no chance', () => {
  expect(() => binomialAtLeast(1, 0, 0.5)).toThrow(/trials/);
  expect(() => binomialAtLeast(1.5, 3, 0.5)).toThrow(/successes/);
  expect(() => binomialAtLeast(1, 3, 1.1)).toThrow(/0 to 1/);
});
