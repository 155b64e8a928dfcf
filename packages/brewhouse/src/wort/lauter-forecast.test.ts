import { OutOfRange, volumeAtTemperature } from '@ladlework/matter';
import { drawMatrix } from '@ladlework/numerics';
import { describe, expect, it } from 'vitest';
import { platoOf } from './body.ts';
import { type LauterBed, pointAt, runOff } from './lauter.ts';
import { forecastRunOff, type LauterDraw, stagesOfKit, stopByPh } from './lauter-forecast.ts';

const BED: LauterBed = {
  gristKg: 149,
  mash: { extractKg: 112, waterKg: 525 },
  tC: 76,
  retainedLPerKg: 1.1,
  floodedLPerKg: 1.8,
  stages: 1.6,
  underL: 20,
  deadL: 4,
};

const DIMS = 5;
function ensemble(n: number, seed: number): LauterDraw[] {
  const z = drawMatrix(n, DIMS, seed);
  return Array.from({ length: n }, (_, i) => {
    const at = (j: number) => z[i * DIMS + j] as number;
    return {
      dip: 1 + 0.01 * at(0),
      bed: {
        ...BED,
        mash: { ...BED.mash, extractKg: 112 * (1 + 0.04 * at(1)) },
        retainedLPerKg: 1.1 * Math.exp(0.12 * at(2)),
        floodedLPerKg: 1.8 * Math.exp(0.06 * at(3)),
        stages: Math.max(0.5, 1.6 * Math.exp(0.2 * at(4))),
      },
    };
  });
}

const INTENT = { kettleL: 980, readC: 90, targetPlato: 11, holdL: 15 };

/** What a brewer with a true kit would read. */
function readingsOf(bed: LauterBed, litres: readonly number[]) {
  const run = runOff(bed, {
    kettleL: volumeAtTemperature(INTENT.kettleL, 90, 76, 0.11),
    holdL: INTENT.holdL,
  });
  const readings = litres.map((collectedL) => {
    const p = pointAt(run, volumeAtTemperature(collectedL, 90, 76, 0.11));
    return { collectedL, kettlePlato: p.kettlePlato, tapPlato: p.tapPlato };
  });
  return { run, readings };
}

describe('forecast of a run-off', () => {
  it('bands hold the truth, and readings narrow them', () => {
    const rich = { ...BED, mash: { ...BED.mash, extractKg: 117 }, stages: 1.3 };
    const { run, readings } = readingsOf(rich, [150, 300, 500, 700]);
    const draws = ensemble(300, 7);
    const before = forecastRunOff(draws, INTENT);
    const after = forecastRunOff(draws, INTENT, readings);
    const width = (b: { low: number; high: number }) => b.high - b.low;
    expect(width(after.fullPlato)).toBeLessThan(0.5 * width(before.fullPlato));
    expect(Math.abs(after.fullPlato.likely - platoOf(run.kettle))).toBeLessThan(0.15);
    expect(Math.abs(after.fullExtractKg.likely / run.kettle.extractKg - 1)).toBeLessThan(0.02);
    expect(after.doubt).toBeUndefined();
    expect(after.nowKettlePlato.likely).toBeCloseTo(readings[3]?.kettlePlato ?? 0, 0.8);
    expect(after.weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9);
  });

  it('the gravity needed now, kept by what follows, gives the target', () => {
    const { readings, run } = readingsOf(BED, [600]);
    const exact = platoOf(run.kettle);
    const forecast = forecastRunOff(
      [{ bed: BED, dip: 1 }],
      { ...INTENT, targetPlato: exact },
      readings,
    );
    expect(forecast.neededNowPlato).toBeCloseTo(readings[0]?.kettlePlato ?? 0, 1);
    const more = forecastRunOff(
      [{ bed: BED, dip: 1 }],
      { ...INTENT, targetPlato: exact + 0.5 },
      readings,
    );
    expect(more.neededNowPlato).toBeGreaterThan((forecast.neededNowPlato ?? 0) + 0.5);
    expect(forecastRunOff([{ bed: BED, dip: 1 }], INTENT).neededNowPlato).toBeUndefined();
  });

  it('tells the litre to shut the sparge at, and to stop', () => {
    const forecast = forecastRunOff(ensemble(200, 3), INTENT);
    expect(forecast.shutAtL.low).toBeLessThan(forecast.shutAtL.high);
    expect(forecast.shutAtL.high).toBeLessThan(INTENT.kettleL);
    const long = forecastRunOff(ensemble(100, 3), { ...INTENT, kettleL: 1500, targetPlato: 8 });
    expect(long.stopAtL?.likely).toBeLessThan(1500);
    expect(forecastRunOff(ensemble(50, 3), { ...INTENT, kettleL: 500 }).stopAtL).toBeUndefined();
  });

  it('a sparge shut too early leaves the kettle short, and stronger', () => {
    const draws = ensemble(60, 5);
    const plain = forecastRunOff(draws, INTENT);
    const early = forecastRunOff(draws, { ...INTENT, shutAtL: plain.shutAtL.low - 60 });
    expect(early.fullColdL.high).toBeLessThan(plain.fullColdL.likely - 20);
    expect(early.fullPlato.likely).toBeGreaterThan(plain.fullPlato.likely);
  });

  it('says so when readings cannot be', () => {
    const wild = [{ collectedL: 500, kettlePlato: 5, tapPlato: 19 }];
    expect(forecastRunOff(ensemble(100, 3), INTENT, wild).doubt).toMatch(/do not fit/);
    expect(() => forecastRunOff([], INTENT)).toThrow(OutOfRange);
  });
});

it('a kit’s stages are found again from its own run-off', () => {
  for (const stages of [0.8, 1.35, 2, 4.4]) {
    const run = runOff({ ...BED, stages }, { kettleL: 970 });
    const found = stagesOfKit(BED, {
      kettleL: 970,
      extractKg: run.kettle.extractKg,
      lastPlato: run.points.at(-1)?.tapPlato ?? 0,
    });
    expect(Math.abs(found.stages - stages)).toBeLessThan(0.003);
    expect(found.miss).toBeLessThan(0.01);
  }
  expect(() => stagesOfKit(BED, { kettleL: 970 })).toThrow(OutOfRange);
});

it('stops by pH where the line of the last two readings says', () => {
  const a = { collectedL: 700, ph: 5.6 };
  const b = { collectedL: 800, ph: 5.8 };
  expect(stopByPh([a, b])).toBeCloseTo(900, 9);
  expect(stopByPh([a, { ...b, ph: 6.1 }])).toBe('now');
  expect(stopByPh([b])).toBeUndefined();
  expect(stopByPh([b, { collectedL: 850, ph: 5.8 }])).toBeUndefined();
  expect(() => stopByPh([{ collectedL: 1, ph: 60 }])).toThrow(OutOfRange);
});
