/**
 * The running day: every particle of the kit's ensemble and what is known to be over or going on.
 * A session is never changed; a new entry makes a new one, so an undo is the session before it.
 */
import { type Draw, type MashEngine, type Move, volumeOf } from '@ladlework/brewhouse';
import { type BrewDay, brewDay } from './day.ts';
import type { PlanDocument } from './document.ts';
import { drawsFor } from './ensemble.ts';
import type { DayEntry, Questioned, Reading } from './live.ts';
import { thermalIn } from './live-assimilate.ts';
import { type PullGroup, pullGroups } from './live-returns.ts';
import { type Particle, Stepper, vesselIn } from './live-step.ts';
import { openingSituation } from './size.ts';

/** Thermometers other than the tun's are not known better than this [K]. */
const OTHER_THERMOMETER_K = 0.3;

export interface DayOptions {
  /** Particles, 1-5000; default 400. */
  readonly draws?: number;
  /** Default 1: the same entries give the same session. */
  readonly seed?: number;
  /** Mash kinetics for a draw; left out: heat and mass only. */
  readonly mash?: (draw: Draw) => MashEngine;
}

/** A move that is going on. */
export interface Underway {
  readonly moveId: string;
  readonly begunMin: number;
  /** False when nobody tapped its beginning. */
  readonly tapped: boolean;
  /** Content of a fill, mash-in, preheat or rinse is in. */
  readonly started: boolean;
  /** Portions that were logged. */
  readonly portions: number;
  readonly lastPortionMin?: number;
}

/** Everything known about the running day after some entries. */
export interface DaySession {
  readonly document: PlanDocument;
  readonly day: BrewDay;
  readonly moves: readonly Move[];
  readonly pulls: readonly PullGroup[];
  readonly particles: readonly Particle[];
  /** End of each move that is over [min after day start]. */
  readonly finished: ReadonlyMap<string, number>;
  readonly underway: ReadonlyMap<string, Underway>;
  /** Minute of the newest entry. */
  readonly lastMin: number;
  /** Readings that moved the ensemble, and the last one of each vessel. */
  readonly readings: number;
  readonly lastReading: ReadonlyMap<string, Reading>;
  /** Entries that did not fit and had no effect. */
  readonly questioned: readonly Questioned[];
  /** Heat the readings put into the contents, over all [kJ]; near 0 when the model is right. */
  readonly bookedKJ: number;
  readonly stepper: Stepper;
  readonly engines: readonly MashEngine[] | undefined;
}

/**
 * Opens a brew day.
 * @param document kit, beer, mash, day
 * @param moves the plan's moves in order
 * @param options draws, seed, kinetics
 * @returns the session before the first entry
 * @throws UnknownName when the document names what its kit does not have
 */
export function openDay(
  document: PlanDocument,
  moves: readonly Move[],
  options: DayOptions = {},
): DaySession {
  const day = brewDay(document);
  const opening = openingSituation(day);
  const draws = drawsFor(day.kit, options.draws ?? 400, options.seed ?? 1);
  return {
    document,
    day,
    moves,
    pulls: pullGroups(day, moves),
    particles: draws.map((draw) => ({ draw, situation: opening, movedL: {} })),
    finished: new Map(),
    underway: new Map(),
    lastMin: 0,
    readings: 0,
    lastReading: new Map(),
    questioned: [],
    bookedKJ: 0,
    stepper: new Stepper(day),
    engines: options.mash ? draws.map(options.mash) : undefined,
  };
}

/** Minute an entry is about [min after day start]. */
export function minuteOf(entry: DayEntry): number {
  return entry.kind === 'reading' ? entry.reading.atMin : entry.atMin;
}

/** The move of this id, if the plan has it. */
export function moveOf(session: DaySession, moveId: string): Move | undefined {
  return session.moves.find((m) => m.id === moveId);
}

/** Every particle carried one step. */
export function each(
  session: DaySession,
  step: (particle: Particle, engine: MashEngine | undefined) => Particle,
): DaySession {
  return {
    ...session,
    particles: session.particles.map((p, i) => step(p, session.engines?.[i])),
  };
}

export function setUnderway(session: DaySession, state: Underway): DaySession {
  return { ...session, underway: new Map(session.underway).set(state.moveId, state) };
}

export function setFinished(session: DaySession, moveId: string, at: number): DaySession {
  const underway = new Map(session.underway);
  underway.delete(moveId);
  return { ...session, underway, finished: new Map(session.finished).set(moveId, at) };
}

/** What each particle would show for a reading of this vessel. */
export function shownBy(
  session: DaySession,
  vessel: string,
  what: 'temp' | 'volume',
): Float64Array {
  const tun = isTun(session, vessel);
  return Float64Array.from(session.particles, (p) => {
    const state = vesselIn(p, vessel);
    return what === 'temp'
      ? state.tempC + (tun ? p.draw.thermometerK : 0)
      : volumeOf(state, thermalIn(session.day, vessel, p.draw));
  });
}

/** Standard error of a reading, the instrument's own included. */
export function errorOf(session: DaySession, vessel: string, what: 'temp' | 'volume', sd: number) {
  const other = what === 'temp' && !isTun(session, vessel) ? OTHER_THERMOMETER_K : 0;
  return Math.max(1e-3, Math.hypot(sd, other));
}

function isTun(session: DaySession, vessel: string): boolean {
  return vessel === session.day.tun.id || vessel === session.day.restTun.id;
}
