/** What a way of brewing costs and gives, on the likely kit and on every draw of it. */
import { type Draw, type GristEngine, type Move, NOMINAL, type Trace } from '@ladlework/brewhouse';
import { burnt } from '../burnt.ts';
import { clashesOf } from '../clash.ts';
import { type BrewDay, brewDay } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { mashEngines } from '../grist.ts';
import type { Clash, WortForecast } from '../plan.ts';
import { openingSituation, runMoves, sizeStrike } from '../size.ts';
import { sizeMash } from '../stages.ts';
import { type Wort, wortForecast } from '../wort.ts';
import { heatPrice, maltCost, type Prices } from './prices.ts';

/** One way on one draw. */
export interface Outcome {
  /** Start of the day to the end of the mash [h]. */
  readonly finishH: number;
  /** Minutes of work, each pair of hands counted [min]. */
  readonly handsBusyMin: number;
  /** Mash and liquor moved by bucket or ladle [kg]; what a pump or a fall moves is not carried. */
  readonly carriedKg: number;
  /** What the burners took in [kWh]. */
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
}

/**
 * Plays a way on the likely kit and, where nothing clashes, on every draw.
 * @param recipe plan document and the moves after it
 * @param draws the same list for every way that is to be compared
 * @param prices what hands and heat are worth
 * @returns its clashes, or one outcome and one wort a draw
 * @throws UnknownName when the document names what its kit does not have
 */
export function playWay(recipe: Recipe, draws: readonly Draw[], prices: Prices): Played {
  const day = brewDay(recipe.document);
  const engines = mashEngines(recipe.document.beer);
  const likely = engines(NOMINAL);
  const sized = sizeMash(day, sizeStrike(day), likely);
  const moves = [...sized.moves, ...recipe.finish];
  const opening = openingSituation(day);
  const play = (draw: Draw, engine: GristEngine): Trace =>
    runMoves(day, opening, moves, draw, engine, false);
  const clashes = clashesOf(day, sized, play(NOMINAL, likely));
  if (clashes.length > 0) return { clashes, outcomes: [], worts: [], wort: undefined };
  const outcomes: Outcome[] = [];
  const worts: Wort[] = [];
  for (const draw of draws) {
    const engine = engines(draw);
    const trace = play(draw, engine);
    outcomes.push(outcomeOf(day, moves, trace, draw, prices));
    worts.push(...wortForecast.sample(day, engine, trace));
  }
  return { clashes, outcomes, worts, wort: wortForecast.of(day, worts) };
}

/**
 * Time, work, loads, energy and money of one played day.
 * @param day the day
 * @param moves the moves as planned, for their burners and routes
 * @param trace what came of them
 * @param draw the draw they were played on
 * @param prices what hands and heat are worth
 */
export function outcomeOf(
  day: BrewDay,
  moves: readonly Move[],
  trace: Trace,
  draw: Draw,
  prices: Prices,
): Outcome {
  const planned = new Map(moves.map((m) => [m.id, m]));
  const byHand = new Set(
    day.kit.routes.filter((r) => r.how === 'bucket' || r.how === 'ladle').map((r) => r.id),
  );
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
