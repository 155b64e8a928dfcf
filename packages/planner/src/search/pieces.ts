/**
 * Pieces: what one raise of a plan takes and gives, from the planner's own sizing and the engine's
 * own heat balance, with the portions of a transfer carried in a few groups. A piece is run at a few
 * nodes of its smooth choices (boil, rest length, liquor, reserve); between them it is a short
 * formula, so that a plan is a sum of pieces.
 */
import { type Draw, NOMINAL, type Situation, type Trace } from '@ladlework/brewhouse';
import { clashesOf } from '../clash.ts';
import { boiledKgMin, outcomeOf, type Recipe } from '../compare/outcome.ts';
import type { Prices } from '../compare/prices.ts';
import { type BrewDay, brewDay } from '../day.ts';
import type { MashRest, PlanDocument, Raise } from '../document.ts';
import { mashEngines } from '../grist.ts';
import { mashInMoves, mashVessel, restMoves, stateIn } from '../moves-of.ts';
import { openingSituation, runMoves, type SizedPull, sizeStrike } from '../size.ts';
import { openLoop, type SizedRaise, sizeMash, sizeRaise } from '../stages.ts';

/** Groups in which portions are carried: three keep the slip between them. */
const GROUPS = 3;

/** What a piece tells; the place of each in its values. */
export const V = {
  /** How far the biggest pull falls short of the rest; below nought: how far it would overshoot [K]. */
  shortK: 0,
  /** Pull to its return without waiting, and return to the end of the rest after it [min]. */
  awayMin: 1,
  afterMin: 2,
  handsMin: 3,
  carriedKg: 4,
  energyKWh: 5,
  /** Water lost, what was poured in taken off [kg]. */
  lostKg: 6,
  /** Boiled mash times minutes [kg min]. */
  boiledKgMin: 7,
  /** Spread of the landing when nothing is read, and what the reserve can put right [K]. */
  doubtK: 8,
  reserveK: 9,
  /** Fullest vessel against its brim. */
  full: 10,
  /** 1: the kit cannot do it however little is wrong. */
  hard: 11,
} as const;
export const VALUES = 12;

/** The smooth choices at which a piece is run. */
export interface Node {
  readonly liquorLPerKg: number;
  readonly restShare: number;
  readonly boilMinutes: number;
  readonly reserve: number;
}

/** What stands where as each raise begins, at one liquor ratio and rest length. */
interface Prefix {
  readonly before: readonly Situation[];
  /** Water lost by each raise of the run it stems from [kg]. */
  readonly lostKg: readonly number[];
}

/**
 * The document of a recipe with its smooth choices made.
 * @param raises the raises in full, or the document's own
 */
export function documentAt(
  document: PlanDocument,
  node: Pick<Node, 'liquorLPerKg' | 'restShare'> & { readonly reserve?: number },
  raises: readonly Raise[] = document.mash.raises,
): PlanDocument {
  const { mash } = document;
  const rests = mash.rests.map(
    (r): MashRest => ({
      ...r,
      minutes: r.minutes * node.restShare,
      ...(r.pullAfterMin === undefined ? {} : { pullAfterMin: r.pullAfterMin * node.restShare }),
    }),
  );
  const reserve = node.reserve ?? mash.reserve;
  return {
    ...document,
    mash: {
      ...mash,
      rests,
      raises,
      liquorLPerKg: node.liquorLPerKg,
      ...(reserve === undefined ? {} : { reserve }),
    },
  };
}

const roughDay = (document: PlanDocument): BrewDay => ({ ...brewDay(document), groups: GROUPS });

/** Runs the pieces of one frame. */
export class PieceMaker {
  private readonly recipe: Recipe;
  private readonly prices: Prices;
  private readonly prefixes = new Map<string, Prefix>();
  private readonly needs = new Map<string, number>();
  private extract: readonly number[] | undefined;

  constructor(recipe: Recipe, prices: Prices) {
    this.recipe = recipe;
    this.prices = prices;
  }

  /**
   * Liquor in, mashed in, and the first rest up to the first raise.
   * @returns values of which only minutes, hands, energy, fullest vessel and `hard` are used
   */
  opening(node: Pick<Node, 'liquorLPerKg' | 'restShare'>): Float64Array {
    const day = roughDay(documentAt(this.recipe.document, node));
    const strike = sizeStrike(day);
    const first = [...mashInMoves(day, strike), ...restMoves(day, 0)];
    const trace = runMoves(day, openingSituation(day), first, NOMINAL, undefined, false);
    const out = new Float64Array(VALUES);
    const work = outcomeOf(day, first, trace, NOMINAL, this.prices);
    const clashes = clashesOf(day, { strike, first, raises: [], moves: first }, trace);
    out[V.shortK] = Number.NEGATIVE_INFINITY;
    out[V.afterMin] = work.finishH * 60;
    out[V.handsMin] = work.handsBusyMin;
    out[V.carriedKg] = work.carriedKg;
    out[V.energyKWh] = work.energyKWh;
    out[V.full] = fullest(day, trace);
    out[V.hard] = clashes.some((c) => c.code !== 'overfull') ? 1 : 0;
    return out;
  }

  /** One raise with the rest after it, at one node. */
  raise(index: number, raise: Raise, node: Node, spread: boolean): Float64Array {
    const raises = this.recipe.document.mash.raises.map((r, i) => (i === index ? raise : r));
    const day = roughDay(documentAt(this.recipe.document, node, raises));
    const before = this.prefix(node).before[index] as Situation;
    const sized = this.sized(day, index, raise, before);
    const isLast = index === raises.length - 1;
    const moves = [...sized.moves, ...sized.after, ...(isLast ? this.recipe.finish : [])];
    const trace = runMoves(day, before, moves, NOMINAL, undefined, false);
    const out = this.valuesOf(day, sized, before, moves, trace);
    if (spread && sized.pull) out[V.doubtK] = landingSpread(day, sized, before);
    return out;
  }

  /** Water each raise of the frame's own run loses [kg]. */
  ownLosses(node: Pick<Node, 'liquorLPerKg' | 'restShare'>): readonly number[] {
    return this.prefix(node).lostKg;
  }

  /** Sizing from the litres of a neighbour, where one is known. */
  private sized(day: BrewDay, index: number, raise: Raise, before: Situation): SizedRaise {
    if (raise.by !== 'decoction') return sizeRaise(day, index, before, NOMINAL);
    const key = `${index} ${JSON.stringify([raise.thickness, raise.pots, raise.boilingLiquorL])}`;
    const sized = sizeRaise(day, index, before, NOMINAL, this.needs.get(key));
    if (sized.reached && sized.pull) this.needs.set(key, sized.pull.needL);
    return sized;
  }

  private valuesOf(
    day: BrewDay,
    sized: SizedRaise,
    before: Situation,
    moves: SizedRaise['moves'],
    trace: Trace,
  ): Float64Array {
    const out = new Float64Array(VALUES);
    const from = mashVessel(day, sized.index);
    const start = stateIn(before, from);
    const work = outcomeOf(day, moves, trace, NOMINAL, this.prices);
    const { pull } = sized;
    const firstBack = trace.moves.findIndex((m) => m.kind === 'return');
    const back = pull ? trace.moves[firstBack] : undefined;
    const startMin = back?.startMin ?? start.clockMin;
    if (back) out[V.awayMin] = boiledBy(trace, firstBack) - start.clockMin;
    out[V.afterMin] = work.finishH * 60 - startMin - heatedBefore(day, sized, trace);
    out[V.handsMin] = work.handsBusyMin;
    out[V.carriedKg] = work.carriedKg;
    out[V.energyKWh] = work.energyKWh;
    out[V.lostKg] = start.waterKg - stateIn(trace.end, day.restTun.id).waterKg;
    out[V.boiledKgMin] = boiledKgMin(trace);
    out[V.full] = fullest(day, trace);
    out[V.hard] = trace.problems.some((p) => HARD.has(p.code)) ? 1 : 0;
    if (!pull) {
      out[V.shortK] = sized.reached ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
      return out;
    }
    const rise = Math.max(0.5, sized.targetC - (back?.fromC ?? sized.targetC - 1));
    const headroom = pull.mostL / pull.needL - 1;
    out[V.shortK] = sized.reached ? -rise * headroom : sized.targetC - pull.landingC;
    const taken = pull.take.loads.reduce((a, b) => a + b, 0) / pull.needL - 1;
    out[V.reserveK] = rise * taken;
    return out;
  }

  /**
   * What stands where as each raise begins. Each rest is taken as reached: a plan that does not
   * reach it is not looked at further.
   */
  private prefix({ liquorLPerKg, restShare }: Pick<Node, 'liquorLPerKg' | 'restShare'>): Prefix {
    const key = `${liquorLPerKg} ${restShare}`;
    const known = this.prefixes.get(key);
    if (known) return known;
    const day = roughDay(documentAt(this.recipe.document, { liquorLPerKg, restShare }));
    this.extract ??= this.dissolved();
    const first = [...mashInMoves(day, sizeStrike(day)), ...restMoves(day, 0)];
    let situation = runMoves(day, openingSituation(day), first, NOMINAL, undefined, false).end;
    const before: Situation[] = [];
    const lostKg: number[] = [];
    day.document.mash.raises.forEach((_, i) => {
      const from = mashVessel(day, i);
      const start = withExtract(situation, from, this.extract?.[i] ?? 0);
      before.push(start);
      const sized = sizeRaise(day, i, start, NOMINAL);
      const raised = runMoves(day, start, sized.moves, NOMINAL, undefined, false).end;
      const landed = atTemperature(raised, day.restTun.id, sized.targetC);
      situation = runMoves(day, landed, sized.after, NOMINAL, undefined, false).end;
      lostKg.push(stateIn(start, from).waterKg - stateIn(situation, day.restTun.id).waterKg);
    });
    const made = { before, lostKg };
    this.prefixes.set(key, made);
    return made;
  }

  /** Share of the dry grist that is dissolved as each raise begins, from one run of the kinetics. */
  private dissolved(): number[] {
    const { document } = this.recipe;
    const day = roughDay(document);
    const engine = mashEngines(document.beer)(ROUGH_KINETICS);
    const sized = sizeMash(day, sizeStrike(day), undefined);
    const shares: number[] = [];
    let situation = runMoves(day, openingSituation(day), sized.first, NOMINAL, engine, false).end;
    for (const r of sized.raises) {
      const { solidsKg, extractKg } = stateIn(situation, mashVessel(day, r.index));
      shares.push(extractKg / Math.max(1e-9, solidsKg + extractKg));
      situation = runMoves(day, situation, [...r.moves, ...r.after], NOMINAL, engine, false).end;
    }
    return shares;
  }
}

/** When the loads before the first return have boiled; the rest beside them may still go on [min]. */
function boiledBy(trace: Trace, firstBack: number): number {
  let endMin = 0;
  for (const m of trace.moves.slice(0, firstBack))
    if (m.kind !== 'rest') endMin = Math.max(endMin, m.endMin);
  return endMin;
}

/** Minutes of heating liquor that fall into the rest before: nobody waits for those. */
function heatedBefore(day: BrewDay, sized: SizedRaise, trace: Trace): number {
  if (sized.raise.by !== 'liquor') return 0;
  // What is kept of a pull stands in the vessel until the rest is over.
  const last = day.document.mash.raises[sized.index - 1];
  if (last?.by === 'decoction' && last.pots.includes(day.liquorVessel.id)) return 0;
  const filled = trace.moves.find((m) => m.kind === 'fill');
  const poured = trace.moves.find((m) => m.kind === 'pour');
  if (!filled || !poured) return 0;
  const rest = day.document.mash.rests[sized.index] as MashRest;
  return Math.min(poured.startMin - filled.startMin, rest.minutes);
}

/** Any draw but NOMINAL: the kinetics then run with the tolerance of the ensemble. */
const ROUGH_KINETICS: Draw = { ...NOMINAL };

/** Faults that a little less of anything does not mend. */
const HARD: ReadonlySet<string> = new Set([
  'never-hot',
  'cannot-hold-boil',
  'empty',
  'headspace',
  'not-enough',
]);

/** Fullest vessel against its brim, over the moves. */
function fullest(day: BrewDay, trace: Trace): number {
  const brims = new Map(day.kit.vessels.map((v) => [v.id, v.brimL]));
  let most = 0;
  for (const m of trace.moves)
    most = Math.max(most, m.volumeL / (brims.get(m.vessels.at(-1) as string) as number));
  return most;
}

function withExtract(situation: Situation, vessel: string, share: number): Situation {
  return {
    ...situation,
    vessels: situation.vessels.map((v) => {
      if (v.vessel !== vessel) return v;
      const dry = v.solidsKg + v.extractKg;
      return { ...v, solidsKg: dry * (1 - share), extractKg: dry * share };
    }),
  };
}

function atTemperature(situation: Situation, vessel: string, tempC: number): Situation {
  return {
    ...situation,
    vessels: situation.vessels.map((v) => (v.vessel === vessel ? { ...v, tempC } : v)),
  };
}

/** Draws that each move one thing by its spread: what the landing hangs on. @source ensemble.ts */
const MOVED: readonly Partial<Draw>[] = [
  { loss: Math.exp(0.55) },
  { surface: Math.exp(0.3) },
  { transfer: Math.exp(0.5) },
  { burner: Math.exp(-0.18) },
  { dip: Math.exp(0.05) },
  { thickness: Math.exp(0.15) },
];

/** Spread of an unread landing over what is uncertain, to first order [K]. */
function landingSpread(day: BrewDay, sized: SizedRaise, before: Situation): number {
  const landing = (draw: Draw) =>
    stateIn(openLoop(day, sized, before, draw).end, day.restTun.id).tempC;
  const likely = (sized.pull as SizedPull).landingC;
  const moved = MOVED.map((m) => landing({ ...NOMINAL, ...m }) - likely);
  return Math.hypot(...moved);
}
