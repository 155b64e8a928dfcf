import { OutOfRange, PITCH_RATES } from '@ladlework/matter';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wortOf } from './body.ts';
import { coilRun, pitching, plateRun, plateUa, starterSteps } from './knock-out.ts';

const WORT = wortOf({ litres: 821, tC: 20, plato: 12 });
const COOLER = { uaWK: 4200, liquorLMin: 25, liquorInC: 6, mostWortLMin: 25 };

describe('plate cooler', () => {
  it('slows the wort just enough, and takes the heat the liquor brings away', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 2, max: 18, noNaN: true }),
        fc.double({ min: 1500, max: 20000, noNaN: true }),
        (liquorInC, uaWK) => {
          const run = plateRun({ ...COOLER, liquorInC, uaWK }, { body: WORT, fromC: 96, toC: 20 });
          if (!run.reached) return;
          expect(run.outC).toBeLessThanOrEqual(20 + 1e-6);
          if (run.wortLMin < COOLER.mostWortLMin - 1e-6) expect(run.outC).toBeCloseTo(20, 6);
          expect(run.liquorOutC).toBeLessThan(96);
          expect(run.minutes).toBeCloseTo(821 / run.wortLMin, 0);
        },
      ),
    );
  });

  it('warm liquor takes longer; liquor warmer than the aim cannot', () => {
    const cold = plateRun(COOLER, { body: WORT, fromC: 96, toC: 10 });
    const mild = plateRun({ ...COOLER, liquorInC: 8 }, { body: WORT, fromC: 96, toC: 10 });
    expect(mild.wortLMin).toBeLessThan(cold.wortLMin);
    const summer = plateRun({ ...COOLER, liquorInC: 20 }, { body: WORT, fromC: 96, toC: 10 });
    expect(summer.reached).toBe(false);
    expect(summer.whyNot).toMatch(/20\.0 °C/);
    // What is left is m cp dT (wortCp 12 % about 3.89 kJ/(kg K), derived).
    expect(summer.leftKWh).toBeCloseTo((859.1 * 3.887 * (summer.outC - 10)) / 3600, 0.9);
    expect(summer.outC).toBeGreaterThan(20);
  });

  it('throttles the liquor where all of it would chill too far', () => {
    const run = plateRun(
      { ...COOLER, uaWK: 20000, liquorLMin: 100 },
      { body: WORT, fromC: 96, toC: 20 },
    );
    expect(run.wortLMin).toBe(25);
    expect(run.outC).toBeCloseTo(20, 6);
    expect(run.liquorLMin).toBeLessThan(60);
    // Heat out of the wort is heat into the liquor (cp 3.93 and 4.18 kJ/(kg K) at the means).
    const heat =
      (run.wortLMin * 1.0464 * 3.93 * 76) / (run.liquorLMin * 4.18 * (run.liquorOutC - 6));
    expect(heat).toBeCloseTo(1, 1.9);
  });

  // Field figures (common practice): 1,500 L take nearly 2 h at 12 L/min, 40 min at about 37 L/min.
  it.each([
    [12, 125],
    [37, 40.5],
  ])('1,500 L at %f L/min take %f min', (mostWortLMin, minutes) => {
    const body = wortOf({ litres: 1500, tC: 20, plato: 12 });
    const run = plateRun(
      { uaWK: 60000, liquorLMin: 100, liquorInC: 5, mostWortLMin },
      { body, fromC: 96, toC: 20 },
    );
    expect(Math.abs(run.minutes - minutes)).toBeLessThan(0.6);
  });

  it('is known again from its own log', () => {
    const run = plateRun(COOLER, { body: WORT, fromC: 96, toC: 18 });
    const ua = plateUa({
      wortLMin: run.wortLMin,
      plato: 12,
      fromC: 96,
      toC: 18,
      liquorLMin: 25,
      liquorInC: 6,
    });
    expect(run.wortLMin).toBeLessThan(25);
    expect(ua).toBeCloseTo(4200, 0);
    expect(() =>
      plateUa({ wortLMin: 100, plato: 12, fromC: 96, toC: 10, liquorLMin: 5, liquorInC: 6 }),
    ).toThrow(OutOfRange);
  });
});

it('a coil cools to its liquor and no further', () => {
  const coil = {
    body: wortOf({ litres: 45, tC: 20, plato: 12 }),
    kettleKJK: 4,
    fromC: 98,
    uaWK: 900,
    liquorLMin: 9,
    liquorInC: 14,
  };
  const run = coilRun({ ...coil, toC: 20 });
  expect(run.reached).toBe(true);
  expect(run.liquorL).toBeCloseTo(9 * run.minutes, 9);
  const never = coilRun({ ...coil, toC: 9 });
  expect(never.reached).toBe(false);
  expect(never.outC).toBeGreaterThan(14);
  expect(never.outC).toBeLessThan(14.5);
});

describe('pitching', () => {
  const yeast = {
    kind: 'lager',
    rate: PITCH_RATES.lager,
    cellsPerML: 1e9,
    viability: 0.9,
    generation: 3,
  } as const;

  // Derived from G. Fix's rate: 1,000 L at 12 °P -> 20 L of 1e9/mL at 90 %.
  it('20 L of slurry for 1,000 L of lager wort, and its poor life is named', () => {
    const body = wortOf({ litres: 1000, tC: 20, plato: 12 });
    const p = pitching({ body, tC: 9, pressureKPa: 101.3 }, yeast);
    expect(p.slurryL).toBeCloseTo(20, 6);
    expect(p.millionPerML).toBeCloseTo(18, 6);
    expect(p.oxygenG).toBeCloseTo(10, 6);
    expect(p.cautions).toHaveLength(1);
    expect(
      pitching({ body, tC: 27, pressureKPa: 101.3 }, { ...yeast, viability: 0.97, generation: 14 })
        .cautions,
    ).toHaveLength(2);
  });

  it('air alone is not enough on a mountain', () => {
    const tank = { body: WORT, tC: 10, oxygenMgL: 9 };
    expect(pitching({ ...tank, pressureKPa: 101.3 }, yeast).needsPureOxygen).toBe(false);
    expect(pitching({ ...tank, pressureKPa: 83.4 }, yeast).needsPureOxygen).toBe(true);
  });

  it('starters end when they say', () => {
    const steps = starterSteps(1.8e13, 0.01);
    expect(steps.at(-1)?.cells).toBeCloseTo(1.8e13, -6);
    expect(steps.at(-1)?.endsAfterH).toBe(72 * steps.length);
  });
});
