/**
 * What a miss does to the running day: content that is gone, a pot that keeps more back, a burner
 * at half fire, a burner, pump or helper that is out until it is put right.
 */
import { heatCapacity, massOf, type VesselState, volumeOf } from '@ladlework/brewhouse';
import { findRoot } from '@ladlework/numerics';
import { thermalIn } from '../live-assimilate.ts';
import { bringTo } from '../live-going-on.ts';
import { type DaySession, each, moveOf, setFinished } from '../live-session.ts';
import { clockOf, meanParticle, type Particle, touchedBy, vesselIn } from '../live-step.ts';
import { toldOf } from './kit-left.ts';
import type { MissEntry } from './miss-types.ts';

type Told = Extract<MissEntry, { kind: 'miss' }>;

/** No loss takes all: what clings stays [share]. */
const MOST_LOST = 0.98;
/** Shares of a burner's fire a late pot may mean. */
const LEAST_FIRE = 0.05;
const MOST_FIRE = 1.5;
/** Stands for a heat-up that does not end [min]. */
const NEVER_MIN = 720;

/**
 * The session after something went wrong, or was put right.
 * @param session not changed
 * @param entry a miss, or the word that one is over
 * @param at its minute, not before the session's newest entry [min after day start]
 * @returns a new session; a miss that says nothing of heat or mass is only kept in `troubles`
 */
export function applyMiss(session: DaySession, entry: MissEntry, at: number): DaySession {
  if (entry.kind === 'miss-over') {
    const told = session.troubles.told.filter((m) => m.id !== entry.id);
    return toldOf(session, { ...session.troubles, told });
  }
  const told = [...session.troubles.told, entry];
  const here = stopped(session, entry, at);
  const now = toldOf(here, { ...here.troubles, told });
  switch (entry.code) {
    case 'spilled':
    case 'boiled-over':
      return lost(now, entry, at);
    case 'stuck':
      return stuck(now, entry, at);
    case 'pot-late':
      return late(now, entry, at);
    default:
      return now;
  }
}

/** What stood on a burner that went out, or was carried by a pump that died, is over. */
function stopped(session: DaySession, entry: Told, at: number): DaySession {
  if (entry.code !== 'burner-out' || entry.thing === undefined) return session;
  let now = session;
  for (const id of session.underway.keys()) {
    const move = moveOf(session, id);
    if (move === undefined || !('burner' in move) || move.burner !== entry.thing) continue;
    now = setFinished(bringTo(now, move.vessel, at), id, at);
  }
  return now;
}

/** Content gone to the floor: liquid and solids alike, at the heat it had. */
function lost(session: DaySession, { vessel, litres }: Told, at: number): DaySession {
  if (vessel === undefined || litres === undefined || litres <= 0) return session;
  const here = bringTo(session, vessel, at);
  let lostKg = 0;
  const after = each(here, (p, engine) => {
    const state = vesselIn(p, vessel);
    const held = volumeOf(state, thermalIn(here.day, vessel, p.draw));
    const share = held > 0 ? Math.min(MOST_LOST, litres / held) : 0;
    if (engine === undefined) lostKg += (share * massOf(state)) / (here.particles.length + 1);
    return withState(p, without(state, share));
  });
  return { ...after, troubles: { ...after.troubles, lostKg: after.troubles.lostKg + lostKg } };
}

/** A state with a share of all it holds taken away. */
function without(state: VesselState, share: number): VesselState {
  const keep = 1 - share;
  return {
    ...state,
    waterKg: keep * state.waterKg,
    solidsKg: keep * state.solidsKg,
    extractKg: keep * state.extractKg,
    // Species are amounts; what leaves as it is mixed takes the same share of each.
    ...(state.mash && { mash: state.mash.map((amount) => keep * amount) }),
  };
}

/**
 * Content that stayed in the pot. While the pot is still to be emptied its dead volume has grown;
 * after that the mash has less, and less heat, than was thought.
 */
function stuck(session: DaySession, { vessel, litres }: Told, at: number): DaySession {
  if (vessel === undefined || litres === undefined || litres <= 0) return session;
  const tun = session.day.restTun.id;
  const emptied = session.moves.findLast(
    (m) => m.kind === 'return' && m.from === vessel && session.finished.has(m.id),
  );
  if (emptied === undefined || vessel === tun) return session;
  const here = bringTo(bringTo(session, vessel, at), tun, at);
  return each(here, (p) => unreturned(here, p, vessel, tun, litres));
}

/** Takes litres that never came out of the mash again, with the heat they were thought to bring. */
function unreturned(
  session: DaySession,
  particle: Particle,
  pot: string,
  tun: string,
  litres: number,
): Particle {
  const thermal = thermalIn(session.day, tun, particle.draw);
  const before = vesselIn(particle, tun);
  const held = volumeOf(before, thermal);
  const share = held > 0 ? Math.min(0.5, litres / held) : 0;
  const after = without(before, share);
  const moved = heatCapacity(before, thermal) - heatCapacity(after, thermal);
  const potC = vesselIn(particle, pot).tempC;
  const tempC =
    (heatCapacity(before, thermal) * before.tempC - moved * potC) / heatCapacity(after, thermal);
  const held2 = vesselIn(particle, pot);
  const grown: VesselState = {
    ...held2,
    waterKg: held2.waterKg + share * before.waterKg,
    solidsKg: held2.solidsKg + share * before.solidsKg,
    extractKg: held2.extractKg + share * before.extractKg,
    ...(before.mash && { mash: added(held2.mash, before.mash, share) }),
  };
  return withState(withState(particle, { ...after, tempC }), grown);
}

function added(to: Float64Array | undefined, of: Float64Array, share: number): Float64Array {
  return of.map((amount, i) => (to?.[i] ?? 0) + share * amount);
}

/**
 * A heat-up that needs so much longer has a burner so much weaker: that share of its fire holds from
 * here on, until it is put right.
 */
function late(session: DaySession, entry: Told, at: number): DaySession {
  const { vessel, minutes } = entry;
  if (vessel === undefined || minutes === undefined) return session;
  const heat = [...session.underway.keys()]
    .map((id) => moveOf(session, id))
    .find((m) => m?.kind === 'heat' && touchedBy(m).includes(vessel));
  if (heat?.kind !== 'heat') return session;
  // Broken off later or not, the fire is what it was said to be.
  const { maxMinutes: _, ...whole } = heat;
  const here = bringTo(session, vessel, at);
  const middle = meanParticle(here.particles);
  const over = (share: number) => {
    const draw = { ...middle.draw, burner: middle.draw.burner * share };
    const end = here.stepper.run(
      { ...middle, draw },
      [{ ...whole, hands: [], earliestMin: 0 }],
      undefined,
      draw,
    );
    // A fire too weak for its losses is given up at once, and must not pass for a quick one.
    const grew = vesselIn(end, vessel).tempC - vesselIn(middle, vessel).tempC;
    return clockOf(end, heat) - at < 1 && grew < 1 ? NEVER_MIN : clockOf(end, heat) - at - minutes;
  };
  const root = findRoot(over, LEAST_FIRE, MOST_FIRE, { fTolerance: 0.1, xTolerance: 1e-3 });
  const share = root.ok ? root.x : over(MOST_FIRE) > 0 ? MOST_FIRE : LEAST_FIRE;
  const fires = new Map(here.troubles.fires).set(entry.id, share);
  return toldOf(here, { ...here.troubles, fires });
}

function withState(particle: Particle, state: VesselState): Particle {
  const vessels = particle.situation.vessels.map((s) => (s.vessel === state.vessel ? state : s));
  return { ...particle, situation: { ...particle.situation, vessels } };
}
