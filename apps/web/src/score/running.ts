/**
 * A running day as one score: what happened up to now, what is likely after it, and the plan
 * behind both. Pure.
 */
import type { Kit, Move, VesselCurve } from '@ladlework/brewhouse';
import { type Say, vesselsOf } from '@ladlework/brewhouse';
import type { BrewState, MoveState } from '@ladlework/log';
import type { DayAhead, MashBand, Plan } from '@ladlework/planner';
import { type ScoreModel, type ScoreMove, type ScoreTrace, scoreModel } from './model.ts';
import { curveAt } from './trace-at.ts';

export interface RunningDay {
  readonly kit: Kit;
  readonly plan: Plan;
  readonly brew: BrewState;
  readonly history: readonly VesselCurve[];
  readonly ahead: DayAhead;
  /** The mash of each vessel, behind and ahead. */
  readonly mashBands: readonly MashBand[];
  readonly nowMin: number;
}

/**
 * @param day what is known of the running day
 * @param say how quantities are written into the score
 */
export function runningScore(day: RunningDay, say: Say): ScoreModel {
  const { kit, plan } = day;
  const overMin = mashOverMin(day);
  if (overMin !== undefined && overMin < day.nowMin) return runningScore(until(day, overMin), say);
  const moves = plan.moves.map((m) => m.move);
  const going = scoreModel(kit, moves, runningTrace(day), day.ahead.curveBands, say, day.mashBands);
  const planned = scoreModel(kit, moves, plan.trace, [], say);
  return {
    ...going,
    fromMin: Math.min(going.fromMin, planned.fromMin),
    staves: going.staves.map((stave) => {
      const behind = planned.staves.find((s) => s.vessel === stave.vessel);
      if (behind === undefined) return stave;
      return {
        ...stave,
        behind: behind.stretches,
        lowC: Math.min(stave.lowC, behind.lowC),
        highC: Math.max(stave.highC, behind.highC),
      };
    }),
  };
}

/** When the last move of a mash that is over was done [min]. */
function mashOverMin({ plan, brew }: RunningDay): number | undefined {
  const done = new Map(brew.moves.map((m) => [m.moveId, m.doneAtMs]));
  const ends = plan.moves.map(({ move }) => done.get(move.id));
  if (brew.startedAtMs === undefined || ends.includes(undefined)) return undefined;
  return (Math.max(...ends.map(Number)) - brew.startedAtMs) / 60_000;
}

/** What is known of a day up to a minute: what stands there after its mash is no mash any more. */
function until(day: RunningDay, minute: number): RunningDay {
  const history = day.history.map((c): VesselCurve => {
    const upTo = <T>(list: readonly T[]) => list.filter((_, i) => (c.timeMin[i] ?? 0) <= minute);
    return {
      ...c,
      timeMin: upTo(c.timeMin),
      tempC: upTo(c.tempC),
      volumeL: upTo(c.volumeL),
    };
  });
  return { ...day, history, nowMin: minute };
}

/** History and forecast joined at now, as one trace. */
export function runningTrace(day: RunningDay): ScoreTrace {
  const { ahead, history, plan } = day;
  const curves = history.map((past) => {
    const next = ahead.trace.curves.find((c) => c.vessel === past.vessel);
    // A vessel nothing more happens to has one point ahead; it adds no line.
    if (next === undefined || next.timeMin.length < 2) return past;
    return {
      vessel: past.vessel,
      timeMin: [...past.timeMin, ...next.timeMin],
      tempC: [...past.tempC, ...next.tempC],
      volumeL: [...past.volumeL, ...next.volumeL],
    };
  });
  const moves = plan.moves.flatMap(({ move }): ScoreMove[] => {
    const log = day.brew.moves.find((m) => m.moveId === move.id);
    const next = ahead.trace.moves.find((m) => m.id === move.id);
    const past = log === undefined ? undefined : pastMove(move, log, day);
    if (past === undefined) return next === undefined ? [] : [next];
    if (next === undefined || log?.doneAtMs !== undefined) return [past];
    // Under way: begun when it was begun, ending when it is likely to.
    return [{ ...next, startMin: past.startMin, fromC: past.fromC }];
  });
  return { moves: moves.map((m) => ({ ...m, endMin: Math.max(m.endMin, m.startMin) })), curves };
}

function pastMove(move: Move, log: MoveState, day: RunningDay): ScoreMove | undefined {
  const start = day.brew.startedAtMs;
  const at = log.begunAtMs ?? log.doneAtMs;
  if (start === undefined || at === undefined) return undefined;
  const minute = (ms: number) => (ms - start) / 60_000;
  const startMin = minute(at);
  const endMin = log.doneAtMs === undefined ? day.nowMin : minute(log.doneAtMs);
  const [acted = '', giving] = vesselsOf(move);
  const temp = (vessel: string, atMin: number) => {
    const curve = day.history.find((c) => c.vessel === vessel);
    return curve === undefined ? 0 : curveAt(curve, atMin);
  };
  const toC = temp(acted, endMin);
  return {
    id: move.id,
    kind: move.kind,
    vessels: vesselsOf(move),
    hands: move.hands,
    startMin,
    endMin,
    fromC: temp(acted, startMin),
    toC,
    ...(giving !== undefined && {
      transfer: { sourceC: temp(giving, startMin), landingC: toC },
    }),
  };
}
