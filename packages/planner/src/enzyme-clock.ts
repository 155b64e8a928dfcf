/** Minutes each vessel's mash stood in each enzyme's window: the clocks beside a rest. */
import {
  ENZYME_WINDOWS,
  type EnzymeWindow,
  minutesInWindow,
  type VesselCurve,
} from '@ladlework/brewhouse';

/** Enzymes a brewer steers by; the other windows are in the brewhouse room. */
const SHOWN: readonly EnzymeWindow[] = [
  ENZYME_WINDOWS.betaGlucanase,
  ENZYME_WINDOWS.endopeptidase,
  ENZYME_WINDOWS.limitDextrinase,
  ENZYME_WINDOWS.betaAmylase,
  ENZYME_WINDOWS.alphaAmylase,
];

export interface EnzymeClock {
  readonly vessel: string;
  readonly minutes: readonly { readonly window: EnzymeWindow; readonly minutes: number }[];
}

/**
 * Enzyme clocks of every vessel over a stretch of the day.
 * @param curves temperature curves, as `simulate` records them
 * @param fromMin start of the stretch [min after day start]
 * @param toMin end of it, not before the start
 * @returns minutes per vessel and window; straight lines between the points of a curve
 * @source windows: docs/science/mash.md, Rests
 */
export function enzymeClocks(
  curves: readonly Pick<VesselCurve, 'vessel' | 'timeMin' | 'tempC'>[],
  fromMin: number,
  toMin: number,
): EnzymeClock[] {
  return curves.map((curve) => {
    const cut = stretch(curve, fromMin, toMin);
    return {
      vessel: curve.vessel,
      minutes: SHOWN.map((window) => ({
        window,
        minutes: minutesInWindow(cut.timeMin, cut.tempC, window.optimumC),
      })),
    };
  });
}

/** The part of a curve between two minutes, its ends interpolated. */
function stretch(
  curve: Pick<VesselCurve, 'timeMin' | 'tempC'>,
  fromMin: number,
  toMin: number,
): { timeMin: number[]; tempC: number[] } {
  const timeMin: number[] = [];
  const tempC: number[] = [];
  for (let i = 1; i < curve.timeMin.length; i++) {
    const t0 = curve.timeMin[i - 1] as number;
    const t1 = curve.timeMin[i] as number;
    const a = Math.max(t0, fromMin);
    const b = Math.min(t1, toMin);
    if (b < a || t1 <= t0) continue;
    const slope = ((curve.tempC[i] as number) - (curve.tempC[i - 1] as number)) / (t1 - t0);
    for (const t of [a, b]) {
      timeMin.push(t);
      tempC.push((curve.tempC[i - 1] as number) + slope * (t - t0));
    }
  }
  return { timeMin, tempC };
}
