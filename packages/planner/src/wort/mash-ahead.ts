/** The running mash carried to its end, with what was read of it so far. */
import { addMash, GristEngine, mashWort } from '@ladlework/brewhouse';
import { leftOf } from '../live-forecast.ts';
import { bringTo } from '../live-going-on.ts';
import type { DaySession } from '../live-session.ts';
import { asRead, thinned } from '../live-step.ts';
import { stateIn } from '../moves-of.ts';
import { runMoves } from '../size.ts';
import type { MashOutcome } from './plan-types.ts';

/**
 * What the mash that is under way will hand to the lauter tun. The likely day carries the species of
 * the mash; readings have drawn its temperatures to where they were read.
 * @param session the day
 * @param nowMin [min after day start]; before the newest entry counts as that entry's
 * @param planned outcome as planned: its doubt stands, and all of it where the day runs without kinetics
 * @returns outcome from here
 */
export function mashAhead(session: DaySession, nowMin: number, planned: MashOutcome): MashOutcome {
  const at = Math.max(session.lastMin, nowMin);
  let now: DaySession = { ...thinned(session, 1), lastMin: at };
  for (const { id } of session.day.kit.vessels) now = bringTo(now, id, at);
  const { likely, day } = now;
  const engine = likely?.engine;
  if (likely === undefined || !(engine instanceof GristEngine)) return planned;
  const { situation, draw } = likely.particle;
  const moves = leftOf(now, now.moves).map((m) => asRead(m, draw));
  const trace = runMoves(day, situation, moves, draw, engine, false);
  const all = engine.empty();
  for (const state of trace.end.vessels) if (state.mash) addMash(all, state.mash);
  const results = engine.results(all);
  if (!(results.extractKg > 0)) return planned;
  return {
    likely: mashWort(results),
    sd: planned.sd,
    endMin: trace.moves.reduce((end, m) => Math.max(end, m.endMin), Math.min(at, planned.endMin)),
    tempC: stateIn(trace.end, day.restTun.id).tempC,
  };
}
