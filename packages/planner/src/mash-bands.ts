/** Starch, extract, fermentables and enzymes of each vessel over the day, with their bands. */
import type { MashCurve, MashReading, Trace } from '@ladlework/brewhouse';
import { quantile } from '@ladlework/numerics';

/** Figures that are drawn, in this order. */
export const MASH_FIGURES = [
  'extractKg',
  'fermentableShare',
  'starchRaw',
  'starchOpen',
  'alphaLeft',
  'betaLeft',
] as const satisfies readonly (keyof MashReading)[];

export type MashFigure = (typeof MASH_FIGURES)[number];

/** One stretch in which a vessel held mash; every list as long as `timeMin`. */
export interface MashBand {
  readonly vessel: string;
  readonly timeMin: readonly number[];
  readonly figures: Readonly<
    Record<
      MashFigure,
      {
        readonly low: readonly number[];
        readonly likely: readonly number[];
        readonly high: readonly number[];
      }
    >
  >;
}

/** A longer hole between two samples means that the vessel stood empty [min]. */
const HOLE_MIN = 9;

/**
 * Bands of the mash figures on the likely day's clock.
 * @param likely curves of the likely day, one per vessel
 * @param drawn curves of each draw that kept them
 * @returns a band per vessel and stretch; draws without mash in the vessel at a minute are left out
 */
export function mashBands(
  likely: readonly MashCurve[],
  drawn: readonly (readonly MashCurve[])[],
): MashBand[] {
  const bands: MashBand[] = [];
  for (const curve of likely) {
    const others = drawn
      .map((curves) => curves.find((c) => c.vessel === curve.vessel))
      .filter((c): c is MashCurve => c !== undefined);
    for (const [from, to] of stretches(curve.timeMin)) {
      const timeMin = curve.timeMin.slice(from, to);
      const readings = curve.readings.slice(from, to);
      const figure = (name: MashFigure) => {
        const likely = readings.map((r) => r[name]);
        const low: number[] = [];
        const high: number[] = [];
        for (const [i, t] of timeMin.entries()) {
          const own = likely[i] as number;
          const values = others
            .map((o) => readingAt(o, name, t))
            .filter((v): v is number => v !== undefined);
          low.push(values.length > 0 ? quantile(values, 0.1) : own);
          high.push(values.length > 0 ? quantile(values, 0.9) : own);
        }
        return { low, likely, high };
      };
      const figures: MashBand['figures'] = {
        extractKg: figure('extractKg'),
        fermentableShare: figure('fermentableShare'),
        starchRaw: figure('starchRaw'),
        starchOpen: figure('starchOpen'),
        alphaLeft: figure('alphaLeft'),
        betaLeft: figure('betaLeft'),
      };
      bands.push({ vessel: curve.vessel, timeMin, figures });
    }
  }
  return bands;
}

/** Samples of all stages, vessel by vessel. */
export function joinedCurves(stages: readonly Pick<Trace, 'mashCurves'>[]): MashCurve[] {
  const curves = new Map<string, MashCurve>();
  for (const stage of stages)
    for (const c of stage.mashCurves) {
      const have = curves.get(c.vessel) ?? { vessel: c.vessel, timeMin: [], readings: [] };
      have.timeMin.push(...c.timeMin);
      have.readings.push(...c.readings);
      curves.set(c.vessel, have);
    }
  return [...curves.values()];
}

/** Index ranges of samples without a hole. */
function stretches(timeMin: readonly number[]): [number, number][] {
  const ranges: [number, number][] = [];
  let from = 0;
  for (let i = 1; i <= timeMin.length; i++) {
    const hole =
      i < timeMin.length && (timeMin[i] as number) - (timeMin[i - 1] as number) > HOLE_MIN;
    if (i === timeMin.length || hole) {
      ranges.push([from, i]);
      from = i;
    }
  }
  return ranges;
}

/** A figure at a minute, straight between samples; undefined where the vessel stood empty. */
function readingAt(curve: MashCurve, figure: MashFigure, minute: number): number | undefined {
  const i = curve.timeMin.findIndex((t) => t >= minute);
  if (i < 0) return undefined;
  const t1 = curve.timeMin[i] as number;
  const after = curve.readings[i] as MashReading;
  if (i === 0) return t1 - minute > HOLE_MIN ? undefined : after[figure];
  const t0 = curve.timeMin[i - 1] as number;
  if (t1 - t0 > HOLE_MIN) return undefined;
  const before = curve.readings[i - 1] as MashReading;
  const part = t1 > t0 ? (minute - t0) / (t1 - t0) : 1;
  return before[figure] + part * (after[figure] - before[figure]);
}
