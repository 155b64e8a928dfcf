/**
 * A menu of plans: many candidates screened on the likely kit by heat and mass alone, the best of
 * them with the mash kinetics, and of those no two that differ in nothing a brewer would care for.
 */
import { NOMINAL } from '@ladlework/brewhouse';
import { clashesOf } from '../clash.ts';
import { brewDay } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { drawsFor } from '../ensemble.ts';
import type { WortForecast } from '../plan.ts';
import { openingSituation, runMoves, sizeStrike } from '../size.ts';
import { sizeMash } from '../stages.ts';
import { candidatesOf, type MenuAxes, usualAxes } from './candidates.ts';
import { boiledKgMin, type Outcome, outcomeOf, playWay, type Recipe } from './outcome.ts';
import { type Prices, pricesOf } from './prices.ts';
import { type CompareOptions, type Figures, figuresOf } from './ways.ts';

export interface MenuOptions extends CompareOptions {
  /** What is varied; default around the brewer's own plan. */
  readonly axes?: MenuAxes;
  /** Most candidates that go through the mash kinetics, 1-1000; default 24. */
  readonly survivors?: number;
}

export interface MenuPlan {
  readonly document: PlanDocument;
  /** Pulls, pots, boil and thickness in one line. */
  readonly what: string;
  /** Why it is on the menu, in one line. */
  readonly reason: string;
  readonly figures: Figures;
  readonly wort: WortForecast;
}

export interface Menu {
  /** At most seven, none worse than another in everything. */
  readonly plans: readonly MenuPlan[];
  /** Candidates put through the heat balance. */
  readonly screened: number;
  /** Of those, what this kit cannot do. */
  readonly infeasible: number;
  /** Of those, what went through the mash kinetics. */
  readonly played: number;
}

/** What plans are weighed by on the likely kit; the smaller the better, each. */
export interface Weighed {
  readonly finishH: number;
  readonly handsBusyMin: number;
  readonly carriedKg: number;
  readonly energyKWh: number;
  /** Boiled mash, the more the better: kilogram minutes in the screen, colour of the boils after it. */
  readonly unboiled: number;
  /** Limit of attenuation off the plan as written [points]; nought in the screen. */
  readonly limitOff: number;
}

const REASONS: Readonly<Record<keyof Weighed, string>> = {
  finishH: 'soonest done',
  handsBusyMin: 'least work',
  carriedKg: 'least to carry',
  energyKWh: 'least energy',
  unboiled: 'most colour from the boil',
  limitOff: 'attenuation nearest to the plan as written',
};
const KEYS = Object.keys(REASONS) as (keyof Weighed)[];
const MOST_PLANS = 7;
const MOST_SURVIVORS = 24;

/** A recipe and what it weighs. */
export interface Candidate {
  readonly recipe: Recipe;
  readonly weighed: Weighed;
}

/**
 * The menu of one beer on one kit.
 * @param document the brewer's own plan
 * @param options draws, seed and prices of the bands; what is varied; how many are played
 * @returns the plans and how many were looked at; the same document gives the same menu
 * @throws UnknownName when the document names what its kit does not have
 */
export function menuOf(document: PlanDocument, options: MenuOptions = {}): Menu {
  const prices = options.prices ?? pricesOf(document);
  const recipes = candidatesOf(document, options.axes ?? usualAxes(document));
  const screened = recipes.flatMap((recipe) => {
    const weighed = screen(recipe, prices);
    return weighed ? [{ recipe, weighed }] : [];
  });
  const survivors = best(screened, options.survivors ?? MOST_SURVIVORS);
  const played = weighPlayed(
    document,
    survivors.map((c) => c.recipe),
    prices,
  );
  const draws = drawsFor(document.kit, options.draws ?? 200, options.seed ?? 1);
  const own = weighPlayed(document, [{ document, finish: [] }], prices)[0]?.weighed;
  const plans = chosen(nonDominated(played), own).flatMap(({ candidate, reason }): MenuPlan[] => {
    const { outcomes, wort } = playWay(candidate.recipe, draws, prices);
    if (!wort) return [];
    const own = candidate.recipe.document;
    return [{ document: own, what: inWords(own), reason, figures: figuresOf(outcomes), wort }];
  });
  return {
    plans,
    screened: recipes.length,
    infeasible: recipes.length - screened.length,
    played: survivors.length,
  };
}

/** Heat and mass on the likely kit; undefined when the kit cannot do it. */
function screen(recipe: Recipe, prices: Prices): Weighed | undefined {
  const day = brewDay(recipe.document);
  const sized = sizeMash(day, sizeStrike(day), undefined);
  if (sized.raises.some((r) => !r.reached)) return undefined;
  const moves = [...sized.moves, ...recipe.finish];
  const trace = runMoves(day, openingSituation(day), moves, NOMINAL, undefined, false);
  if (clashesOf(day, sized, trace).length > 0) return undefined;
  const outcome = outcomeOf(day, moves, trace, NOMINAL, prices);
  return weighedOf(outcome, -boiledKgMin(trace), 0);
}

/** The likely day with the mash kinetics. */
export function weighPlayed(
  document: PlanDocument,
  recipes: readonly Recipe[],
  prices: Prices,
): Candidate[] {
  const own = playWay({ document, finish: [] }, [NOMINAL], prices).worts[0]?.limitApparentPct;
  return recipes.flatMap((recipe) => {
    const { outcomes, worts } = playWay(recipe, [NOMINAL], prices);
    const [outcome] = outcomes;
    const [wort] = worts;
    if (!outcome || !wort) return [];
    const limitOff = own === undefined ? 0 : Math.abs(wort.limitApparentPct - own);
    return [{ recipe, weighed: weighedOf(outcome, -wort.colourEbc, limitOff) }];
  });
}

function weighedOf(outcome: Outcome, unboiled: number, limitOff: number): Weighed {
  const { finishH, handsBusyMin, carriedKg, energyKWh } = outcome;
  return { finishH, handsBusyMin, carriedKg, energyKWh, unboiled, limitOff };
}

/** True when a is no worse than b in anything and better in something. */
export function dominates(a: Weighed, b: Weighed): boolean {
  let better = false;
  for (const key of KEYS) {
    if (a[key] > b[key] + SAME[key]) return false;
    if (a[key] < b[key] - SAME[key]) better = true;
  }
  return better;
}

/** What makes no difference to a brewer; our judgement. */
const SAME: Weighed = {
  finishH: 1 / 60,
  handsBusyMin: 1,
  carriedKg: 1,
  energyKWh: 0.1,
  unboiled: 0.01,
  limitOff: 0.05,
};

/** Those that nothing dominates; of two alike in everything the first. */
export function nonDominated(candidates: readonly Candidate[]): Candidate[] {
  const kept: Candidate[] = [];
  for (const c of candidates) {
    if (candidates.some((other) => dominates(other.weighed, c.weighed))) continue;
    if (!kept.some((k) => alike(k.weighed, c.weighed))) kept.push(c);
  }
  return kept;
}

function alike(a: Weighed, b: Weighed): boolean {
  return KEYS.every((key) => Math.abs(a[key] - b[key]) <= SAME[key]);
}

/** Layer by layer of what nothing dominates; of a layer too big for the room left, a spread. */
function best(candidates: readonly Candidate[], count: number): Candidate[] {
  let rest = candidates;
  const taken: Candidate[] = [];
  while (taken.length < count && rest.length > 0) {
    const layer = rest.filter((c) => !rest.some((o) => dominates(o.weighed, c.weighed)));
    // Tolerances can leave a ring of candidates that each dominate the next.
    const next = layer.length > 0 ? layer : rest;
    taken.push(...spread(next, count - taken.length, bestInEach(next)));
    const gone = new Set(next);
    rest = rest.filter((c) => !gone.has(c));
  }
  return taken;
}

/** The first that is best in each thing weighed. */
function bestInEach(candidates: readonly Candidate[]): Candidate[] {
  return KEYS.flatMap((key) =>
    candidates.toSorted((a, b) => a.weighed[key] - b.weighed[key]).slice(0, 1),
  );
}

/** So many candidates: those given, then always the one least like any taken. */
function spread(
  candidates: readonly Candidate[],
  count: number,
  given: readonly Candidate[],
): Candidate[] {
  const taken = [...new Set(given)].slice(0, count);
  const apart = distanceIn(candidates);
  const far = new Map(candidates.map((c) => [c, Math.min(...taken.map((t) => apart(c, t)))]));
  for (const t of taken) far.delete(t);
  while (taken.length < count && far.size > 0) {
    const [next] = [...far].reduce((most, c) => (c[1] > most[1] ? c : most));
    taken.push(next);
    far.delete(next);
    for (const [c, d] of far) far.set(c, Math.min(d, apart(c, next)));
  }
  return taken;
}

/**
 * The best in each thing that is weighed, then those least like any chosen, until there are seven.
 * A plan stands once; its reason says what it is best in, and what it spares the brewer.
 */
function chosen(candidates: readonly Candidate[], own: Weighed | undefined) {
  const reasons = new Map<Candidate, string[]>();
  for (const key of KEYS) {
    const [first] = candidates.toSorted((a, b) => a.weighed[key] - b.weighed[key]);
    if (first) reasons.set(first, [...(reasons.get(first) ?? []), REASONS[key]]);
  }
  for (const c of spread(candidates, MOST_PLANS, [...reasons.keys()]))
    if (!reasons.has(c)) reasons.set(c, []);
  return [...reasons].map(([candidate, best]) => ({
    candidate,
    reason: [...best, ...(best.length > 0 ? [] : sparings(candidate.weighed, own))].join(', '),
  }));
}

/** How unlike two plans are: each thing weighed against its span over the candidates. */
function distanceIn(candidates: readonly Candidate[]) {
  const spans = KEYS.map((key) => {
    const values = candidates.map((c) => c.weighed[key]);
    return { key, span: Math.max(SAME[key], Math.max(...values) - Math.min(...values)) };
  });
  return (a: Candidate, b: Candidate) =>
    Math.hypot(...spans.map(({ key, span }) => (a.weighed[key] - b.weighed[key]) / span));
}

/** What a plan that is best in nothing has over the plan as written. */
function sparings(weighed: Weighed, own: Weighed | undefined): string[] {
  if (!own) return ['between the others, and this kit can do it'];
  const less = (key: keyof Weighed) => own[key] - weighed[key];
  const gains = [
    {
      gain: less('finishH'),
      text: `${(60 * less('finishH')).toFixed(0)} min sooner`,
      key: 'finishH',
    },
    {
      gain: less('handsBusyMin'),
      text: `${less('handsBusyMin').toFixed(0)} min less work`,
      key: 'handsBusyMin',
    },
    {
      gain: less('carriedKg'),
      text: `${less('carriedKg').toFixed(0)} kg less to carry`,
      key: 'carriedKg',
    },
    { gain: less('energyKWh'), text: `${less('energyKWh').toFixed(1)} kWh less`, key: 'energyKWh' },
    {
      gain: less('unboiled'),
      text: `${less('unboiled').toFixed(1)} EBC more from the boil`,
      key: 'unboiled',
    },
  ] as const;
  const told = gains.filter((g) => g.gain > SHOWN[g.key]).map((g) => g.text);
  if (told.length === 0) return ['close to the plan as written'];
  return [`${told.join(', ')} than the plan as written`];
}

/** A gain smaller than this is not told; our choice. */
const SHOWN = { finishH: 3 / 60, handsBusyMin: 3, carriedKg: 3, energyKWh: 0.5, unboiled: 0.1 };

/** "2 pulls, kettle, thick, boil 15 and 5 min, 3.3 L/kg". */
function inWords({ kit, mash }: PlanDocument): string {
  const pulls = mash.raises.flatMap((r) => (r.by === 'decoction' ? [r] : []));
  const rests = mash.rests.map((r) => `${Math.round(r.minutes)}`).join('-');
  const ratio = `${mash.liquorLPerKg.toFixed(1)} L/kg, rests ${rests} min`;
  const name = (id: string) => kit.vessels.find((v) => v.id === id)?.name ?? id;
  const [first] = pulls;
  if (!first) {
    const [raise] = mash.raises;
    const by =
      raise === undefined ? 'infusion' : raise.by === 'liquor' ? 'boiling liquor' : 'direct heat';
    return `${by} in ${name(mash.tun)}, ${ratio}`;
  }
  const pots = first.pots.map(name).join(first.order === 'in-turn' ? ' then ' : ' beside ');
  const layout = mash.layout === 'kettle-mash' ? 'kettle mash, ' : '';
  const boils = pulls.map((p) => p.boilMinutes).join('-');
  const thickness = typeof first.thickness === 'string' ? first.thickness : 'by ratio';
  return `${layout}${pulls.length} ${pulls.length > 1 ? 'pulls' : 'pull'}, ${pots}, ${thickness}, boil ${boils} min, ${ratio}`;
}
