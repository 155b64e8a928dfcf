import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { advanceBoiled, isBoiled } from './boiled.ts';
import {
  addLiquor,
  addMash,
  advanceMash,
  mashLayout as at,
  clearMash,
  compileMash,
  DEXTRIN_MALT,
  dryMatterKg,
  emptyMash,
  evaporate,
  extractKg,
  freeWaterKg,
  type MashOptions,
  MashRangeError,
  MashWorkspace,
  mashResults,
  RECOMMENDED_PARAMETERS,
  rawStarchKg,
  STANDARD_MALT,
  solidsKg,
  startMash,
  takeShares,
  totalKg,
  withOptions,
  wortExtractPct,
} from './index.ts';

const workspace = new MashWorkspace();
const p = RECOMMENDED_PARAMETERS;
const compiled = compileMash(p);

const anyOptions: fc.Arbitrary<MashOptions> = fc.record({
  coarseShare: fc.constantFrom(0, 0.4),
  boundLimitDextrinase: fc.boolean(),
  glucosidase: fc.boolean(),
  resistantShare: fc.constantFrom(0, 0.03),
});

const anyLine = fc.array(
  fc.record({
    minutes: fc.double({ min: 0.1, max: 40, noNaN: true }),
    tempC: fc.double({ min: 20, max: 100, noNaN: true }),
  }),
  { minLength: 2, maxLength: 5 },
);

function profile(line: readonly { minutes: number; tempC: number }[]) {
  let clock = 0;
  return {
    times: line.map(({ minutes }, i) => {
      if (i > 0) clock += minutes;
      return clock;
    }),
    temps: line.map(({ tempC }) => tempC),
  };
}

function mash(liquorKg = 3, options: MashOptions = {}) {
  return startMash(
    [
      { malt: STANDARD_MALT, massKg: 1 },
      { malt: DEXTRIN_MALT, massKg: 0.1 },
    ],
    liquorKg,
    p,
    options,
  );
}

describe('mass', () => {
  it('is kept to rounding through any heat history, under any options', () => {
    fc.assert(
      fc.property(anyLine, anyOptions, (line, options) => {
        const { state } = mash(3, options);
        const { times, temps } = profile(line);
        const before = totalKg(state);
        const ready = compileMash(withOptions(p, options));
        advanceMash(state, ready, times, temps, 1e-3, workspace);
        expect(Math.abs(totalKg(state) - before)).toBeLessThan(1e-13);
        expect(state[at.WATER]).toBe(3 + 1.1 * 0.045);
      }),
      { numRuns: 60 },
    );
  });

  // The ledger takes bound water as what the dry matter gained; the equations give it as a rate.
  it('bound by hydrolysis is what the equations say', () => {
    const { state } = mash();
    let bound = 0;
    const minutes = 40;
    const pieces = 800;
    for (let k = 0; k < pieces; k++) {
      // Simpson's rule on v1, v2, v3 of the equations, taken from the state and not from the system.
      const rate = (s: Float64Array) => {
        const x = 1 / (64 + 273.15) - 1 / 338.15;
        const act = (Math.exp((-p.Ea_act / p.R) * x) * p.water_ref) / s[at.WATER]!;
        const beta = s[at.BETA_LABILE]! + s[at.BETA_STABLE]!;
        const v1 = p.ka65 * act * s[at.ALPHA]! * s[at.SG]!;
        const v2 = p.kb65 * act * beta * s[at.SG]!;
        const v3 = p.kb65 * p.rD * act * beta * s[at.DEXTRIN]!;
        return (
          0.111 * p.aG * v1 +
          0.0556 * (p.aM * v1 + p.bM * v2 + (1 - p.dT) * v3) +
          0.037 * (p.aT * v1 + p.bT * v2 + p.dT * v3)
        );
      };
      const h = minutes / pieces;
      const a = rate(state);
      advanceMash(state, compiled, [0, h / 2], [64, 64], 1e-7, workspace);
      const b = rate(state);
      advanceMash(state, compiled, [0, h / 2], [64, 64], 1e-7, workspace);
      bound += (h / 6) * (a + 4 * b + rate(state));
    }
    expect(state[at.BOUND]! / bound).toBeCloseTo(1, 5);
    expect(state[at.BOUND]!).toBeGreaterThan(0.015);
  });

  it('is split and joined without loss', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(share, share, (solid, liquid) => {
        const { state } = mash();
        advanceMash(state, compiled, [0, 20], [52, 62], 1e-3, workspace);
        const before = {
          total: totalKg(state),
          dry: dryMatterKg(state),
          water: freeWaterKg(state),
        };
        const pot = emptyMash();
        takeShares(state, solid, liquid, pot);
        expect(solidsKg(pot)).toBeCloseTo(solid * (solidsKg(pot) + solidsKg(state)), 12);
        expect(extractKg(pot)).toBeCloseTo(liquid * (extractKg(pot) + extractKg(state)), 12);
        addMash(state, pot);
        expect(totalKg(state)).toBeCloseTo(before.total, 12);
        expect(dryMatterKg(state)).toBeCloseTo(before.dry, 12);
        expect(freeWaterKg(state)).toBeCloseTo(before.water, 12);
      }),
    );
  });

  it('leaves as vapour from the water alone', () => {
    const { state } = mash();
    const extract = extractKg(state);
    const before = totalKg(state);
    evaporate(state, 0.4);
    expect(totalKg(state)).toBeCloseTo(before - 0.4, 12);
    expect(extractKg(state)).toBe(extract);
    expect(() => evaporate(state, 10)).toThrow(MashRangeError);
    addLiquor(state, 0.4);
    expect(totalKg(state)).toBeCloseTo(before, 12);
    expect(() => addLiquor(state, -1)).toThrow(/waterKg/);
  });
});

describe('enzyme', () => {
  it('never grows, and a longer rest never leaves more', () => {
    fc.assert(
      fc.property(anyLine, fc.double({ min: 0.5, max: 30, noNaN: true }), (line, extra) => {
        const { state, brought } = mash();
        const { times, temps } = profile(line);
        let before = mashResults(state, brought, p);
        const check = () => {
          const after = mashResults(state, brought, p);
          expect(after.alphaLeft).toBeLessThanOrEqual(before.alphaLeft + 1e-5);
          expect(after.betaLeft).toBeLessThanOrEqual(before.betaLeft + 1e-5);
          expect(after.limitDextrinaseLeft).toBeLessThanOrEqual(before.limitDextrinaseLeft + 1e-5);
          expect(after.alphaLeft).toBeGreaterThanOrEqual(0);
          before = after;
        };
        advanceMash(state, compiled, times, temps, 1e-4, workspace);
        check();
        const last = temps.at(-1)!;
        advanceMash(state, compiled, [0, extra], [last, last], 1e-4, workspace);
        check();
      }),
      { numRuns: 60 },
    );
  });

  it('of alpha obeys its closed form along any line', () => {
    // With uA = 1 dissolved and undissolved alpha die alike: left = exp(-integral of ka).
    const { state, brought } = mash();
    advanceMash(state, compiled, [0, 30], [60, 72], 1e-7, workspace);
    const n = 2000;
    let sum = 0;
    for (let i = 0; i <= n; i++) {
      const kelvin = 60 + (12 * i) / n + 273.15;
      const ka = p.kda65 * Math.exp((-p.Eda / p.R) * (1 / kelvin - 1 / 338.15));
      sum += (i === 0 || i === n ? 0.5 : 1) * ka * (30 / n);
    }
    expect(mashResults(state, brought, p).alphaLeft).toBeCloseTo(Math.exp(-sum), 6);
  });
});

describe('order of mixing', () => {
  it('does not matter', () => {
    const parts = [emptyMash(), emptyMash(), emptyMash()];
    const { state } = mash();
    advanceMash(state, compiled, [0, 20], [52, 62], 1e-3, workspace);
    takeShares(state, 0.4, 0.3, parts[0]!);
    takeShares(state, 0.2, 0.5, parts[1]!);
    addMash(parts[2]!, state);
    const join = (order: number[]) => {
      const all = emptyMash();
      for (const i of order) addMash(all, parts[i]!);
      return all;
    };
    const first = join([0, 1, 2]);
    for (const order of [
      [2, 1, 0],
      [1, 0, 2],
      [1, 2, 0],
    ])
      for (const [i, v] of join(order).entries()) expect(v).toBeCloseTo(first[i]!, 14);
  });

  it('nor does cutting a history into pieces', () => {
    const whole = mash();
    const cut = mash();
    advanceMash(whole.state, compiled, [0, 40], [50, 66], 1e-7, workspace);
    for (let i = 0; i < 8; i++)
      advanceMash(
        cut.state,
        compiled,
        [5 * i, 5 * i + 5],
        [50 + 2 * i, 52 + 2 * i],
        1e-7,
        workspace,
      );
    for (const [i, v] of cut.state.entries())
      expect(Math.abs(v - whole.state[i]!)).toBeLessThan(2e-7);
  });
});

describe('boil', () => {
  function boiling(options: MashOptions = {}) {
    const started = mash(3, options);
    advanceMash(started.state, compiled, [0, 40], [50, 100], 1e-8, workspace);
    return started;
  }

  it('kills every enzyme, opens all starch and leaves dextrins alone', () => {
    const { state, brought } = boiling();
    const before = mashResults(state, brought, p);
    advanceMash(state, compiled, [0, 20], [100, 100], 1e-6, workspace);
    const after = mashResults(state, brought, p);
    expect(after.alphaLeft).toBe(0);
    expect(after.betaLeft).toBe(0);
    expect(rawStarchKg(state)).toBeLessThan(1e-12);
    expect(after.dextrinKg).toBeCloseTo(before.dextrinKg, 9);
    expect(after.limitDextrinKg).toBeCloseTo(before.limitDextrinKg, 9);
  });

  it('by its own exponentials agrees with the general integrator', () => {
    const { state } = boiling();
    advanceMash(state, compiled, [0, 1], [100, 100], 1e-9, workspace);
    expect(isBoiled(state, compiled, 92, 1e-9)).toBe(true);
    const general = state.slice();
    const own = state.slice();
    advanceBoiled(own, compiled, 100, 92, 15);
    // A trace of enzyme, too little to act, sends the same mash through the integrator.
    general[at.BETA_STABLE] = 1e-6;
    general[at.ALPHA] = 0;
    expect(isBoiled(general, compiled, 92, 1e-9)).toBe(false);
    advanceMash(general, compiled, [0, 15], [100, 92], 1e-9, workspace);
    for (const i of [at.PS, at.OS, at.PREFORMED, at.OTHER, at.SG, at.COLOUR])
      expect(own[i]! / general[i]!, `entry ${i}`).toBeCloseTo(1, 5);
  });

  it('of a thick pull darkens with the square of its extract and with time', () => {
    const { state, brought } = boiling();
    const at0 = mashResults(state, brought, p).colourEbc;
    advanceMash(state, compiled, [0, 10], [100, 100], 1e-6, workspace);
    const x = wortExtractPct(state);
    const made = mashResults(state, brought, p).colourEbc - at0;
    // docs/science/mash.md, Colour: 0.03 EBC/min at 100 °C and 12 % extract.
    expect(made).toBeGreaterThan(0.9 * 0.03 * 10 * ((0.95 * x) / 12) ** 2);
    expect(made).toBeLessThan(1.1 * 0.03 * 10 * (x / 12) ** 2);
  });

  it('of a third of the mash for 20 min removes about 10 % of the SMM', () => {
    // docs/science/mash.md, SMM (derived there from Wilson & Booer 1979).
    const { state, brought } = mash();
    const pot = emptyMash();
    takeShares(state, 1 / 3, 1 / 3, pot);
    advanceMash(pot, compiled, [0, 20], [100, 100], 1e-4, workspace);
    addMash(state, pot);
    expect(mashResults(state, brought, p).smmLeft).toBeCloseTo(1 - (1 - Math.exp(-0.4)) / 3, 6);
    expect(mashResults(state, brought, p).smmLeft).toBeGreaterThan(0.86);
  });
});

describe('options', () => {
  it('that are off change nothing: a coarse share of nought is the ordinary mash', () => {
    const plain = mash();
    const off = mash(3, { coarseShare: 0, resistantShare: 0 });
    expect(off.state).toEqual(plain.state);
  });

  it('C: coarse pieces give less extract in the same time', () => {
    const limits = [0, 0.2, 0.5].map((coarseShare) => {
      const { state, brought } = mash(3, { coarseShare });
      advanceMash(state, compiled, [0, 60], [65, 65], 1e-5, workspace);
      return mashResults(state, brought, p).extractKg;
    });
    expect(limits[1]).toBeLessThan(limits[0]!);
    expect(limits[2]).toBeLessThan(limits[1]!);
  });

  it('C with transport without limit is the ordinary mash', () => {
    const free = compileMash({ ...p, kc: 1e9 });
    const coarse = mash(3, { coarseShare: 0.5 });
    const plain = mash();
    advanceMash(coarse.state, free, [0, 30], [60, 68], 1e-7, workspace);
    advanceMash(plain.state, compiled, [0, 30], [60, 68], 1e-7, workspace);
    expect(extractKg(coarse.state)).toBeCloseTo(extractKg(plain.state), 6);
  });

  it('C gives a decoction the advantage the study reports, and no other grist does', () => {
    // docs/science/mash.md, Options: +1.2 to +3.4 points of limit for one pull and up to 4 %
    // absolute extract at a coarse share of 0.3 to 0.5 (kc 0.015-0.022 for poorly modified grist).
    const q = { ...p, kc: 0.02 };
    const ready = compileMash(q);
    const day = (decoction: boolean, coarseShare: number) => {
      const parts = [{ malt: STANDARD_MALT, massKg: 1 }];
      const { state, brought } = startMash(parts, 3.5, q, { coarseShare });
      advanceMash(state, ready, [0, 15], [52, 52], 1e-5, workspace);
      if (decoction) {
        const pot = emptyMash();
        takeShares(state, 0.4, 0.28, pot);
        advanceMash(pot, ready, [0, 20, 35, 60, 75], [52, 70, 70, 99, 99], 1e-5, workspace);
        advanceMash(state, ready, [0, 75], [52, 50], 1e-5, workspace);
        addMash(state, pot);
        clearMash(pot);
      } else advanceMash(state, ready, [0, 12], [52, 64], 1e-5, workspace);
      advanceMash(state, ready, [0, 30, 40, 60], [64, 63, 72, 72], 1e-5, workspace);
      return mashResults(state, brought, q);
    };
    const gain = (coarseShare: number) => {
      const one = day(true, coarseShare);
      const none = day(false, coarseShare);
      return {
        extractPct: 100 * (one.extractKg - none.extractKg),
        limitPct: one.limitApparentPct - none.limitApparentPct,
      };
    };
    expect(gain(0.5).limitPct).toBeGreaterThan(1.2);
    expect(gain(0.5).limitPct).toBeLessThan(3.4);
    expect(gain(0.5).extractPct).toBeGreaterThan(2);
    expect(gain(0.5).extractPct).toBeLessThan(4.5);
    expect(gain(0).limitPct).toBeLessThan(0.5);
    expect(Math.abs(gain(0).extractPct)).toBeLessThan(0.1);
  });

  it('L: some limit dextrinase outlives the free form, and the limit falls', () => {
    const run = (boundLimitDextrinase: boolean) => {
      const options = { boundLimitDextrinase };
      const q = withOptions(p, options);
      const { state, brought } = startMash([{ malt: STANDARD_MALT, massKg: 1 }], 3, q, options);
      advanceMash(state, compileMash(q), [0, 60], [65, 65], 1e-6, workspace);
      return mashResults(state, brought, q);
    };
    expect(run(true).limitDextrinaseLeft).toBeGreaterThan(0.3);
    expect(run(false).limitDextrinaseLeft).toBeLessThan(0.05);
    // The study: limits fall about half a point.
    const fall = run(false).limitApparentPct - run(true).limitApparentPct;
    expect(fall).toBeGreaterThan(0.2);
    expect(fall).toBeLessThan(0.8);
  });

  it('V: glucose rises, maltose falls, fermentables hardly move', () => {
    const run = (glucosidase: boolean) => {
      const { state, brought } = mash(3, { glucosidase });
      advanceMash(state, compiled, [0, 60], [63, 63], 1e-6, workspace);
      return mashResults(state, brought, p);
    };
    expect(run(true).glucoseKg).toBeGreaterThan(2 * run(false).glucoseKg);
    expect(run(true).maltoseKg).toBeLessThan(run(false).maltoseKg);
    expect(run(true).limitApparentPct - run(false).limitApparentPct).toBeLessThan(0.5);
  });

  it('F: resistant starch opens at the boil and not in the mash', () => {
    const { state, brought } = mash(3, { resistantShare: 0.03 });
    advanceMash(state, compiled, [0, 60], [70, 70], 1e-6, workspace);
    expect(rawStarchKg(state) / brought.starchKg).toBeCloseTo(0.03, 3);
    advanceMash(state, compiled, [0, 10, 20], [70, 99, 99], 1e-6, workspace);
    expect(rawStarchKg(state)).toBeLessThan(1e-9);
  });
});

describe('impossible input', () => {
  it.each([
    [() => mash(0), /liquorKg is 0/],
    [() => mash(3, { coarseShare: 2 }), /coarseShare is 2; allowed: 0 to 0.95/],
    [() => mash(3, { resistantShare: -1 }), /resistantShare/],
    [
      () => startMash([{ malt: { ...STANDARD_MALT, starch: 0.88 }, massKg: 1 }], 3, p),
      /starch \+ preformed \+ other/,
    ],
    [() => startMash([{ malt: STANDARD_MALT, massKg: -1 }], 3, p), /grist\[0\].massKg is -1/],
    [() => takeShares(mash().state, 1.2, 0, emptyMash()), /solidShare is 1.2/],
    [() => takeShares(mash().state, 0, Number.NaN, emptyMash()), /liquidShare is NaN/],
    [() => advanceMash(mash().state, compiled, [0, 1], [20, 400], 1e-3, workspace), /tempsC\[1\]/],
    [() => advanceMash(mash().state, compiled, [5, 1], [20, 20], 1e-3, workspace), /timesMin\[1\]/],
    [() => advanceMash(mash().state, compiled, [0, 1], [20, 20], 0, workspace), /tolerance/],
  ])('is refused by name: %s', (make, message) => {
    expect(make).toThrow(message);
  });

  it('an empty vessel is carried as nothing', () => {
    const pot = emptyMash();
    advanceMash(pot, compiled, [0, 30], [60, 90], 1e-3, workspace);
    expect(pot).toEqual(emptyMash());
  });
});
