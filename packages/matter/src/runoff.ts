import { inRange } from './errors.ts';
import { wortViscosity } from './wort.ts';

/**
 * Flow through a bed.
 *
 * No permeability of a lauter bed is published; work it back from the brewer's own first run-off and
 * scale only viscosity and depth.
 *
 * @param bed permeabilityM2 [m²], 1e-14 to 1e-7; areaM2 [m²], 1e-4 to 1e3; headKPa over the bed [kPa],
 *   0 to 100; viscosityMPas [mPa s], 0.1 to 100; depthM [m], 0.01 to 5
 * @returns flow [L/min]
 * @throws OutOfRange outside the ranges
 * @source Darcy
 */
export function darcyFlow(bed: {
  readonly permeabilityM2: number;
  readonly areaM2: number;
  readonly headKPa: number;
  readonly viscosityMPas: number;
  readonly depthM: number;
}): number {
  const k = inRange('permeability', bed.permeabilityM2, 1e-14, 1e-7, 'm²');
  const area = inRange('area of the bed', bed.areaM2, 1e-4, 1e3, 'm²');
  const head = inRange('head over the bed', bed.headKPa, 0, 100, 'kPa') * 1000;
  const viscosity = inRange('viscosity', bed.viscosityMPas, 0.1, 100, 'mPa s') / 1000;
  const depth = inRange('depth of the bed', bed.depthM, 0.01, 5, 'm');
  return ((k * area * head) / (viscosity * depth)) * 60000;
}

/**
 * Permeability of a bed of grains.
 *
 * Some fifty times too open for a real lauter bed, whose top layer of fines decides.
 *
 * @param porosity share of the bed that is liquid [-], 0.05 to 0.95
 * @param grainM grain diameter [m], 1e-6 to 0.1
 * @returns permeability [m²]
 * @throws OutOfRange outside the ranges
 * @source Carman-Kozeny
 * @example carmanKozeny(0.4, 0.8e-3) // 6.32e-10
 */
export function carmanKozeny(porosity: number, grainM: number): number {
  const eps = inRange('porosity', porosity, 0.05, 0.95, '');
  const d = inRange('grain diameter', grainM, 1e-6, 0.1, 'm');
  return (eps ** 3 * d ** 2) / (180 * (1 - eps) ** 2);
}

/**
 * How much faster wort runs off at another temperature or strength, same bed and head.
 *
 * @param change fromW, toW extract [mass fraction], 0 to 0.4; fromC, toC [°C], 0 to 105
 * @returns rate after over rate before [-]
 * @throws OutOfRange outside the ranges
 * @source Darcy: the rate goes as one over the viscosity
 * @example relativeRunoffRate({ fromW: 0.12, fromC: 65, toW: 0.12, toC: 78 }) // 1.21
 */
export function relativeRunoffRate(change: {
  readonly fromW: number;
  readonly fromC: number;
  readonly toW: number;
  readonly toC: number;
}): number {
  return wortViscosity(change.fromW, change.fromC) / wortViscosity(change.toW, change.toC);
}

/**
 * Extract won by draining and refilling: run-offs from a mixed bed that holds back a fixed volume.
 *
 * @param retainedL liquid the bed holds back each time [L], 0 to 1e6
 * @param runoffsL volumes run off, in order [L], above 0 to 1e6, at least one
 * @returns share of the dissolved extract won [-]
 * @throws OutOfRange outside the ranges
 * @source derived: mass balance, each filling mixed through
 * @example batchSpargeYield(5, [14, 14]) // 0.931
 */
export function batchSpargeYield(retainedL: number, runoffsL: readonly number[]): number {
  const r = inRange('liquid held back', retainedL, 0, 1e6, 'L');
  inRange('number of run-offs', runoffsL.length, 1, 100, '');
  let left = 1;
  for (const v of runoffsL) left *= r / (inRange('run-off', v, 1e-9, 1e6, 'L') + r);
  return 1 - left;
}

/**
 * Gravity the kettle must show now for the target at the end, given what is still to come.
 *
 * @param kettle totalL, restL [L], 0 to 1e6, rest below total; target and rest gravity in one additive
 *   measure (SG points, or °P times density), 0 to 1000
 * @returns gravity now, same measure
 * @throws OutOfRange outside the ranges
 * @source derived: mass balance
 */
export function gravityNeededNow(kettle: {
  readonly totalL: number;
  readonly targetGravity: number;
  readonly restL: number;
  readonly restGravity: number;
}): number {
  const total = inRange('final volume', kettle.totalL, 1e-9, 1e6, 'L');
  const rest = inRange('volume still to come', kettle.restL, 0, total * (1 - 1e-9), 'L');
  const target = inRange('target gravity', kettle.targetGravity, 0, 1000, '');
  const coming = inRange('gravity still to come', kettle.restGravity, 0, 1000, '');
  return (total * target - rest * coming) / (total - rest);
}
