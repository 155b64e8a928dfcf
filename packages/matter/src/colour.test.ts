import { describe, expect, it } from 'vitest';
import { ebcFromSrm, maltColourUnits, srmFromColourUnits } from './colour.ts';
import { OutOfRange } from './errors.ts';

describe('beer colour', () => {
  // Morey's law as the trade prints it (common practice, no source).
  it.each([
    [10, 7.24],
    [20, 11.65],
    [50, 21.83],
    [3.58, 3.58],
  ])('%f colour units give %f SRM', (units, srm) => {
    expect(srmFromColourUnits(units)).toBeCloseTo(srm, 2);
  });

  // 20 kg of grist per hL over a base malt of 1.7 °L; worked from Morey's law.
  it.each([
    ['base alone', [{ kg: 20, lovibond: 1.7 }], 3.1],
    [
      '5 % at 30 °L',
      [
        { kg: 19, lovibond: 1.7 },
        { kg: 1, lovibond: 30 },
      ],
      4.6,
    ],
    [
      '10 % at 30 °L',
      [
        { kg: 18, lovibond: 1.7 },
        { kg: 2, lovibond: 30 },
      ],
      6.0,
    ],
    [
      '30 % at 8 °L',
      [
        { kg: 14, lovibond: 1.7 },
        { kg: 6, lovibond: 8 },
      ],
      5.1,
    ],
    [
      '3 % at 60 °L',
      [
        { kg: 19.4, lovibond: 1.7 },
        { kg: 0.6, lovibond: 60 },
      ],
      5.0,
    ],
  ])('%s', (_, malts, srm) => {
    expect(srmFromColourUnits(maltColourUnits(malts, 100))).toBeCloseTo(srm, 1);
  });

  it('ends at 50 SRM, 167 colour units', () => {
    expect(srmFromColourUnits(166.9)).toBeLessThan(50);
    expect(() => srmFromColourUnits(168)).toThrow(OutOfRange);
    expect(() => maltColourUnits([{ kg: -1, lovibond: 2 }], 100)).toThrow(OutOfRange);
  });

  it('EBC is 1.9685 SRM (Oxford Companion to Beer: 25 and 12.7 times the absorbance)', () => {
    expect(ebcFromSrm(1)).toBeCloseTo(1.9685, 4);
  });
});
