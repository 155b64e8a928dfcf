/** What goes on in the vessels between entries: what was tapped, what follows, what was forgotten. */
import type { Move } from '@ladlework/brewhouse';
import { band } from '@ladlework/numerics';
import { type DaySession, each, setFinished, setUnderway, shownBy } from './live-session.ts';
import { BY_ITSELF, clockOf, isTransfer, type Particle, touchedBy, vesselIn } from './live-step.ts';
import { putRight } from './miss/kit-left.ts';
import type { Band } from './plan.ts';

/** Plays what must have come before a move and was never tapped, so that it ends by then. */
export function catchUp(session: DaySession, move: Move, at: number): DaySession {
  const index = session.moves.indexOf(move);
  const mine = new Set(touchedBy(move));
  let now = session;
  for (const earlier of session.moves.slice(0, Math.max(0, index))) {
    if (now.finished.has(earlier.id) || !touchedBy(earlier).some((v) => mine.has(v))) continue;
    now = catchUp(now, earlier, at);
    now = playForgotten(now, earlier, at);
    now = setFinished(now, earlier.id, at);
  }
  return now;
}

/**
 * A move nobody tapped the end of: it took what it takes, and ended in time for what came after.
 */
function playForgotten(session: DaySession, move: Move, at: number): DaySession {
  const { stepper, underway } = session;
  const state = underway.get(move.id);
  if (isTransfer(move) && (state?.portions ?? 0) === 0)
    return each(session, (p, engine) => {
      const done = stepper.complete(p, move, undefined, engine);
      return clockOf(done, move) <= at ? done : stepper.complete(p, move, at, engine);
    });
  if (move.kind === 'heat')
    return each(session, (p, engine) => {
      const maxMinutes = at - clockOf(p, move);
      if (maxMinutes <= 0) return p;
      return stepper.run(p, [{ ...move, hands: [], earliestMin: 0, maxMinutes }], engine);
    });
  return carryTo(session, move, at);
}

/** Carries a move on to a minute, no further than its planned length when nobody tapped it. */
function carryTo(session: DaySession, move: Move, at: number): DaySession {
  const state = session.underway.get(move.id);
  if (isTransfer(move) && (state?.portions ?? 0) > 0)
    return each(session, (p, engine) =>
      touchedBy(move).reduce((q, v) => session.stepper.pass(q, v, at, engine), p),
    );
  const carried = each(session, (p, engine) => {
    const began = state?.begunMin ?? clockOf(p, move);
    const planned = state?.tapped || !('minutes' in move) ? at : began + move.minutes;
    return session.stepper.carryOn(p, move, state?.started ?? false, Math.min(at, planned), engine);
  });
  const begunMin = state?.begunMin ?? clockOf(session.particles[0] as Particle, move);
  return setUnderway(carried, {
    tapped: false,
    portions: 0,
    ...state,
    moveId: move.id,
    begunMin,
    started: true,
  });
}

/** What is going on in a vessel: what was tapped, or what follows by itself. */
function goingOn(session: DaySession, vessel: string): Move | undefined {
  for (const move of session.moves)
    if (session.underway.has(move.id) && touchedBy(move).includes(vessel)) return move;
  const next = session.moves.find(
    (m) => !session.finished.has(m.id) && touchedBy(m).includes(vessel),
  );
  if (!next || !BY_ITSELF.has(next.kind)) return undefined;
  // Only after something was done here: before that the vessel waits for its day to begin.
  const index = session.moves.indexOf(next);
  const before = session.moves.slice(0, index).filter((m) => touchedBy(m).includes(vessel));
  return before.length > 0 ? next : undefined;
}

/** The session with one vessel, and what is going on in it, brought to a minute. */
export function bringTo(session: DaySession, vessel: string, at: number): DaySession {
  const move = goingOn(session, vessel);
  const carried = move ? carryTo(session, move, at) : session;
  return each(carried, (p, engine) => session.stepper.pass(p, vessel, at, engine));
}

/** Where every vessel stands at a minute. */
export interface VesselNow {
  readonly vessel: string;
  readonly tempC: Band;
  readonly volumeL: Band;
}

/**
 * Every vessel as it stands at a minute, from the entries so far.
 * @param session the day
 * @param nowMin [min after day start], not before the newest entry
 */
export function vesselsNow(session: DaySession, nowMin: number): VesselNow[] {
  const now = allTo(session, nowMin);
  return session.day.kit.vessels.map(({ id }) => ({
    vessel: id,
    tempC: band(now.particles.map((p) => vesselIn(p, id).tempC)),
    volumeL: band(shownBy(now, id, 'volume')),
  }));
}

/** Every vessel brought to a minute, without the kinetics: heat and mass do not wait for them. */
export function allTo(session: DaySession, nowMin: number): DaySession {
  const at = Math.max(session.lastMin, nowMin);
  let now: DaySession = { ...session, likely: undefined, doubted: [], lastMin: at };
  for (const { id } of session.day.kit.vessels) now = bringTo(now, id, at);
  // What is looked at from here is to come: a move that needs what is out waits for it.
  return session.troubles.told.length > 0 ? putRight(now) : now;
}
