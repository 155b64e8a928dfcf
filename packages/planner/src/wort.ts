/** The wort a plan leads to, from the mash kinetics over the ensemble, with two kinds of band. */
import {
  addMash,
  GristEngine,
  type MashEngine,
  type MashResults,
  type Trace,
} from '@ladlework/brewhouse';
import { band, normalQuantile } from '@ladlework/numerics';
import type { BrewDay } from './day.ts';
import type { Band, WortForecast } from './plan.ts';

/** Structural error of an absolute limit of attenuation [points, 1 sd] by hottest conversion rest. @source mash.md 9 */
const LIMIT_SD_POINTS = [
  { toC: 68, sd: 3 },
  { toC: 72, sd: 5 },
  { toC: Number.POSITIVE_INFINITY, sd: 7 },
];
/** Narrow band for differences between plans of one malt [points, 1 sd]. @source mash.md 9, double minus step ±0.4 */
const NARROW_SD_POINTS = 0.4;
const P90 = normalQuantile(0.9);

export type Wort = MashResults;

export const wortForecast = {
  /** Results of one draw: everything that stands anywhere at the end. */
  sample(day: BrewDay, engine: MashEngine, end: Trace): Wort[] {
    if (!(engine instanceof GristEngine)) return [];
    const all = engine.empty();
    for (const v of end.end.vessels) if (v.mash) addMash(all, v.mash);
    const tun = end.end.vessels.find((v) => v.vessel === day.restTun.id);
    return tun ? [engine.results(all)] : [];
  },

  /** Bands over the draws; the absolute limits widened by the structural error. */
  of(day: BrewDay, worts: readonly Wort[]): WortForecast {
    const b = (pick: (w: Wort) => number) => band(worts.map(pick));
    const limit = b((w) => w.limitApparentPct);
    const real = b((w) => w.limitRealPct);
    const sd = structuralSd(day);
    return {
      extractKg: b((w) => w.extractKg),
      wortPlato: b((w) => w.wortExtractPct),
      fermentableShare: widened(
        b((w) => w.fermentableShare),
        (sd * 0.81) / 100,
      ),
      limitApparentPct: widened(limit, sd),
      limitApparentNarrowPct: around(limit.likely, NARROW_SD_POINTS),
      limitRealPct: widened(real, sd * 0.81),
      alphaLeft: b((w) => w.alphaLeft),
      betaLeft: b((w) => w.betaLeft),
      starchLeftShare: b((w) => w.starchUngelatinisedShare + w.starchGelatinisedShare),
      colourAddedEbc: b((w) => w.colourEbc),
      smmLeftShare: b((w) => w.smmLeft),
      outside: outsideReasons(day),
    };
  },
};

/** Structural error for this mash: by the hottest rest that still converts, mash-out aside. */
function structuralSd(day: BrewDay): number {
  const rests = day.document.mash.rests.map((r) => r.tempC);
  const main = rests.filter((t) => t < 74.5);
  const first = main.find((t) => t >= 58) ?? main[main.length - 1] ?? rests[0] ?? 65;
  return (LIMIT_SD_POINTS.find((l) => first <= l.toC) as { sd: number }).sd;
}

function widened(b: Band, sd: number): Band {
  const extra = P90 * sd;
  return {
    low: b.likely - Math.hypot(b.likely - b.low, extra),
    likely: b.likely,
    high: b.likely + Math.hypot(b.high - b.likely, extra),
  };
}

function around(likely: number, sd: number): Band {
  return { low: likely - P90 * sd, likely, high: likely + P90 * sd };
}

/** Why the kinetics do not hold for this mash. @source mash.md 9 */
function outsideReasons(day: BrewDay): string[] {
  const { mash, beer } = day.document;
  const reasons: string[] = [];
  const coldest = Math.min(...mash.rests.map((r) => r.tempC));
  if (coldest < 35) reasons.push(`A rest at ${coldest} °C: the figures hold from 35 °C.`);
  if (mash.liquorLPerKg < 2 || mash.liquorLPerKg > 5)
    reasons.push(`${mash.liquorLPerKg} L/kg: the figures hold from 2 to 5 L/kg.`);
  const ph = beer.mashPh;
  if (ph !== undefined && (ph < 5.2 || ph > 5.8))
    reasons.push(`Mash pH ${ph}: the figures hold from 5.2 to 5.8.`);
  const low = beer.malts.filter((m) => m.type === 'caramel' || m.type === 'roast');
  const share = low.reduce((s, m) => s + m.kg, 0) / day.gristKg;
  if (share > 0.3)
    reasons.push(`${(100 * share).toFixed(0)} % malt without enzymes: the figures hold to 30 %.`);
  return reasons;
}
