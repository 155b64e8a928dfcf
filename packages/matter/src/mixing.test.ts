import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument } from '../../../reference/read.ts';
import { OutOfRange } from './errors.ts';
import {
  boilingShare,
  handbookInitialHeat,
  infusionMass,
  mixingCross,
  mixTemperature,
  pullFraction,
  pullLanding,
  strikeTemperature,
} from './mixing.ts';

interface Checks {
  readonly 'S1 strike': { readonly T_strike: number; readonly without_slaking: number };
  readonly 'D decoction fraction (same composition as mash)': {
    readonly cases: readonly {
      readonly case: string;
      readonly T1: number;
      readonly T2: number;
      readonly Td: number;
      readonly fraction: number;
      readonly litres: number;
      readonly C_tun_kJ_K: number;
      readonly boiled_off_kg: number;
    }[];
    readonly inp: { readonly C_mash_kJ_K: number; readonly volume_L_at_52C: number };
  };
  readonly 'Combrune 1804 boiling share': { readonly boiling_barrels: number };
  readonly 'trade handbook strike example (Brewing Room Book 1984/85)': {
    readonly metric_C: number;
    readonly imperial_F: number;
  };
}
const checks = readDocument<Checks>('physics-checks.json');
const mash = { gristKg: 8, gristC: 18, waterKg: 28, tunKJK: 3, tunC: 20, toC: 52, gristCp: 1.7 };

it('strike, with and without slaking heat (derived)', () => {
  expect(strikeTemperature({ ...mash, slakingKJKg: 20 })).toBeCloseTo(
    checks['S1 strike'].T_strike,
    3,
  );
  expect(strikeTemperature({ ...mash, slakingKJKg: 0 })).toBeCloseTo(
    checks['S1 strike'].without_slaking,
    3,
  );
});

it('the trade handbook on both scales (Brewing Room Book 1984/85)', () => {
  const { metric_C, imperial_F } =
    checks['trade handbook strike example (Brewing Room Book 1984/85)'];
  const metric = { relativeHeat: 0.39, ratio: 2.68, gristT: 27, liquorT: 69, slakingT: 2.3 };
  const imperial = { relativeHeat: 0.39, ratio: 2.5, gristT: 80, liquorT: 156, slakingT: 4 };
  expect(handbookInitialHeat(metric)).toBeCloseTo(metric_C, 2);
  expect(handbookInitialHeat(imperial)).toBeCloseTo(imperial_F, 2);
});

it('boiling and cold liquor in the rule of 1804 (Combrune)', () => {
  const barrels = boilingShare({
    gristAsLiquor: 3.42,
    liquor: 14.5,
    boilT: 212,
    coldT: 60,
    wantedT: 154,
  });
  expect(barrels).toBeCloseTo(checks['Combrune 1804 boiling share'].boiling_barrels, 3);
});

describe('pulls on the house mash (derived)', () => {
  const { cases, inp } = checks['D decoction fraction (same composition as mash)'];
  it.each(cases.map((c) => [c.case, c] as const))('%s', (_, c) => {
    const pull = {
      mashKJK: inp.C_mash_kJ_K,
      tunKJK: c.C_tun_kJ_K,
      fromC: c.T1,
      arriveC: c.Td,
      boiledOffKg: c.boiled_off_kg,
    };
    const fraction = pullFraction({ ...pull, toC: c.T2 });
    expect(fraction).toBeCloseTo(c.fraction, 4);
    expect(fraction * inp.volume_L_at_52C).toBeCloseTo(c.litres, 2);
    expect(Math.abs(pullLanding({ ...pull, fraction }) - c.T2)).toBeLessThan(1e-6);
  });

  it('without losses it is the cross', () => {
    expect(mixingCross(52, 65, 100)).toBeCloseTo(0.2708, 4);
    const same = pullFraction({ mashKJK: 130, tunKJK: 0, fromC: 52, toC: 65, arriveC: 100 });
    expect(same).toBeCloseTo(mixingCross(52, 65, 100), 12);
  });

  it('forward and inverse close for any pull', () => {
    const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        real(10, 3000),
        real(0, 300),
        real(35, 60),
        real(1, 20),
        real(5, 30),
        real(0, 0.01),
        (c, tun, t1, up, over, loss) => {
          const pull = {
            mashKJK: c,
            tunKJK: tun,
            fromC: t1,
            arriveC: t1 + up + over,
            boiledOffKg: (loss * c) / 4.187,
          };
          const fraction = pullFraction({ ...pull, toC: t1 + up });
          fc.pre(fraction <= 1);
          expect(Math.abs(pullLanding({ ...pull, fraction }) - t1 - up)).toBeLessThan(1e-6);
        },
      ),
    );
  });

  it('a larger pull lands warmer', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 0.9, noNaN: true }), (fraction) => {
        const pull = { mashKJK: 130, tunKJK: 3, fromC: 50, arriveC: 90 };
        expect(pullLanding({ ...pull, fraction: fraction + 0.05 })).toBeGreaterThan(
          pullLanding({ ...pull, fraction }),
        );
      }),
    );
  });
});

// 19th-century handbook "Die Bierbrauerei", worked in Réaumur degrees and pounds of water
// (reference/data/mash-worked-examples.csv, BA-1 to BA-6).
describe('worked decoctions of the handbook, in degrees Réaumur', () => {
  it.each([
    ['BA-1 mash in', 464, 26, 42, 10, 24.67],
    ['BA-2 boiling liquor', 506, 24, 116, 80, 34.44],
    ['BA-3 first thick pull', 422, 30, 190, 80, 45.52],
    ['BA-5 third pull', 400, 52, 195, 80, 61.18],
    ['BA-6 single decoction mash in', 420, 50, 42, 10, 46.36],
  ])('%s', (_, mainKJK, mainC, pullKJK, pullC, mixed) => {
    expect(mixTemperature({ mainKJK, mainC, pullKJK, pullC, tunKJK: 0 })).toBeCloseTo(mixed, 1.9);
  });
});

it('hot liquor that is added lands the mash where it was wanted', () => {
  const body = { mashKJK: 130, tunKJK: 3, fromC: 52, toC: 65, liquorC: 98 };
  const kg = infusionMass(body);
  const back = mixTemperature({
    mainKJK: 130,
    mainC: 52,
    pullKJK: kg * 4.187,
    pullC: 98,
    tunKJK: 3,
  });
  expect(back).toBeCloseTo(65, 10);
});

it('refuses what no mixing can do', () => {
  expect(() => mixingCross(52, 101, 100)).toThrow(OutOfRange);
  expect(() => infusionMass({ mashKJK: 1, tunKJK: 0, fromC: 52, toC: 65, liquorC: 60 })).toThrow(
    OutOfRange,
  );
  expect(() => pullFraction({ mashKJK: 1, tunKJK: 0, fromC: 52, toC: 95, arriveC: 90 })).toThrow(
    OutOfRange,
  );
  expect(() => mixTemperature({ mainKJK: 0, mainC: 5, pullKJK: 0, pullC: 5, tunKJK: 0 })).toThrow(
    OutOfRange,
  );
});
