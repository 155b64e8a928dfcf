/**
 * Readings of probes in the running day. What a probe is off is the same from one reading to the
 * next, so a hundred of them know no more about that than one: it is one more unknown of every
 * particle, and only a reading by hand, or the heat balance, can narrow it.
 */
import { type Move, massOf, volumeOf } from '@ladlework/brewhouse';
import { normalQuantile, seededRandom } from '@ladlework/numerics';
import type { Reading } from './live.ts';
import { type Observation, thermalIn } from './live-assimilate.ts';
import { type DaySession, moveOf } from './live-session.ts';
import { touchedBy, vesselIn } from './live-step.ts';

/** One and the same number of a probe, and what the ensemble says of its vessel meanwhile. */
export interface ProbeStanding {
  readonly vessel: string;
  readonly value: number;
  readonly sinceMin: number;
  /** Sum of what the content was predicted to change between readings [K]. */
  readonly movedK: number;
  /** Mean of the ensemble after the newest reading [°C]. */
  readonly afterC: number;
}

/** Two numbers nearer than this are the same: below the last digit of any probe [K]. */
const SAME_K = 0.02;
/** Stuck: the content must have moved by so much meanwhile; a probe that shows whole degrees stands
 * still for one [K]. */
const STUCK_K = 1.5;

/** Content that was carried is of one temperature so long after [min]. common practice, no source */
const MIXING_MIN = 5;
/** Moves that bring content in or take it out. */
const CARRIES: ReadonlySet<Move['kind']> = new Set([
  'pull',
  'return',
  'pour',
  'mash-in',
  'preheat',
  'rinse',
]);
/** A vessel with less in it than this shows its probe the air [kg]. */
const EMPTY_KG = 1;

/** Whether what a vessel holds is being carried, or was until a moment ago. */
export function unmixed(session: DaySession, vessel: string, at: number): boolean {
  const touches = (id: string) => {
    const move = moveOf(session, id);
    return move !== undefined && CARRIES.has(move.kind) && touchedBy(move).includes(vessel);
  };
  for (const id of session.underway.keys()) if (touches(id)) return true;
  for (const [id, endMin] of session.finished)
    if (at - endMin < MIXING_MIN && touches(id)) return true;
  return false;
}

/** Whether a vessel holds nothing a probe could measure. */
export function isEmpty(session: DaySession, vessel: string): boolean {
  const { particles } = session;
  const kg = particles.reduce((sum, p) => sum + massOf(vesselIn(p, vessel)), 0);
  return kg / particles.length < EMPTY_KG;
}

/** The session with what this probe may be off in every particle; drawn once, the same each time. */
export function withProbe(session: DaySession, probe: NonNullable<Reading['probe']>): DaySession {
  if (session.particles[0]?.probes?.[probe.id] !== undefined) return session;
  const n = session.particles.length;
  // Even quantiles in an order of chance: no spread by luck, no link to the other unknowns.
  const order = Array.from({ length: n }, (_, i) => i);
  const random = seededRandom(seedOf(probe.id));
  for (let i = n - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [order[i], order[j]] = [order[j] as number, order[i] as number];
  }
  const particles = session.particles.map((p, i) => {
    const off = probe.sd * normalQuantile(((order[i] as number) + 0.5) / n);
    return { ...p, probes: { ...p.probes, [probe.id]: off } };
  });
  return { ...session, particles };
}

/** FNV-1a of an id: a seed of its own for each probe. */
function seedOf(id: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < id.length; i++) hash = Math.imul(hash ^ id.charCodeAt(i), 0x01000193);
  return hash | 0;
}

/** What each particle's probe would show. */
export function probeObservation(session: DaySession, reading: Reading, id: string): Observation {
  const { vessel } = reading;
  const temp = reading.what === 'temp';
  const shown = Float64Array.from(session.particles, (p) => {
    const state = vesselIn(p, vessel);
    const off = p.probes?.[id] ?? 0;
    return temp
      ? state.tempC + off
      : volumeOf(state, thermalIn(session.day, vessel, p.draw)) * (1 + off);
  });
  return { shown, value: reading.value, sd: reading.sd, ...(temp && { vessel }) };
}

/** Mean of a vessel's temperature over the ensemble [°C]. */
function meanC(session: DaySession, vessel: string): number {
  const { particles } = session;
  return particles.reduce((sum, p) => sum + vesselIn(p, vessel).tempC, 0) / particles.length;
}

/**
 * How long a probe has stood still, this reading included.
 *
 * What readings did to the ensemble does not count as movement: a stuck probe drags the ensemble
 * along and would never be found out.
 */
export function standsSince(session: DaySession, reading: Reading, id: string): ProbeStanding {
  const { vessel, value, atMin } = reading;
  const nowC = meanC(session, vessel);
  const before = session.standing.get(id);
  return before !== undefined && before.vessel === vessel && Math.abs(value - before.value) < SAME_K
    ? { ...before, movedK: before.movedK + nowC - before.afterC, afterC: nowC }
    : { vessel, value, sinceMin: atMin, movedK: 0, afterC: nowC };
}

/** Whether it has stood still for too long to be true. */
export function isStuck(standing: ProbeStanding): boolean {
  return Math.abs(standing.movedK) > STUCK_K;
}

/** The session after a probe's reading was taken: movement is counted on from there. */
export function settled(session: DaySession, id: string): DaySession {
  const standing = session.standing.get(id);
  if (standing === undefined) return session;
  const afterC = meanC(session, standing.vessel);
  return { ...session, standing: new Map(session.standing).set(id, { ...standing, afterC }) };
}

/** A reading by hand that agrees within this frees a probe from being called stuck [K]. */
const AGREES_K = 1;

/** The session after somebody read a vessel by hand: what its probes were thought to miss is known. */
export function handRead(session: DaySession, reading: Reading): DaySession {
  const standing = new Map(session.standing);
  for (const [id, s] of standing) {
    if (s.vessel !== reading.vessel || reading.what !== 'temp') continue;
    const afterC = meanC(session, s.vessel);
    const agrees = Math.abs(reading.value - s.value) <= AGREES_K;
    standing.set(id, { ...s, afterC, ...(agrees && { movedK: 0, sinceMin: reading.atMin }) });
  }
  return { ...session, standing };
}

export function stuckText(session: DaySession, reading: Reading, standing: ProbeStanding): string {
  const name = session.day.kit.vessels.find((v) => v.id === reading.vessel)?.name;
  const minutes = Math.round(reading.atMin - standing.sinceMin);
  const moved = Math.abs(standing.movedK).toFixed(1);
  return `${name}: the probe has shown ${reading.value.toFixed(1)} °C for ${minutes} min, while the content must have ${standing.movedK < 0 ? 'lost' : 'gained'} ${moved} K. Look at it, or read by hand`;
}
