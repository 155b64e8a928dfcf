import { inRange } from './errors.ts';
import { waterCp, waterDensity } from './water.ts';

/** Cold liquor through a coil in stirred wort, heat capacities held at their means. */
interface Coil {
  readonly wortKJK: number;
  readonly uaWK: number;
  readonly liquorLMin: number;
  readonly liquorInC: number;
}

/** kW taken per kelvin between the wort and the liquor as it enters. */
function conductance(coil: Coil): number {
  const ua = inRange('heat transfer of the coil', coil.uaWK, 1, 1e6, 'W/K') / 1000;
  const litres = inRange('flow of liquor', coil.liquorLMin, 0.1, 1e4, 'L/min');
  const into = inRange('liquor temperature in', coil.liquorInC, 0, 60, '°C');
  const stream = ((litres * waterDensity(into)) / 60000) * waterCp(into);
  return stream * (1 - Math.exp(-ua / stream));
}

/**
 * Time to cool stirred wort with an immersed coil.
 *
 * @param run wortKJK heat capacity of wort and kettle [kJ/K], 0.1 to 1e7; uaWK of the coil [W/K], 1 to
 *   1e6; liquorLMin [L/min], 0.1 to 1e4; liquorInC [°C], 0 to 60; fromC, toC of the wort [°C], 0 to
 *   110, falling, the end above the liquor
 * @returns time [min]
 * @throws OutOfRange outside the ranges: a coil cannot go below its liquor
 * @source derived: stirred tank, liquor leaving by the effectiveness of one mixed side, 1 - e^(-NTU)
 */
export function immersionTime(
  run: Coil & { readonly fromC: number; readonly toC: number },
): number {
  const heat = inRange('heat capacity', run.wortKJK, 0.1, 1e7, 'kJ/K');
  const perK = conductance(run);
  const from = inRange('wort temperature before', run.fromC, 0, 110, '°C');
  const to = inRange('wort temperature after', run.toC, run.liquorInC + 0.05, from, '°C');
  return ((heat / perK) * Math.log((from - run.liquorInC) / (to - run.liquorInC))) / 60;
}

/**
 * Temperature of stirred wort after a time with an immersed coil: the other way of {@link immersionTime}.
 *
 * @param run as there, with minutes [min], 0 to 1e4, in place of the end temperature
 * @returns [°C]
 * @throws OutOfRange outside the ranges
 * @source derived, as {@link immersionTime}
 */
export function immersionTemperature(
  run: Coil & { readonly fromC: number; readonly minutes: number },
): number {
  const heat = inRange('heat capacity', run.wortKJK, 0.1, 1e7, 'kJ/K');
  const from = inRange('wort temperature before', run.fromC, run.liquorInC, 110, '°C');
  const seconds = 60 * inRange('time', run.minutes, 0, 1e4, 'min');
  const left = Math.exp((-conductance(run) * seconds) / heat);
  return run.liquorInC + (from - run.liquorInC) * left;
}
