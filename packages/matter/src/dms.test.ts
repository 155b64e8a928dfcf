import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dmsAfter, precursorRate } from './dms.ts';
import { OutOfRange } from './errors.ts';

describe('DMS in the boil', () => {
  // Wilson & Booer 1979, abstract: k 0.02/min, stripping 0.18/min at 17 %/h; 60 min worked from it.
  it.each([
    [17, 0.04],
    [8, 0.09],
    [4, 0.2],
  ])('evaporation of %f in the hundred leaves %f free after an hour', (evaporationPctH, free) => {
    const end = dmsAfter({ precursor: 1, minutes: 60, tC: 100, evaporationPctH });
    expect(end.precursor).toBeCloseTo(0.3, 2);
    expect(end.free).toBeCloseTo(free, 2);
  });

  // The published sum takes a rounded half-life and a rounded 0.30, so to 2 % of its figure.
  it('half an hour of hot stand at 95 °C without stripping adds 0.085', () => {
    const boiled = dmsAfter({ precursor: 1, minutes: 60, tC: 100, evaporationPctH: 8 });
    const stood = dmsAfter({ ...boiled, minutes: 30, tC: 95, evaporationPctH: 0 });
    expect(Math.abs((stood.free - boiled.free) / 0.085 - 1)).toBeLessThan(0.02);
  });

  // Half-lives derived from the halving per 6 K (Dickenson 1979, second hand).
  it.each([
    [95, 62],
    [90, 113],
    [85, 207],
    [80, 390],
  ])('half-life at %f °C is %f min', (tC, halfLife) => {
    expect(Math.abs(Math.LN2 / precursorRate(tC) / halfLife - 1)).toBeLessThan(0.02);
  });

  it('without stripping nothing is lost', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 70, max: 105, noNaN: true }),
        fc.double({ min: 0, max: 600, noNaN: true }),
        (tC, minutes) => {
          const end = dmsAfter({ precursor: 1, minutes, tC, evaporationPctH: 0 });
          expect(end.precursor + end.free).toBeCloseTo(1, 12);
        },
      ),
    );
  });

  it('passes smoothly through equal rates', () => {
    const equal = (17 * 0.02) / 0.18;
    const at = (evaporationPctH: number) =>
      dmsAfter({ precursor: 1, minutes: 60, tC: 100, evaporationPctH }).free;
    expect(at(equal)).toBeCloseTo((at(equal * 0.999) + at(equal * 1.001)) / 2, 6);
  });

  it('refuses a boil that is none', () => {
    expect(() => precursorRate(20)).toThrow(OutOfRange);
    expect(() => dmsAfter({ precursor: 1, minutes: 60, tC: 100, evaporationPctH: 99 })).toThrow(
      OutOfRange,
    );
  });
});

// Dickenson 1979, second hand: half-life 38 min at pH 5.2, 32.5 at 5.5.
it.each([
  [5.2, 38],
  [5.5, 32.5],
])('at pH %f the half-life at the boil is %f min', (ph, halfLife) => {
  expect(Math.abs(Math.LN2 / precursorRate(100, ph) / halfLife - 1)).toBeLessThan(0.005);
});
