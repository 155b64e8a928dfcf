import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type KeptRow, type ProbeSample, RowMaker, samplesOf, thinned } from './probe-rows.ts';

const rowsOf = (samples: readonly ProbeSample[]): KeptRow[] => {
  const maker = new RowMaker('p', 'temp');
  const rows = samples.flatMap((s) => maker.take(s));
  return [...rows, ...maker.close()];
};

const seconds = (count: number, value: (s: number) => number): ProbeSample[] =>
  Array.from({ length: count }, (_, s) => ({ atMs: s * 1000, value: value(s) }));

/** Readings in order of time, at any rhythm, with any noise. */
const anySeries = fc
  .array(
    fc.tuple(fc.integer({ min: 1, max: 200_000 }), fc.double({ min: 0, max: 100, noNaN: true })),
    {
      minLength: 1,
      maxLength: 300,
    },
  )
  .map((steps) => {
    let atMs = 0;
    return steps.map(([gap, value]) => {
      atMs += gap;
      return { atMs, value };
    });
  });

describe('L19 rows', () => {
  it('an hour that stands is twelve rows', () => {
    expect(rowsOf(seconds(3600, () => 62))).toHaveLength(12);
  });

  it('an hour that comes up a kelvin a minute is a row each thirteen seconds or so', () => {
    const rows = rowsOf(seconds(3600, (s) => 30 + s / 60));
    expect(rows.length).toBeGreaterThan(250);
    expect(rows.length).toBeLessThanOrEqual(360);
  });

  it('noise at one a second never makes more than 372 rows an hour', () => {
    // Each row but those cut by the clock is at least ten seconds long: 360 + 12.
    const noisy = rowsOf(seconds(3600, (s) => 62 + (s % 2 === 0 ? 3 : -3)));
    expect(noisy.length).toBeLessThanOrEqual(372);
    expect(noisy[0]).toMatchObject({ low: 59, high: 65 });
  });

  it('every reading is in one row, between its least and greatest', () => {
    fc.assert(
      fc.property(anySeries, (samples) => {
        const rows = rowsOf(samples);
        expect(rows.reduce((sum, r) => sum + r.readings, 0)).toBe(samples.length);
        for (const { atMs, value } of samples) {
          const row = rows.find((r) => r.fromMs <= atMs && atMs <= r.toMs);
          expect(row).toBeDefined();
          expect(value).toBeGreaterThanOrEqual(row?.low ?? Infinity);
          expect(value).toBeLessThanOrEqual(row?.high ?? -Infinity);
        }
      }),
    );
  });

  it('a reading older than the open row is a row of its own', () => {
    const maker = new RowMaker('p', 'temp');
    maker.take({ atMs: 10_000, value: 62 });
    expect(maker.take({ atMs: 4000, value: 61 })).toMatchObject([{ fromMs: 4000, toMs: 4000 }]);
    expect(maker.open).toMatchObject({ fromMs: 10_000, readings: 1 });
  });

  it('a gap ends a row: silence is not covered by it', () => {
    const rows = rowsOf([
      { atMs: 0, value: 62 },
      { atMs: 121_000, value: 62 },
    ]);
    expect(rows.map((r) => [r.fromMs, r.toMs])).toEqual([
      [0, 0],
      [121_000, 121_000],
    ]);
  });
});

describe('L20 what the forecast hears', () => {
  it('is one reading for each five minutes, whatever the rhythm', () => {
    const hour = thinned(
      seconds(3600, (s) => 64 - s / 600),
      3_600_000,
    );
    expect(hour.map((s) => s.atMs / 1000)).toEqual(
      Array.from({ length: 12 }, (_, n) => 300 * n + 299),
    );
  });

  it('leaves out the five minutes that are not over', () => {
    expect(thinned([{ atMs: 10_000, value: 62 }], 299_999)).toEqual([]);
    expect(thinned([{ atMs: 10_000, value: 62 }], 300_000)).toHaveLength(1);
  });

  it('is the same of raw readings and of what was kept of them', () => {
    fc.assert(
      fc.property(anySeries, (samples) => {
        const now = (samples.at(-1)?.atMs ?? 0) + 600_000;
        expect(thinned(samplesOf(rowsOf(samples)), now)).toEqual(thinned(samples, now));
      }),
    );
  });
});
