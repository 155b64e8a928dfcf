import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument } from '../../../reference/read.ts';
import { volumeAt20, volumeAtTemperature } from './contraction.ts';
import { coolingLiquor, counterflowEffectiveness } from './cooling.ts';
import { OutOfRange } from './errors.ts';

interface Checks {
  readonly 'K1 contraction': { readonly V_hot_100C_L: number; readonly V_20C_L: number };
  readonly 'C2 counterflow effectiveness NTU=3,Cr=.5': { readonly value: number };
}
const checks = readDocument<Checks>('physics-checks.json');

describe('contraction (ICUMSA and SR6-08)', () => {
  it('30 L of 12 °P at 100 °C', () => {
    const { V_hot_100C_L, V_20C_L } = checks['K1 contraction'];
    expect(volumeAt20(V_hot_100C_L, 100, 0.12)).toBeCloseTo(V_20C_L, 3);
  });

  it('from 100 to 20 °C takes 3.99 % of water and of wort to 15 °P', () => {
    for (const w of [0, 0.05, 0.1, 0.15]) {
      expect((1 - volumeAt20(1, 100, w)) * 100).toBeCloseTo(3.99, 1.7);
    }
  });

  it.each([
    [100, 10, 0, 4.14],
    [100, 10, 0.2, 4.21],
    [65, 20, 0, 1.8],
  ])('%d to %d °C at w %d: %d %%', (from, to, w, pct) => {
    expect(Math.abs((1 - volumeAtTemperature(1, from, to, w)) * 100 - pct)).toBeLessThan(0.05);
  });

  it('78 to 20 °C takes 2.5 to 2.6 %', () => {
    for (const w of [0, 0.12, 0.2]) {
      const pct = (1 - volumeAt20(1, 78, w)) * 100;
      expect(pct).toBeGreaterThan(2.45);
      expect(pct).toBeLessThan(2.65);
    }
  });

  it('there and back', () => {
    const t = fc.double({ min: 0, max: 105, noNaN: true });
    fc.assert(
      fc.property(t, t, fc.double({ min: 0, max: 0.3, noNaN: true }), (a, b, w) => {
        expect(volumeAtTemperature(volumeAtTemperature(25, a, b, w), b, a, w)).toBeCloseTo(25, 9);
      }),
    );
  });
});

describe('cooling', () => {
  it('counter-flow at NTU 3, ratio 0.5', () => {
    const { value } = checks['C2 counterflow effectiveness NTU=3,Cr=.5'];
    expect(counterflowEffectiveness(3, 0.5)).toBeCloseTo(value, 4);
  });

  it('limits: no area, one stream boundless, equal streams', () => {
    expect(counterflowEffectiveness(0, 0.5)).toBe(0);
    expect(counterflowEffectiveness(2, 0)).toBeCloseTo(1 - Math.exp(-2), 12);
    expect(counterflowEffectiveness(3, 1)).toBeCloseTo(0.75, 12);
    expect(counterflowEffectiveness(3, 1 - 1e-7)).toBeCloseTo(0.75, 6);
  });

  it('equal heat streams take as much liquor as wort', () => {
    const run = { wortKg: 100, w: 0, fromC: 90, toC: 20, liquorInC: 15, liquorOutC: 85 };
    expect(coolingLiquor(run) / 100).toBeCloseTo(1.0, 1.9);
  });

  it('refuses heat that would run uphill', () => {
    const run = { wortKg: 100, w: 0.12, fromC: 90, toC: 20, liquorInC: 25, liquorOutC: 85 };
    expect(() => coolingLiquor(run)).toThrow(OutOfRange);
    expect(() => counterflowEffectiveness(3, 1.5)).toThrow(OutOfRange);
    expect(() => volumeAt20(-1, 100)).toThrow(OutOfRange);
  });
});
