import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument, readTable } from '../../../reference/read.ts';
import { isomerisationRate } from './bitterness.ts';
import { OutOfRange } from './errors.ts';
import { alphaToday, isoAlphaAfter, isoAlphaLossRate, isoAlphaPeakTime } from './iso-alpha.ts';

describe('alpha and iso-alpha acids (derived from Malowicki & Shellhammer 2005)', () => {
  const rows = readTable('isoalpha-kinetics.csv').map((row) => ({
    minutes: row.num('minutes'),
    tC: row.num('temp_C'),
    alpha: row.num('alpha_remaining_frac'),
    iso: row.num('iso_alpha_frac'),
  }));

  it.each(rows)('$minutes min at $tC °C', ({ minutes, tC, alpha, iso }) => {
    const after = isoAlphaAfter({ minutes, tC });
    expect(Math.abs(after.alpha - alpha)).toBeLessThan(0.0001);
    expect(Math.abs(after.iso - iso)).toBeLessThan(0.0001);
  });

  it('activation energies of the paper: 98.6 and 108.0 kJ/mol', () => {
    const check = readDocument<{ id: string; out: number[]; tol: number }[]>(
      'wort-checks.json',
    ).find((c) => c.id === 'malowicki-Ea');
    [isomerisationRate, isoAlphaLossRate].forEach((rate, i) => {
      const energy = (8.314e-3 * Math.log(rate(110) / rate(95))) / (1 / 368.15 - 1 / 383.15);
      expect(Math.abs(energy - (check?.out[i] ?? Number.NaN))).toBeLessThan(check?.tol ?? 0);
    });
  });

  // Best time and peak, derived.
  it.each([
    [85, 591, 0.65],
    [90, 368, 0.65],
    [95, 233, 0.64],
    [98, 178, 0.64],
    [100, 149, 0.63],
    [105, 96, 0.62],
  ])('at %f °C the peak comes at %f min', (tC, minutes, peak) => {
    expect(Math.abs(isoAlphaPeakTime(tC) / minutes - 1)).toBeLessThan(0.005);
    expect(isoAlphaAfter({ minutes: isoAlphaPeakTime(tC), tC }).iso).toBeCloseTo(peak, 1.9);
  });

  it('two stays are one long one, and nothing is made from nothing', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 200, noNaN: true }),
        fc.double({ min: 80, max: 110, noNaN: true }),
        (a, b, tC) => {
          const first = isoAlphaAfter({ minutes: a, tC });
          const both = isoAlphaAfter({ minutes: b, tC, ...first });
          const whole = isoAlphaAfter({ minutes: a + b, tC });
          expect(both.alpha).toBeCloseTo(whole.alpha, 10);
          expect(both.iso).toBeCloseTo(whole.iso, 10);
          expect(whole.alpha + whole.iso).toBeLessThanOrEqual(1 + 1e-12);
        },
      ),
    );
    expect(() => isoAlphaAfter({ minutes: 10, tC: 60 })).toThrow(OutOfRange);
  });
});

describe('stored hops (trade rule, common practice, from memory)', () => {
  it('35 % in half a year warm, half the rate 15 K colder, half again sealed', () => {
    const warm = { alphaPct: 10, days: 182.5, storedC: 20, lostIn6MonthsPct: 35 };
    expect(alphaToday(warm)).toBeCloseTo(6.5, 9);
    expect(alphaToday({ ...warm, storedC: 5 })).toBeCloseTo(10 * Math.sqrt(0.65), 9);
    expect(alphaToday({ ...warm, sealed: true })).toBeCloseTo(10 * Math.sqrt(0.65), 9);
    expect(alphaToday({ ...warm, days: 0 })).toBe(10);
    expect(() => alphaToday({ ...warm, alphaPct: 60 })).toThrow(OutOfRange);
  });
});
