import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findRoot, type RootResult, secant } from './roots.ts';

function root(result: RootResult): number {
  if (!result.ok) throw new Error(result.reason);
  return result.x;
}

describe('bracketed root', () => {
  it('finds the textbook cubic x^3 - 2x - 5 (Wallis 1685: 2.0945514815)', () => {
    const result = findRoot((x) => x ** 3 - 2 * x - 5, 2, 3);
    expect(root(result)).toBeCloseTo(2.0945514815423265, 10);
    expect(result.ok && result.evaluations).toBeLessThan(12);
  });

  it('finds any root of a shifted cube, flat or steep, whichever way the bracket lies', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.constantFrom(1, 3),
        fc.boolean(),
        (at, power, turned) => {
          const f = (x: number) => (x - at) ** power;
          const found = root(turned ? findRoot(f, 9, -8) : findRoot(f, -8, 9));
          expect(Math.abs(found - at)).toBeLessThan(1e-8);
        },
      ),
    );
  });

  it('copes with a step', () => {
    expect(root(findRoot((x) => (x < 0.3 ? -1 : 1), 0, 1))).toBeCloseTo(0.3, 9);
  });

  it('says what is wrong instead of guessing', () => {
    expect(findRoot((x) => x * x + 1, -1, 1)).toEqual({ ok: false, reason: 'not-bracketed' });
    expect(findRoot(() => Number.NaN, -1, 1)).toEqual({ ok: false, reason: 'not-finite' });
    expect(findRoot((x) => x ** 3 - 2 * x - 5, 2, 3, { maxEvaluations: 4 })).toEqual({
      ok: false,
      reason: 'not-converged',
    });
  });

  it('stops at the tolerance asked for', () => {
    const coarse = findRoot((x) => Math.exp(x) - 2, 0, 3, { xTolerance: 0.1 });
    const fine = findRoot((x) => Math.exp(x) - 2, 0, 3);
    expect(Math.abs(root(coarse) - Math.LN2)).toBeLessThan(0.1);
    expect(coarse.ok && fine.ok && coarse.evaluations < fine.evaluations).toBe(true);
  });
});

describe('secant', () => {
  it('converges on the square root of two', () => {
    expect(root(secant((x) => x * x - 2, 1, 1.5))).toBeCloseTo(Math.SQRT2, 12);
  });
  it('gives up on a flat function', () => {
    expect(secant(() => 1, 0, 1)).toEqual({ ok: false, reason: 'not-converged' });
  });
});
