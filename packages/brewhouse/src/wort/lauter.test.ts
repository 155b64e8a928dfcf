import { batchSpargeYield, firstWort, OutOfRange } from '@ladlework/matter';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { batchCourse, batchRunOff } from './batch.ts';
import { litresAt, platoOf } from './body.ts';
import { type LauterBed, pointAt, runOff, spaceOf } from './lauter.ts';

const bedOf = (more: Partial<LauterBed> = {}): LauterBed => ({
  gristKg: 149,
  mash: { extractKg: 112, waterKg: 525 },
  tC: 76,
  retainedLPerKg: 1.1,
  floodedLPerKg: 1.8,
  stages: 1.6,
  underL: 20,
  deadL: 4,
  ...more,
});

const beds = fc.record({
  gristKg: fc.double({ min: 20, max: 200, noNaN: true }),
  ratio: fc.double({ min: 2.6, max: 5, noNaN: true }),
  stages: fc.double({ min: 0.5, max: 12, noNaN: true }),
  retainedLPerKg: fc.double({ min: 0.7, max: 1.4, noNaN: true }),
  underL: fc.double({ min: 0, max: 10, noNaN: true }),
  kettlePerKg: fc.double({ min: 1.5, max: 8, noNaN: true }),
  holdL: fc.double({ min: 0, max: 60, noNaN: true }),
});

describe('run-off through a bed', () => {
  it('gives and keeps every kilogram of extract and water', () => {
    fc.assert(
      fc.property(beds, ({ gristKg, ratio, kettlePerKg, holdL, ...rest }) => {
        const mash = { extractKg: 0.75 * gristKg, waterKg: ratio * gristKg };
        const bed = bedOf({ ...rest, gristKg, mash, deadL: rest.underL / 4 });
        const run = runOff(bed, { kettleL: kettlePerKg * gristKg, holdL });
        const sparged = run.spargeL / spaceOf(bed).litresPerKgWater;
        expect(run.kettle.extractKg + run.left.extractKg).toBeCloseTo(mash.extractKg, 8);
        expect(run.kettle.waterKg + run.left.waterKg).toBeCloseTo(mash.waterKg + sparged, 8);
        expect(run.left.extractKg).toBeGreaterThanOrEqual(-1e-9);
        expect(run.left.waterKg).toBeGreaterThanOrEqual(-1e-9);
        let last = Number.POSITIVE_INFINITY;
        // Under one stage the unrinsed part drains strong at the end, as dead corners do.
        if (bed.stages < 1) return;
        for (const point of run.points) {
          expect(point.tapPlato).toBeLessThanOrEqual(last + 1e-6);
          last = point.tapPlato;
        }
      }),
    );
  });

  it('shut at its litre, the tun has drained when the kettle is full', () => {
    const bed = bedOf();
    const run = runOff(bed, { kettleL: 970, holdL: 15 });
    const left = litresAt(run.left, 76);
    expect(Math.abs(left - (149 * 1.1 + 4))).toBeLessThan(0.6);
    expect(run.ranDry).toBe(false);
    expect(run.shutAtL).toBeGreaterThan(run.spargeFromL);
    // Shut ten litres early, it runs dry ten litres short; late, ten litres stay in the tun.
    const early = runOff(bed, { kettleL: 970, holdL: 15, shutAtL: run.shutAtL - 10 });
    expect(early.ranDry).toBe(true);
    expect(early.points.at(-1)?.collectedL).toBeCloseTo(960, 0);
    const late = runOff(bed, { kettleL: 970, holdL: 15, shutAtL: run.shutAtL + 10 });
    expect(litresAt(late.left, 76) - left).toBeCloseTo(10, 0);
  });

  it('the first wort is the wort of the mash', () => {
    // Handbook balance (matter): 3.5 kg/kg, 75 % extract, 5 % moisture.
    const plato = firstWort({ liquorToGrist: 3.5 });
    const mash = { extractKg: 75, waterKg: 355 };
    const run = runOff(bedOf({ gristKg: 100, mash }), { kettleL: 650 });
    expect(run.points[0]?.tapPlato).toBeCloseTo(plato, 6);
    expect(pointAt(run, run.spargeFromL / 2).tapPlato).toBeCloseTo(plato, 6);
  });

  it('more stages lose less, in fractions as in whole numbers', () => {
    const lost = [0.5, 0.8, 1, 1.3, 1.6, 2, 2.7, 4, 8].map(
      (stages) => runOff(bedOf({ stages }), { kettleL: 970 }).left.extractKg,
    );
    for (let i = 1; i < lost.length; i++) {
      expect(lost[i]).toBeLessThan(lost[i - 1] as number);
    }
    // Between two whole numbers the bed is part the one, part the other.
    const [one, , two] = [1, 1.6, 2].map((stages) => runOff(bedOf({ stages }), { kettleL: 970 }));
    const between = runOff(bedOf({ stages: 1.6 }), { kettleL: 970 }).left.extractKg;
    const blend = 0.4 * (one?.left.extractKg ?? 0) + 0.6 * (two?.left.extractKg ?? 0);
    expect(between).toBeCloseTo(blend, 6);
  });

  // Reference picture: N equal run-offs, each mixed through, N 4 to 8 (judgement), loss about as 1/N
  // (Hansen 2008). The default bed must lose what they lose, on beds of any size and thickness.
  it.each([
    [149, 3.5, 6.4],
    [149, 3, 6.4],
    [149, 4.2, 6.8],
    [20, 3.2, 6],
    [800, 3.5, 7],
  ])(
    '%f kg at %f kg/kg to %f L/kg loses what 4 to 8 mixed run-offs lose',
    (gristKg, ratio, kettlePerKg) => {
      const bed = bedOf({
        gristKg,
        mash: { extractKg: 0.75 * gristKg, waterKg: ratio * gristKg },
        underL: 0.13 * gristKg,
        deadL: 0.027 * gristKg,
      });
      const run = runOff(bed, { kettleL: kettlePerKg * gristKg, holdL: 0.1 * gristKg });
      const kept = 1.127 * gristKg;
      const lostBy = (n: number) =>
        1 -
        batchSpargeYield(
          kept,
          Array.from({ length: n }, () => (kettlePerKg * gristKg) / n),
        );
      const lost = run.left.extractKg / bed.mash.extractKg;
      expect(lost).toBeLessThan(lostBy(3));
      expect(lost).toBeGreaterThan(lostBy(10));
    },
  );

  it('a single stage kept full is washed out exponentially (derived)', () => {
    const bed = bedOf({ stages: 1, underL: 0, deadL: 0, floodedLPerKg: 1.8 });
    const space = spaceOf(bed);
    const run = runOff(bed, { kettleL: 970 });
    const at = run.spargeFromL + 200;
    const c = (litres: number) => pointAt(run, litres);
    const fall =
      (c(at).extractKg - c(at - 1).extractKg) /
      (c(run.spargeFromL + 2).extractKg - c(run.spargeFromL + 1).extractKg);
    expect(fall).toBeCloseTo(Math.exp(-(200 - 2) / space.bedL), 1.9);
  });

  it('halving the step hardly moves the end: the course is that of the model, not of the step', () => {
    // Two plans that differ only in where the steps fall.
    const a = runOff(bedOf(), { kettleL: 970 });
    const b = pointAt(runOff(bedOf(), { kettleL: 1400, shutAtL: 1390 }), a.shutAtL);
    expect(b.extractKg).toBeCloseTo(pointAt(a, a.shutAtL).extractKg, 1.9);
  });

  it('refuses a mash that cannot fill its bed', () => {
    expect(() => runOff(bedOf({ mash: { extractKg: 60, waterKg: 80 } }), { kettleL: 100 })).toThrow(
      OutOfRange,
    );
    expect(() => runOff(bedOf({ deadL: 30 }), { kettleL: 100 })).toThrow(OutOfRange);
  });
});

describe('no sparge and batch sparge', () => {
  // Derived yields: 5 L kept, 28 L in all: none 0.848, two equal 0.931, three equal 0.958, 10/18 0.928.
  it.each([
    [[28], 0.848],
    [[14, 14], 0.931],
    [[28 / 3, 28 / 3, 28 / 3], 0.958],
    [[10, 18], 0.928],
  ])('%j wins %f', (runoffs, won) => {
    // 5 kg grist at 1 L/kg; weak wort, so that litres and kilograms of water go together.
    const first = runoffs[0] as number;
    const bed = bedOf({
      gristKg: 5,
      retainedLPerKg: 1,
      floodedLPerKg: 1.5,
      underL: 0,
      deadL: 0,
      mash: { extractKg: 0.5, waterKg: (first + 5 - 0.5) * 0.974 },
    });
    const litres = litresAt(bed.mash, 76);
    const { kettle } = batchRunOff(bed, [first + 5 - litres, ...runoffs.slice(1)]);
    expect(kettle.extractKg / 0.5).toBeCloseTo(won, 2.9);
    expect(kettle.extractKg / 0.5).toBeCloseTo(batchSpargeYield(5, runoffs), 6);
  });

  it('as a course it ends where the sum ends', () => {
    const bed = bedOf();
    const course = batchCourse(bed, [0, 250, 250]);
    const sum = batchRunOff(bed, [0, 250, 250]);
    expect(course.kettle).toEqual(sum.kettle);
    const last = course.points.at(-1);
    expect(last?.extractKg).toBeCloseTo(sum.kettle.extractKg, 9);
    expect(last?.kettlePlato).toBeCloseTo(platoOf(sum.kettle), 9);
    expect(course.points.map((p) => p.tapPlato)).toEqual(
      [...course.points.map((p) => p.tapPlato)].sort((a, b) => b - a),
    );
  });

  it('keeps the balance, and sparging through the bed beats one filling', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 300, noNaN: true }), { minLength: 1, maxLength: 5 }),
        (fills) => {
          const bed = bedOf();
          const { kettle, left } = batchRunOff(bed, fills);
          const liquor = fills.reduce((a, b) => a + b, 0) / spaceOf(bed).litresPerKgWater;
          expect(kettle.extractKg + left.extractKg).toBeCloseTo(112, 8);
          expect(kettle.waterKg + left.waterKg).toBeCloseTo(525 + liquor, 8);
        },
      ),
    );
    const bed = bedOf();
    const run = runOff(bed, { kettleL: 970 });
    const none = batchRunOff(bed, [run.spargeL]);
    expect(litresAt(none.kettle, 76)).toBeCloseTo(970, 0);
    expect(run.kettle.extractKg).toBeGreaterThan(none.kettle.extractKg);
    expect(platoOf(none.kettle)).toBeLessThan(platoOf(run.kettle));
  });
});
