/** Where the day goes from what stands there now: the landing of the next return, and the rest. */
import { type Move, simulate, type Trace } from '@ladlework/brewhouse';
import { band } from '@ladlework/numerics';
import { dayOptions } from './day.ts';
import type { DayForecast, LandingForecast, MoveForecast } from './live.ts';
import { allTo } from './live-going-on.ts';
import type { PullGroup } from './live-returns.ts';
import type { DaySession } from './live-session.ts';
import {
  asRead,
  isTransfer,
  leftL,
  type Particle,
  thinned,
  touchedBy,
  vesselIn,
  withoutStop,
} from './live-step.ts';

/** A landing this far under the target still counts as reached [K]. */
const REACHED_K = 0.5;
/** Particles before the pull, when the forecast runs through a whole boil: as many as a plan has. */
const BEFORE = 200;
/** How much later the second forecast returns [min]. */
const LATER_MIN = 10;

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
function leftOf(now: DaySession, moves: readonly Move[]): Move[] {
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
function play(now: DaySession, particle: Particle, moves: readonly Move[]): Trace {
  const read = moves.map((m) => asRead(m, particle.draw));
  return simulate(now.day.kit, particle.situation, read, dayOptions(now.day, particle.draw));
}

/**
 * Where the next return lands: made now, in ten minutes, and as planned.
 * @param session the day
 * @param nowMin [min after day start]
 * @returns undefined when no return is left
 */
export function forecastLanding(session: DaySession, nowMin: number): LandingForecast | undefined {
  const group = session.pulls.find((g) => !session.finished.has(g.final.id));
  if (!group) return undefined;
  const stage = stageOf(session, group);
  const now = allTo(stage === 'before' ? thinned(session, BEFORE) : session, nowMin);
  const at = now.lastMin;
  const soon = new Landings(now, group, hurried(now, group, stage, at));
  const later = new Landings(now, group, hurried(now, group, stage, at + LATER_MIN));
  const planned = plannedLanding(now, group);
  const pot = group.final.from;
  return {
    pull: group.pull,
    returnId: group.final.id,
    stage,
    now: band(soon.withNeed),
    in10Min: band(later.withNeed),
    withAllNow: band(soon.withAll),
    withAllIn10Min: band(later.withAll),
    asPlanned: band(planned.landingC),
    returnAtMin: band(planned.endMin),
    targetC: group.targetC,
    tunNowC: band(now.particles.map((p) => vesselIn(p, group.final.to).tempC)),
    potNowC: band(now.particles.map((p) => vesselIn(p, pot).tempC)),
    arrivalC: band(soon.arrivalC),
    needL: band(soon.needL),
    needPortions: band(soon.needL.map((l) => l / soon.portionL)),
    haveL: band(soon.haveL).likely,
    chance: soon.withAll.filter((c) => c >= group.targetC - REACHED_K).length / soon.withAll.length,
  };
}

/**
 * Landings of the next return made now with the planned need, one per particle.
 * @param now a session brought to now
 */
export function landingsNow(now: DaySession) {
  const group = now.pulls.find((g) => !now.finished.has(g.final.id));
  if (!group) return undefined;
  const moves = hurried(now, group, stageOf(now, group), now.lastMin);
  const { withNeed } = new Landings(now, group, moves);
  return { tun: group.final.to, pot: group.final.from, landingC: withNeed };
}

function stageOf(now: DaySession, group: PullGroup): LandingForecast['stage'] {
  const moves = now.moves.slice(group.first, group.last + 1);
  const has = (m: Move) => now.finished.has(m.id) || now.underway.has(m.id);
  if (moves.some((m) => m.kind === 'return' && has(m))) return 'returning';
  // Until the first pull is all in its pot, what counts is what it will do once boiled.
  return moves.some((m) => m.kind === 'pull' && now.finished.has(m.id)) ? 'out' : 'before';
}

/**
 * The moves that end this return soonest: pots that are out are not heated on, nobody waits for
 * the rest to run its minutes, and what is not pulled yet is pulled from `fromMin`.
 */
function hurried(
  now: DaySession,
  group: PullGroup,
  stage: LandingForecast['stage'],
  fromMin: number,
): Move[] {
  const out = new Set<string>();
  if (stage !== 'before')
    for (const { id } of now.day.kit.vessels) {
      const state = now.particles[0] && vesselIn(now.particles[0], id);
      if (state && id !== group.final.to && state.solidsKg + state.extractKg > 0.05) out.add(id);
    }
  const cooking = (m: Move) => ['heat', 'hold', 'boil', 'rest', 'wait'].includes(m.kind);
  return leftOf(now, now.moves.slice(group.first, group.last + 1))
    .filter((m) => !cooking(m) || !touchedBy(m).some((v) => out.has(v)))
    .filter((m) => !(m.kind === 'rest' && m.vessel === group.final.to))
    .map((m) => ({ ...m, earliestMin: Math.max(fromMin, m.earliestMin ?? 0) }));
}

/** Landings of the last transfer of a pull over the ensemble. */
class Landings {
  readonly withNeed: number[] = [];
  readonly withAll: number[] = [];
  readonly needL: number[] = [];
  readonly haveL: number[] = [];
  readonly arrivalC: number[] = [];
  readonly portionL: number;

  constructor(now: DaySession, group: PullGroup, moves: readonly Move[]) {
    this.portionL = now.stepper.routeOf(group.final).portionL;
    const unread = moves.map((m) => (isTransfer(m) ? withoutStop(m) : m));
    for (const p of now.particles) this.add(group, p, now.stepper.simulate(p, unread));
  }

  private add(group: PullGroup, particle: Particle, trace: Trace): void {
    const done = trace.moves.find((m) => m.id === group.final.id)?.transfer;
    const before = vesselIn(particle, group.final.to).tempC;
    if (!done || done.portions === 0) {
      this.withNeed.push(done?.landingC ?? before);
      this.withAll.push(done?.landingC ?? before);
      this.needL.push(0);
      this.haveL.push(0);
      this.arrivalC.push(done?.sourceC ?? before);
      return;
    }
    const over = particle.movedL[group.final.id] ?? 0;
    const steps = [done.beforeC, ...done.afterPortionC];
    this.withAll.push(done.landingC);
    this.withNeed.push(
      afterLitres(steps, Math.max(0, group.needL - over), done.litres, this.portionL),
    );
    this.needL.push(litresTo(steps, group.targetC, done.litres, this.portionL));
    this.haveL.push(done.litres);
    this.arrivalC.push(done.arrivalC);
  }
}

/** Temperature after some litres, between whole portions on a straight line. */
export function afterLitres(
  steps: readonly number[],
  litres: number,
  allL: number,
  portionL: number,
): number {
  const last = steps.length - 1;
  if (litres >= allL) return steps[last] as number;
  const whole = Math.min(last - 1, Math.floor(litres / portionL));
  const size = Math.min(portionL, allL - whole * portionL);
  const part = Math.min(1, (litres - whole * portionL) / size);
  return (steps[whole] as number) * (1 - part) + (steps[whole + 1] as number) * part;
}

/** Litres after which a temperature is reached; all of them when it is not. */
export function litresTo(
  steps: readonly number[],
  targetC: number,
  allL: number,
  portionL: number,
): number {
  if ((steps[0] as number) >= targetC) return 0;
  for (let k = 1; k < steps.length; k++) {
    const after = steps[k] as number;
    if (after < targetC) continue;
    const before = steps[k - 1] as number;
    const size = Math.min(portionL, allL - (k - 1) * portionL);
    return (k - 1) * portionL + (size * (targetC - before)) / (after - before);
  }
  return allL;
}

/** The day as planned from here, up to this return. */
function plannedLanding(now: DaySession, group: PullGroup) {
  const moves = leftOf(now, now.moves.slice(0, group.last + 1));
  const landingC: number[] = [];
  const endMin: number[] = [];
  for (const p of now.particles) {
    const trace = play(now, p, moves);
    const last = trace.moves.find((m) => m.id === group.final.id);
    landingC.push(last?.toC ?? vesselIn(p, group.final.to).tempC);
    endMin.push(last?.endMin ?? now.lastMin);
  }
  return { landingC, endMin };
}
