/** Where the next return lands: made now, in ten minutes, and as planned. */
import type { Move, Trace, TransferTrace } from '@ladlework/brewhouse';
import { band } from '@ladlework/numerics';
import type { LandingForecast } from './live.ts';
import { leftOf, play } from './live-forecast.ts';
import { allTo } from './live-going-on.ts';
import { afterLitres, litresTo, portionsOf } from './live-portions.ts';
import type { PullGroup } from './live-returns.ts';
import type { DaySession } from './live-session.ts';
import {
  isTransfer,
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
/** A vessel with less grist than this holds no pull [kg]. */
const NO_PULL_KG = 0.05;

/**
 * Where the next return lands: made now, in ten minutes, and as planned.
 * @param session the day
 * @param nowMin [min after day start]
 * @returns undefined when no return is left
 */
export function forecastLanding(session: DaySession, nowMin: number): LandingForecast | undefined {
  const group = nextPull(session);
  if (!group) return undefined;
  const stage = stageOf(session, group);
  const now = allTo(stage === 'before' ? thinned(session, BEFORE) : session, nowMin);
  const at = now.lastMin;
  const soon = new Landings(now, group, hurried(now, group, stage, at));
  const later = new Landings(now, group, hurried(now, group, stage, at + LATER_MIN));
  const planned = plannedLanding(now, group);
  const reached = soon.withAll.filter((c) => c >= group.targetC - REACHED_K).length;
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
    potNowC: band(now.particles.map((p) => vesselIn(p, group.pot).tempC)),
    arrivalC: band(soon.arrivalC),
    needL: band(soon.needL),
    needPortions: band(soon.needL.map((l) => l / soon.portionL)),
    haveL: band(soon.haveL).likely,
    chance: reached / soon.withAll.length,
  };
}

/**
 * Landings of the next return made now with the planned need, one per particle.
 * @param now a session brought to now
 */
export function landingsNow(now: DaySession) {
  const group = nextPull(now);
  if (!group) return undefined;
  const moves = hurried(now, group, stageOf(now, group), now.lastMin);
  const { withNeed } = new Landings(now, group, moves);
  return { tun: group.final.to, pot: group.pot, landingC: withNeed };
}

/** The pull that has not landed yet; what was begun after its return says that it has. */
function nextPull(session: DaySession): PullGroup | undefined {
  const seen = (m: Move) => session.finished.has(m.id) || session.underway.has(m.id);
  return session.pulls.find(
    (g) => !session.finished.has(g.final.id) && !session.moves.slice(g.last + 1).some(seen),
  );
}

function stageOf(now: DaySession, group: PullGroup): LandingForecast['stage'] {
  const moves = now.moves.slice(group.first, group.last + 1);
  const has = (m: Move) => now.finished.has(m.id) || now.underway.has(m.id);
  if (moves.some((m) => m.kind === 'return' && has(m))) return 'returning';
  // Until the first pull is all in its pot, what counts is what it will do once boiled.
  return moves.some((m) => m.kind === 'pull' && now.finished.has(m.id)) ? 'out' : 'before';
}

/**
 * The moves that end this return soonest: what is in a pot is not heated on, nobody waits for a
 * rest to run its minutes, and what is still to be pulled or returned goes from `fromMin` on.
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
      if (state && id !== group.final.to && state.solidsKg + state.extractKg > NO_PULL_KG)
        out.add(id);
    }
  const own = new Set(now.moves.slice(group.first, group.last + 1).map((m) => m.id));
  const first = stage === 'before' ? 0 : group.first;
  const moves: Move[] = [];
  for (const move of leftOf(now, now.moves.slice(first, group.last + 1))) {
    if (move.kind === 'rest') continue;
    // Each load is returned as it is; the pot boils the next one as planned.
    if (COOKING.has(move.kind) && touchedBy(move).some((v) => out.has(v))) continue;
    if (move.kind === 'return') out.delete(move.from);
    const wait = isTransfer(move) && own.has(move.id) ? fromMin : now.lastMin;
    moves.push({ ...move, earliestMin: Math.max(wait, move.earliestMin ?? 0) });
  }
  return moves;
}

const COOKING: ReadonlySet<Move['kind']> = new Set(['heat', 'hold', 'boil', 'wait']);

/** Landings of a pull over the ensemble. */
class Landings {
  readonly withNeed: number[] = [];
  readonly withAll: number[] = [];
  readonly needL: number[] = [];
  readonly haveL: number[] = [];
  readonly arrivalC: number[] = [];
  readonly portionL: number;
  private readonly group: PullGroup;

  constructor(now: DaySession, group: PullGroup, moves: readonly Move[]) {
    this.group = group;
    this.portionL = now.stepper.routeOf(group.final).portionL;
    const unread = moves.map((m) => (isTransfer(m) ? withoutStop(m) : m));
    for (const p of now.particles) this.add(p, now.stepper.simulate(p, unread));
  }

  private add(particle: Particle, trace: Trace): void {
    const { group } = this;
    const transfers = trace.moves
      .filter((m) => group.landing.has(m.id))
      .flatMap((m): TransferTrace[] => (m.transfer ? [m.transfer] : []));
    const before = vesselIn(particle, group.final.to).tempC;
    const steps = portionsOf(before, transfers, this.portionL);
    let over = 0;
    for (const id of group.landing) over += particle.movedL[id] ?? 0;
    this.withAll.push(steps.tempC.at(-1) as number);
    this.withNeed.push(afterLitres(steps, Math.max(0, group.needL - over)));
    this.needL.push(litresTo(steps, group.targetC));
    this.haveL.push(steps.litres.at(-1) as number);
    this.arrivalC.push(meanArrival(transfers) ?? vesselIn(particle, group.pot).tempC);
  }
}

/** Mean temperature as it lands, weighted by what each transfer carried. */
function meanArrival(transfers: readonly TransferTrace[]): number | undefined {
  let kg = 0;
  let sum = 0;
  for (const t of transfers) {
    kg += t.kg;
    sum += t.kg * t.arrivalC;
  }
  return kg > 0 ? sum / kg : undefined;
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
