/**
 * One particle of the live ensemble carried through a stretch of a move, as long as it really
 * took. Only the vessels the move touches are simulated; the rest are brought up when something
 * touches them, so that a tap costs what it changes.
 */
import {
  type Burner,
  burnerPowerKW,
  type Draw,
  type Kit,
  type MashEngine,
  type Move,
  type Situation,
  simulate,
  type Trace,
  type VesselState,
} from '@ladlework/brewhouse';
import { type BrewDay, dayOptions } from './day.ts';

/** One possible truth: what is uncertain, and what stands where if that is so. */
export interface Particle {
  readonly draw: Draw;
  readonly situation: Situation;
  /** True litres of each transfer under way that are already over [L]. */
  readonly movedL: Readonly<Record<string, number>>;
  /** What each probe heard of so far shows minus the truth, by its id [K; for a volume a share]. */
  readonly probes?: Readonly<Record<string, number>>;
}

export type TransferMove = Extract<Move, { kind: 'pull' | 'return' | 'pour' }>;

/** Kinds that need no content moved: they go on when the one before is done, without a tap. */
export const BY_ITSELF: ReadonlySet<Move['kind']> = new Set([
  'rest',
  'wait',
  'hold',
  'heat',
  'boil',
]);

/** A portion is not carried faster or slower than this against the particle's own pace. */
const QUICKEST = 0.6;
const SLOWEST = 1.7;

/** Vessels a move touches, the one acted on last. */
export function touchedBy(move: Move): readonly string[] {
  if (move.kind === 'pull' || move.kind === 'return' || move.kind === 'pour')
    return [move.from, move.to];
  if (move.kind === 'mash-in' || move.kind === 'preheat')
    return move.from === move.vessel ? [move.vessel] : [move.from, move.vessel];
  return [move.vessel];
}

export function isTransfer(move: Move): move is TransferMove {
  return move.kind === 'pull' || move.kind === 'return' || move.kind === 'pour';
}

/** State of one vessel of a particle. @throws Error when the kit has no such vessel */
export function vesselIn(particle: Particle, vessel: string): VesselState {
  const state = particle.situation.vessels.find((s) => s.vessel === vessel);
  if (!state) throw new Error(`no vessel ${vessel} in the situation`);
  return state;
}

/** A particle with some of its vessels replaced. */
function withVessels(particle: Particle, states: readonly VesselState[]): Particle {
  const vessels = particle.situation.vessels.map(
    (s) => states.find((n) => n.vessel === s.vessel) ?? s,
  );
  return { ...particle, situation: { vessels, freeAtMin: {} } };
}

/** A particle with the clock of one vessel set, its content as it is. */
export function withClock(particle: Particle, vessel: string, clockMin: number): Particle {
  const state = vesselIn(particle, vessel);
  return state.clockMin === clockMin ? particle : withVessels(particle, [{ ...state, clockMin }]);
}

/** Latest minute up to which every vessel of a move is known. */
export function clockOf(particle: Particle, move: Move): number {
  let clock = 0;
  for (const id of touchedBy(move)) clock = Math.max(clock, vesselIn(particle, id).clockMin);
  return clock;
}

/**
 * One particle in the middle of many: contents and doubts averaged.
 * @param particles one or more, of the same kit and minute
 */
export function meanParticle(particles: readonly Particle[]): Particle {
  const first = particles[0] as Particle;
  const n = particles.length;
  const mean = (read: (p: Particle) => number) =>
    particles.reduce((sum, p) => sum + read(p), 0) / n;
  const draw: Record<string, unknown> = { ...first.draw };
  for (const [key, value] of Object.entries(first.draw))
    if (typeof value === 'number')
      draw[key] = mean((p) => p.draw[key as Exclude<keyof Draw, 'mash'>]);
  const vessels = first.situation.vessels.map((s) => ({
    vessel: s.vessel,
    clockMin: s.clockMin,
    tempC: mean((p) => vesselIn(p, s.vessel).tempC),
    waterKg: mean((p) => vesselIn(p, s.vessel).waterKg),
    solidsKg: mean((p) => vesselIn(p, s.vessel).solidsKg),
    extractKg: mean((p) => vesselIn(p, s.vessel).extractKg),
  }));
  return { draw: draw as unknown as Draw, situation: { vessels, freeAtMin: {} }, movedL: {} };
}

/** The same day over evenly spaced particles, when there are more than `count`. */
export function thinned<T extends { readonly particles: readonly Particle[] }>(
  session: T,
  count: number,
): T {
  const n = session.particles.length;
  if (n <= count) return session;
  const particles = Array.from(
    { length: count },
    (_, i) => session.particles[Math.floor((i * n) / count)] as Particle,
  );
  return { ...session, particles };
}

/** Runs moves on the vessels they touch and on nothing else. */
export class Stepper {
  readonly day: BrewDay;
  private readonly kits = new Map<string, Kit>();
  private readonly burners: readonly Burner[];

  constructor(day: BrewDay) {
    this.day = day;
    // A part of the kit may lack the vessel of a water test, so the kilowatts are settled here.
    this.burners = day.kit.burners.map((b) => {
      const { waterTest: _, ...plain } = b;
      return { ...plain, ratedKW: burnerPowerKW(b, day.kit), efficiency: 1 };
    });
  }

  private kitOf(vessels: readonly string[]): Kit {
    const key = vessels.join('\n');
    let kit = this.kits.get(key);
    if (!kit) {
      const whole = this.day.kit;
      kit = {
        ...whole,
        vessels: whole.vessels.filter((v) => vessels.includes(v.id)),
        burners: this.burners,
      };
      this.kits.set(key, kit);
    }
    return kit;
  }

  /**
   * Runs moves from a particle's situation, on the vessels they touch alone.
   * @param particle not changed
   * @param moves in order
   * @param engine mash kinetics; left out: heat and mass only
   * @param draw in place of the particle's own
   */
  simulate(
    particle: Particle,
    moves: readonly Move[],
    engine?: MashEngine,
    draw: Draw = particle.draw,
  ): Trace {
    const ids = new Set<string>();
    for (const m of moves) for (const id of touchedBy(m)) ids.add(id);
    const kit = this.kitOf(this.day.kit.vessels.map((v) => v.id).filter((id) => ids.has(id)));
    return simulate(kit, { vessels: particle.situation.vessels, freeAtMin: {} }, moves, {
      ...dayOptions(this.day, draw),
      ...(engine ? { mash: engine } : {}),
    });
  }

  /** The same, taking over where the vessels end. */
  run(
    particle: Particle,
    moves: readonly Move[],
    engine?: MashEngine,
    draw: Draw = particle.draw,
  ): Particle {
    return withVessels(particle, this.simulate(particle, moves, engine, draw).end.vessels);
  }

  /**
   * Lets a vessel stand, lid on, to a minute; nothing happens when it is there already.
   * @param toMin [min after day start]
   */
  pass(particle: Particle, vessel: string, toMin: number, engine?: MashEngine): Particle {
    const minutes = toMin - vesselIn(particle, vessel).clockMin;
    if (minutes <= 1e-9) return particle;
    return this.run(particle, [restFor(vessel, minutes)], engine);
  }

  /**
   * Carries one move on from the clock of its vessels to a minute, for as long as it really took.
   * @param particle not changed
   * @param move the move
   * @param started whether its content is already in (fill, mash-in, preheat, rinse)
   * @param toMin to this minute; transfers stop after the last whole portion before it
   */
  carryOn(
    particle: Particle,
    move: Move,
    started: boolean,
    toMin: number,
    engine?: MashEngine,
  ): Particle {
    if (isTransfer(move)) return this.portionsUntil(particle, move, toMin, engine);
    const minutes = Math.max(0, toMin - clockOf(particle, move));
    if (minutes <= 1e-9 && (started || BY_ITSELF.has(move.kind))) return particle;
    switch (move.kind) {
      case 'rest':
      case 'wait':
      case 'hold':
        return this.run(particle, [{ ...move, ...FREE, minutes }], engine);
      case 'heat':
        return this.heatFor(particle, move, minutes, engine);
      case 'boil': {
        const up = this.run(
          particle,
          [{ ...upToBoil(move), ...FREE, maxMinutes: minutes }],
          engine,
        );
        const left = toMin - clockOf(up, move);
        if (left <= 1e-9) return up;
        const boiled = this.run(up, [{ ...move, ...FREE, minutes: left }], engine);
        // A burner that cannot hold the boil leaves the pot short of the minute.
        return this.pass(boiled, move.vessel, toMin, engine);
      }
      default:
        return started
          ? this.run(particle, [standOpen(move, minutes)], engine)
          : this.run(particle, [{ ...move, ...FREE, minutes }], engine);
    }
  }

  private heatFor(
    particle: Particle,
    move: Extract<Move, { kind: 'heat' }>,
    minutes: number,
    engine?: MashEngine,
  ): Particle {
    const heated = this.run(particle, [{ ...move, ...FREE, maxMinutes: minutes }], engine);
    const left = minutes - (clockOf(heated, move) - clockOf(particle, move));
    if (left <= 1e-9) return heated;
    // It got there early: whoever watches it keeps it there.
    const { vessel, burner, lidOn } = move;
    return this.run(
      heated,
      [{ ...FREE, id: move.id, kind: 'hold', vessel, burner, lidOn, minutes: left }],
      engine,
    );
  }

  /** As many whole portions as this particle's hands carry by then. */
  private portionsUntil(
    particle: Particle,
    move: TransferMove,
    toMin: number,
    engine?: MashEngine,
  ): Particle {
    const route = this.routeOf(move);
    const per = route.minutesPerPortion * particle.draw.hands;
    const portions = Math.floor((toMin - clockOf(particle, move)) / per + 1e-9);
    return this.portions(particle, move, portions, undefined, engine);
  }

  /**
   * Moves a number of portions of a transfer, at the pace of the hands or so that it ends at a
   * minute.
   */
  portions(
    particle: Particle,
    move: TransferMove,
    portions: number,
    endMin: number | undefined,
    engine?: MashEngine,
  ): Particle {
    if (portions <= 0) return particle;
    const { portionL } = this.routeOf(move);
    const left = leftL(particle, move);
    const litres = Math.min(left, portions * portionL);
    if (litres <= 1e-9) return particle;
    return this.transferred(particle, { ...withoutStop(move), litres }, endMin, engine);
  }

  /**
   * Completes a transfer: what is left of it, stopped where the brewer's thermometer says.
   * @param endMin when it ended; left out: at the pace of the hands
   */
  complete(
    particle: Particle,
    move: TransferMove,
    endMin: number | undefined,
    engine?: MashEngine,
  ): Particle {
    const litres = leftL(particle, move);
    if (litres <= 1e-9) return particle;
    const whole = asRead(move, particle.draw);
    const ask = Number.isFinite(litres) ? { ...whole, litres } : withoutLitres(whole);
    return this.transferred(particle, ask, endMin, engine);
  }

  /** Completes a transfer so that it ends by a minute, begun no earlier than it had to be. */
  completeBy(particle: Particle, move: TransferMove, endMin: number, engine?: MashEngine) {
    const clock = clockOf(particle, move);
    const natural = clockOf(this.complete(particle, move, undefined), move) - clock;
    const waited = touchedBy(move).reduce(
      (p, v) => this.pass(p, v, endMin - natural, engine),
      particle,
    );
    return this.complete(waited, move, endMin, engine);
  }

  /** Runs one stretch of a transfer; `litres` are true ones here. */
  private transferred(
    particle: Particle,
    move: TransferMove,
    endMin: number | undefined,
    engine?: MashEngine,
  ): Particle {
    const ask = {
      ...move,
      ...FREE,
      ...(move.litres === undefined ? {} : { litres: move.litres / particle.draw.dip }),
    } as Move;
    const draw = endMin === undefined ? particle.draw : this.paced(particle, move, ask, endMin);
    const trace = this.simulate(particle, [ask], engine, draw);
    const moved = trace.moves[0]?.transfer?.litres ?? 0;
    const movedL = {
      ...particle.movedL,
      [move.id]: (particle.movedL[move.id] ?? 0) + moved,
    };
    const after = { ...withVessels(particle, trace.end.vessels), movedL };
    if (endMin === undefined) return after;
    // A batch tapped at once, or a pause between portions: the clock is right, the pace is not.
    return touchedBy(move).reduce(
      (p, v) => withClock(this.pass(p, v, endMin, engine), v, endMin),
      after,
    );
  }

  /** The particle's draw with hands as quick as it took, within reason. */
  private paced(particle: Particle, move: TransferMove, ask: Move, endMin: number): Draw {
    const clock = clockOf(particle, move);
    const natural = this.simulate(particle, [ask]).moves[0];
    const took = (natural?.endMin ?? clock) - clock;
    if (took <= 1e-9) return particle.draw;
    const pace = Math.max(QUICKEST, Math.min(SLOWEST, (endMin - clock) / took));
    return { ...particle.draw, hands: particle.draw.hands * pace };
  }

  routeOf(move: TransferMove) {
    const route = this.day.kit.routes.find((r) => r.id === move.route);
    if (!route) throw new Error(`kit ${this.day.kit.id} has no route ${move.route}`);
    return route;
  }
}

/** Nobody and no minute holds it back: it is told when it happened. */
const FREE = { hands: [], earliestMin: 0 } as const;

function restFor(vessel: string, minutes: number): Move {
  return { ...FREE, id: `stand-${vessel}`, kind: 'rest', vessel, minutes };
}

function standOpen(move: Move, minutes: number): Move {
  const vessel = touchedBy(move).at(-1) as string;
  return {
    ...FREE,
    id: move.id,
    kind: 'wait',
    vessel,
    minutes: Math.max(0, minutes),
    lidOn: false,
  };
}

function upToBoil(move: Extract<Move, { kind: 'boil' }>): Extract<Move, { kind: 'heat' }> {
  const { id, vessel, burner } = move;
  return { id, kind: 'heat', vessel, burner, to: 'boil', lidOn: false, hands: [] };
}

/** True litres of a transfer that are still to go; Infinity for all that comes out. */
export function leftL(particle: Particle, move: TransferMove): number {
  if (move.litres === undefined) return Number.POSITIVE_INFINITY;
  return Math.max(0, move.litres * particle.draw.dip - (particle.movedL[move.id] ?? 0));
}

/** The brewer stops when the thermometer shows the target, not when the mash has it. */
export function asRead<T extends Move>(move: T, draw: Draw): T {
  if (!('stopAtC' in move) || move.stopAtC === undefined) return move;
  return { ...move, stopAtC: move.stopAtC - draw.thermometerK };
}

/** The same transfer, read by nobody: it goes on until it is told how much. */
export function withoutStop(move: TransferMove): TransferMove {
  if (move.kind === 'pull' || move.stopAtC === undefined) return move;
  const { stopAtC: _, ...rest } = move;
  return rest;
}

function withoutLitres(move: TransferMove): TransferMove {
  if (move.kind !== 'return') return move;
  const { litres: _, ...rest } = move;
  return rest;
}
