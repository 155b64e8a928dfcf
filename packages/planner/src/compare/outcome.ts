/** What a way of brewing costs and gives, on the likely kit and on every draw of it. */
import {
  type Draw,
  type GristEngine,
  type Kit,
  type Move,
  NOMINAL,
  type Trace,
} from '@ladlework/brewhouse';
import { burnt } from '../burnt.ts';
import { clashesOf } from '../clash.ts';
import { type BrewDay, brewDay } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { mashEngines } from '../grist.ts';
import type { Band, Clash, TimedMash, WortForecast } from '../plan.ts';
import { openingSituation, runMoves, sizeStrike } from '../size.ts';
import { type SizedMash, sizeMash } from '../stages.ts';
import { timetableOf } from '../timetable/timetable-of.ts';
import { type Wort, wortForecast } from '../wort.ts';
import { heatPrice, maltCost, type Prices } from './prices.ts';

/** One way on one draw. */
export interface Outcome {
  /** Start of the day to its end, by the timetable: wort knocked out, everything clean [h]. */
  readonly finishH: number;
  /** Minutes of work at the mash, each pair of hands counted [min]. */
  readonly handsBusyMin: number;
  /** Mash and liquor moved by bucket or ladle [kg]; what a pump or a fall moves is not carried. */
  readonly carriedKg: number;
  /** What the burners took in until the mash was through [kWh]. */
  readonly energyKWh: number;
  /** Labour, energy and, where all its lots are priced, malt at the prices [currency]. */
  readonly cost: number;
}

export const FIGURES = [
  'finishH',
  'handsBusyMin',
  'carriedKg',
  'energyKWh',
  'cost',
] as const satisfies readonly (keyof Outcome)[];

/** A way to brew, as a plan document and what is done after its mash. */
export interface Recipe {
  readonly document: PlanDocument;
  /** Moves after the last rest: a mash made in the kettle goes over to be run off. */
  readonly finish: readonly Move[];
}

/** A way played on every draw, in the order of the draws. */
export interface Played {
  readonly clashes: readonly Clash[];
  readonly outcomes: readonly Outcome[];
  readonly worts: readonly Wort[];
  readonly wort: WortForecast | undefined;
  /** Draw by draw, the temperature of every rest as it began [°C]. */
  readonly landings: readonly (readonly number[])[];
  /** What is lifted, on the likely kit; nothing when the way clashes. */
  readonly lifts: Lifts;
}

/** What goes by bucket or ladle, load by load. */
export interface Lifts {
  readonly count: number;
  readonly heaviestKg: number;
}

/**
 * Plays a way on the likely kit and, where nothing clashes, on every draw.
 * @param recipe plan document and the moves after it
 * @param draws the same list for every way that is to be compared
 * @param prices what hands and heat are worth
 * @param quick the day with its liquor heated in the most promising way, the others not tried
 * @returns its clashes, or one outcome and one wort a draw
 * @throws UnknownName when the document names what its kit does not have
 */
export function playWay(
  recipe: Recipe,
  draws: readonly Draw[],
  prices: Prices,
  quick = false,
): Played {
  const steps = playing(recipe, draws, prices, quick);
  for (let step = steps.next(); ; step = steps.next()) if (step.done) return step.value;
}

/** The same, a draw at a time, so that a caller can do something else in between. */
export function* playing(
  recipe: Recipe,
  draws: readonly Draw[],
  prices: Prices,
  quick: boolean,
): Generator<void, Played, void> {
  const day = brewDay(recipe.document);
  const engines = mashEngines(recipe.document.beer);
  const likely = engines(NOMINAL);
  const sized = sizeMash(day, sizeStrike(day), likely);
  yield;
  const moves = [...sized.moves, ...recipe.finish];
  const opening = openingSituation(day);
  const play = (draw: Draw, engine: GristEngine): Trace =>
    runMoves(day, opening, moves, draw, engine, false);
  const trace = play(NOMINAL, likely);
  const hard = clashesOf(day, sized, trace);
  yield;
  const timed = hard.length > 0 ? undefined : finishes(recipe, sized, trace, draws, quick);
  const clashes = [...hard, ...(timed?.clashes ?? [])];
  if (!timed || clashes.length > 0)
    return { clashes, outcomes: [], worts: [], wort: undefined, landings: [], lifts: NO_LIFTS };
  const outcomes: Outcome[] = [];
  const worts: Wort[] = [];
  const landings: number[][] = [];
  for (const [i, draw] of draws.entries()) {
    yield;
    const engine = draw === NOMINAL ? likely : engines(draw);
    const played = draw === NOMINAL ? trace : play(draw, engine);
    const work = outcomeOf(day, moves, played, draw, prices);
    outcomes.push({ ...work, finishH: (timed.finishesMin[i] as number) / 60 });
    worts.push(...wortForecast.sample(day, engine, played));
    landings.push(landingsOf(day, sized, played));
  }
  const lifts = liftsOf(day, moves, trace);
  return { clashes, outcomes, worts, wort: wortForecast.of(day, worts), landings, lifts };
}

const NO_LIFTS: Lifts = { count: 0, heaviestKg: 0 };

/** The whole day's finish on every draw, from its timetable; or what that clashes over. */
function finishes(
  { document, finish }: Recipe,
  sized: SizedMash,
  trace: Trace,
  draws: readonly Draw[],
  quick: boolean,
): { readonly finishesMin: readonly number[]; readonly clashes: readonly Clash[] } {
  const timed = timedMash(sized, trace);
  const onlyLikely = draws.every((d) => d === NOMINAL);
  const solved = (nodes: number) =>
    timetableOf(runOffIn(document, finish), timed, {
      ...(onlyLikely ? { draws: 0 } : { drawn: draws }),
      budget: { nodes },
      ...(quick ? { quick } : {}),
    });
  let day = solved(quick ? QUICK_NODES : DAY_NODES);
  if (quick && day.proven !== 'infeasible' && !Number.isFinite(day.finishMin))
    day = solved(DAY_NODES);
  if (day.proven === 'infeasible' || !Number.isFinite(day.finishMin)) {
    const texts = day.clashes.map((c) => c.text);
    const text = texts.length > 0 ? texts.join(' ') : 'The whole day fits no timetable.';
    return { finishesMin: [], clashes: [{ code: 'no-timetable', text }] };
  }
  return { finishesMin: day.robust?.finishesMin ?? draws.map(() => day.finishMin), clashes: [] };
}

/** Nodes a day may take; one brew is proven with far fewer. */
const DAY_NODES = 4000;
/** Nodes for a good timetable that need not be proven; more when that finds none. */
const QUICK_NODES = 60;

/** The mash as sized and played on the likely kit, for the timetable. */
export function timedMash(sized: SizedMash, trace: Trace): TimedMash {
  const one = (x: number): Band => ({ low: x, likely: x, high: x });
  const byId = new Map(trace.moves.map((m) => [m.id, m]));
  const own = sized.moves.flatMap((move) => {
    const t = byId.get(move.id);
    return t ? [{ move, t }] : [];
  });
  return {
    strike: { litres: sized.strike.litres, tempC: { likely: sized.strike.tempC } },
    moves: own.map(({ move, t }) => ({
      move,
      startMin: one(t.startMin),
      endMin: one(t.endMin),
      fromC: one(t.fromC),
      toC: one(t.toC),
      volumeL: t.volumeL,
    })),
    trace: { moves: own.map(({ t }) => t) },
  };
}

/** A mash that goes over to another vessel is run off there, and boiled where it was mashed. */
function runOffIn(document: PlanDocument, finish: readonly Move[]): PlanDocument {
  const over = finish.find((m) => m.kind === 'return');
  if (!over) return document;
  const vessels = document.kit.vessels.map((v) =>
    v.id === over.to ? { ...v, role: 'lauter-tun' as const } : v,
  );
  const work = { boilIn: [over.from], ...document.day.work };
  return { ...document, kit: { ...document.kit, vessels }, day: { ...document.day, work } };
}

/** The temperature each rest began at, the first after mashing in. */
function landingsOf(day: BrewDay, sized: SizedMash, trace: Trace): number[] {
  const at = new Map(trace.moves.map((m) => [m.id, m]));
  const last = (moves: readonly Move[]): number => {
    for (const m of moves.toReversed()) {
      const t = at.get(m.id);
      const lands = m.kind === 'mash-in' || m.kind === 'return' || m.kind === 'pour';
      const here = t?.vessels.at(-1) === day.restTun.id || m.kind === 'mash-in';
      if (t && here && (lands || (m.kind === 'heat' && m.vessel === day.restTun.id))) return t.toC;
    }
    return Number.NaN;
  };
  return [last(sized.first), ...sized.raises.map((r) => last(r.moves))];
}

/** Loads carried by hand, counted and weighed. */
function liftsOf(day: BrewDay, moves: readonly Move[], trace: Trace): Lifts {
  const byHand = carriedBy(day.kit);
  const planned = new Map(moves.map((m) => [m.id, m]));
  let count = 0;
  let heaviestKg = 0;
  for (const m of trace.moves) {
    const move = planned.get(m.id);
    if (!m.transfer || !move || !('route' in move) || !byHand.has(move.route)) continue;
    const { portions, kg, litres } = m.transfer;
    if (portions === 0 || litres <= 0) continue;
    const route = day.kit.routes.find((r) => r.id === move.route) as { portionL: number };
    count += portions;
    heaviestKg = Math.max(heaviestKg, (kg / litres) * Math.min(litres, route.portionL));
  }
  return { count, heaviestKg };
}

/** Routes whose loads are carried: bucket and ladle. */
function carriedBy(kit: Kit): Set<string> {
  return new Set(
    kit.routes.filter((r) => r.how === 'bucket' || r.how === 'ladle').map((r) => r.id),
  );
}

/**
 * Work, loads, energy and money of one played mash.
 * @param day the day
 * @param moves the moves as planned, for their burners and routes
 * @param trace what came of them
 * @param draw the draw they were played on
 * @param prices what hands and heat are worth
 * @returns an outcome whose finish is the end of the mash; the timetable knows the end of the day
 */
export function outcomeOf(
  day: BrewDay,
  moves: readonly Move[],
  trace: Trace,
  draw: Draw,
  prices: Prices,
): Outcome {
  const planned = new Map(moves.map((m) => [m.id, m]));
  const byHand = carriedBy(day.kit);
  let finishMin = 0;
  let handsBusyMin = 0;
  let carriedKg = 0;
  for (const m of trace.moves) {
    finishMin = Math.max(finishMin, m.endMin);
    handsBusyMin += (m.endMin - m.startMin) * m.hands.length;
    const move = planned.get(m.id);
    if (m.transfer && move && 'route' in move && byHand.has(move.route)) carriedKg += m.transfer.kg;
  }
  const { energyKWh, perKWh } = burnt(day.kit, planned, trace, draw, (kind) =>
    heatPrice(kind, prices),
  );
  const malt = maltCost(day.document.beer.malts, prices) ?? 0;
  return {
    finishH: finishMin / 60,
    handsBusyMin,
    carriedKg,
    energyKWh,
    cost: (handsBusyMin / 60) * prices.perHour + energyKWh * perKWh + malt,
  };
}

/** Kilograms carried from the pots times the minutes they boiled: what colours. */
export function boiledKgMin(trace: Trace): number {
  let sum = 0;
  let minutes = 0;
  for (const m of trace.moves) {
    if (m.kind === 'boil') minutes += m.endMin - m.startMin;
    if (m.kind === 'return' && m.transfer) {
      sum += m.transfer.kg * minutes;
      minutes = 0;
    }
  }
  return sum;
}
