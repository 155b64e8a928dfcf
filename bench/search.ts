/**
 * Plan search: candidates a second of the screen against the whole mash simulated for each, the
 * whole search against the two seconds a page allows, and how near its best comes to brute force.
 */
import { NOMINAL } from '../packages/brewhouse/src/index.ts';
import { playWay } from '../packages/planner/src/compare/outcome.ts';
import { DEFAULT_PRICES } from '../packages/planner/src/compare/prices.ts';
import { brewDay } from '../packages/planner/src/day.ts';
import { type SearchAxes, usualAxes } from '../packages/planner/src/search/axes.ts';
import { framesOf } from '../packages/planner/src/search/frames.ts';
import { FrameScreen, WEIGHED } from '../packages/planner/src/search/screen.ts';
import { menuOf, weighLikely } from '../packages/planner/src/search/search.ts';
import { openingSituation, runMoves, sizeStrike } from '../packages/planner/src/size.ts';
import { sizeMash } from '../packages/planner/src/stages.ts';
import { ONE_PULL } from '../packages/planner/src/three-barrels.ts';
import type { Bench, Ratio } from './support/measure.ts';

const RUNS = 5;
/** Plans simulated one by one for the baseline. */
const SAMPLE = 60;
const ALLOWED_MS = 2000;

/** Axes so short that every plan can go through the whole engine. */
const SMALL: SearchAxes = {
  liquorLPerKg: [2.7, 3.6],
  boilMinutes: [10, 30],
  thickness: ['thick', 'thin'],
  restShare: [1, 0.5],
  pullRest: [undefined],
  places: [{ pots: ['kettle'], order: 'in-turn' }],
  reserve: [0.15],
  besideLPerKg: [0, 0.2],
};

function best<T>(run: () => T): { readonly ms: number; readonly value: T } {
  let ms = Number.POSITIVE_INFINITY;
  let value: T | undefined;
  for (let k = 0; k < RUNS; k++) {
    const start = performance.now();
    value = run();
    ms = Math.min(ms, performance.now() - start);
  }
  return { ms, value: value as T };
}

function screens(axes?: SearchAxes): FrameScreen[] {
  return framesOf(ONE_PULL, {}).map((frame) => {
    const own = axes ?? usualAxes(frame.recipe.document);
    const screen = new FrameScreen(frame, own, DEFAULT_PRICES);
    for (const _ of screen.prepare());
    return screen;
  });
}

function screening(): Ratio {
  const into = new Float64Array(WEIGHED.length);
  const whole = best(() => {
    const made = screens();
    let may = 0;
    for (const s of made) for (let k = 0; k < s.total; k++) may += Number(s.weigh(k, into));
    return { made, may };
  });
  const { made } = whole.value;
  const total = made.reduce((sum, s) => sum + s.total, 0);
  const documents = Array.from({ length: SAMPLE }, (_, k) => {
    const s = made[k % made.length] as FrameScreen;
    return s.documentOf(Math.floor((k * 7919) % s.total));
  });
  const each = best(() => {
    for (const document of documents) {
      const day = brewDay(document);
      const sized = sizeMash(day, sizeStrike(day), undefined);
      runMoves(day, openingSituation(day), sized.moves, NOMINAL, undefined, false);
    }
  });
  const perPlanMs = whole.ms / total;
  return {
    what: 'one plan screened, pieces and all',
    ms: perPlanMs,
    baseline: 'one plan sized and simulated, heat alone',
    baselineMs: each.ms / SAMPLE,
    note: `${total} plans, ${whole.value.may} of them possible, in ${whole.ms.toFixed(0)} ms: ${Math.round(1000 / perPlanMs)} a second`,
  };
}

function wholeSearch(): Ratio {
  const { ms, value } = best(() => menuOf(ONE_PULL));
  return {
    what: 'search to the menu, bands of 24 draws',
    ms,
    baseline: 'the 2 s the page allows',
    baselineMs: ALLOWED_MS,
    note: `${value.screened} screened, ${value.played} through the whole engine, ${value.plans.length} plans`,
  };
}

/** How far the best on the menu is from the best of all plans, each through the whole engine. */
function gap(): Ratio {
  const search = best(() => menuOf(ONE_PULL, { axes: SMALL, prices: DEFAULT_PRICES }));
  const own = playWay({ document: ONE_PULL, finish: [] }, [NOMINAL], DEFAULT_PRICES, true).worts[0];
  const limit = own?.limitApparentPct ?? 0;
  const start = performance.now();
  const everyone = screens(SMALL).flatMap((s) =>
    Array.from({ length: s.total }, (_, k) => {
      const recipe = { ...s.frame.recipe, document: s.documentOf(k) };
      return weighLikely(recipe, 0, { low: limit, high: limit }, {}, DEFAULT_PRICES);
    }).filter((c) => c !== undefined),
  );
  const baselineMs = performance.now() - start;
  const keys = ['finishH', 'handsBusyMin', 'carriedKg', 'energyKWh', 'unboiled'] as const;
  const listed = new Set(search.value.plans.map((p) => JSON.stringify(p.document)));
  const onMenu = everyone.filter((c) => listed.has(JSON.stringify(c.recipe.document)));
  const gaps = keys.map((key) => {
    const all = everyone.map((c) => c.weighed[key]);
    const low = Math.min(...all);
    const mine = Math.min(...onMenu.map((c) => c.weighed[key]));
    return (mine - low) / Math.max(1e-9, Math.max(...all) - low);
  });
  return {
    what: `small case, ${search.value.screened} plans: the search`,
    ms: search.ms,
    baseline: 'all of them through the whole engine',
    baselineMs,
    note: `worst gap of a best, ${(100 * Math.max(...gaps)).toFixed(1)} % of its span (${keys.join(', ')}: ${gaps.map((g) => (100 * g).toFixed(1)).join(', ')})`,
  };
}

export const bench: Bench = {
  about: 'tens of thousands of plans screened; how fast, how near the best, and is it two seconds?',
  run: async () => [screening(), wholeSearch(), gap()],
};
