import { describe, expect, it } from 'vitest';
import { OutOfRange } from './errors.ts';
import {
  maltHeatCapacity,
  mixtureCp,
  mixtureDensity,
  paleMaltComposition,
  slakingHeat,
} from './malt.ts';

describe('The Brewing Room Book 1984/85', () => {
  it.each([
    [0, 0.38],
    [1, 0.38],
    [2, 0.39],
    [3, 0.4],
    [4, 0.4],
    [6, 0.41],
    [8, 0.42],
  ])('%d %% moisture: relative heat %d', (moisture, relative) => {
    expect(Math.abs(maltHeatCapacity(moisture) / 4.1868 - relative)).toBeLessThan(0.0101);
  });

  // Slaking corrections of the °F column at 2.5 of liquor, as heat.
  it.each([
    [0, 5.5],
    [1, 5],
    [2, 4],
    [3, 3.5],
    [4, 3],
    [6, 2.5],
    [8, 2],
  ])('%d %% moisture: slaking correction %d °F', (moisture, correctionF) => {
    const relative =
      { 0: 0.38, 1: 0.38, 2: 0.39, 3: 0.4, 4: 0.4, 6: 0.41, 8: 0.42 }[moisture] ?? Number.NaN;
    const kJKg = (correctionF / 1.8) * (2.5 + relative) * 4.187;
    expect(Math.abs(slakingHeat(moisture) - kJKg)).toBeLessThan(2.05);
  });

  it('about 19 kJ/kg at 5 %', () => {
    expect(slakingHeat(5)).toBeCloseTo(19.07, 2);
  });
});

describe('Choi & Okos 1986', () => {
  it('pale malt at 4 % moisture: 1.78 to 1.85 kJ/(kg K), 0.684 to 0.692 L/kg', () => {
    const malt = paleMaltComposition(4);
    expect(mixtureCp(malt, 20)).toBeCloseTo(1.78, 2);
    expect(mixtureCp(malt, 65)).toBeCloseTo(1.85, 2);
    expect(1000 / mixtureDensity(malt, 20)).toBeCloseTo(0.684, 2.7);
    expect(1000 / mixtureDensity(malt, 65)).toBeCloseTo(0.692, 2.9);
  });

  it('12 % carbohydrate and 5 % protein in water at 22 °C: 1058 kg/m³', () => {
    const mix = { water: 0.83, protein: 0.05, fat: 0, carbohydrate: 0.12, fibre: 0, ash: 0 };
    expect(Math.abs(mixtureDensity(mix, 22) - 1058)).toBeLessThan(0.5);
  });

  it('shares must add up', () => {
    const mix = { water: 0.5, protein: 0, fat: 0, carbohydrate: 0.4, fibre: 0, ash: 0 };
    expect(() => mixtureCp(mix, 20)).toThrow('sum of the shares is 0.9');
    expect(() => maltHeatCapacity(40)).toThrow(OutOfRange);
  });
});
