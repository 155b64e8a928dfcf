/** What stood in the vessels since the day began, as the entries of each minute had it. */
import { type VesselCurve, volumeOf } from '@ladlework/brewhouse';
import { thermalIn } from './live-assimilate.ts';
import { allTo } from './live-going-on.ts';
import { type MashStretch, mashUntil } from './live-mash-curves.ts';
import type { DaySession } from './live-session.ts';
import { thinned, vesselIn } from './live-step.ts';

/** Particles behind a drawn line: their mean is steady to a few hundredths of a kelvin. */
const SUBSET = 9;
/** Between two entries the line is drawn through points this far apart [min]. */
const STEP_MIN = 2;

/** The vessels of the kit in its order, at one minute. */
interface Sample {
  readonly atMin: number;
  readonly tempC: readonly number[];
  readonly volumeL: readonly number[];
}

/** A stretch of the past and the one before it; stretches are shared between sessions. */
export interface Past {
  readonly before: Past | undefined;
  readonly samples: readonly Sample[];
  readonly mash: MashStretch;
}

/**
 * The past with the stretch between two sessions added.
 * @param past up to the first session
 * @param session before an entry
 * @param after the same day after that entry
 */
export function pastThrough(past: Past | undefined, session: DaySession, after: DaySession): Past {
  return {
    before: past,
    samples: [
      ...samplesTo(session, after.lastMin),
      // An entry carries only the vessels it touches; the others are brought up to be seen.
      sampleOf(allTo(thinned(after, SUBSET), after.lastMin)),
    ],
    mash: mashUntil(session, after.lastMin),
  };
}

/** What the mash was like in the stretches of a past, first to last. */
export function mashOf(past: Past | undefined): MashStretch[] {
  const stretches: MashStretch[] = [];
  for (let p = past; p; p = p.before) stretches.push(p.mash);
  return stretches.reverse();
}

/**
 * Temperature and volume of each vessel from the beginning to a minute.
 * @param past up to the session
 * @param session the day now
 * @param nowMin [min after day start]
 * @returns one curve per vessel of the kit; empty vessels have volume 0
 */
export function curvesOf(
  past: Past | undefined,
  session: DaySession,
  nowMin: number,
): VesselCurve[] {
  const stretches = [samplesTo(session, nowMin)];
  for (let p = past; p; p = p.before) stretches.push(p.samples as Sample[]);
  const samples = stretches.reverse().flat();
  return session.day.kit.vessels.map(({ id }, v) => ({
    vessel: id,
    timeMin: samples.map((s) => s.atMin),
    tempC: samples.map((s) => s.tempC[v] as number),
    volumeL: samples.map((s) => s.volumeL[v] as number),
  }));
}

function samplesTo(session: DaySession, toMin: number): Sample[] {
  let now = thinned(session, SUBSET);
  const samples: Sample[] = [];
  for (let at = session.lastMin + STEP_MIN; at < toMin; at += STEP_MIN) {
    now = allTo(now, at);
    samples.push(sampleOf(now));
  }
  if (toMin > session.lastMin) samples.push(sampleOf(allTo(now, toMin)));
  return samples;
}

function sampleOf(session: DaySession): Sample {
  const ids = session.day.kit.vessels.map((v) => v.id);
  const n = session.particles.length;
  const mean = (read: (p: DaySession['particles'][number]) => number) =>
    session.particles.reduce((sum, p) => sum + read(p), 0) / n;
  return {
    atMin: session.lastMin,
    tempC: ids.map((id) => mean((p) => vesselIn(p, id).tempC)),
    volumeL: ids.map((id) =>
      mean((p) => volumeOf(vesselIn(p, id), thermalIn(session.day, id, p.draw))),
    ),
  };
}
