/** The mash of each vessel along the running day: as it became, and as it is likely to go on. */
import { type MashCurve, simulate, type Trace } from '@ladlework/brewhouse';
import { dayOptions } from './day.ts';
import { remainingOf } from './live-forecast.ts';
import { allTo, bringTo } from './live-going-on.ts';
import type { DaySession, LikelyMash } from './live-session.ts';
import { asRead, thinned, vesselIn } from './live-step.ts';
import { joinedCurves, type MashBand, mashBands } from './mash-bands.ts';

/** Between two entries the mash is looked at this often [min]. */
const STEP_MIN = 4;

/** Less than this is what clings to the walls [kg]. */
const NO_GRIST_KG = 0.05;

/** Curves of the likely day and of each draw of the kinetics beside it, over one stretch. */
export interface MashStretch {
  readonly likely: readonly MashCurve[];
  readonly doubted: readonly (readonly MashCurve[])[];
}

/**
 * The mash between the newest entry of a session and a minute after it.
 * @param session the day
 * @param toMin [min after day start]
 */
export function mashUntil(session: DaySession, toMin: number): MashStretch {
  let now = thinned(session, 1);
  const seen = [lookAt(now)];
  for (let at = session.lastMin + STEP_MIN; at < toMin; at += STEP_MIN) {
    now = broughtTo(now, at);
    seen.push(lookAt(now));
  }
  if (toMin > session.lastMin) seen.push(lookAt(broughtTo(now, toMin)));
  return inARow(seen);
}

/**
 * Starch, extract and enzymes per vessel over the whole day, with their bands.
 * @param past stretches up to the newest entry, in order
 * @param session the day
 * @param nowMin [min after day start], not before the newest entry
 * @returns nothing when the day runs without kinetics. The bands are those of malt and rates: what
 *   the vessels' temperatures were is known from the readings
 */
export function mashAlong(
  past: readonly MashStretch[],
  session: DaySession,
  nowMin: number,
): MashBand[] {
  if (!session.likely) return [];
  const whole = inARow([...past, mashUntil(session, nowMin), mashAhead(session, nowMin)]);
  return mashBands(whole.likely, whole.doubted);
}

/** The rest of the day with the kinetics running, from what stands there now. */
function mashAhead(session: DaySession, nowMin: number): MashStretch {
  const moves = remainingOf(allTo(session, nowMin));
  const now = broughtTo(thinned(session, 1), nowMin);
  const play = ({ particle, engine }: LikelyMash): Trace => {
    const read = moves.map((m) => asRead(m, particle.draw));
    const options = { ...dayOptions(now.day, particle.draw), mash: engine, curves: true };
    return simulate(now.day.kit, particle.situation, read, options);
  };
  return {
    likely: now.likely ? play(now.likely).mashCurves : [],
    doubted: now.doubted.map((d) => play(d).mashCurves),
  };
}

/** Every vessel brought to a minute with the kinetics running. */
function broughtTo(session: DaySession, at: number): DaySession {
  let now: DaySession = { ...session, lastMin: Math.max(session.lastMin, at) };
  for (const { id } of session.day.kit.vessels) now = bringTo(now, id, now.lastMin);
  return now;
}

/** One look into every vessel that holds mash. */
function lookAt(session: DaySession): MashStretch {
  const look = ({ particle, engine }: LikelyMash): MashCurve[] =>
    session.day.kit.vessels.flatMap(({ id }) => {
      const { mash, solidsKg, extractKg } = vesselIn(particle, id);
      const empty = mash === undefined || solidsKg + extractKg < NO_GRIST_KG;
      const reading = empty ? undefined : engine.read?.(mash);
      return reading === undefined
        ? []
        : [{ vessel: id, timeMin: [session.lastMin], readings: [reading] }];
    });
  return {
    likely: session.likely ? look(session.likely) : [],
    doubted: session.doubted.map(look),
  };
}

function inARow(stretches: readonly MashStretch[]): MashStretch {
  const join = (curves: readonly (readonly MashCurve[])[]) =>
    joinedCurves(curves.map((mashCurves) => ({ mashCurves })));
  const draws = stretches[0]?.doubted.length ?? 0;
  return {
    likely: join(stretches.map((s) => s.likely)),
    doubted: Array.from({ length: draws }, (_, i) =>
      join(stretches.map((s) => s.doubted[i] as readonly MashCurve[])),
    ),
  };
}
