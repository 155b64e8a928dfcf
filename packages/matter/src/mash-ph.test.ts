import { describe, expect, it } from 'vitest';
import { OutOfRange } from './errors.ts';
import { mashPh } from './mash-ph.ts';

/** A German wheat malt lot with a published titration. */
const WHEAT = { ph: 6.07, slope: -44.9, curvature: -6 };
const CACO3 = 50.0435;
const mEqL = (alkalinity: number, calcium = 0, magnesium = 0) => ({
  alkalinityMgLCaCO3: alkalinity * CACO3,
  calciumMgL: calcium * 20.039,
  magnesiumMgL: magnesium * 12.1525,
  liquorPh: 7.5,
});
const mash = (litres: number, buffer = WHEAT) => ({ gristKg: 1, liquorL: litres, buffer });

describe('mash pH by the proton balance', () => {
  // Worked from deLange's method (MBAA TQ 52(1), 2015) with a published wheat lot.
  it.each([
    ['distilled water', mEqL(0), 6.07],
    ['2 mEq/L of alkalinity', mEqL(2), 6.15],
    ['the same with 5 mEq/L of calcium', mEqL(2, 5), 6.06],
  ])('wheat lot, 3 L/kg, %s', (_, liquor, ph) => {
    expect(mashPh({ ...mash(3), ...liquor })).toBeCloseTo(ph, 2);
  });

  it('Pilsner lot, 3 L/kg, medium liquor: 5.65 (same method, slope assumed)', () => {
    const buffer = { ph: 5.62, slope: -40 };
    expect(mashPh({ ...mash(3), buffer, ...mEqL(1.5, 2.5, 0.8) })).toBeCloseTo(5.65, 2);
  });

  // Same method: rise of pH per mEq/L of alkalinity, by thickness.
  it.each([
    [2.5, 0.05],
    [3, 0.059],
    [4, 0.076],
    [5, 0.093],
  ])('%f L/kg moves by %f', (litres, rise) => {
    const at = (alkalinity: number) =>
      mashPh({ ...mash(litres), buffer: { ph: 5.62, slope: -40 }, ...mEqL(alkalinity) });
    expect(Math.abs(at(2) - at(1) - rise)).toBeLessThan(0.002);
  });

  it('acid lowers it, by the buffer: 4 mEq/kg is 0.1 at 40 mEq/(kg pH)', () => {
    const buffer = { ph: 5.6, slope: -40 };
    expect(mashPh({ ...mash(3), buffer, ...mEqL(0), acidMEq: 4 })).toBeCloseTo(5.5, 6);
  });

  it('refuses a mash that is none', () => {
    expect(() => mashPh({ ...mash(3), ...mEqL(0), acidMEq: 1000 })).toThrow(OutOfRange);
    expect(() => mashPh({ ...mash(3), ...mEqL(0), buffer: { ph: 9, slope: -40 } })).toThrow(
      OutOfRange,
    );
  });
});
