import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTable } from '../../../reference/read.ts';
import { OutOfRange } from './errors.ts';
import { latentHeat, saturationPressure, saturationTemperature } from './saturation.ts';

describe('IAPWS-IF97 region 4, printed checks', () => {
  it.each([
    [300, 0.00353658941],
    [500, 2.63889776], // Table 35, from memory
    [600, 12.3443146], // Table 35, from memory
  ])('Table 35: psat(%d K) = %d MPa', (tK, mpa) => {
    expect(Math.abs(saturationPressure(tK - 273.15) / 1000 / mpa - 1)).toBeLessThan(3e-9);
  });

  it.each([
    [0.1, 372.755919],
    [1, 453.035632], // Table 36, from memory
    [10, 584.149488], // Table 36, from memory
  ])('Table 36: Tsat(%d MPa) = %d K', (mpa, tK) => {
    expect(Math.abs(saturationTemperature(mpa * 1000) + 273.15 - tK)).toBeLessThan(6e-7);
  });

  it('water boils at 99.974 °C at 101.325 kPa', () => {
    expect(saturationTemperature(101.325)).toBeCloseTo(99.974, 3);
  });
});

// reference/data/water.csv: IF97 saturation line.
it.each(readTable('water.csv').map((r) => [r.num('t_C'), r] as const))(
  '%d °C as tabulated',
  (t, row) => {
    expect(Math.abs(saturationPressure(t) / row.num('psat_kPa') - 1)).toBeLessThan(1e-5);
    expect(Math.abs(latentHeat(t) - row.num('hfg_kJ_kg'))).toBeLessThan(0.027);
  },
);

it('latent heat of IF97 at 20, 80 and 100 °C', () => {
  expect(latentHeat(20)).toBeCloseTo(2453.55, 1);
  expect(latentHeat(80)).toBeCloseTo(2308.07, 1);
  expect(latentHeat(100)).toBeCloseTo(2256.47, 1);
});

describe('laws', () => {
  it('boiling point and vapour pressure undo one another', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 373, noNaN: true }), (t) => {
        expect(Math.abs(saturationTemperature(saturationPressure(t)) - t)).toBeLessThan(1e-6);
      }),
    );
  });

  it('vapour pressure rises and latent heat falls with temperature', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 109, noNaN: true }), (t) => {
        expect(saturationPressure(t + 0.1)).toBeGreaterThan(saturationPressure(t));
        expect(latentHeat(t + 0.1)).toBeLessThan(latentHeat(t));
      }),
    );
  });

  it('Clapeyron: slope of the vapour pressure fits the latent heat (steam as a gas, within 3 %)', () => {
    for (const t of [20, 50, 80, 100]) {
      const slope = (saturationPressure(t + 0.01) - saturationPressure(t - 0.01)) / 0.02;
      const tK = t + 273.15;
      const gas = (latentHeat(t) * saturationPressure(t)) / (0.46151805 * tK * tK);
      expect(Math.abs(slope / gas - 1)).toBeLessThan(0.03);
    }
  });
});

it('refuses what lies outside the line', () => {
  expect(() => saturationPressure(-1)).toThrow(OutOfRange);
  expect(() => saturationPressure(374)).toThrow(OutOfRange);
  expect(() => saturationTemperature(0.5)).toThrow(OutOfRange);
  expect(() => latentHeat(Number.NaN)).toThrow(OutOfRange);
});
