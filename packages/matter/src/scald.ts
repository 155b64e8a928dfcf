import { inRange } from './errors.ts';

/** Water temperature [°C] against seconds to a second and a third degree burn. Common practice. */
const BURN_TABLE = [
  [45, 7200, 10800],
  [47, 1200, 2700],
  [48, 900, 1200],
  [49, 480, 600],
  [51, 120, 252],
  [55, 17, 30],
  [60, 3, 5],
] as const;

/** Water temperature [°C] against seconds to a serious burn. US CPSC wording, the last two trade. */
const SERIOUS_TABLE = [
  [49, 300],
  [54.4, 30],
  [60, 6],
  [65.6, 2],
  [68.3, 1],
] as const;

/** Linear in temperature, logarithmic in time, between the rows that enclose the temperature. */
function logInterpolate(tC: number, times: readonly (readonly [number, number])[]): number {
  const first = times[0];
  const last = times[times.length - 1];
  if (first === undefined || last === undefined) throw new Error('empty burn table');
  if (tC < first[0]) return Infinity;
  if (tC >= last[0]) return last[1];
  let below = first;
  for (const row of times) {
    if (row[0] > tC) {
      const share = (tC - below[0]) / (row[0] - below[0]);
      return below[1] * (row[1] / below[1]) ** share;
    }
    below = row;
  }
  return last[1];
}

const SECOND = BURN_TABLE.map(([t, second]) => [t, second] as const);
const THIRD = BURN_TABLE.map(([t, , third]) => [t, third] as const);

/**
 * How long hot water takes to burn skin.
 *
 * @param tC temperature of the water [°C], 0 to 110
 * @returns seconds to a second and a third degree burn; above 60 °C the last row, which is then an
 *   upper limit; Infinity below 45 °C, where the table is silent
 * @throws OutOfRange outside the range
 * @source burn time table in common use (no primary source); log(time) linear in temperature
 * @example scaldTime(55) // { secondDegreeS: 17, thirdDegreeS: 30 }
 */
export function scaldTime(tC: number): {
  readonly secondDegreeS: number;
  readonly thirdDegreeS: number;
} {
  inRange('water temperature', tC, 0, 110, '°C');
  return { secondDegreeS: logInterpolate(tC, SECOND), thirdDegreeS: logInterpolate(tC, THIRD) };
}

/**
 * Seconds of contact with hot water to a serious burn.
 *
 * @param tC temperature of the water [°C], 0 to 110
 * @returns time [s]; above 68.3 °C the last row, an upper limit; Infinity below 49 °C
 * @throws OutOfRange outside the range
 * @source US CPSC wording, second hand, to 65.6 °C; trade table at 68.3 °C
 * @example seriousBurnTime(60) // 6
 */
export function seriousBurnTime(tC: number): number {
  return logInterpolate(inRange('water temperature', tC, 0, 110, '°C'), SERIOUS_TABLE);
}
