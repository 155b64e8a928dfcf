import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OutOfRange } from './errors.ts';
import { immersionTemperature, immersionTime } from './immersion.ts';
import { oxygenSaturation, WORT_OXYGEN } from './oxygen.ts';
import { decoctionPhShift, phAt20 } from './ph-reading.ts';
import {
  PITCH_RATES,
  pitchCells,
  propagationSteps,
  SLURRY_CELLS_PER_ML,
  slurryVolume,
} from './yeast.ts';

describe('pitching', () => {
  // Derived from G. Fix's lager rate, second hand.
  it('1,000 L at 12 °P and 1.5: 1.8e13 cells, 20 L of 1e9/mL slurry at 90 %', () => {
    const cells = pitchCells({ volumeL: 1000, plato: 12, rate: PITCH_RATES.lager });
    expect(cells).toBeCloseTo(1.8e13, -8);
    expect(slurryVolume({ cells, cellsPerML: 1e9, viability: 0.9 })).toBeCloseTo(20, 9);
  });

  // Narziss, second hand: 0.5 L thick slurry per hL at 12 °P is about 15 million/mL.
  it('half a litre of thick slurry a hectolitre', () => {
    const cells = pitchCells({ volumeL: 100, plato: 12, rate: PITCH_RATES.thickSlurry });
    expect(cells / 100_000).toBeCloseTo(15e6, -1);
    expect(
      slurryVolume({ cells, cellsPerML: SLURRY_CELLS_PER_ML.thick, viability: 1 }),
    ).toBeCloseTo(0.5, 9);
    expect(() => pitchCells({ volumeL: 100, plato: 12, rate: 50 })).toThrow(OutOfRange);
  });

  it('steps of propagation are even, none above ten, and the last is enough', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e9, max: 1e14, noNaN: true }),
        fc.double({ min: 0.001, max: 20, noNaN: true }),
        (cells, startL) => {
          const steps = propagationSteps({ cells, startL });
          let before = startL;
          for (const step of steps) {
            expect(step.volumeL / before).toBeLessThanOrEqual(10 + 1e-6);
            before = step.volumeL;
          }
          if (steps.length > 0) expect((steps.at(-1)?.cells ?? 0) / cells).toBeCloseTo(1, 9);
          else expect(startL * 1000 * 50e6).toBeGreaterThanOrEqual(cells * (1 - 1e-12));
        },
      ),
    );
  });
});

describe('oxygen', () => {
  // Standard Methods 4500-O, water under moist air (from memory).
  it.each([
    [0, 14.62],
    [10, 11.29],
    [20, 9.09],
    [30, 7.56],
  ])('water at %f °C holds %f mg/L', (tC, mgL) => {
    expect(oxygenSaturation({ tC, plato: 0, pressureKPa: 101.325 })).toBeCloseTo(mgL, 1.9);
  });

  it('air reaches what a lager wort wants only when cold and low; oxygen always', () => {
    const wort = { tC: 9, plato: 12, pressureKPa: 101.325 };
    expect(oxygenSaturation(wort)).toBeGreaterThan(WORT_OXYGEN.usual.low);
    expect(oxygenSaturation({ ...wort, pressureKPa: 83.4 })).toBeLessThan(WORT_OXYGEN.lager.high);
    expect(oxygenSaturation({ ...wort, oxygenShare: 1 })).toBeGreaterThan(40);
    expect(() => oxygenSaturation({ ...wort, tC: 80 })).toThrow(OutOfRange);
  });
});

describe('pH off the bench', () => {
  // Briggs et al., second hand: 0.35 below at 65 °C, 0.45 at 78 °C.
  it.each([
    [65, 0.35],
    [78, 0.45],
  ])('%f °C reads %f low', (tC, low) => {
    expect(phAt20(5.2, tC) - 5.2).toBeCloseTo(low, 1.9);
  });

  it('a decoction moves it by nothing to a tenth (judgement)', () => {
    expect(decoctionPhShift(2)).toEqual({ low: -0.2, likely: -0.1, high: 0 });
    expect(() => phAt20(5.2, 130)).toThrow(OutOfRange);
  });
});

describe('immersed coil', () => {
  const coil = { wortKJK: 400, uaWK: 1500, liquorLMin: 12, liquorInC: 14 };

  it('time and temperature are each other’s inverse', () => {
    fc.assert(
      fc.property(fc.double({ min: 14.5, max: 99, noNaN: true }), (toC) => {
        const minutes = immersionTime({ ...coil, fromC: 100, toC });
        expect(immersionTemperature({ ...coil, fromC: 100, minutes })).toBeCloseTo(toC, 6);
      }),
    );
  });

  it('cannot go below its liquor, and more flow never slows it', () => {
    expect(() => immersionTime({ ...coil, fromC: 100, toC: 10 })).toThrow(OutOfRange);
    const slow = immersionTime({ ...coil, fromC: 100, toC: 25 });
    expect(immersionTime({ ...coil, liquorLMin: 24, fromC: 100, toC: 25 })).toBeLessThan(slow);
  });

  it('a coil without end gives all the liquor can take', () => {
    // Then dT/dt = -m c (T - Tin)/C, derived.
    const minutes = immersionTime({ ...coil, uaWK: 1e6, fromC: 100, toC: 30 });
    const stream = ((12 * 0.99924) / 60) * 4.189;
    expect(minutes).toBeCloseTo(((400 / stream) * Math.log(86 / 16)) / 60, 1);
  });
});
