import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTable } from '../../../reference/read.ts';
import { OutOfRange } from './errors.ts';
import {
  waterConductivity,
  waterCp,
  waterDensity,
  waterEnthalpy,
  waterEntropy,
  waterGibbs,
  waterViscosity,
} from './water.ts';

const anyT = fc.double({ min: -19.9, max: 109.9, noNaN: true });

describe('IAPWS SR6-08(2011), printed check values at 298.15 K', () => {
  it.each<[string, (tC: number) => number, number]>([
    ['g', waterGibbs, -4.5617537],
    ['s', waterEntropy, 0.36720145],
    ['cp', waterCp, 4.18144618],
    ['density', waterDensity, 997.047013],
    ['viscosity', waterViscosity, 889.996774e-3],
    ['conductivity', waterConductivity, 0.606502308],
  ])('%s', (_, fn, printed) => {
    expect(Math.abs(fn(25) / printed - 1)).toBeLessThan(4e-8);
  });
});

// reference/data/water.csv: SR6-08, every second degree from 2 to 100 °C.
describe('table of liquid water', () => {
  it.each(readTable('water.csv').map((r) => [r.num('t_C'), r] as const))('%d °C', (t, row) => {
    expect(waterDensity(t)).toBeCloseTo(row.num('rho_kg_m3'), 3);
    expect(waterCp(t)).toBeCloseTo(row.num('cp_kJ_kgK'), 5);
    expect(waterEnthalpy(t)).toBeCloseTo(row.num('h_kJ_kg'), 2.9);
    expect(waterViscosity(t)).toBeCloseTo(row.num('mu_mPa_s'), 4);
    expect(waterConductivity(t)).toBeCloseTo(row.num('k_W_mK'), 5);
  });
});

describe('identities', () => {
  it('heat capacity is the slope of enthalpy', () => {
    fc.assert(
      fc.property(anyT, (t) => {
        const slope = (waterEnthalpy(t + 0.05) - waterEnthalpy(t - 0.05)) / 0.1;
        expect(Math.abs(slope / waterCp(t) - 1)).toBeLessThan(1e-5);
      }),
    );
  });

  it('entropy is the falling slope of the Gibbs energy', () => {
    fc.assert(
      fc.property(anyT, (t) => {
        const slope = (waterGibbs(t + 0.05) - waterGibbs(t - 0.05)) / 0.1;
        expect(Math.abs(slope + waterEntropy(t))).toBeLessThan(1e-5);
      }),
    );
  });

  it('water is densest near 4 °C and thins as it warms', () => {
    fc.assert(
      fc.property(fc.double({ min: 4.1, max: 109, noNaN: true }), (t) => {
        expect(waterDensity(t + 0.5)).toBeLessThan(waterDensity(t));
        expect(waterViscosity(t + 0.5)).toBeLessThan(waterViscosity(t));
      }),
    );
    expect(waterDensity(2)).toBeLessThan(waterDensity(3.98));
  });
});

describe('other published forms agree', () => {
  it('Kell-type rational density, 0 to 100 °C, within 5.3e-6', () => {
    for (let t = 0; t <= 100; t += 2.5) {
      const kell =
        (999.83952 +
          t *
            (16.952577 +
              t * (-7.9905127e-3 + t * (-46.241757e-6 + t * (105.84601e-9 - t * 281.03006e-12))))) /
        (1 + 16.887236e-3 * t);
      expect(Math.abs(waterDensity(t) / kell - 1)).toBeLessThan(5.5e-6);
    }
  });

  it('Popiel & Wojtkowiak 1998 (from memory), 1 to 100 °C, within 6e-5, 9e-4 and 1.1e-3', () => {
    for (let t = 1; t <= 100; t += 3) {
      const rho =
        999.79684 +
        0.068317355 * t -
        0.010740248 * t ** 2 +
        8.2140905e-4 * t ** 2.5 -
        2.3030988e-5 * t ** 3;
      const cp =
        4.2174356 -
        0.0056181625 * t +
        0.0012992528 * t ** 1.5 -
        1.1535353e-4 * t ** 2 +
        4.14964e-6 * t ** 2.5;
      const mu = 1000 / (557.82468 + 19.408782 * t + 0.1360459 * t ** 2 - 3.1160832e-4 * t ** 3);
      expect(Math.abs(waterDensity(t) / rho - 1)).toBeLessThan(6.5e-5);
      expect(Math.abs(waterCp(t) / cp - 1)).toBeLessThan(9.5e-4);
      expect(Math.abs(waterViscosity(t) / mu - 1)).toBeLessThan(1.2e-3);
    }
  });
});

it('refuses what is not liquid water, NaN included', () => {
  for (const t of [-21, 111, Number.NaN, Infinity]) {
    for (const fn of [waterDensity, waterCp, waterEnthalpy, waterViscosity, waterConductivity]) {
      expect(() => fn(t)).toThrow(OutOfRange);
    }
  }
  try {
    waterDensity(152);
    expect.unreachable();
  } catch (e) {
    expect(e).toMatchObject({
      field: 'water temperature',
      value: 152,
      min: -20,
      max: 110,
      unit: '°C',
    });
    expect((e as Error).message).toBe(
      'water temperature is 152 °C; it must be between -20 and 110 °C. Check the number and its unit.',
    );
  }
});
