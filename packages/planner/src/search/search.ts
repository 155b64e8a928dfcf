/**
 * Plan search: every combination of the free choices screened by heat and mass, the front of the
 * screen thinned to those least alike, these played through the whole engine and the timetable, and
 * of what nothing beats at most seven shown, with their bands.
 */
import { NOMINAL } from '@ladlework/brewhouse';
import { type Played, playing, playWay, type Recipe } from '../compare/outcome.ts';
import { type Prices, pricesOf } from '../compare/prices.ts';
import type { PlanDocument } from '../document.ts';
import { drawsFor } from '../ensemble.ts';
import { type SearchAxes, usualAxes } from './axes.ts';
import { type Candidate, chosen, meets, nonDominated, type Weighed, weighedOf } from './choose.ts';
import { framesOf } from './frames.ts';
import { frontOf } from './front.ts';
import { type Menu, type MenuPlan, menuPlanOf, type SearchProgress } from './menu.ts';
import { proofOfNo } from './proof.ts';
import { FrameScreen, WEIGHED } from './screen.ts';
import { asked, type Range, type Targets } from './targets.ts';

export interface SearchOptions {
  /** Draws behind every band, 10-5000; default 24. */
  readonly draws?: number;
  /** Default 1: the same document gives the same menu. */
  readonly seed?: number;
  readonly prices?: Prices;
  /** Plans that go through the whole engine, 1-10 000; default 18. */
  readonly survivors?: number;
  /** What is varied; what is left out is varied around the brewer's own plan. */
  readonly axes?: Partial<SearchAxes>;
  /** Asked between two steps; false ends the search with what it has. */
  readonly keepGoing?: () => boolean;
}

export interface MenuOptions extends SearchOptions {
  readonly targets?: Targets;
}

const DRAWS = 24;
const SURVIVORS = 18;
/** Plans weighed between two steps. */
const PLANS_A_STEP = 2000;
/** Share of the whole search that each stage takes, near enough for a bar. */
const SHARES = { balance: 0.35, screen: 0.5, day: 0.75 } as const;

/**
 * The menu of one beer on one kit, step by step; a step lasts a few milliseconds.
 * @param document the brewer's own plan
 * @param targets what is asked beside it; left out: nothing
 * @param options draws, seed, prices; what is varied; when to stop
 * @returns the menu; the same document gives the same one
 * @throws UnknownName when the document names what its kit does not have
 * @example let step = search.next(); while (!step.done) step = search.next(); step.value.plans
 */
export function* searchPlans(
  document: PlanDocument,
  targets: Targets = {},
  options: SearchOptions = {},
): Generator<SearchProgress, Menu, void> {
  const prices = options.prices ?? pricesOf(document);
  const keepGoing = options.keepGoing ?? (() => true);
  const most = options.survivors ?? SURVIVORS;
  const screens = framesOf(document, targets).map((f) => {
    const axes = { ...usualAxes(f.recipe.document), ...options.axes };
    return new FrameScreen(f, axes, prices);
  });
  const count = { screened: 0, total: 0, survivors: 0, infeasible: 0, played: 0 };
  const tell = (stage: SearchProgress['stage'], share: number): SearchProgress => ({
    stage,
    screened: count.screened,
    total: count.total,
    survivors: count.survivors,
    share,
  });
  const ended = (plans: readonly MenuPlan[], complete: boolean): Menu => ({
    plans,
    screened: count.screened,
    infeasible: count.infeasible,
    played: count.played,
    complete,
  });

  for (const [k, screen] of screens.entries()) {
    for (const _ of screen.prepare()) {
      yield tell('balance', (SHARES.balance * k) / screens.length);
      if (!keepGoing()) return ended([], false);
    }
    count.total += screen.total;
  }

  const rows: Row[] = [];
  const columns: number[][] = WEIGHED.map(() => []);
  const into = new Float64Array(WEIGHED.length);
  for (const screen of screens)
    for (let plan = 0; plan < screen.total; plan++) {
      count.screened++;
      if (screen.weigh(plan, into)) {
        rows.push({ screen, plan });
        for (const [k, column] of columns.entries()) column.push(into[k] as number);
      } else count.infeasible++;
      if (count.screened % PLANS_A_STEP !== 0) continue;
      yield tell('screen', SHARES.balance + 0.1 * (count.screened / count.total));
      if (!keepGoing()) return ended([], false);
    }

  const values = columns.map((c) => Float64Array.from(c));
  const thinning = thinned(values, most);
  let step = thinning.next();
  for (; !step.done; step = thinning.next()) {
    yield tell('screen', SHARES.screen);
    if (!keepGoing()) return ended([], false);
  }
  const survivors = step.value;
  count.survivors = survivors.length;

  const own = playWay({ document: asked(document, targets), finish: [] }, [NOMINAL], prices, true);
  const ownLimit = own.worts[0]?.limitApparentPct;
  const wanted =
    targets.limitApparentPct ??
    (ownLimit === undefined ? undefined : { low: ownLimit, high: ownLimit });
  const played: Candidate[] = [];
  for (const [k, row] of survivors.entries()) {
    const { screen, plan } = rows[row] as Row;
    const missChance = (values[MISS] as Float64Array)[row] as number;
    const weighed = weighLikely(recipeOf(screen, plan), missChance, wanted, targets, prices);
    count.played++;
    if (weighed) played.push(weighed);
    yield tell('day', SHARES.screen + ((SHARES.day - SHARES.screen) * k) / survivors.length);
    if (!keepGoing()) return ended([], false);
  }

  const draws = drawsFor(document.kit, options.draws ?? DRAWS, options.seed ?? 1);
  const ownWeighed = ownOf(own, wanted);
  const choices = chosen(nonDominated(played), ownWeighed);
  const plans: { plan: MenuPlan; weighed: Weighed }[] = [];
  for (const [k, { candidate, reason }] of choices.entries()) {
    const play = playing(candidate.recipe, draws, prices, true);
    let drawn = play.next();
    for (; !drawn.done; drawn = play.next()) {
      yield tell('bands', SHARES.day + ((1 - SHARES.day) * k) / choices.length);
      if (!keepGoing()) return ended(ranked(plans), false);
    }
    if (!drawn.value.wort) continue;
    const plan = menuPlanOf(candidate.recipe.document, reason, drawn.value, targets);
    plans.push({ plan, weighed: candidate.weighed });
  }
  if (plans.length > 0) return ended(ranked(plans), true);
  yield tell('no', 1);
  const clash = proofOfNo(document, { targets });
  return { ...ended([], true), ...(clash ? { clash } : {}) };
}

/** The same search, run to its end. */
export function menuOf(document: PlanDocument, options: MenuOptions = {}): Menu {
  const search = searchPlans(document, options.targets ?? {}, options);
  for (let step = search.next(); ; step = search.next()) if (step.done) return step.value;
}

const MISS = WEIGHED.indexOf('missChance');

interface Row {
  readonly screen: FrameScreen;
  readonly plan: number;
}

function recipeOf(screen: FrameScreen, plan: number): Recipe {
  return { ...screen.frame.recipe, document: screen.documentOf(plan) };
}

/**
 * One plan through the whole engine on the likely kit, its day through the timetable.
 * @returns what it weighs; undefined when the kit cannot do it, or it does not meet the targets
 */
export function weighLikely(
  recipe: Recipe,
  missChance: number,
  wanted: Range | undefined,
  targets: Targets,
  prices: Prices,
): Candidate | undefined {
  const { outcomes, worts, lifts } = playWay(recipe, [NOMINAL], prices, true);
  const [outcome] = outcomes;
  const [wort] = worts;
  if (!outcome || !wort || !meets(targets, wort, lifts.heaviestKg)) return undefined;
  return { recipe, weighed: weighedOf(outcome, wort, missChance, wanted) };
}

function ownOf(own: Played, wanted: Range | undefined): Weighed | undefined {
  const [outcome] = own.outcomes;
  const [wort] = own.worts;
  return outcome && wort ? weighedOf(outcome, wort, 0, wanted) : undefined;
}

/** So many of the front, or all there are where they are no more: the best in each thing weighed, then always the one least like any taken. */
function* thinned(
  columns: readonly Float64Array[],
  most: number,
): Generator<void, readonly number[], void> {
  const all = columns[0]?.length ?? 0;
  if (all <= most) return Array.from({ length: all }, (_, row) => row);
  const front = yield* frontOf(columns);
  const spans = columns.map((c) => {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const row of front) {
      low = Math.min(low, c[row] as number);
      high = Math.max(high, c[row] as number);
    }
    return Math.max(1e-9, high - low);
  });
  if (front.length <= most) return front;
  const apart = (a: number, b: number) => {
    let sum = 0;
    columns.forEach((c, k) => {
      sum += (((c[a] as number) - (c[b] as number)) / (spans[k] as number)) ** 2;
    });
    return sum;
  };
  // The two best in each: what is second by the mash may be first by the whole day.
  const bests = columns.flatMap((c) =>
    front.toSorted((a, b) => (c[a] as number) - (c[b] as number)).slice(0, 2),
  );
  const taken = [...new Set(bests)].slice(0, most);
  const far = Float64Array.from(front, (row) => Math.min(...taken.map((t) => apart(t, row))));
  while (taken.length < most) {
    let next = 0;
    far.forEach((d, i) => {
      if (d > (far[next] as number)) next = i;
    });
    const row = front[next] as number;
    taken.push(row);
    far.forEach((d, i) => {
      far[i] = Math.min(d, apart(row, front[i] as number));
    });
    yield;
  }
  return taken;
}

/** Ranked by the mean of what is likely, each thing against its span over the menu. */
function ranked(
  plans: readonly { readonly plan: MenuPlan; readonly weighed: Weighed }[],
): MenuPlan[] {
  if (plans.length === 0) return [];
  const keys = Object.keys((plans[0] as { weighed: Weighed }).weighed) as (keyof Weighed)[];
  const scores = plans.map(() => 0);
  for (const key of keys) {
    const values = plans.map((p) => p.weighed[key]);
    const low = Math.min(...values);
    const span = Math.max(...values) - low;
    if (span <= 0) continue;
    values.forEach((v, i) => {
      scores[i] = (scores[i] as number) + (v - low) / span;
    });
  }
  return plans
    .map(({ plan }, i) => ({ plan, score: scores[i] as number }))
    .sort((a, b) => a.score - b.score)
    .map(({ plan }) => plan);
}
