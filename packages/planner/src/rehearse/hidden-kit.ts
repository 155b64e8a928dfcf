/**
 * A kit whose truth the tool does not know: one draw, carried on by what is really done to it. It
 * is never changed; a tap makes a new one. It answers what the thermometer would read and when what
 * is going on will be over.
 */
import { type Draw, type Move, volumeOf } from '@ladlework/brewhouse';
import { normal, seededRandom } from '@ladlework/numerics';
import type { PlanDocument } from '../document.ts';
import { drawsFor } from '../ensemble.ts';
import { mashEngines } from '../grist.ts';
import type { DayEntry } from '../live.ts';
import { applyEntry } from '../live-apply.ts';
import { thermalIn } from '../live-assimilate.ts';
import { bringTo, catchUp } from '../live-going-on.ts';
import {
  type DaySession,
  each,
  minuteOf,
  moveOf,
  openDay,
  setFinished,
  setUnderway,
} from '../live-session.ts';
import {
  BY_ITSELF,
  clockOf,
  isTransfer,
  leftL,
  type Particle,
  type TransferMove,
  touchedBy,
  vesselIn,
} from '../live-step.ts';
import { drawFaults, type FaultName } from './faults.ts';
import { scattered } from './scatter.ts';
import { afterTap, type Happening, type Strike, struckUpTo } from './strike.ts';

/** Keeps the hidden kit's draw apart from the draws the tool works with. */
const APART = 0x7e4;
/** A heat-up that takes longer is given up [min]. */
const LONGEST_HEAT_MIN = 180;
/** Standard error of the second thermometer [K]. */
const OTHER_K = 0.3;

export interface RehearsalOptions {
  /** 1-2147483647: which hidden kit, and when the faults come. */
  readonly seed: number;
  readonly faults: readonly FaultName[];
  /** `off`: heat and mass only. */
  readonly mash?: 'off';
}

export interface HiddenKit {
  readonly seed: number;
  /** The one true day: the likely particle with its kinetics is the truth. */
  readonly session: DaySession;
  /** Faults to come and those that have struck. */
  readonly strikes: readonly Strike[];
  /** What can be seen of the faults so far. */
  readonly happenings: readonly Happening[];
  /** Minute each move began at. */
  readonly begunMin: ReadonlyMap<string, number>;
  /** What the second thermometer shows minus the truth [K]. */
  readonly otherK: number;
}

/**
 * A hidden kit before the first move.
 * @param document kit, beer, mash, day
 * @param moves the plan's moves in order
 * @param options seed, faults
 * @throws UnknownName when the document names what its kit does not have, MashRangeError when a
 *   malt certificate cannot be
 */
export function rehearsalOf(
  document: PlanDocument,
  moves: readonly Move[],
  options: RehearsalOptions,
): HiddenKit {
  const truth = drawsFor(document.kit, 1, scattered(options.seed, APART))[0] as Draw;
  const open = openDay(document, moves, { draws: 1, mash: 'off' });
  const particle: Particle = { ...(open.particles[0] as Particle), draw: truth };
  const engine = options.mash === 'off' ? undefined : mashEngines(document.beer)(truth);
  const session: DaySession = {
    ...open,
    particles: [particle],
    likely: engine ? { particle, engine } : undefined,
  };
  const random = seededRandom(scattered(options.seed, APART + 1));
  return {
    seed: options.seed,
    session,
    strikes: drawFaults(session.day, session.pulls, options.faults, options.seed).map((fault) => ({
      fault,
    })),
    happenings: [],
    begunMin: new Map(),
    otherK: OTHER_K * normal(random),
  };
}

/** The kit as it truly is. */
export function truthOf(kit: HiddenKit): Particle {
  return kit.session.likely?.particle ?? (kit.session.particles[0] as Particle);
}

/**
 * The hidden kit after one more tap.
 * @param kit not changed
 * @param entry readings and words of a miss do nothing to it; the rest does what it says
 */
export function tapHidden(kit: HiddenKit, entry: DayEntry): HiddenKit {
  const at = Math.max(kit.session.lastMin, minuteOf(entry));
  return afterTap(done(standTo(kit, at), entry, at), entry, at);
}

/** The hidden kit at a later minute, nothing tapped. */
export function standTo(kit: HiddenKit, atMin: number): HiddenKit {
  if (atMin <= kit.session.lastMin) return kit;
  const ready = struckUpTo(kit, atMin);
  return { ...ready, session: { ...ready.session, lastMin: atMin } };
}

function done(kit: HiddenKit, entry: DayEntry, at: number): HiddenKit {
  const { session } = kit;
  switch (entry.kind) {
    case 'begun': {
      const begun = begin(session, entry.moveId, at);
      if (begun === session) return kit;
      return { ...kit, session: begun, begunMin: new Map(kit.begunMin).set(entry.moveId, at) };
    }
    case 'done':
      return { ...kit, session: finish(session, entry, at) };
    case 'portions':
    case 'mend':
      return { ...kit, session: applyEntry(session, entry) };
    default:
      return kit;
  }
}

/** As in the running day, but a pot boils when it boils, not when somebody says so. */
function begin(session: DaySession, moveId: string, at: number): DaySession {
  const move = moveOf(session, moveId);
  if (!move || session.finished.has(moveId) || session.underway.get(moveId)?.tapped) return session;
  const waited = each(catchUp(session, move, at), (p, engine) =>
    touchedBy(move).reduce((q, v) => session.stepper.pass(q, v, at, engine), p),
  );
  return setUnderway(waited, { moveId, begunMin: at, tapped: true, started: false, portions: 0 });
}

function finish(
  session: DaySession,
  entry: Extract<DayEntry, { kind: 'done' }>,
  at: number,
): DaySession {
  const move = moveOf(session, entry.moveId);
  if (!move || session.finished.has(move.id)) return session;
  if (isTransfer(move)) return applyEntry(session, entry);
  const ready = session.underway.has(move.id) ? session : catchUp(session, move, at);
  const state = ready.underway.get(move.id);
  const over = each(ready, (p, engine) => {
    const waited =
      state || BY_ITSELF.has(move.kind) || !('minutes' in move)
        ? p
        : touchedBy(move).reduce((q, v) => ready.stepper.pass(q, v, at - move.minutes, engine), p);
    return ready.stepper.carryOn(waited, move, state?.started ?? false, at, engine);
  });
  return setFinished(over, move.id, at);
}

/** One vessel as it truly stands at a minute. */
function standing(kit: HiddenKit, vessel: string, atMin: number) {
  const at = Math.max(kit.session.lastMin, atMin);
  const then = struckUpTo(kit, at).session;
  const particle = truthOf({ ...kit, session: bringTo(then, vessel, at) });
  const state = vesselIn(particle, vessel);
  return { state, volumeL: volumeOf(state, thermalIn(then.day, vessel, particle.draw)) };
}

/**
 * What truly stands in a vessel.
 * @param kit the hidden kit
 * @param vessel id
 * @param atMin [min after day start], not before the newest tap
 */
export function trueStand(
  kit: HiddenKit,
  vessel: string,
  atMin: number,
): { readonly tempC: number; readonly volumeL: number } {
  const { state, volumeL } = standing(kit, vessel, atMin);
  return { tempC: state.tempC, volumeL };
}

/**
 * What the brewer reads: the thermometer's own error, and that of the place it was held at.
 * @param kit the hidden kit
 * @param vessel id
 * @param atMin [min after day start]
 * @param sdK standard error of the place [K]: one place 1.0, three stirred 0.3
 * @param other the second thermometer instead
 * @returns shown [°C]; the same question has the same answer
 */
export function thermometer(
  kit: HiddenKit,
  vessel: string,
  atMin: number,
  sdK: number,
  other = false,
): number {
  const { tempC } = trueStand(kit, vessel, atMin);
  const { day } = kit.session;
  const tun = vessel === day.tun.id || vessel === day.restTun.id;
  const off = other ? kit.otherK : tun ? truthOf(kit).draw.thermometerK : 0;
  return tempC + off + sdK * noise(kit, vessel, atMin, other ? 2 : 1);
}

/** Volume as the dip rod shows it [L]. */
export function dipped(kit: HiddenKit, vessel: string, atMin: number): number {
  const { volumeL } = trueStand(kit, vessel, atMin);
  return volumeL * (1 + 0.03 * noise(kit, vessel, atMin, 3));
}

/** A standard normal that depends on nothing but what was asked. */
function noise(kit: HiddenKit, vessel: string, atMin: number, which: number): number {
  const index = kit.session.day.kit.vessels.findIndex((v) => v.id === vessel);
  const seed = scattered(kit.seed, Math.round(atMin * 4), index, which);
  return Math.max(-2.5, Math.min(2.5, normal(seededRandom(seed))));
}

/**
 * When a move that was begun will be over, if nobody ends it before.
 * @param kit the hidden kit
 * @param moveId a move that was begun
 * @returns [min after day start]; undefined when it was not begun or is over
 */
export function readyAtMin(kit: HiddenKit, moveId: string): number | undefined {
  const { session } = kit;
  const move = moveOf(session, moveId);
  const begun = kit.begunMin.get(moveId);
  if (!move || begun === undefined || session.finished.has(moveId)) return undefined;
  switch (move.kind) {
    case 'heat':
      return endOfHeat(kit, move);
    case 'boil': {
      const { id, vessel, burner } = move;
      const up = {
        id: `${id}-up`,
        kind: 'heat',
        vessel,
        burner,
        to: 'boil',
        lidOn: false,
      } as const;
      return endOfHeat(kit, { ...up, hands: [] }) + left(kit, move, begun);
    }
    case 'rest': {
      const from = move.until && kit.begunMin.get(move.until.move);
      return from === undefined || !move.until
        ? begun + move.minutes
        : Math.max(begun, from + move.until.minutes);
    }
    case 'pull':
    case 'return':
    case 'pour': {
      const particle = truthOf(kit);
      if (leftL(particle, move) <= 1e-6) return session.lastMin;
      const end = session.stepper.complete(particle, move, undefined);
      return Math.max(session.lastMin, clockOf(end, move));
    }
    default:
      return begun + move.minutes;
  }
}

/** Minutes of a boil that are still to go once it boils. */
function left(kit: HiddenKit, move: Extract<Move, { kind: 'boil' }>, begun: number): number {
  const clock = clockOf(truthOf(kit), move);
  return Math.max(0, move.minutes - (clock - begun));
}

function endOfHeat(kit: HiddenKit, move: Extract<Move, { kind: 'heat' }>): number {
  const lit = kit.strikes.reduce(
    (min, s) =>
      s.fault.name === 'late-pot' && s.toMin !== undefined ? Math.max(min, s.toMin) : min,
    kit.session.lastMin,
  );
  const from = struckUpTo(kit, lit).session;
  const particle = truthOf({ ...kit, session: from });
  const end = from.stepper.run(particle, [
    { ...move, hands: [], earliestMin: 0, maxMinutes: LONGEST_HEAT_MIN },
  ]);
  return Math.max(lit === kit.session.lastMin ? 0 : lit, clockOf(end, move));
}

/** Minutes one portion of a transfer takes these hands. */
export function portionMin(kit: HiddenKit, move: TransferMove): number {
  const { stepper } = kit.session;
  return stepper.routeOf(move).minutesPerPortion * truthOf(kit).draw.hands;
}
