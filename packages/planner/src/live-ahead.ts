/** The rest of the day as lines to draw: the likely one, and the band around it. */
import { type Move, simulate, type Trace, type VesselCurve } from '@ladlework/brewhouse';
import { quantile } from '@ladlework/numerics';
import { dayOptions } from './day.ts';
import { remainingOf } from './live-forecast.ts';
import { allTo } from './live-going-on.ts';
import type { DaySession } from './live-session.ts';
import { asRead, meanParticle, type Particle, thinned } from './live-step.ts';
import type { Plan } from './plan.ts';
import { curveAt } from './plan-day.ts';

/** Particles behind the band of a line. */
const SUBSET = 40;
/** Points of the band are this far apart [min]. */
const STEP_MIN = 3;

export interface DayAhead {
  /** The likely rest of the day from now, with its curves. */
  readonly trace: Trace;
  /** Low and high temperature of each vessel on the clock, 10 % and 90 %. */
  readonly curveBands: Plan['curveBands'];
}

/**
 * The rest of the day from what stands there now, for drawing.
 * @param session the day
 * @param nowMin [min after day start]
 */
export function aheadOf(session: DaySession, nowMin: number): DayAhead {
  const now = allTo(session, nowMin);
  const moves = remainingOf(now);
  const trace = drawn(now, meanParticle(now.particles), moves);
  const end = trace.moves.reduce((last, m) => Math.max(last, m.endMin), now.lastMin);
  const timeMin: number[] = [];
  for (let t = now.lastMin; t <= end; t += STEP_MIN) timeMin.push(t);
  const played = thinned(now, SUBSET).particles.map((p) => drawn(now, p, moves).curves);
  return {
    trace,
    curveBands: trace.curves.map(({ vessel }) => {
      const own = played.flatMap((curves) => curves.filter((c) => c.vessel === vessel));
      return { vessel, timeMin, ...spread(own, timeMin) };
    }),
  };
}

function drawn(now: DaySession, particle: Particle, moves: readonly Move[]): Trace {
  const read = moves.map((m) => asRead(m, particle.draw));
  const options = { ...dayOptions(now.day, particle.draw), curves: true };
  return simulate(now.day.kit, particle.situation, read, options);
}

function spread(curves: readonly VesselCurve[], timeMin: readonly number[]) {
  const at = timeMin.map((t) => curves.map((c) => curveAt(c.timeMin, c.tempC, t)));
  return {
    lowC: at.map((temps) => quantile(temps, 0.1)),
    highC: at.map((temps) => quantile(temps, 0.9)),
  };
}
