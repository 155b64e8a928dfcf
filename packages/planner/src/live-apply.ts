/**
 * The running day as a fold: one entry, in the order of time, carries every particle on. Taps say
 * when things really happened, readings draw the ensemble toward what was read.
 */
import type { Move } from '@ladlework/brewhouse';
import { band } from '@ladlework/numerics';
import type { DayEntry, Reading } from './live.ts';
import { assimilate, expectedOf, type Observation } from './live-assimilate.ts';
import { bringTo, catchUp } from './live-going-on.ts';
import { mendMoves } from './live-mend.ts';
import {
  handRead,
  isEmpty,
  isStuck,
  probeObservation,
  settled,
  standsSince,
  stuckText,
  unmixed,
  withProbe,
} from './live-probe.ts';
import {
  type DaySession,
  each,
  errorOf,
  minuteOf,
  moveOf,
  setFinished,
  setUnderway,
  shownBy,
  type Underway,
  withParticles,
} from './live-session.ts';
import {
  BY_ITSELF,
  clockOf,
  isTransfer,
  type Particle,
  type TransferMove,
  touchedBy,
  vesselIn,
  withClock,
} from './live-step.ts';
import { applyMiss } from './miss/troubles.ts';
import type { Band } from './plan.ts';

/** Tap of a thumb against what happened, and a share of a heat-up or a carrying [min, share]. */
const TAP_MIN = 1;
const HEAT_SHARE = 0.05;
const CARRY_SHARE = 0.15;
/** A move whose beginning nobody tapped may have begun this much later than it could [min]. */
const UNTAPPED_MIN = 3;

/**
 * The session after one more entry.
 * @param session not changed
 * @param entry not earlier than the session's newest by more than rounding; an earlier one is
 *   taken as of now (`keepDay` sorts them)
 * @returns a new session; an entry that does not fit is in its `questioned`
 * @throws RangeError when a reading is not a number or has no standard error
 */
export function applyEntry(session: DaySession, entry: DayEntry): DaySession {
  const at = Math.max(session.lastMin, minuteOf(entry));
  const now = { ...session, lastMin: at };
  switch (entry.kind) {
    case 'begun':
      return begin(now, entry.moveId, at);
    case 'portions':
      return addPortions(now, entry, at);
    case 'done':
      return finish(now, entry, at);
    case 'reading':
      return read(now, entry, at);
    case 'mend':
      return mend(now, entry, at);
    case 'miss':
    case 'miss-over':
      return applyMiss(now, entry, at);
  }
}

function begin(session: DaySession, moveId: string, at: number): DaySession {
  const move = moveOf(session, moveId);
  if (!move || session.finished.has(moveId) || session.underway.get(moveId)?.tapped) return session;
  const ready = catchUp(session, move, at);
  const waited = each(ready, (p, engine) =>
    touchedBy(move).reduce((q, v) => ready.stepper.pass(q, v, at, engine), p),
  );
  const seen =
    move.kind === 'boil' ? each(waited, (p) => atTheBoil(waited, p, move.vessel)) : waited;
  return setUnderway(seen, { moveId, begunMin: at, tapped: true, started: false, portions: 0 });
}

/** Whoever taps that it boils has seen it boil. */
function atTheBoil(session: DaySession, particle: Particle, vessel: string): Particle {
  const { stepper } = session;
  const burner = session.day.kit.burners.find((b) => b.heats.includes(vessel));
  if (!burner) return particle;
  const up = stepper.run(particle, [
    { id: 'up', kind: 'heat', vessel, burner: burner.id, to: 'boil', lidOn: false, hands: [] },
  ]);
  return withClock(up, vessel, vesselIn(particle, vessel).clockMin);
}

function addPortions(
  session: DaySession,
  entry: Extract<DayEntry, { kind: 'portions' }>,
  at: number,
): DaySession {
  const move = moveOf(session, entry.moveId);
  if (!move || !isTransfer(move)) return session;
  const begun = session.underway.has(move.id) || session.finished.has(move.id);
  const open = begun ? session : begin(session, move.id, at);
  const state = open.underway.get(move.id);
  const carried = each(open, (p, engine) => {
    const landed = open.stepper.portions(p, move, entry.portions, at, engine);
    return touchedBy(move).reduce((q, v) => open.stepper.pass(q, v, at, engine), landed);
  });
  if (!state) return carried;
  return setUnderway(carried, {
    ...state,
    started: true,
    portions: state.portions + entry.portions,
    lastPortionMin: at,
  });
}

function finish(
  session: DaySession,
  entry: Extract<DayEntry, { kind: 'done' }>,
  at: number,
): DaySession {
  const move = moveOf(session, entry.moveId);
  if (!move || session.finished.has(entry.moveId)) return session;
  const ready = session.underway.has(move.id) ? session : catchUp(session, move, at);
  const state = ready.underway.get(move.id);
  return setFinished(finishMove(ready, move, state, entry, at), move.id, at);
}

function finishMove(
  session: DaySession,
  move: Move,
  state: Underway | undefined,
  entry: DayEntry,
  at: number,
): DaySession {
  const { stepper } = session;
  if (isTransfer(move)) return finishTransfer(session, move, state, at);
  if (move.kind === 'heat') return finishHeat(session, move, state, entry, at);
  const started = state?.started ?? false;
  return each(session, (particle, engine) => {
    const p = move.kind === 'boil' ? atTheBoil(session, particle, move.vessel) : particle;
    // Hands began it no earlier than they had to, when nobody tapped that they did.
    const waited =
      state || BY_ITSELF.has(move.kind) || !('minutes' in move)
        ? p
        : touchedBy(move).reduce((q, v) => stepper.pass(q, v, at - move.minutes, engine), p);
    return stepper.carryOn(waited, move, started, at, engine);
  });
}

function finishTransfer(
  session: DaySession,
  move: TransferMove,
  state: Underway | undefined,
  at: number,
): DaySession {
  const { stepper } = session;
  if ((state?.portions ?? 0) > 0)
    return each(session, (p, engine) =>
      touchedBy(move).reduce((q, v) => stepper.pass(q, v, at, engine), p),
    );
  if (!state?.tapped) return each(session, (p, engine) => stepper.completeBy(p, move, at, engine));
  const began = clockOf(session.particles[0] as Particle, move);
  const natural = Float64Array.from(session.particles, (p) => {
    const end = stepper.complete(p, move, undefined);
    return clockOf(end, move) - clockOf(p, move);
  });
  const took = at - began;
  const carried = each(session, (p, engine) => stepper.complete(p, move, at, engine));
  if (!(took > 0)) return carried;
  return learn(carried, {
    shown: natural,
    value: took,
    sd: Math.hypot(TAP_MIN, CARRY_SHARE * took),
  });
}

/** Takes an observation unless it lies so far out that it must mean something else. */
function learn(session: DaySession, seen: Observation): DaySession {
  if (session.particles.length < 2 || expectedOf(seen).questioned) return session;
  const after = assimilate(session.day, session.particles, seen);
  return withParticles(session, after.particles, after.bookedKJ);
}

/**
 * A heat-up that is done has reached what it was to reach: how long that took tells the burner's
 * kilowatts. When no burner of the ensemble could have taken that long or been that quick, it was
 * stopped early or left alone, and the burner is simply run to its end.
 */
function finishHeat(
  session: DaySession,
  move: Extract<Move, { kind: 'heat' }>,
  state: Underway | undefined,
  entry: DayEntry,
  at: number,
): DaySession {
  const { stepper } = session;
  const heated = each(session, (p, engine) =>
    stepper.run(p, [{ ...move, hands: [], earliestMin: 0 }], engine),
  );
  const shown = Float64Array.from(heated.particles, (p) => clockOf(p, move));
  const took = at - (state?.begunMin ?? clockOf(session.particles[0] as Particle, move));
  const late = state?.tapped ? TAP_MIN : UNTAPPED_MIN;
  const seen = { shown, value: at, sd: Math.hypot(late, HEAT_SHARE * took) };
  const expected = expectedOf(seen);
  if (expected.questioned) {
    const run = each(session, (p, engine) => stepper.carryOn(p, move, true, at, engine));
    const ends = band(shown);
    const text = `${move.note ?? move.id}: done at minute ${at.toFixed(0)}, expected ${ends.low.toFixed(0)} to ${ends.high.toFixed(0)}. Read the temperature`;
    return { ...run, questioned: [...run.questioned, { entry, expected: ends, text }] };
  }
  const told = learn(heated, seen);
  return each(told, (p) => withClock(p, move.vessel, at));
}

function read(
  session: DaySession,
  entry: Extract<DayEntry, { kind: 'reading' }>,
  at: number,
): DaySession {
  const { reading, confirmed } = entry;
  if (!Number.isFinite(reading.value) || !(reading.sd > 0))
    throw new RangeError(
      `reading of ${reading.vessel}: value ${reading.value} and sd ${reading.sd} must be numbers, sd above 0`,
    );
  if (reading.what !== 'temp' && reading.what !== 'volume') return session;
  if (!session.day.kit.vessels.some((v) => v.id === reading.vessel)) return session;
  if (reading.probe) return readProbe(session, entry, reading.probe, at);
  const here = bringTo(session, reading.vessel, at);
  const seen = observationOf(here, reading);
  const expected = expectedOf(seen);
  if (expected.questioned && !confirmed) {
    const ends = band(seen.shown);
    return {
      ...here,
      questioned: [
        ...here.questioned,
        { entry, expected: ends, text: questionText(here, reading, ends) },
      ],
    };
  }
  const told = { ...here, readings: here.readings + 1 };
  const lastReading = new Map(here.lastReading).set(reading.vessel, reading);
  if (here.particles.length < 2) return { ...told, lastReading };
  const after = assimilate(here.day, here.particles, seen);
  return handRead(
    withParticles({ ...told, lastReading }, after.particles, after.bookedKJ),
    reading,
  );
}

/** A probe's reading: not while content moves, with what the probe is off as one more unknown. */
function readProbe(
  session: DaySession,
  entry: Extract<DayEntry, { kind: 'reading' }>,
  probe: NonNullable<Reading['probe']>,
  at: number,
): DaySession {
  const { reading } = entry;
  if (!entry.confirmed && unmixed(session, reading.vessel, at)) return session;
  const here = withProbe(bringTo(session, reading.vessel, at), probe);
  if (isEmpty(here, reading.vessel)) return here;
  const seen = probeObservation(here, reading, probe.id);
  const stood = standsSince(here, reading, probe.id);
  const known = { ...here, standing: new Map(here.standing).set(probe.id, stood) };
  const stuck = reading.what === 'temp' && isStuck(stood);
  if (!entry.confirmed && (stuck || expectedOf(seen).questioned)) {
    const ends = band(seen.shown);
    const text = stuck
      ? stuckText(here, reading, stood)
      : questionText(here, reading, ends, 'Look at it, or read by hand');
    const question = { entry, expected: ends, text, ...(stuck && { stuck }) };
    return { ...known, questioned: [...known.questioned, question] };
  }
  const told = { ...known, readings: here.readings + 1 };
  if (here.particles.length < 2) return told;
  const after = assimilate(here.day, here.particles, seen);
  const moved = withParticles(told, after.particles, after.bookedKJ);
  return entry.confirmed ? handRead(moved, reading) : settled(moved, probe.id);
}

function observationOf(session: DaySession, reading: Reading): Observation {
  const what = reading.what as 'temp' | 'volume';
  return {
    shown: shownBy(session, reading.vessel, what),
    value: reading.value,
    sd: errorOf(session, reading.vessel, what, reading.sd),
    ...(what === 'temp' ? { vessel: reading.vessel } : {}),
  };
}

function questionText(
  session: DaySession,
  reading: Reading,
  expected: Band,
  advice = 'Stir, read again, or keep it',
): string {
  const name = session.day.kit.vessels.find((v) => v.id === reading.vessel)?.name;
  const unit = reading.what === 'temp' ? '°C' : 'L';
  const digits = reading.what === 'temp' ? 1 : 0;
  const show = (x: number) => x.toFixed(digits);
  return `${name}: ${show(reading.value)} ${unit} does not fit; expected ${show(expected.low)} to ${show(expected.high)} ${unit}. ${advice}`;
}

function mend(
  session: DaySession,
  entry: Extract<DayEntry, { kind: 'mend' }>,
  at: number,
): DaySession {
  const tun = session.day.restTun.id;
  const moves = mendMoves(session, entry);
  if (moves.length === 0) return session;
  const ids = [...new Set([tun, ...moves.flatMap(touchedBy)])];
  let now = session;
  const minutes = entry.minutes ?? 0;
  for (const id of ids) now = bringTo(now, id, Math.max(0, at - minutes));
  return each(now, (p, engine) => {
    const mended = now.stepper.run(p, moves, engine);
    return ids.reduce((q, v) => withClock(now.stepper.pass(q, v, at, engine), v, at), mended);
  });
}
