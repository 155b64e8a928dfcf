/**
 * The running day: every particle of the kit's ensemble and what is known to be over or going on.
 * A session is never changed; a new entry makes a new one, so an undo is the session before it.
 */
import { type Draw, type MashEngine, type Move, NOMINAL, volumeOf } from '@ladlework/brewhouse';
import { type BrewDay, brewDay } from './day.ts';
import type { PlanDocument } from './document.ts';
import { drawsFor } from './ensemble.ts';
import { mashEngines } from './grist.ts';
import type { DayEntry, Questioned, Reading } from './live.ts';
import { thermalIn } from './live-assimilate.ts';
import type { ProbeStanding } from './live-probe.ts';
import { type PullGroup, pullGroups } from './live-returns.ts';
import { meanParticle, type Particle, Stepper, vesselIn } from './live-step.ts';
import type { MissEntry } from './miss/miss-types.ts';
import { openingSituation } from './size.ts';

/** Thermometers other than the tun's are not known better than this [K]. */
const OTHER_THERMOMETER_K = 0.3;

export interface DayOptions {
  /** Particles, 1-5000; default 400. */
  readonly draws?: number;
  /** Default 1: the same entries give the same session. */
  readonly seed?: number;
  /**
   * Mash kinetics for the likely draw; what it dissolves, every particle's mash dissolves. Left
   * out: those of the beer's grist. `off`: all grist counts as solid, which makes landings up to
   * half a kelvin cooler than they are.
   */
  readonly mash?: ((draw: Draw) => MashEngine) | 'off';
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

/** One day in the middle of the ensemble that runs the kinetics for all. */
export interface LikelyMash {
  readonly particle: Particle;
  readonly engine: MashEngine;
}

/** What went wrong and is not put right yet. */
export interface Troubles {
  readonly told: readonly Extract<MissEntry, { kind: 'miss' }>[];
  /** Share of its fire a burner has under the vessel of a miss, by the miss. */
  readonly fires: ReadonlyMap<string, number>;
  /** Gone to the floor, over all [kg]. */
  readonly lostKg: number;
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
  /** How long each probe has shown one and the same number, and what should have moved since. */
  readonly standing: ReadonlyMap<string, ProbeStanding>;
  /** Entries that did not fit and had no effect. */
  readonly questioned: readonly Questioned[];
  readonly troubles: Troubles;
  /** Heat the readings put into the contents, over all [kJ]; near 0 when the model is right. */
  readonly bookedKJ: number;
  readonly stepper: Stepper;
  /** The particle in the middle, with the species of its mash, when the kinetics run. */
  readonly likely: LikelyMash | undefined;
  /** The same day with other malts and rates of the kinetics: the band around its mash. */
  readonly doubted: readonly LikelyMash[];
}

/** Draws of the kinetics carried beside the likely one; enough for the 10 and 90 % of a picture. */
const DOUBTED = 16;

/**
 * Opens a brew day.
 * @param document kit, beer, mash, day
 * @param moves the plan's moves in order
 * @param options draws, seed, kinetics
 * @returns the session before the first entry
 * @throws UnknownName when the document names what its kit does not have, MashRangeError when a
 *   malt certificate cannot be
 */
export function openDay(
  document: PlanDocument,
  moves: readonly Move[],
  options: DayOptions = {},
): DaySession {
  const day = brewDay(document);
  const opening = openingSituation(day);
  const seed = options.seed ?? 1;
  const draws = drawsFor(day.kit, options.draws ?? 400, seed);
  const middle: Particle = { draw: NOMINAL, situation: opening, movedL: {} };
  const engines = options.mash === 'off' ? undefined : (options.mash ?? mashEngines(document.beer));
  return {
    document,
    day,
    moves,
    pulls: pullGroups(day, moves, engines?.(NOMINAL)),
    particles: draws.map((draw) => ({ draw, situation: opening, movedL: {} })),
    finished: new Map(),
    underway: new Map(),
    lastMin: 0,
    readings: 0,
    lastReading: new Map(),
    standing: new Map(),
    questioned: [],
    troubles: { told: [], fires: new Map(), lostKg: 0 },
    bookedKJ: 0,
    stepper: new Stepper(day),
    likely: engines ? { particle: middle, engine: engines(NOMINAL) } : undefined,
    doubted: engines
      ? drawsFor(day.kit, DOUBTED, seed).map((draw) => ({
          particle: middle,
          engine: engines(draw),
        }))
      : [],
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

/** Less grist than this is not a mash [kg]. */
const NO_GRIST_KG = 0.05;

/**
 * Every particle carried one step. The kinetics run once, on the likely day; the share of the
 * solids that dissolved there dissolves in every particle, for none of them is so much warmer or
 * cooler that its heat would tell the difference.
 */
export function each(
  session: DaySession,
  step: (particle: Particle, engine: MashEngine | undefined) => Particle,
): DaySession {
  const particles = session.particles.map((p) => step(p, undefined));
  if (!session.likely) return { ...session, particles };
  const { particle, engine } = session.likely;
  const likely = { particle: step(particle, engine), engine };
  const doubted = session.doubted.map((d) => ({ ...d, particle: step(d.particle, d.engine) }));
  const frozen = step(withoutSpecies(particle), undefined);
  const left = new Map<string, number>();
  for (const s of frozen.situation.vessels) {
    const solidsKg = vesselIn(likely.particle, s.vessel).solidsKg;
    if (s.solidsKg > NO_GRIST_KG && solidsKg < s.solidsKg)
      left.set(s.vessel, solidsKg / s.solidsKg);
  }
  if (left.size === 0) return { ...session, particles, likely, doubted };
  return { ...session, particles: particles.map((p) => dissolved(p, left)), likely, doubted };
}

/** A particle of whose solids this share is left, by vessel. */
function dissolved(particle: Particle, left: ReadonlyMap<string, number>): Particle {
  const vessels = particle.situation.vessels.map((s) => {
    const share = left.get(s.vessel);
    if (share === undefined) return s;
    const solidsKg = s.solidsKg * share;
    return { ...s, solidsKg, extractKg: s.extractKg + s.solidsKg - solidsKg };
  });
  return { ...particle, situation: { ...particle.situation, vessels } };
}

/** Solids and extract stay as they are: what is not dissolved yet holds as much heat. */
function withoutSpecies(particle: Particle): Particle {
  const vessels = particle.situation.vessels.map(({ mash: _, ...state }) => state);
  return { ...particle, situation: { ...particle.situation, vessels } };
}

/** The session with its particles drawn somewhere, and the likely day taken along. */
export function withParticles(
  session: DaySession,
  particles: readonly Particle[],
  bookedKJ: number,
): DaySession {
  const booked = { ...session, particles, bookedKJ: session.bookedKJ + bookedKJ };
  if (!session.likely) return booked;
  const middle = meanParticle(particles);
  const asRead = ({ particle, engine }: LikelyMash): LikelyMash => {
    const vessels = particle.situation.vessels.map((s) => ({
      ...s,
      tempC: vesselIn(middle, s.vessel).tempC,
    }));
    const situation = { vessels, freeAtMin: {} };
    return { particle: { ...particle, draw: middle.draw, situation }, engine };
  };
  return { ...booked, likely: asRead(session.likely), doubted: session.doubted.map(asRead) };
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
