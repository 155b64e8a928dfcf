import fc from 'fast-check';
import { expect, it } from 'vitest';
import { OutOfRange } from './errors.ts';
import { coolingOff, uaFromCooling, vesselHeatCapacity } from './vessel.ts';

it('a stainless pot of 6.5 kg with a copper coil of 2 kg', () => {
  const parts = [
    { material: 'stainless', massKg: 6.5 },
    { material: 'copper', massKg: 2 },
  ] as const;
  expect(vesselHeatCapacity(parts)).toBeCloseTo(6.5 * 0.46 + 2 * 0.38, 12);
});

// Derived: 100 W cost 2.7 K/h in 36 kg of mash at 3.634 kJ/(kg K).
it('100 W cost 36 kg of mash 2.7 K in an hour', () => {
  const uaWK = 100 / 45;
  const end = coolingOff({ heatKJK: 36 * 3.634, uaWK, fromC: 65, airC: 20, minutes: 60 });
  expect(65 - end).toBeCloseTo(2.7, 0.9);
});

it('the loss is found again from the cooling it made', () => {
  const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  fc.assert(
    fc.property(
      real(10, 3000),
      real(0.5, 50),
      real(40, 100),
      real(5, 30),
      real(10, 120),
      (heatKJK, uaWK, fromC, airC, minutes) => {
        const toC = coolingOff({ heatKJK, uaWK, fromC, airC, minutes });
        fc.pre(toC > airC + 1 && fromC - toC > 1e-3);
        const found = uaFromCooling({ heatKJK, fromC, toC, airC, minutes });
        expect(Math.abs(found / uaWK - 1)).toBeLessThan(1e-6);
      },
    ),
  );
});

it('never falls past the air', () => {
  expect(coolingOff({ heatKJK: 1, uaWK: 1000, fromC: 66, airC: 20, minutes: 1e5 })).toBeCloseTo(
    20,
    10,
  );
  expect(() => coolingOff({ heatKJK: 0, uaWK: 1, fromC: 66, airC: 20, minutes: 1 })).toThrow(
    OutOfRange,
  );
  expect(() => uaFromCooling({ heatKJK: 1, fromC: 20, toC: 19, airC: 22, minutes: 60 })).toThrow(
    OutOfRange,
  );
});
