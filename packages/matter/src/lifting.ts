import { inRange } from './errors.ts';

/*
 * Revised NIOSH lifting equation, metric form. Indicative in a brewhouse: the method leaves out
 * unstable loads (open liquids), carrying, slippery floors and hot rooms, all of which make it worse.
 */

/** Load constant [kg]. */
const LOAD_CONSTANT_KG = 23;

/** Table 5: lifts a minute; then for up to 1, 2 and 8 h, hands below and above 75 cm. */
const FREQUENCY_TABLE = [
  [0.2, 1, 1, 0.95, 0.95, 0.85, 0.85],
  [0.5, 0.97, 0.97, 0.92, 0.92, 0.81, 0.81],
  [1, 0.94, 0.94, 0.88, 0.88, 0.75, 0.75],
  [2, 0.91, 0.91, 0.84, 0.84, 0.65, 0.65],
  [3, 0.88, 0.88, 0.79, 0.79, 0.55, 0.55],
  [4, 0.84, 0.84, 0.72, 0.72, 0.45, 0.45],
  [5, 0.8, 0.8, 0.6, 0.6, 0.35, 0.35],
  [6, 0.75, 0.75, 0.5, 0.5, 0.27, 0.27],
  [7, 0.7, 0.7, 0.42, 0.42, 0.22, 0.22],
  [8, 0.6, 0.6, 0.35, 0.35, 0.18, 0.18],
  [9, 0.52, 0.52, 0.3, 0.3, 0, 0.15],
  [10, 0.45, 0.45, 0.26, 0.26, 0, 0.13],
  [11, 0.41, 0.41, 0, 0.23, 0, 0],
  [12, 0.37, 0.37, 0, 0.21, 0, 0],
  [13, 0, 0.34, 0, 0, 0, 0],
  [14, 0, 0.31, 0, 0, 0, 0],
  [15, 0, 0.28, 0, 0, 0, 0],
] as const;

/** Table 7: hands below and from 75 cm up. */
const COUPLING = { good: [1, 1], fair: [0.95, 1], poor: [0.9, 0.9] } as const;

/** How well the load can be held: handles, a rim, or neither. */
export type Coupling = keyof typeof COUPLING;

const WAIST_CM = 75;

/** The six multipliers, 0 to 1. */
export interface LiftingMultipliers {
  readonly horizontal: number;
  readonly vertical: number;
  readonly distance: number;
  readonly asymmetry: number;
  readonly frequency: number;
  readonly coupling: number;
}

/** One lift as it is done again and again. */
export interface Lift {
  /** Hands to ankles, forward [cm]. */
  readonly horizontalCm: number;
  /** Hands above the floor at the start [cm]. */
  readonly verticalCm: number;
  /** Height the load travels [cm]. */
  readonly travelCm: number;
  /** Twist of the body [degrees]. */
  readonly asymmetryDeg: number;
  readonly liftsPerMin: number;
  /** Hours of such work without recovery. */
  readonly hours: number;
  readonly coupling: Coupling;
}

/**
 * Frequency multiplier, linear between the rows of the table.
 *
 * @param liftsPerMin lifts a minute, 0 to 100; below 0.2 counts as 0.2, above 15 gives 0
 * @param hours duration of the work [h], 0 to 8
 * @param verticalCm height of the hands at the origin [cm], 0 to 300
 * @returns multiplier, 0 to 1
 * @throws OutOfRange outside the ranges
 * @source DHHS (NIOSH) 94-110, rev. 9/2021, Table 5; interpolation as the manual allows
 */
export function frequencyMultiplier(
  liftsPerMin: number,
  hours: number,
  verticalCm: number,
): number {
  const f = Math.max(0.2, inRange('lifts a minute', liftsPerMin, 0, 100, '/min'));
  const h = inRange('hours of lifting', hours, 0, 8, 'h');
  const v = inRange('height of the hands', verticalCm, 0, 300, 'cm');
  const pair = h <= 1 ? 1 : h <= 2 ? 3 : 5;
  const column = v < WAIST_CM ? pair : pair + 1;
  let below: readonly number[] = FREQUENCY_TABLE[0];
  for (const row of FREQUENCY_TABLE) {
    const rowF = row[0];
    const rowM = row[column] ?? 0;
    if (rowF === f) return rowM;
    if (rowF > f) {
      const belowF = below[0] ?? 0;
      const belowM = below[column] ?? 0;
      // A zero row forbids; half way to it is not half allowed.
      return rowM === 0 ? 0 : belowM + ((rowM - belowM) * (f - belowF)) / (rowF - belowF);
    }
    below = row;
  }
  return 0;
}

/**
 * Recommended weight limit for a lift, and how far a load exceeds it.
 *
 * @param lift horizontalCm 0 to 200 (below 25 counts as 25, above 63 forbids); verticalCm 0 to 300
 *   (above 175 forbids); travelCm 0 to 300 (below 25 counts as 25, above 175 forbids); asymmetryDeg 0
 *   to 180 (above 135 forbids); liftsPerMin 0 to 100; hours 0 to 8
 * @param loadKg weight lifted [kg], 0 to 1000, if the index is wanted
 * @returns limit [kg], index = load over limit (undefined without a load, Infinity when forbidden),
 *   and the multipliers
 * @throws OutOfRange outside the ranges
 * @source Waters, Putz-Anderson & Garg, DHHS (NIOSH) 94-110, rev. 9/2021 (public domain)
 * @example liftingLimit({ horizontalCm: 30, verticalCm: 10, travelCm: 100, asymmetryDeg: 0,
 *   liftsPerMin: 1, hours: 1, coupling: 'good' }, 11.5).limitKg // 12.5
 */
export function liftingLimit(
  lift: Lift,
  loadKg?: number,
): {
  readonly limitKg: number;
  readonly index: number | undefined;
  readonly multipliers: LiftingMultipliers;
} {
  const h = inRange('reach', lift.horizontalCm, 0, 200, 'cm');
  const v = inRange('height of the hands', lift.verticalCm, 0, 300, 'cm');
  const d = inRange('height of the lift', lift.travelCm, 0, 300, 'cm');
  const a = inRange('twist', lift.asymmetryDeg, 0, 180, 'degrees');
  const multipliers: LiftingMultipliers = {
    horizontal: h > 63 ? 0 : 25 / Math.max(25, h),
    vertical: v > 175 ? 0 : 1 - 0.003 * Math.abs(v - WAIST_CM),
    distance: d > 175 ? 0 : 0.82 + 4.5 / Math.max(25, d),
    asymmetry: a > 135 ? 0 : 1 - 0.0032 * a,
    frequency: frequencyMultiplier(lift.liftsPerMin, lift.hours, v),
    coupling: COUPLING[lift.coupling][v < WAIST_CM ? 0 : 1],
  };
  const m = multipliers;
  const limitKg =
    LOAD_CONSTANT_KG *
    m.horizontal *
    m.vertical *
    m.distance *
    m.asymmetry *
    m.frequency *
    m.coupling;
  const load = loadKg === undefined ? undefined : inRange('load', loadKg, 0, 1000, 'kg');
  const index = load === undefined ? undefined : limitKg > 0 ? load / limitKg : Infinity;
  return { limitKg, index, multipliers };
}

/**
 * Lifts a minute spread over a 15-minute period, for work that pauses.
 *
 * @param liftsPerMin lifts a minute while lifting, 0 to 100
 * @param minutesOf15 minutes of lifting in 15, 0 to 15
 * @returns lifts a minute to enter in the equation
 * @throws OutOfRange outside the ranges
 * @source DHHS (NIOSH) 94-110, rev. 9/2021, p. 16
 * @example frequencyOverPeriod(10, 8) // 5.33
 */
export function frequencyOverPeriod(liftsPerMin: number, minutesOf15: number): number {
  const f = inRange('lifts a minute', liftsPerMin, 0, 100, '/min');
  return (f * inRange('minutes of lifting', minutesOf15, 0, 15, 'min')) / 15;
}

/** One of several lifting tasks done together. */
export interface LiftingTask {
  readonly liftsPerMin: number;
  /** Load over the limit without the frequency multiplier. */
  readonly frequencyIndependentIndex: number;
}

/**
 * Index of several lifting tasks taken together.
 *
 * @param tasks lifts a minute each (together 0 to 15), index 0 to 100, at least one task
 * @param hours duration of the work [h], 0 to 8
 * @param verticalCm height of the hands at the origin [cm], 0 to 300
 * @returns composite lifting index [-]; Infinity when the frequency is forbidden
 * @throws OutOfRange outside the ranges
 * @source DHHS (NIOSH) 94-110, rev. 9/2021, p. 28 (the worked example from memory)
 */
export function compositeLiftingIndex(
  tasks: readonly LiftingTask[],
  hours: number,
  verticalCm: number,
): number {
  inRange('number of tasks', tasks.length, 1, 100, '');
  const multiplier = (f: number) => frequencyMultiplier(f, hours, verticalCm);
  const single = (t: LiftingTask) =>
    inRange('index', t.frequencyIndependentIndex, 0, 100, '') / multiplier(t.liftsPerMin);
  const hardestFirst = [...tasks].sort((a, b) => single(b) - single(a));
  let index = 0;
  let together = 0;
  for (const [n, task] of hardestFirst.entries()) {
    const before = together;
    together += task.liftsPerMin;
    if (multiplier(together) === 0) return Infinity;
    index +=
      n === 0
        ? single(task)
        : task.frequencyIndependentIndex * (1 / multiplier(together) - 1 / multiplier(before));
  }
  return index;
}
