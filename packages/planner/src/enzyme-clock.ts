/** Minutes each vessel's mash stood in each enzyme's window: the clocks beside a rest. */
import type { VesselCurve } from '@ladlework/brewhouse';

export interface EnzymeWindow {
  readonly enzyme:
    | 'beta-glucanase'
    | 'endopeptidase'
    | 'limit dextrinase'
    | 'beta-amylase'
    | 'alpha-amylase';
  readonly lowC: number;
  readonly highC: number;
}

/** Best working range of each enzyme in a mash. @source mash.md 11: beta-glucanase and amylases common practice; endopeptidases Jones & Marinac 2002; limit dextrinase Sissons 1995, Bamforth 2003 */
export const ENZYME_WINDOWS: readonly EnzymeWindow[] = [
  { enzyme: 'beta-glucanase', lowC: 45, highC: 50 },
  { enzyme: 'endopeptidase', lowC: 45, highC: 55 },
  { enzyme: 'limit dextrinase', lowC: 60, highC: 62.5 },
  { enzyme: 'beta-amylase', lowC: 60, highC: 65 },
  { enzyme: 'alpha-amylase', lowC: 70, highC: 75 },
];

/**
 * Minutes a curve spends between two temperatures, straight lines between its points.
 * @param curve temperature of one vessel
 * @param fromMin first minute counted
 * @param toMin last minute counted
 * @param lowC bottom of the window [°C]
 * @param highC top of the window [°C]
 * @returns minutes, 0 to toMin - fromMin
 */
export function minutesBetween(
  curve: Pick<VesselCurve, 'timeMin' | 'tempC'>,
  fromMin: number,
  toMin: number,
  lowC: number,
  highC: number,
): number {
  let sum = 0;
  for (let i = 1; i < curve.timeMin.length; i++) {
    const t0 = curve.timeMin[i - 1] as number;
    const t1 = curve.timeMin[i] as number;
    const a = Math.max(t0, fromMin);
    const b = Math.min(t1, toMin);
    if (b <= a) continue;
    const slope = ((curve.tempC[i] as number) - (curve.tempC[i - 1] as number)) / (t1 - t0);
    const at = (t: number) => (curve.tempC[i - 1] as number) + slope * (t - t0);
    sum += inside(at(a), at(b), lowC, highC) * (b - a);
  }
  return sum;
}

/** Share of a straight run from one temperature to another that lies within the window. */
function inside(fromC: number, toC: number, lowC: number, highC: number): number {
  const low = Math.min(fromC, toC);
  const high = Math.max(fromC, toC);
  if (high === low) return low >= lowC && low <= highC ? 1 : 0;
  return Math.max(0, Math.min(high, highC) - Math.max(low, lowC)) / (high - low);
}

export interface EnzymeClock {
  readonly vessel: string;
  readonly minutes: readonly {
    readonly enzyme: EnzymeWindow['enzyme'];
    readonly minutes: number;
  }[];
}

/**
 * Enzyme clocks of every vessel over a stretch of the day.
 * @param curves temperature curves, as `simulate` records them
 * @param fromMin start of the stretch [min after day start]
 * @param toMin end of it
 */
export function enzymeClocks(
  curves: readonly Pick<VesselCurve, 'vessel' | 'timeMin' | 'tempC'>[],
  fromMin: number,
  toMin: number,
): EnzymeClock[] {
  return curves.map((curve) => ({
    vessel: curve.vessel,
    minutes: ENZYME_WINDOWS.map((w) => ({
      enzyme: w.enzyme,
      minutes: minutesBetween(curve, fromMin, toMin, w.lowC, w.highC),
    })),
  }));
}
