/** The kit as the troubles of the day leave it. */
import { burnerPowerKW, type Kit } from '@ladlework/brewhouse';
import { brewDay } from '../day.ts';
import type { DaySession, Troubles } from '../live-session.ts';
import { Stepper } from '../live-step.ts';

/** A scorching pot is heated with this share of its fire. common practice, no source */
const SCORCHED_FIRE = 0.5;
/** A burner that is out; the heat balance asks for a number above nothing [kW]. */
const NO_FIRE_KW = 1e-6;
/**
 * The session as if every burner, pump and hand that is out were back: a move that still needs one
 * is meant for when it is.
 */
export function putRight(session: DaySession): DaySession {
  const told = session.troubles.told.filter((m) => !OUT.has(m.code));
  const back = toldOf(session, { ...session.troubles, told });
  return { ...back, troubles: session.troubles };
}

/** Burners, routes and hands that are out. */
export function goneThings(session: DaySession): ReadonlySet<string> {
  return new Set(
    session.troubles.told.flatMap((m) =>
      OUT.has(m.code) && m.thing !== undefined ? [m.thing] : [],
    ),
  );
}

const OUT: ReadonlySet<string> = new Set(['pump-dead', 'burner-out', 'helper-gone']);

/** The session with other troubles open, and the kit as they leave it. */
export function toldOf(session: DaySession, troubles: Troubles): DaySession {
  const kit = kitWith(brewDay(session.document).kit, troubles);
  const day = { ...session.day, kit };
  return { ...session, troubles, day, stepper: new Stepper(day) };
}

/** A kit whose pots keep more back and whose burners are turned down. */
function kitWith(kit: Kit, { told, fires }: Troubles): Kit {
  const keeps = new Map<string, number>();
  const fire = new Map<string, number>();
  const out = new Set(told.flatMap((m) => (m.code === 'burner-out' ? [m.thing] : [])));
  for (const m of told) {
    if (m.vessel === undefined) continue;
    if (m.code === 'stuck') keeps.set(m.vessel, (keeps.get(m.vessel) ?? 0) + (m.litres ?? 0));
    const share = m.code === 'scorched' ? SCORCHED_FIRE : fires.get(m.id);
    if (share !== undefined) fire.set(m.vessel, share * (fire.get(m.vessel) ?? 1));
  }
  return {
    ...kit,
    vessels: kit.vessels.map((v) => {
      const more = keeps.get(v.id);
      return more === undefined ? v : { ...v, deadL: Math.min(v.brimL, v.deadL + more) };
    }),
    burners: kit.burners.map((b) => {
      if (out.has(b.id)) {
        const { waterTest: _, ...plain } = b;
        return { ...plain, ratedKW: NO_FIRE_KW, efficiency: 1 };
      }
      const share = Math.min(...b.heats.map((id) => fire.get(id) ?? Number.POSITIVE_INFINITY));
      if (!Number.isFinite(share)) return b;
      const { waterTest: _, ...plain } = b;
      return { ...plain, ratedKW: share * burnerPowerKW(b, kit), efficiency: 1 };
    }),
  };
}
