/** The rest of the day from what stands there now. */
import { type Move, simulate, type Trace } from '@ladlework/brewhouse';
import { band } from '@ladlework/numerics';
import { dayOptions } from './day.ts';
import type { DayForecast, MoveForecast } from './live.ts';
import { allTo } from './live-going-on.ts';
import type { DaySession } from './live-session.ts';
import { asRead, isTransfer, leftL, type Particle, touchedBy } from './live-step.ts';

/**
 * The moves of the plan that are still to come, what is under way shortened by what is over.
 * @param session the day
 * @param nowMin [min after day start]
 */
export function remainingMoves(session: DaySession, nowMin: number): Move[] {
  return remainingOf(allTo(session, nowMin));
}

/** The same for a session that was brought to now. */
export function remainingOf(now: DaySession): Move[] {
  return leftOf(now, now.moves);
}

/** What is left of some moves in a session that was brought to now. */
export function leftOf(now: DaySession, moves: readonly Move[]): Move[] {
  const left: Move[] = [];
  for (const move of moves) {
    if (now.finished.has(move.id)) continue;
    const state = now.underway.get(move.id);
    const rest = state ? remainderOf(now, move, state.begunMin, state.started) : move;
    if (rest) left.push({ ...rest, earliestMin: Math.max(now.lastMin, rest.earliestMin ?? 0) });
  }
  return left;
}

function remainderOf(
  now: DaySession,
  move: Move,
  begunMin: number,
  started: boolean,
): Move | undefined {
  if (move.kind === 'heat') return move;
  if (isTransfer(move)) {
    if (move.litres === undefined) return move;
    let litres = 0;
    for (const p of now.particles) litres += leftL(p, move) / p.draw.dip / now.particles.length;
    return litres > 0.5 ? { ...move, litres } : undefined;
  }
  const minutes = Math.max(0, begunMin + move.minutes - now.lastMin);
  // The content of a fill or a mash-in is in; what is left of it is standing.
  if (['fill', 'mash-in', 'preheat', 'rinse'].includes(move.kind) && started)
    return {
      id: move.id,
      kind: 'wait',
      vessel: touchedBy(move).at(-1) as string,
      minutes,
      lidOn: false,
      hands: move.hands,
    };
  return { ...move, minutes };
}

/**
 * The rest of the day, re-timed from what stands there now.
 * @param session the day
 * @param nowMin [min after day start]
 * @param remaining moves still to come; left out: those of the plan
 * @returns bands over the ensemble; the brewer stops returns where the thermometer shows the target
 */
export function forecastDay(
  session: DaySession,
  nowMin: number,
  remaining?: readonly Move[],
): DayForecast {
  const now = allTo(session, nowMin);
  const moves = remaining ?? leftOf(now, now.moves);
  if (moves.length === 0) return { moves: [], mashEndMin: band([now.lastMin]) };
  const traces = now.particles.map((p) => play(now, p, moves));
  const of = (read: (trace: Trace) => number) => band(traces.map(read));
  const rows: MoveForecast[] = moves.map((move, i) => ({
    moveId: move.id,
    startMin: of((t) => t.moves[i]?.startMin ?? Number.NaN),
    endMin: of((t) => t.moves[i]?.endMin ?? Number.NaN),
    fromC: of((t) => t.moves[i]?.fromC ?? Number.NaN),
    toC: of((t) => t.moves[i]?.toC ?? Number.NaN),
  }));
  return {
    moves: rows,
    mashEndMin: of((t) => t.moves.reduce((end, m) => Math.max(end, m.endMin), 0)),
  };
}

/** Plays moves on one particle with the kit's own clocks; heat and mass only. */
export function play(now: DaySession, particle: Particle, moves: readonly Move[]): Trace {
  const read = moves.map((m) => asRead(m, particle.draw));
  return simulate(now.day.kit, particle.situation, read, dayOptions(now.day, particle.draw));
}
