/** The wort a plan leads to, from the mash kinetics over the ensemble, with two kinds of band. */
import {
  addMash,
  DIFFERENCE_LIMIT_SD_POINTS,
  GristEngine,
  type MashEngine,
  type MashResults,
  mashValidity,
  STRUCTURAL_EXTRACT_SD_PCT,
  structuralLimitSd,
  type Trace,
} from '@ladlework/brewhouse';
import { band, normalQuantile } from '@ladlework/numerics';
import type { BrewDay } from './day.ts';
import type { Beer, MaltLot, Mash } from './document.ts';
import type { Band, WortForecast } from './plan.ts';

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
      extractKg: widened(
        b((w) => w.extractKg),
        (STRUCTURAL_EXTRACT_SD_PCT / 100) * day.gristKg * (1 - day.moisture),
      ),
      wortPlato: b((w) => w.wortExtractPct),
      fermentableShare: widened(
        b((w) => w.fermentableShare),
        (sd * 0.81) / 100,
      ),
      limitApparentPct: widened(limit, sd),
      limitApparentNarrowPct: around(limit.likely, DIFFERENCE_LIMIT_SD_POINTS),
      limitRealPct: widened(real, sd * 0.81),
      alphaLeft: b((w) => w.alphaLeft),
      betaLeft: b((w) => w.betaLeft),
      starchLeftShare: b((w) => w.starchUngelatinisedShare + w.starchGelatinisedShare),
      colourAddedEbc: b((w) => w.colourEbc),
      smmLeftShare: b((w) => w.smmLeft),
      smmRemovedShare: b((w) => 1 - w.smmLeft),
      outside: outsideReasons(day.document.beer, day.document.mash),
    };
  },
};

/** Structural error for this mash: by the first rest that converts, where most starch is split. */
function structuralSd(day: BrewDay): number {
  const rests = day.document.mash.rests.map((r) => r.tempC);
  return structuralLimitSd(rests.find((t) => t >= 58) ?? Math.max(...rests));
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

/**
 * Why the figures of the kinetics do not hold for a beer on its mash.
 * @param beer malts, pH, and what is added that no malt is
 * @param mash rests and liquor
 * @returns sentences for the brewer; none where the figures hold
 * @source docs/science/mash.md, How far to trust it
 */
export function outsideReasons(beer: Beer, mash: Mash): string[] {
  const kg = (lots: readonly MaltLot[]) => lots.reduce((sum, m) => sum + m.kg, 0);
  const withEnzymes = kg(beer.malts.filter((m) => m.type === 'base' || m.type === 'wheat'));
  const cookedKg = beer.cookedAdjunctKg ?? 0;
  return mashValidity({
    coolestC: Math.min(...mash.rests.map((r) => r.tempC)),
    liquorRatio: mash.liquorLPerKg,
    enzymeMaltShare: withEnzymes / (kg(beer.malts) + cookedKg),
    standMin: mash.rests.reduce((sum, r) => sum + r.minutes, 0),
    addedEnzymes: beer.addedEnzymes === true,
    adjunctBoiledAlone: cookedKg > 0,
    ...(beer.mashPh === undefined ? {} : { mashPh: beer.mashPh }),
  }).map((reason) => reason.sentence);
}
