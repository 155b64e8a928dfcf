import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  advanceMash,
  compileMash,
  KDIS_FINE_GRIST,
  type MashParameters,
  MashWorkspace,
  mashResults,
  PLAIN_PARAMETERS,
  RECOMMENDED_PARAMETERS,
  STANDARD_MALT,
  startMash,
} from './index.ts';
import { MashSystem } from './kinetics.ts';
import type { MashOptions } from './malt.ts';
import { MASH_UNKNOWNS } from './unknowns.ts';

const workspace = new MashWorkspace();

function isothermal(
  parameters: MashParameters,
  tempC: number,
  minutes: number,
  liquorKg: number,
  tolerance = 1e-8,
) {
  const { state, brought } = startMash([{ malt: STANDARD_MALT, massKg: 1 }], liquorKg, parameters);
  const compiled = compileMash(parameters);
  advanceMash(state, compiled, [0, minutes], [tempC, tempC], tolerance, workspace);
  return mashResults(state, brought, parameters);
}

describe('quick check of the reference', () => {
  // docs/science/mash.md, Numerics: standard malt, 3 kg/kg, 60 min at 65 °C, plain set.
  it('is met to the digits printed', () => {
    const r = isothermal(PLAIN_PARAMETERS, 65, 60, 3);
    expect(r.extractKg).toBeCloseTo(0.7761541, 7);
    expect(r.wortExtractPct).toBeCloseTo(20.31203, 5);
    expect(r.limitApparentPct).toBeCloseTo(85.78678, 5);
    expect(r.alphaLeft).toBeCloseTo(0.4684555, 7);
  });
});

describe('recommended set, table of the fitting study', () => {
  // docs/science/mash.md, Recommended set; said to be converged to 4e-5, read here as
  // absolute for shares and kilograms.
  const kraw = RECOMMENDED_PARAMETERS;
  const fine = { ...kraw, kdis: KDIS_FINE_GRIST };
  it.each([
    ['plain', PLAIN_PARAMETERS, 65, 60, 3, 0.77616, 20.3121, 85.787, 0.01019, 0.46846],
    ['kraw', kraw, 65, 60, 3, 0.77845, 20.3599, 85.781, 0.00645, 0.46846],
    ['plain', PLAIN_PARAMETERS, 62.7, 60, 3, 0.74837, 19.7283, 85.96, 0.05562, 0.64441],
    ['kraw', kraw, 62.7, 60, 3, 0.75837, 19.9394, 86.011, 0.03934, 0.64441],
    ['kraw', kraw, 45, 60, 6, 0.31782, 4.995, 73.273, 0.75223, 0.99495],
    ['kraw, fine grist', fine, 63, 10, 4, 0.75565, 15.7406, 83.047, 0.03853, 0.92434],
  ])('%s', (_, parameters, tempC, minutes, ratio, extract, pct, limit, starch, alpha) => {
    const r = isothermal(parameters, tempC, minutes, ratio);
    const near = (got: number, want: number, digit: number) =>
      expect(Math.abs(got - want)).toBeLessThan(4e-5 * Math.max(1, want) + digit);
    near(r.extractKg, extract, 5e-6);
    near(r.wortExtractPct, pct, 5e-5);
    near(r.limitApparentPct, limit, 5e-4);
    near(r.starchUngelatinisedShare, starch, 5e-6);
    near(r.alphaLeft, alpha, 5e-6);
  });
});

describe('table of isothermal mashes', () => {
  // reference/data/mash-model-runs.csv, plain set; printed to seven digits.
  const lines = readFileSync(
    new URL('../../../../reference/data/mash-model-runs.csv', import.meta.url),
    'utf8',
  )
    .trim()
    .split('\n');
  const names = lines[0]!.split(',');
  const read: Record<string, (r: ReturnType<typeof isothermal>) => number> = {
    limit_apparent_pct: (r) => r.limitApparentPct,
    limit_real_pct: (r) => r.limitRealPct,
    extract_kg_per_kg_malt: (r) => r.extractKg,
    wort_extract_pct: (r) => r.wortExtractPct,
    glucose_g_per_L: (r) => r.glucoseGPerL,
    maltose_g_per_L: (r) => r.maltoseGPerL,
    maltotriose_g_per_L: (r) => r.maltotrioseGPerL,
    dextrins_g_per_L: (r) => r.dextrinsGPerL,
    preformed_g_per_L: (r) => r.preformedGPerL,
    starch_ungelatinised_frac: (r) => r.starchUngelatinisedShare,
    starch_gelatinised_frac: (r) => r.starchGelatinisedShare,
    beta_left: (r) => r.betaLeft,
    alpha_left: (r) => r.alphaLeft,
    limit_dextrinase_left: (r) => r.limitDextrinaseLeft,
  };
  it('has every column read', () => {
    expect(names.slice(4).sort()).toEqual(Object.keys(read).sort());
  });
  it.each(lines.slice(1).map((line) => line.split(',')))(
    '%s %s kg/kg, %s °C, %s min',
    (...cells) => {
      const r = isothermal(
        PLAIN_PARAMETERS,
        Number(cells[2]),
        Number(cells[3]),
        Number(cells[1]),
        1e-8,
      );
      names.slice(4).forEach((name, i) => {
        const want = Number(cells[4 + i]);
        expect(Math.abs(read[name]!(r) - want), name).toBeLessThan(2e-6 * want + 2e-9);
      });
    },
  );
});

describe('error control', () => {
  it('keeps the error of every figure within the tolerance asked for', () => {
    const best = isothermal(RECOMMENDED_PARAMETERS, 66, 45, 3, 1e-9);
    for (const tolerance of [1e-3, 1e-4, 1e-5, 1e-6]) {
      const r = isothermal(RECOMMENDED_PARAMETERS, 66, 45, 3, tolerance);
      for (const [name, value] of Object.entries(best))
        if (typeof value === 'number') {
          const got = r[name as keyof typeof r] as number;
          expect(Math.abs(got - value) / Math.max(Math.abs(value), 1e-3), name).toBeLessThan(
            2 * tolerance,
          );
        }
    }
  });
});

/** Rates, by adding them to nothing. */
function ratesOf(system: MashSystem, t: number, y: Float64Array): Float64Array {
  const f = new Float64Array(MASH_UNKNOWNS);
  system.addRates(t, y, f);
  return f;
}

describe('linearised form', () => {
  const cases: [string, MashOptions][] = [
    ['plain grist', {}],
    ['coarse grist', { coarseShare: 0.3 }],
    [
      'all options',
      { coarseShare: 0.3, boundLimitDextrinase: true, glucosidase: true, resistantShare: 0.05 },
    ],
  ];
  // Identity: what solve() answers must satisfy (shift - J) x = b with J x taken from the rates by
  // central differences, and ∂f/∂t must be the difference in time. At several temperatures, mid-mash.
  for (const [name, options] of cases)
    for (const tempC of [38, 58, 66, 78, 91])
      it(`solves its own equations: ${name}, ${tempC} °C`, () => {
        const p = RECOMMENDED_PARAMETERS;
        const { state } = startMash([{ malt: STANDARD_MALT, massKg: 1 }], 3, p, options);
        const compiled = compileMash(p);
        advanceMash(state, compiled, [0, 12, 14], [50, 62, 63], 1e-8, workspace);
        const system = new MashSystem();
        const y = new Float64Array(MASH_UNKNOWNS);
        const slope = 0.8;
        const t = 3;
        system.load(state, compiled, y, 1e-14);
        system.setLine(0, tempC - slope * t, slope, tempC > p.Tcol, false);
        const timeSlope = new Float64Array(MASH_UNKNOWNS);
        system.linearise(t, y, timeSlope);
        const shift = 1.7;
        expect(system.factor(shift)).toBe(true);
        const n = system.size;
        const b = Float64Array.from({ length: MASH_UNKNOWNS }, (_, i) =>
          i < n ? Math.sin(1 + 3 * i) * (0.02 + Math.abs(y[i]!)) : 0,
        );
        const x = b.slice();
        system.solve(x);
        const eps = 1e-6;
        const up = ratesOf(
          system,
          t,
          y.map((v, i) => v + eps * x[i]!),
        );
        const down = ratesOf(
          system,
          t,
          y.map((v, i) => v - eps * x[i]!),
        );
        for (let i = 0; i < n; i++) {
          const Jx = (up[i]! - down[i]!) / (2 * eps);
          const scale = Math.abs(shift * x[i]!) + Math.abs(Jx) + 1e-4;
          expect(Math.abs(shift * x[i]! - Jx - b[i]!) / scale, `row ${i}`).toBeLessThan(2e-6);
        }
        const dt = 1e-4;
        const later = ratesOf(system, t + dt, y);
        const sooner = ratesOf(system, t - dt, y);
        for (let i = 0; i < n; i++) {
          const slopeOf = (later[i]! - sooner[i]!) / (2 * dt);
          expect(Math.abs(timeSlope[i]! - slopeOf), `time, row ${i}`).toBeLessThan(
            1e-5 * Math.abs(slopeOf) + 1e-8,
          );
        }
      });
});

describe('a knot on the colour threshold', () => {
  it('is stepped over, whichever side of 80 °C rounding leaves it on', () => {
    const compiled = compileMash(RECOMMENDED_PARAMETERS);
    const through = (knotC: number) => {
      const { state, brought } = startMash(
        [{ malt: STANDARD_MALT, massKg: 1 }],
        3,
        RECOMMENDED_PARAMETERS,
      );
      const times = [0, 188.33921593414325, 188.3393];
      advanceMash(state, compiled, times, [79.9, knotC, 80.1], 3e-3, workspace);
      return mashResults(state, brought, RECOMMENDED_PARAMETERS).extractKg;
    };
    const on = through(80);
    expect(through(80.00000000000288)).toBeCloseTo(on, 9);
    expect(through(79.99999999999712)).toBeCloseTo(on, 9);
  });
});
