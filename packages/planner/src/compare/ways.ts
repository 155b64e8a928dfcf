/** The ways to brew a beer side by side, on the same draws. */
import { DIFFERENCE_LIMIT_SD_POINTS } from '@ladlework/brewhouse';
import { band, normalQuantile } from '@ladlework/numerics';
import type { PlanDocument } from '../document.ts';
import { drawsFor } from '../ensemble.ts';
import type { Band, WortForecast } from '../plan.ts';
import type { Wort } from '../wort.ts';
import { type KilnedGrist, kilnedRecipe } from './kilned-malts.ts';
import { METHODS, type Method, recipeFor } from './methods.ts';
import { missChance } from './missed.ts';
import { FIGURES, type Lifts, type Outcome, type Played, playWay, type Recipe } from './outcome.ts';
import { type Prices, pricesOf } from './prices.ts';

export interface CompareOptions {
  /** Draws behind every band, 20-5000; default 200. */
  readonly draws?: number;
  /** Default 1: the same document gives the same answer. */
  readonly seed?: number;
  readonly prices?: Prices;
}

/** Bands of time, work, loads, energy and money; differences carry the same names. */
export type Figures = { readonly [F in keyof Outcome]: Band };

/** One way against the brewer's own, draw by draw: the narrow band. */
export interface Differences extends Figures {
  readonly extractKg: Band;
  /** Apparent limit of attenuation [points], with what the model may be wrong by in a difference. */
  readonly limitApparentPoints: Band;
  /** Colour the boils add [EBC]; malts of another colour are not in it. */
  readonly colourAddedEbc: Band;
  /** DMS precursor left, as a share of what the malt brought [points]. */
  readonly smmLeftPoints: Band;
}

export interface Way {
  readonly method: Method;
  readonly feasible: boolean;
  /** In plain words; empty when feasible. */
  readonly whyNot: string;
  /** The brew done this way, to be planned as it stands; left out where there is none. */
  readonly document?: PlanDocument;
  /** What follows is there when the way is feasible. */
  readonly figures?: Figures;
  readonly wort?: WortForecast;
  /** Chance that some rest after a raise begins more than MISSED_K off, 0-1. */
  readonly missChance?: number;
  /** What goes by bucket or ladle on the likely kit. */
  readonly lifts?: Lifts;
  /** Against the document's own way, where that is feasible. */
  readonly against?: Differences;
  /** The grist, for the way with kilned malts: an alternative, never an equivalent. */
  readonly kilned?: KilnedGrist;
}

/**
 * The ways to brew this beer on this kit.
 * @param document the brewer's own plan document
 * @param options draws, seed, prices; the same draws go through every way
 * @returns one entry a method, in the order of METHODS; never throws for what the kit cannot do
 * @throws UnknownName when the document names what its kit does not have
 */
export function waysOf(document: PlanDocument, options: CompareOptions = {}): Way[] {
  return [...pairedWays(document, options).ways];
}

/** The ways, and each one against any other. */
export interface PairedWays {
  /** The document's own way, where it is one of those that are feasible. */
  readonly own?: Method;
  readonly ways: readonly Way[];
  /** By the way that is looked at, then by the one it is held against; the feasible ones. */
  readonly against: { readonly [M in Method]?: { readonly [N in Method]?: Differences } };
}

/**
 * The ways to brew this beer on this kit, and the narrow bands of any of them against any other.
 * @param document the brewer's own plan document
 * @param options draws, seed, prices; the same draws go through every way
 * @returns ways in the order of METHODS, and their differences draw by draw
 * @throws UnknownName when the document names what its kit does not have
 */
export function pairedWays(document: PlanDocument, options: CompareOptions = {}): PairedWays {
  const draws = drawsFor(document.kit, options.draws ?? 200, options.seed ?? 1);
  const prices = options.prices ?? pricesOf(document);
  const own = playWay({ document, finish: [] }, draws, prices);
  const feasible = new Map<Method, Played>();
  let ownMethod: Method | undefined;
  const way = (method: Method, recipe: Recipe, kilned?: KilnedGrist): Way => {
    const isOwn = recipe.document === document;
    const played = isOwn ? own : playWay(recipe, draws, prices);
    const base = { method, document: recipe.document, ...(kilned ? { kilned } : {}) };
    if (!played.wort)
      return { ...base, feasible: false, whyNot: played.clashes.map((c) => c.text).join(' ') };
    feasible.set(method, played);
    if (isOwn) ownMethod = method;
    return {
      ...base,
      feasible: true,
      whyNot: '',
      figures: figuresOf(played.outcomes),
      wort: played.wort,
      missChance: missChance(played.landings, recipe.document.mash.rests),
      lifts: played.lifts,
      ...(own.wort ? { against: differences(played, own) } : {}),
    };
  };
  const ways = METHODS.map((method) => {
    if (method === 'no-pull-kilned-malts') {
      const kilned = kilnedRecipe(document);
      if ('whyNot' in kilned) return { method, feasible: false, whyNot: kilned.whyNot };
      return way(method, kilned.recipe, kilned.grist);
    }
    const recipe = recipeFor(document, method);
    if ('whyNot' in recipe) return { method, feasible: false, whyNot: recipe.whyNot };
    return way(method, recipe);
  });
  const against = [...feasible].map(([method, played]) => {
    const others = [...feasible].map(([other, held]) => [other, differences(played, held)]);
    return [method, Object.fromEntries(others)];
  });
  return {
    ...(ownMethod === undefined ? {} : { own: ownMethod }),
    ways,
    against: Object.fromEntries(against),
  };
}

/** The bands of outcomes over the draws. */
export function figuresOf(outcomes: readonly Outcome[]): Figures {
  const figures = FIGURES.map((f) => [f, band(outcomes.map((o) => o[f]))]);
  return Object.fromEntries(figures) as Figures;
}

/** Draw by draw, so that what is uncertain about the kit and malt falls out of the difference. */
function differences(a: Played, b: Played): Differences {
  const outcomes = a.outcomes.map((o, i) => {
    const other = b.outcomes[i] as Outcome;
    return Object.fromEntries(FIGURES.map((f) => [f, o[f] - other[f]])) as unknown as Outcome;
  });
  const wort = (pick: (w: Wort) => number) =>
    band(a.worts.map((w, i) => pick(w) - pick(b.worts[i] as Wort)));
  return {
    ...figuresOf(outcomes),
    extractKg: wort((w) => w.extractKg),
    limitApparentPoints: a === b ? ZERO : widened(wort((w) => w.limitApparentPct)),
    colourAddedEbc: wort((w) => w.colourEbc),
    smmLeftPoints: wort((w) => 100 * w.smmLeft),
  };
}

const ZERO: Band = { low: 0, likely: 0, high: 0 };

function widened(b: Band): Band {
  const extra = normalQuantile(0.9) * DIFFERENCE_LIMIT_SD_POINTS;
  return {
    low: b.likely - Math.hypot(b.likely - b.low, extra),
    likely: b.likely,
    high: b.likely + Math.hypot(b.high - b.likely, extra),
  };
}
