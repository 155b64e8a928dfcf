import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTable } from '../../../reference/read.ts';
import {
  boilingPoint,
  boilingPointAtPressure,
  standardAirTemperature,
  standardPressure,
} from './atmosphere.ts';
import { OutOfRange } from './errors.ts';
import { latentHeat } from './saturation.ts';

describe('US Standard Atmosphere 1976, printed rows by geometric height', () => {
  it.each([
    [-2000, 127780],
    [0, 101320],
    [2000, 79501],
    [4000, 61660],
  ])('%d m: %d Pa', (z, pascal) => {
    expect(Math.abs((standardPressure(z) * 1000) / pascal - 1)).toBeLessThan(5.5e-5);
  });

  it.each([
    [2000, 275.15],
    [4000, 262.17],
  ])('%d m: %d K', (z, tK) => {
    expect(Math.abs(standardAirTemperature(z) + 273.15 - tK)).toBeLessThan(0.007);
  });
});

// reference/data/altitude-boiling.csv: US Standard Atmosphere 1976 with IF97; Starzak & Peacock.
describe('boiling by height', () => {
  it.each(
    readTable('altitude-boiling.csv').map((r) => [r.num('altitude_m_geometric'), r] as const),
  )('%d m', (z, row) => {
    expect(standardPressure(z)).toBeCloseTo(row.num('p_kPa_US1976'), 2.9);
    expect(boilingPoint(z)).toBeCloseTo(row.num('Tb_water_C_IF97'), 2.9);
    expect(boilingPoint(z, 0.12)).toBeCloseTo(row.num('Tb_12P_sucrose_C'), 2.9);
    // Rounding of the table and error of the cubic.
    expect(Math.abs(latentHeat(boilingPoint(z)) - row.num('hfg_kJ_kg'))).toBeLessThan(0.072);
  });

  it.each([
    [500, 95.461, 98.313],
    [1000, 89.876, 96.649],
    [1609, 83.435, 94.621],
    [2000, 79.501, 93.317],
  ])('%d m: %d kPa, %d °C', (z, kPa, tC) => {
    expect(standardPressure(z)).toBeCloseTo(kPa, 2.9);
    expect(boilingPoint(z)).toBeCloseTo(tC, 2.9);
  });

  it('falls by 0.3332 K in 100 m to within 0.006 K, 0 to 3000 m', () => {
    for (let z = 0; z <= 3000; z += 100) {
      expect(Math.abs(boilingPoint(z) - (99.98 - 0.0033323 * z))).toBeLessThan(0.0065);
    }
  });

  it('a stronger wort boils hotter, a higher place boils cooler', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -400, max: 4900, noNaN: true }),
        fc.double({ min: 0, max: 0.55, noNaN: true }),
        (z, w) => {
          expect(boilingPoint(z, w + 0.01)).toBeGreaterThan(boilingPoint(z, w));
          expect(boilingPoint(z + 50, w)).toBeLessThan(boilingPoint(z, w));
        },
      ),
    );
  });
});

it('refuses heights and pressures where nobody brews', () => {
  expect(() => boilingPoint(5280)).toThrow(OutOfRange);
  expect(() => boilingPointAtPressure(1013)).toThrow(OutOfRange);
  expect(() => standardPressure(Number.NaN)).toThrow(OutOfRange);
});
