/** Rests for an attenuation wanted, from the mash kinetics on this kit with this mash. */
import { DIFFERENCE_LIMIT_SD_POINTS, type GristEngine, NOMINAL } from '@ladlework/brewhouse';
import { findRoot, normalQuantile } from '@ladlework/numerics';
import { brewDay } from '../day.ts';
import type { Mash, MashRest, PlanDocument } from '../document.ts';
import { mashEngines } from '../grist.ts';
import type { Band } from '../plan.ts';
import { sizeStrike } from '../size.ts';
import { playMash, sizeMash } from '../stages.ts';
import { outsideReasons, wortForecast } from '../wort.ts';

/** Where a rest that makes sugar is sought [°C], and how long it may be [min]. */
const REST_C = { low: 58, high: 72 } as const;
const REST_MIN = { low: 10, high: 120 } as const;
/** Grid on which the way the limit goes with temperature is seen before it is solved. */
const GRID_K = 2;
/** Next rests stay this much above [K]. */
const GAP_K = 1;
const P90 = normalQuantile(0.9);
/** Solved to this [points]; no brewer holds a rest closer. */
const CLOSE_POINTS = 0.05;

/** One change of the saccharification rest that makes the limit wanted. */
export interface RestForLimit {
  readonly change: 'temperature' | 'length';
  readonly tempC: number;
  readonly minutes: number;
  /** Limit it leads to [% apparent]: the narrow band, for changes of the same malt. */
  readonly limitApparentPct: Band;
  readonly mash: Mash;
  readonly sentence: string;
}

export interface AttenuationAdvice {
  /** Rest that is changed, from 1. */
  readonly rest: number;
  readonly wantedPct: number;
  readonly nowPct: number;
  /** What this rest can do within its ranges [% apparent]. */
  readonly reach: {
    readonly byTemperature: { readonly low: number; readonly high: number };
    readonly byLength: { readonly low: number; readonly high: number };
  };
  /** Nearest first; none when neither reaches it. */
  readonly ways: readonly RestForLimit[];
  /** Why the kinetics do not hold here; empty when they do. */
  readonly outside: readonly string[];
  readonly sentence: string;
}

/**
 * The rest that makes the sugar: the longest between 58 and 72 °C; where there is none, the first.
 * @param mash rests
 * @returns its index
 */
function sugarRest(mash: Mash): number {
  let best = -1;
  mash.rests.forEach((rest, i) => {
    if (rest.tempC < REST_C.low || rest.tempC > REST_C.high) return;
    const least = mash.rests[best];
    if (least === undefined || rest.minutes > least.minutes) best = i;
  });
  return Math.max(0, best);
}

/** The mash with one rest changed. */
function withRest(mash: Mash, index: number, change: Partial<MashRest>): Mash {
  return {
    ...mash,
    rests: mash.rests.map((rest, i) => {
      if (i !== index) return rest;
      const next = { ...rest, ...change };
      // A pull begins within its rest.
      return next.pullAfterMin === undefined
        ? next
        : { ...next, pullAfterMin: Math.min(next.pullAfterMin, next.minutes) };
    }),
  };
}

/** The likely limit of a mash on this kit [% apparent], with pulls sized anew. */
function limitOf(document: PlanDocument, engine: GristEngine, mash: Mash): number {
  const day = brewDay({ ...document, mash });
  const sized = sizeMash(day, sizeStrike(day), engine);
  const played = playMash(day, sized, NOMINAL, engine, false);
  const end = played.stages[played.stages.length - 1];
  const [wort] = end === undefined ? [] : wortForecast.sample(day, engine, end);
  return wort?.limitApparentPct ?? Number.NaN;
}

/**
 * Temperature or length of the saccharification rest for a wanted limit of attenuation.
 * @param document the brew as it stands
 * @param wantedPct apparent limit wanted [%], 50-95
 * @returns ways that reach it, with what each comes to on this kit, every pull sized anew
 * @throws UnknownName when the document names what its kit does not have
 * @source the mash kinetics, likely draw; the limit falls with temperature above the optimum of
 *   beta-amylase and rises with time (docs/science/mash.md)
 */
export function attenuationAdvice(document: PlanDocument, wantedPct: number): AttenuationAdvice {
  const { mash } = document;
  const engine = mashEngines(document.beer)(NOMINAL);
  const index = sugarRest(mash);
  const rest = mash.rests[index] as MashRest;
  const known = new Map<string, number>();
  const limit = (change: Partial<MashRest>): number => {
    const key = JSON.stringify(change);
    const found = known.get(key) ?? limitOf(document, engine, withRest(mash, index, change));
    known.set(key, found);
    return found;
  };
  const below = mash.rests[index - 1]?.tempC ?? Number.NEGATIVE_INFINITY;
  const above = mash.rests[index + 1]?.tempC ?? Number.POSITIVE_INFINITY;
  const from = Math.max(REST_C.low, below + GAP_K);
  const to = Math.min(REST_C.high, above - GAP_K);
  const grid: number[] = [];
  for (let c = from; c < to; c += GRID_K) grid.push(c);
  grid.push(to);
  const limits = grid.map((tempC) => limit({ tempC }));
  const top = limits.indexOf(Math.max(...limits));
  const shortest = limit({ minutes: REST_MIN.low });
  const longest = limit({ minutes: REST_MIN.high });
  const now = limit({});
  const ways: RestForLimit[] = [];
  // On the warm side of the optimum a warmer rest gives less: there the brewer steers.
  const warmest = limits[limits.length - 1] as number;
  if (wantedPct <= (limits[top] as number) && wantedPct >= warmest) {
    const root = findRoot((tempC) => limit({ tempC }) - wantedPct, grid[top] as number, to, {
      fTolerance: CLOSE_POINTS,
    });
    if (root.ok) ways.push(wayOf(mash, index, 'temperature', { tempC: root.x }, limit));
  }
  if (wantedPct >= shortest && wantedPct <= longest) {
    const root = findRoot(
      (minutes) => limit({ minutes }) - wantedPct,
      REST_MIN.low,
      REST_MIN.high,
      { fTolerance: CLOSE_POINTS },
    );
    if (root.ok) ways.push(wayOf(mash, index, 'length', { minutes: root.x }, limit));
  }
  const reach = {
    byTemperature: { low: Math.min(...limits), high: Math.max(...limits) },
    byLength: { low: shortest, high: longest },
  };
  return {
    rest: index + 1,
    wantedPct,
    nowPct: now,
    reach,
    ways,
    outside: outsideReasons(document.beer, mash),
    sentence: sentenceOf(wantedPct, rest, ways, reach),
  };
}

function wayOf(
  mash: Mash,
  index: number,
  change: RestForLimit['change'],
  to: Partial<MashRest>,
  limit: (change: Partial<MashRest>) => number,
): RestForLimit {
  const changed = withRest(mash, index, to);
  const rest = changed.rests[index] as MashRest;
  const likely = limit(to);
  const half = P90 * DIFFERENCE_LIMIT_SD_POINTS;
  return {
    change,
    tempC: rest.tempC,
    minutes: rest.minutes,
    limitApparentPct: { low: likely - half, likely, high: likely + half },
    mash: changed,
    sentence:
      change === 'temperature'
        ? `Rest ${index + 1} at ${rest.tempC.toFixed(1)} °C for ${rest.minutes.toFixed(0)} min.`
        : `Rest ${index + 1} for ${rest.minutes.toFixed(0)} min at ${rest.tempC.toFixed(1)} °C.`,
  };
}

function sentenceOf(
  wantedPct: number,
  rest: MashRest,
  ways: readonly RestForLimit[],
  reach: AttenuationAdvice['reach'],
): string {
  const [first, second] = ways;
  if (first === undefined) {
    const low = Math.min(reach.byTemperature.low, reach.byLength.low);
    const high = Math.max(reach.byTemperature.high, reach.byLength.high);
    return `The rest at ${rest.tempC.toFixed(1)} °C alone goes from ${low.toFixed(0)} to ${high.toFixed(0)} %: ${wantedPct.toFixed(0)} % takes another malt, or another rest beside it.`;
  }
  const or = second === undefined ? '' : ` Or: ${second.sentence}`;
  return `For ${wantedPct.toFixed(1)} %: ${first.sentence}${or}`;
}
