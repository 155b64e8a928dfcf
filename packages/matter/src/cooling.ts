import { inRange } from './errors.ts';
import { waterCp, waterDensity } from './water.ts';
import { wortCp } from './wort.ts';

/**
 * Share of the largest possible heat that a counter-flow cooler passes on.
 *
 * @param ntu number of transfer units, UA over the smaller m c [-], 0 to 1000
 * @param capacityRatio smaller over larger m c [-], 0 to 1
 * @returns effectiveness, 0 to 1
 * @throws OutOfRange outside the ranges
 * @source effectiveness-NTU relation for counter-flow, heat transfer textbooks
 * @example counterflowEffectiveness(3, 0.5) // 0.8744
 */
export function counterflowEffectiveness(ntu: number, capacityRatio: number): number {
  const n = inRange('transfer units', ntu, 0, 1000, '');
  const cr = inRange('capacity ratio', capacityRatio, 0, 1, '');
  // At equal streams both numerator and denominator vanish; the limit is n/(1 + n).
  if (1 - cr < 1e-9) return n / (1 + n);
  const e = Math.exp(-n * (1 - cr));
  return (1 - e) / (1 - cr * e);
}

/**
 * Cold liquor it takes to cool wort, no losses.
 *
 * @param run wortKg [kg], 0 to 1e7; w [mass fraction], 0 to 0.6; fromC, toC of the wort [°C], 0 to
 *   110, falling; liquorInC, liquorOutC [°C], 0 to 100, rising by at least 0.1 K, the liquor entering
 *   below the wort's end and leaving below its start
 * @returns liquor, measured cold [L]
 * @throws OutOfRange outside the ranges
 * @source enthalpy balance with the heat capacities of wort and water at the mean temperatures
 */
export function coolingLiquor(run: {
  readonly wortKg: number;
  readonly w: number;
  readonly fromC: number;
  readonly toC: number;
  readonly liquorInC: number;
  readonly liquorOutC: number;
}): number {
  const mass = inRange('wort', run.wortKg, 0, 1e7, 'kg');
  const from = inRange('wort temperature before', run.fromC, 0, 110, '°C');
  const to = inRange('wort temperature after', run.toC, 0, from, '°C');
  const into = inRange('liquor temperature in', run.liquorInC, 0, to, '°C');
  const out = inRange('liquor temperature out', run.liquorOutC, into + 0.1, from, '°C');
  const heat = mass * wortCp(run.w, (from + to) / 2) * (from - to);
  return (heat / (waterCp((into + out) / 2) * (out - into)) / waterDensity(into)) * 1000;
}
