/**
 * The mash as stages: mash-in with its first rest, then one stage per raise with the rest after
 * it. Stages are sized one after the other, each from what the one before leaves behind.
 */
import {
  type Draw,
  type MashEngine,
  type Move,
  NOMINAL,
  type Situation,
  simulate,
  type Trace,
} from '@ladlework/brewhouse';
import { findRoot, secant } from '@ladlework/numerics';
import { type BrewDay, type Decoction, dayOptions, FAST_K_PER_MIN, SLOW_K_PER_MIN } from './day.ts';
import type { Raise } from './document.ts';
import { restWithKeptBack } from './kept-back.ts';
import {
  boilingLiquorMoves,
  decoctionMoves,
  directHeatMoves,
  mashInMoves,
  mashVessel,
  type ParkedPull,
  restMoves,
  type Strike,
  stateIn,
} from './moves-of.ts';
import {
  isKettleMash,
  openingSituation,
  parked,
  runMoves,
  type SizedPull,
  sizePull,
} from './size.ts';

/** One raise, sized. */
export interface SizedRaise {
  readonly index: number;
  readonly raise: Raise;
  readonly targetC: number;
  /** For a decoction. */
  readonly pull?: SizedPull;
  readonly parkL?: ParkedPull;
  /** For liquor: litres to pour [L]. */
  readonly liquorL?: number;
  /** Moves of the raise itself, reserve held back. */
  readonly moves: readonly Move[];
  /** Rest after it, and the reserve going back at its end. */
  readonly after: readonly Move[];
  /** Can the kit do it as asked? */
  readonly reached: boolean;
}

export interface SizedMash {
  readonly strike: Strike;
  readonly first: readonly Move[];
  readonly raises: readonly SizedRaise[];
  /** Every move of the day's mash in order. */
  readonly moves: readonly Move[];
}

/**
 * Sizes the whole mash for one draw, each stage from the predicted end of the one before.
 * @param day the day
 * @param strike strike liquor
 * @param engine mash kinetics for what is dissolved at each pull
 * @param draw default the likely values
 */
export function sizeMash(
  day: BrewDay,
  strike: Strike,
  engine: MashEngine | undefined,
  draw: Draw = NOMINAL,
): SizedMash {
  const first = [...mashInMoves(day, strike), ...restMoves(day, 0)];
  let situation = runMoves(day, openingSituation(day), first, draw, engine, false).end;
  const raises: SizedRaise[] = [];
  for (let index = 0; index < day.document.mash.raises.length; index++) {
    const sized = sizeRaise(day, index, situation, draw);
    raises.push(sized);
    situation = runMoves(day, situation, [...sized.moves, ...sized.after], draw, engine, false).end;
  }
  return {
    strike,
    first,
    raises,
    moves: [...first, ...raises.flatMap((r) => [...r.moves, ...r.after])],
  };
}

/** Sizes one raise from what stands there; a pull from a guess of its litres, where there is one. */
export function sizeRaise(
  day: BrewDay,
  index: number,
  before: Situation,
  draw: Draw,
  guessL?: number,
): SizedRaise {
  const raise = day.document.mash.raises[index] as Raise;
  const targetC = (day.document.mash.rests[index + 1] as { tempC: number }).tempC;
  const rest = restMoves(day, index + 1);
  if (raise.by === 'decoction') {
    const pull = sizePull(day, index, raise, before, draw, guessL);
    const takeL = pull.take.loads.reduce((a, b) => a + b, 0);
    const parkL = isKettleMash(day, index) ? parked(day, before, raise, takeL, draw) : undefined;
    return {
      index,
      raise,
      targetC,
      pull,
      ...(parkL ? { parkL } : {}),
      moves: decoctionMoves(day, index, raise, pull.loads, pull.take, parkL),
      after: restWithKeptBack(day, index, pull.loads),
      reached: pull.reached,
    };
  }
  if (raise.by === 'direct-heat') {
    const moves = directHeatMoves(day, index, targetC, raise.maxKPerMin ?? SLOW_K_PER_MIN);
    return { index, raise, targetC, moves, after: rest, reached: moves.length > 0 };
  }
  const need = sizeLiquor(day, index, before, targetC, raise.tempC, draw);
  return {
    index,
    raise,
    targetC,
    liquorL: need.litres,
    moves: boilingLiquorMoves(day, `${index + 1}`, need.litres * 1.1, targetC, raise.tempC),
    after: rest,
    reached: need.reached,
  };
}

/** Litres of hot liquor that raise the mash to its next rest, by simulation. */
export function sizeLiquor(
  day: BrewDay,
  index: number,
  before: Situation,
  targetC: number,
  liquorC: number | undefined,
  draw: Draw,
): { readonly litres: number; readonly reached: boolean } {
  const tun = mashVessel(day, index);
  const miss = (litres: number) => {
    const moves = boilingLiquorMoves(day, 'x', Math.max(0.1, litres), undefined, liquorC);
    return (
      stateIn(simulate(day.kit, before, moves, dayOptions(day, draw)).end, tun).tempC - targetC
    );
  };
  const state = stateIn(before, tun);
  const hot = liquorC ?? day.boilC;
  const rise = Math.max(0, targetC - state.tempC);
  const guess = Math.max(
    1,
    ((state.waterKg + 0.4 * state.solidsKg) * rise) / Math.max(5, hot - targetC),
  );
  const near = secant(miss, guess, guess * 1.2, { fTolerance: 0.01, maxEvaluations: 10 });
  if (near.ok && near.x > 0) return { litres: near.x, reached: true };
  const root = findRoot(miss, 0.5, day.tun.brimL * 2, { fTolerance: 0.01 });
  return root.ok ? { litres: root.x, reached: true } : { litres: guess, reached: false };
}

/** What one draw does with the plan as sized: the day played without knowing the draw. */
export interface PlayedRaise {
  readonly before: Situation;
  /** Pull to return with exactly the need, unread. */
  readonly open?: Trace;
  /** The same with the reserve, stopped at the target. */
  readonly guided: Trace;
}

/**
 * Plays a sized mash on one draw: the brewer follows the plan and stops returns at the target.
 * @returns the trace of every stage, and the whole day's moves
 */
export function playMash(
  day: BrewDay,
  sized: SizedMash,
  draw: Draw,
  engine: MashEngine | undefined,
  curves: boolean,
): {
  readonly first: Trace;
  readonly raises: readonly PlayedRaise[];
  readonly stages: readonly Trace[];
} {
  const first = runMoves(day, openingSituation(day), sized.first, draw, engine, curves);
  const stages: Trace[] = [first];
  const raises: PlayedRaise[] = [];
  let situation = first.end;
  for (const r of sized.raises) {
    const open = r.pull ? openLoop(day, r, situation, draw) : undefined;
    const guided = runMoves(day, situation, [...r.moves, ...r.after], draw, engine, curves);
    raises.push({ before: situation, guided, ...(open ? { open } : {}) });
    stages.push(guided);
    situation = guided.end;
  }
  return { first, raises, stages };
}

/** Pull to return with exactly the planned need and nothing read. */
export function openLoop(day: BrewDay, sized: SizedRaise, before: Situation, draw: Draw): Trace {
  const pull = sized.pull as SizedPull;
  const raise = sized.raise as Decoction;
  const needL = pull.needL;
  const park = sized.parkL ? parked(day, before, raise, needL, NOMINAL) : undefined;
  const moves = decoctionMoves(day, sized.index, raise, pull.loads, pull.need, park);
  return simulate(day.kit, before, moves, dayOptions(day, draw));
}

/** Fastest a mash is heated directly [K/min]. */
export const DIRECT_HEAT_LIMIT = FAST_K_PER_MIN;
