import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OutOfRange } from './errors.ts';
import {
  batchSpargeYield,
  carmanKozeny,
  darcyFlow,
  gravityNeededNow,
  relativeRunoffRate,
} from './runoff.ts';

// Derived test of Carman-Kozeny and Darcy.
it('bed of 0.8 mm grains: 6.32e-10 m², 1582 Pa/m at 1 mm/s', () => {
  const k = carmanKozeny(0.4, 0.8e-3);
  expect(k / 6.32e-10).toBeCloseTo(1, 3);
  const flow = darcyFlow({
    permeabilityM2: k,
    areaM2: 1,
    headKPa: 1.582,
    viscosityMPas: 1,
    depthM: 1,
  });
  expect(flow / 60).toBeCloseTo(1, 3);
});

// Practice (from memory): 5-10 L/min m², 0.35 m, 2-2.5 kPa, 0.6 mPa s: k 0.9 to 1.4e-11.
it('run-off of practice needs a permeability near 1e-11 m²', () => {
  const flow = darcyFlow({
    permeabilityM2: 1.1e-11,
    areaM2: 1,
    headKPa: 2.25,
    viscosityMPas: 0.6,
    depthM: 0.35,
  });
  expect(flow).toBeGreaterThan(5);
  expect(flow).toBeLessThan(10);
});

// Hansen 2008, MBAA: twice the bed and 1.5 times the viscosity take 3 times the head.
it('head goes with depth and viscosity', () => {
  const bed = { permeabilityM2: 1e-11, areaM2: 1, headKPa: 2, viscosityMPas: 0.6, depthM: 0.3 };
  const other = { ...bed, headKPa: 6, viscosityMPas: 0.9, depthM: 0.6 };
  expect(darcyFlow(other)).toBeCloseTo(darcyFlow(bed), 10);
});

// Derived.
it('65 to 78 °C runs 21 % faster, 12 to 20 °P 20 % slower', () => {
  expect(relativeRunoffRate({ fromW: 0.12, fromC: 65, toW: 0.12, toC: 78 })).toBeCloseTo(1.21, 2);
  expect(relativeRunoffRate({ fromW: 0.12, fromC: 78, toW: 0.2, toC: 78 })).toBeCloseTo(0.8, 2);
});

describe('draining and refilling, 5 L held back, 28 L in all (derived)', () => {
  it.each([
    [[28], 0.848],
    [[14, 14], 0.931],
    [[28 / 3, 28 / 3, 28 / 3], 0.958],
    [[10, 18], 0.928],
  ])('%j: %d', (runoffs, won) => {
    expect(batchSpargeYield(5, runoffs)).toBeCloseTo(won, 2.9);
  });

  it('equal run-offs are best', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 27, noNaN: true }), (first) => {
        expect(batchSpargeYield(5, [first, 28 - first])).toBeLessThanOrEqual(
          batchSpargeYield(5, [14, 14]) + 1e-12,
        );
      }),
    );
  });
});

it('the gravity needed now closes the balance', () => {
  const now = gravityNeededNow({ totalL: 30, targetGravity: 48, restL: 10, restGravity: 20 });
  expect(now).toBeCloseTo((30 * 48 - 10 * 20) / 20, 12);
  expect(() =>
    gravityNeededNow({ totalL: 10, targetGravity: 48, restL: 10, restGravity: 20 }),
  ).toThrow(OutOfRange);
  expect(() => batchSpargeYield(5, [])).toThrow(OutOfRange);
  expect(() => carmanKozeny(1, 1e-3)).toThrow(OutOfRange);
});
