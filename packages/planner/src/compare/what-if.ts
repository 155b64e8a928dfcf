/** What if one thing were otherwise: the same beer on the same draws, figure by figure. */
import { DIFFERENCE_LIMIT_SD_POINTS, type Draw } from '@ladlework/brewhouse';
import { band, normalQuantile } from '@ladlework/numerics';
import type { PlanDocument } from '../document.ts';
import { drawsFor } from '../ensemble.ts';
import type { Band } from '../plan.ts';
import { changedDocument, changeText, type KitChange } from './kit-change.ts';
import { type Played, playWay } from './outcome.ts';
import { type HousePrices, pricesOf } from './prices.ts';

export interface WhatIfOptions {
  /** Draws behind every band, 20-5000; default 60. */
  readonly draws?: number;
  /** Default 1. */
  readonly seed?: number;
}

/** What a brewer would look at of a plan. Minutes count from the start of the day. */
export interface KitFigures {
  /** The whole day by its timetable, cleaned up [min]. */
  readonly finishMin: Band;
  readonly handsBusyMin: Band;
  readonly carriedKg: Band;
  readonly energyKWh: Band;
  /** Work at the mash, energy and, where it is priced, malt [currency]. */
  readonly cost: Band;
  /** Apparent limit of attenuation as the draws have it [%]; to compare, not to trust. */
  readonly limitApparentPct: Band;
  /** Width of the 80 % band of the worst landing [K]. */
  readonly landingBandK: number;
  /** Buckets or ladles carried, and the heaviest of them [kg]. */
  readonly lifts: number;
  readonly heaviestKg: number;
}

/** Changed less own, draw by draw; of the last two, likely less likely. */
export interface KitDifference {
  readonly finishMin: Band;
  readonly handsBusyMin: Band;
  readonly carriedKg: Band;
  readonly energyKWh: Band;
  readonly cost: Band;
  readonly limitApparentPoints: Band;
  readonly landingBandK: number;
  readonly lifts: number;
}

export interface WhatIf extends WhatIfPlan {
  readonly change: KitChange;
}

/** A changed plan against the own one. */
export interface WhatIfPlan {
  /** What is changed, in words. */
  readonly text: string;
  /** The plan with the change, to be opened as it stands. */
  readonly document: PlanDocument;
  readonly feasible: boolean;
  /** In plain words; empty when feasible. */
  readonly whyNot: string;
  /** Left out where that plan cannot be brewed. */
  readonly own?: KitFigures;
  readonly changed?: KitFigures;
  readonly difference?: KitDifference;
}

/** The own plan played once, for every change that is asked about. */
export interface OwnPlay {
  readonly document: PlanDocument;
  readonly draws: readonly Draw[];
  readonly prices: HousePrices;
  readonly played: Played;
}

/**
 * Plays the own plan.
 * @param document the brewer's own plan
 * @param options draws and seed
 * @throws UnknownName when the document names what its kit does not have
 */
export function playOwn(document: PlanDocument, options: WhatIfOptions = {}): OwnPlay {
  const draws = drawsFor(document.kit, options.draws ?? 60, options.seed ?? 1);
  const prices = pricesOf(document);
  return { document, draws, prices, played: playWay({ document, finish: [] }, draws, prices) };
}

/**
 * One change, on the same draws as the own plan.
 * @param document the brewer's own plan
 * @param change what is changed
 * @param options draws and seed
 * @returns figures of both and their paired differences, or why the changed plan cannot be brewed
 * @throws UnknownName, OutOfRange as `changedDocument`
 */
export function whatIf(
  document: PlanDocument,
  change: KitChange,
  options: WhatIfOptions = {},
): WhatIf {
  return whatIfOf(playOwn(document, options), change);
}

/**
 * Several changes at once, on the same draws as the own plan.
 * @param document the brewer's own plan
 * @param changes made one after another; none: the own plan against itself
 * @param options draws and seed
 * @returns figures of both and their paired differences, or why the changed plan cannot be brewed
 * @throws UnknownName, OutOfRange as `changedDocument`
 */
export function whatIfAll(
  document: PlanDocument,
  changes: readonly KitChange[],
  options: WhatIfOptions = {},
): WhatIfPlan {
  const text = changes.map((c) => changeText(document, c)).join(', ');
  const changed = changes.reduce(changedDocument, document);
  return against(playOwn(document, options), changed, text);
}

/** One change where the own plan has been played. */
export function whatIfOf(own: OwnPlay, change: KitChange): WhatIf {
  const document = changedDocument(own.document, change);
  return { change, ...against(own, document, changeText(own.document, change)) };
}

function against(own: OwnPlay, document: PlanDocument, text: string): WhatIfPlan {
  const played = playWay({ document, finish: [] }, own.draws, own.prices);
  const feasible = played.wort !== undefined;
  const ownFigures = figuresOf(own.played);
  const changed = figuresOf(played);
  return {
    text,
    document,
    feasible,
    whyNot: feasible ? '' : played.clashes.map((c) => c.text).join(' '),
    ...(ownFigures ? { own: ownFigures } : {}),
    ...(changed ? { changed } : {}),
    ...(ownFigures && changed
      ? { difference: differenceOf(played, own.played, changed, ownFigures) }
      : {}),
  };
}

/** Bands of a played plan; undefined when it clashes. */
export function figuresOf(played: Played): KitFigures | undefined {
  if (!played.wort) return undefined;
  const of = (pick: (o: Played['outcomes'][number]) => number) => band(played.outcomes.map(pick));
  return {
    finishMin: of((o) => 60 * o.finishH),
    handsBusyMin: of((o) => o.handsBusyMin),
    carriedKg: of((o) => o.carriedKg),
    energyKWh: of((o) => o.energyKWh),
    cost: of((o) => o.cost),
    limitApparentPct: band(played.worts.map((w) => w.limitApparentPct)),
    landingBandK: landingBand(played.landings),
    lifts: played.lifts.count,
    heaviestKg: played.lifts.heaviestKg,
  };
}

/** Widest band of any landing after a raise; nought where nothing is raised. */
function landingBand(landings: readonly (readonly number[])[]): number {
  const raises = (landings[0]?.length ?? 1) - 1;
  const widths = Array.from({ length: raises }, (_, k) => {
    const b = band(landings.map((l) => l[k + 1] as number));
    return b.high - b.low;
  });
  return Math.max(0, ...widths);
}

function differenceOf(
  a: Played,
  b: Played,
  figuresA: KitFigures,
  figuresB: KitFigures,
): KitDifference {
  const of = (pick: (o: Played['outcomes'][number]) => number) =>
    band(a.outcomes.map((o, i) => pick(o) - pick(b.outcomes[i] as typeof o)));
  const limit = band(
    a.worts.map((w, i) => w.limitApparentPct - (b.worts[i]?.limitApparentPct as number)),
  );
  const extra = normalQuantile(0.9) * DIFFERENCE_LIMIT_SD_POINTS;
  return {
    finishMin: of((o) => 60 * o.finishH),
    handsBusyMin: of((o) => o.handsBusyMin),
    carriedKg: of((o) => o.carriedKg),
    energyKWh: of((o) => o.energyKWh),
    cost: of((o) => o.cost),
    limitApparentPoints: {
      low: limit.likely - Math.hypot(limit.likely - limit.low, extra),
      likely: limit.likely,
      high: limit.likely + Math.hypot(limit.high - limit.likely, extra),
    },
    landingBandK: figuresA.landingBandK - figuresB.landingBandK,
    lifts: figuresA.lifts - figuresB.lifts,
  };
}
