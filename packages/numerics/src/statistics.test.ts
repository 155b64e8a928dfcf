import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  band,
  drawMatrix,
  effectiveSampleSize,
  lognormal,
  NumericsRangeError,
  normal,
  normalCdf,
  normalQuantile,
  quantile,
  seededRandom,
  truncatedNormal,
  weightedMean,
  weightedQuantile,
  weightedSd,
} from './index.ts';

describe('normal distribution', () => {
  // Abramowitz & Stegun 1964, tables 26.1 (distribution) and 26.5 (quantiles); digits beyond the
  // printed ones from the defining integral.
  it.each([
    [0, 0.5],
    [1, 0.841344746068543],
    [2, 0.97724986805182],
    [3, 0.99865010196837],
    [-1.96, 0.0249978951482204],
    [-5, 2.866515718791946e-7],
    [-8, 6.220960574271785e-16],
  ])('cdf(%f) is %f', (z, p) => {
    expect(Math.abs(normalCdf(z) - p)).toBeLessThan(1e-14);
    if (p < 1e-3) expect(normalCdf(z) / p).toBeCloseTo(1, 5);
  });

  it.each([
    [0.9, 1.2815515655446004],
    [0.975, 1.959963984540054],
    [0.999, 3.090232306167813],
    [1e-9, -5.997807015007687],
    [0.5, 0],
  ])('quantile(%f) is %f', (p, z) => {
    expect(Math.abs(normalQuantile(p) - z)).toBeLessThan(1e-9);
  });

  it('quantile and distribution undo each other', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-12, max: 1 - 1e-12, noNaN: true }), (p) => {
        expect(Math.abs(normalCdf(normalQuantile(p)) - p)).toBeLessThan(2e-13);
      }),
    );
  });

  it.each([0, 1, -0.1, Number.NaN])('quantile refuses %f', (p) => {
    expect(() => normalQuantile(p)).toThrow(NumericsRangeError);
  });
});

describe('seeded random', () => {
  it('repeats with the seed and differs between seeds', () => {
    const three = (seed: number) => {
      const random = seededRandom(seed);
      return [random(), random(), random()];
    };
    expect(three(5)).toEqual(three(5));
    expect(three(5)).not.toEqual(three(6));
  });

  it('has the moments it should', () => {
    const random = seededRandom(11);
    const n = 20000;
    const z = Float64Array.from({ length: n }, () => normal(random));
    const equal = new Float64Array(n).fill(1);
    expect(Math.abs(weightedMean(z, equal))).toBeLessThan(4 / Math.sqrt(n));
    expect(Math.abs(weightedSd(z, equal) - 1)).toBeLessThan(4 / Math.sqrt(2 * n));
    const logs = Float64Array.from({ length: n }, () => Math.log(lognormal(random, 4, 0.2)));
    expect(Math.abs(weightedMean(logs, equal) - Math.log(4))).toBeLessThan(
      (4 * 0.2) / Math.sqrt(n),
    );
  });

  it('keeps a cut bell within its bounds, with the right mean', () => {
    const random = seededRandom(3);
    const n = 20000;
    const x = Float64Array.from({ length: n }, () => truncatedNormal(random, 0, 1, 0, 9));
    expect(Math.min(...x)).toBeGreaterThanOrEqual(0);
    // Mean of the half-normal distribution, sqrt(2/pi).
    expect(weightedMean(x, new Float64Array(n).fill(1))).toBeCloseTo(Math.sqrt(2 / Math.PI), 2);
  });
});

describe('draw matrix', () => {
  it('puts one draw into each slice of every dimension', () => {
    const n = 50;
    const dims = 7;
    const draws = drawMatrix(n, dims, 9);
    for (let j = 0; j < dims; j++) {
      const slices = new Set<number>();
      for (let i = 0; i < n; i++) slices.add(Math.floor(normalCdf(draws[i * dims + j]!) * n));
      expect(slices.size).toBe(n);
    }
  });

  it('does not tie dimensions together', () => {
    const n = 2000;
    const draws = drawMatrix(n, 2, 4);
    let product = 0;
    for (let i = 0; i < n; i++) product += draws[2 * i]! * draws[2 * i + 1]!;
    expect(Math.abs(product / n)).toBeLessThan(4 / Math.sqrt(n));
  });

  it('refuses counts that are not counts', () => {
    expect(() => drawMatrix(0, 2, 1)).toThrow(NumericsRangeError);
    expect(() => drawMatrix(2.5, 2, 1)).toThrow(NumericsRangeError);
    expect(() => drawMatrix(2, 2, 1.5)).toThrow(NumericsRangeError);
  });
});

describe('weighted statistics', () => {
  const some = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), {
    minLength: 1,
    maxLength: 30,
  });

  it('equal weights give the plain quantile', () => {
    fc.assert(
      fc.property(some, fc.double({ min: 0, max: 1, noNaN: true }), (values, p) => {
        const weights = values.map(() => 0.3);
        expect(weightedQuantile(values, weights, p)).toBeCloseTo(quantile(values, p), 8);
      }),
    );
  });

  it('a quantile lies between the least and the greatest and rises with p', () => {
    fc.assert(
      fc.property(some, fc.double({ min: 0, max: 0.9, noNaN: true }), (values, p) => {
        const low = quantile(values, p);
        expect(low).toBeGreaterThanOrEqual(Math.min(...values));
        expect(quantile(values, p + 0.1)).toBeGreaterThanOrEqual(low);
      }),
    );
  });

  it('a draw of weight nought does not count', () => {
    expect(weightedQuantile([1, 2, 99], [1, 1, 0], 1)).toBe(2);
    expect(weightedMean([1, 99], [1, 0])).toBe(1);
    expect(effectiveSampleSize([1, 1, 0, 0])).toBe(2);
  });

  it('the band is the 10, 50 and 90 % point', () => {
    const values = Array.from({ length: 101 }, (_, i) => i);
    expect(band(values)).toEqual({ low: 10, likely: 50, high: 90 });
    expect(
      band(
        values,
        values.map(() => 2),
      ).likely,
    ).toBeCloseTo(50, 9);
  });

  it('refuses nothing at all and weights that cannot be', () => {
    expect(() => quantile([], 0.5)).toThrow(/length/);
    expect(() => weightedMean([1], [-1])).toThrow(/weights\[0\]/);
    expect(() => weightedMean([1, 2], [0, 0])).toThrow(/sum of weights/);
    expect(() => weightedMean([1, 2], [1])).toThrow(/weights.length/);
  });
});
