import { describe, expect, it } from 'vitest';
import { readDocument } from '../../../reference/read.ts';
import { OutOfRange } from './errors.ts';
import {
  firstWort,
  mainLiquor,
  mashDensity,
  mashHeatCapacity,
  mashHeatPerLitre,
  mashVolume,
} from './mash.ts';

interface Checks {
  readonly 'M1 mash heat capacity kJ/K': {
    readonly value: number;
    readonly per_kg: number;
    readonly volume_L_at_52: number;
    readonly vol_cap_kJ_LK: number;
  };
  readonly 'thick mash R=1.8 L/kg': Thick;
  readonly 'thick mash R=2.2 L/kg': Thick;
  readonly 'W1 main liquor (Metzger 1996)': {
    readonly inp: { readonly yield_pct: number; readonly first_wort_pct: number };
    readonly L_per_kg: number;
    readonly first_wort_back_pct: number;
  };
}
interface Thick {
  readonly inp: { readonly R_kg_kg: number };
  readonly c_kJ_kgK: number;
  readonly kJ_per_L_K: number;
  readonly rho: number;
}
const checks = readDocument<Checks>('physics-checks.json');

it('8 kg of grist in 28 kg of liquor at 52 °C (derived)', () => {
  const expected = checks['M1 mash heat capacity kJ/K'];
  const mash = { waterKg: 28, gristKg: 8, tC: 52, gristCp: 1.7 };
  expect(mashHeatCapacity(mash)).toBeCloseTo(expected.value, 3);
  expect(mashHeatCapacity(mash) / 36).toBeCloseTo(expected.per_kg, 3);
  expect(mashVolume(mash)).toBeCloseTo(expected.volume_L_at_52, 2.9);
  expect(mashHeatPerLitre(mash)).toBeCloseTo(expected.vol_cap_kJ_LK, 3);
});

it.each(['thick mash R=1.8 L/kg', 'thick mash R=2.2 L/kg'] as const)(
  '%s at 52 °C (derived)',
  (name) => {
    const { inp, ...expected } = checks[name];
    const mash = { waterKg: inp.R_kg_kg, gristKg: 1, tC: 52, gristCp: 1.7 };
    expect(mashHeatCapacity(mash) / (1 + inp.R_kg_kg)).toBeCloseTo(expected.c_kJ_kgK, 2.9);
    expect(mashHeatPerLitre(mash)).toBeCloseTo(expected.kJ_per_L_K, 2.9);
    expect(mashDensity(mash)).toBeCloseTo(expected.rho, 2.9);
  },
);

// Derived table at 65 °C: grist 1.70 kJ/(kg K), 0.687 L/kg; first wort at 75 % extract, 5 % moisture.
describe('mash by thickness', () => {
  it.each([
    [2.5, 1.081, 3.48, 3.76, undefined],
    [3, 1.068, 3.57, 3.81, 19.7],
    [4, 1.049, 3.69, 3.87, 15.6],
    [5, 1.037, 3.77, 3.91, 12.9],
  ])('R %d', (r, rho, c, perLitre, wort) => {
    const mash = { waterKg: r, gristKg: 1, tC: 65, gristCp: 1.7, displacementLPerKg: 0.687 };
    expect(mashDensity(mash)).toBeCloseTo(rho, 2.9);
    expect(mashHeatCapacity(mash) / (1 + r)).toBeCloseTo(c, 1.9);
    expect(mashHeatPerLitre(mash)).toBeCloseTo(perLitre, 1.9);
    if (wort !== undefined) expect(firstWort({ liquorToGrist: r })).toBeCloseTo(wort, 0.9);
  });
});

it('main liquor by the school formula (Metzger 1996) closes the mass balance', () => {
  const { inp, L_per_kg, first_wort_back_pct } = checks['W1 main liquor (Metzger 1996)'];
  const litres = mainLiquor(inp.yield_pct, inp.first_wort_pct);
  expect(litres).toBeCloseTo(L_per_kg, 3);
  const back = firstWort({
    liquorToGrist: litres,
    extractFraction: inp.yield_pct / 100,
    moistureFraction: 0,
  });
  expect(back).toBeCloseTo(first_wort_back_pct, 6);
});

it('refuses a mash that cannot be', () => {
  expect(() => mashHeatCapacity({ waterKg: -1, gristKg: 8 })).toThrow(OutOfRange);
  expect(() => mashDensity({ waterKg: 0, gristKg: 0, tC: 20 })).toThrow(OutOfRange);
  expect(() => mashVolume({ waterKg: 1, gristKg: 1, tC: 152 })).toThrow(OutOfRange);
  expect(() => firstWort({ liquorToGrist: 0 })).toThrow(OutOfRange);
});
