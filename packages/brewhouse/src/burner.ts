/** Net power of a burner: from a timed water test, or rating times efficiency. */
import type { Burner, BurnerKind, Kit } from './kit.ts';
import { WATER_KJ_KG_K } from './thermal.ts';

/** Share of the rated input that reaches the pot until a water test is done. @source physics.md 4.2, our choice within the ranges printed there */
export const DEFAULT_EFFICIENCY: Readonly<Record<BurnerKind, number>> = {
  'gas-hob': 0.4,
  'outdoor-propane': 0.3,
  'gas-burner': 0.35,
  resistance: 0.74,
  induction: 0.84,
  element: 1,
  'steam-jacket': 1,
};

/**
 * Power a burner puts into the vessel's content and wall.
 * @param burner the burner; a water test replaces rating times efficiency
 * @param kit to know the vessel of the water test
 * @returns net power [kW]
 * @throws Error when the water test names a vessel the kit does not have
 * @source P = C dT / t, physics.md 4.2 and 4.3; losses during the test count as not reaching the pot
 */
export function burnerPowerKW(burner: Burner, kit: Kit): number {
  const test = burner.waterTest;
  if (!test) return burner.ratedKW * (burner.efficiency ?? DEFAULT_EFFICIENCY[burner.kind]);
  const vessel = kit.vessels.find((v) => v.id === test.vessel);
  if (!vessel)
    throw new Error(`water test of burner ${burner.id}: kit has no vessel ${test.vessel}`);
  const heatKJK = test.waterL * WATER_KJ_KG_K + vessel.wallKJK;
  return (heatKJK * (test.toC - test.fromC)) / (test.minutes * 60);
}
