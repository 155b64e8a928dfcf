import { describe, expect, it } from 'vitest';
import { readDocument, readTable } from '../../../reference/read.ts';
import { bitterness, hopUtilisation, isomerisationRate } from './bitterness.ts';
import { OutOfRange } from './errors.ts';

describe('hop utilisation', () => {
  // The trade's printed grid (common practice, no source), 0.001 apart.
  const grid = readTable('hop-utilisation.csv').flatMap((row) =>
    ['1.030', '1.040', '1.050', '1.060', '1.070', '1.080', '1.090', '1.100', '1.120', '1.130'].map(
      (sg) => ({ minutes: row.num('minutes'), sg, printed: row.num(`OG_${sg}`) }),
    ),
  );

  it.each(grid)('$minutes min at $sg', ({ minutes, sg, printed }) => {
    expect(Math.abs(hopUtilisation({ sg: Number(sg), minutes }) - printed)).toBeLessThan(0.00051);
  });

  it('the 60-minute row as remembered', () => {
    const checks = readDocument<{ id: string; out: number[]; tol: number }[]>('wort-checks.json');
    const row = checks.find((c) => c.id === 'tinseth-60min');
    const gravities = [1.03, 1.04, 1.05, 1.06, 1.07];
    expect(row?.out).toHaveLength(gravities.length);
    gravities.forEach((sg, i) => {
      const off = Math.abs(hopUtilisation({ sg, minutes: 60 }) - (row?.out[i] ?? Number.NaN));
      expect(off).toBeLessThanOrEqual(row?.tol ?? 0);
    });
  });

  it('a stand off the boil gives less, in the ratio of the rates at first', () => {
    const short = { sg: 1.05, minutes: 0.01 };
    const ratio = hopUtilisation({ ...short, tC: 90 }) / hopUtilisation(short);
    expect(ratio).toBeCloseTo(isomerisationRate(90) / isomerisationRate(100), 3);
  });

  it('refuses what no kettle does', () => {
    expect(() => hopUtilisation({ sg: 1.05, minutes: -1 })).toThrow(OutOfRange);
    expect(() => hopUtilisation({ sg: 1.05, minutes: 60, tC: 60 })).toThrow(OutOfRange);
    expect(() => bitterness({ grams: 1, alphaPct: 90, utilisation: 0.2, volumeL: 10 })).toThrow(
      OutOfRange,
    );
  });
});

describe('isomerisation', () => {
  // Malowicki & Shellhammer 2005: rates tabulated from their constants.
  it.each([
    [90, 0.0052],
    [95, 0.0081],
    [100, 0.0125],
    [105, 0.019],
  ])('%f °C', (tC, rate) => {
    expect(isomerisationRate(tC)).toBeCloseTo(rate, 4);
  });
});
