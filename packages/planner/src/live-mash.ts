/** What the mash of each vessel is like now, and the way out when iodine shows starch. */
import { GristEngine, type MashReading } from '@ladlework/brewhouse';
import { bringTo } from './live-going-on.ts';
import type { DaySession } from './live-session.ts';
import { thinned, vesselIn } from './live-step.ts';
import { rescueMalt, type StarchRescue, starchRescue } from './starch.ts';

/** Species of one vessel's mash on the likely day. */
interface LikelyMash {
  readonly vessel: string;
  readonly mash: Float64Array;
  readonly engine: GristEngine;
}

/** What the mash of a vessel is like on the likely day. */
export interface MashNow {
  readonly vessel: string;
  /** Enzymes and starch are shares of what the whole grist brought. */
  readonly reading: MashReading;
  /** Iodine would stay yellow. */
  readonly iodineNormal: boolean;
}

/** Less than this is what clings to the walls [kg]. */
const NO_GRIST_KG = 0.05;

/**
 * The mash of every vessel on the likely day, with the kinetics run up to a minute.
 * @param session the day
 * @param nowMin [min after day start]; before the newest entry counts as that entry's
 * @returns in the order of the kit; vessels without mash are left out, all of them when the day runs
 *   without kinetics
 */
export function mashNow(session: DaySession, nowMin: number): MashNow[] {
  return likelyMash(session, nowMin).map(({ vessel, mash, engine }) => ({
    vessel,
    reading: engine.read(mash),
    iodineNormal: engine.results(mash).iodineNormal,
  }));
}

/**
 * What clears a vessel whose iodine test was blue, from what stands in it now.
 * @param session the day
 * @param vessel the vessel that was tested
 * @param nowMin [min after day start]
 * @returns nothing when no mash stands there, when the day runs without kinetics, or when the beer
 *   has no base malt for a side mash
 */
export function rescueNow(
  session: DaySession,
  vessel: string,
  nowMin: number,
): StarchRescue | undefined {
  const here = likelyMash(session, nowMin).find((m) => m.vessel === vessel);
  const { beer } = session.document;
  const fresh = rescueMalt(beer);
  if (!here || !fresh) return undefined;
  const gristKg = beer.malts.reduce((sum, m) => sum + m.kg, 0);
  return starchRescue(here.mash, here.engine, fresh, gristKg);
}

/** The likely day alone, every vessel brought up with the kinetics running. */
function likelyMash(session: DaySession, nowMin: number): LikelyMash[] {
  const at = Math.max(session.lastMin, nowMin);
  const ids = session.day.kit.vessels.map((v) => v.id);
  // One particle is enough: the likely day is carried beside it.
  let now: DaySession = { ...thinned(session, 1), doubted: [], lastMin: at };
  for (const id of ids) now = bringTo(now, id, at);
  const { likely } = now;
  const engine = likely?.engine;
  if (!likely || !(engine instanceof GristEngine)) return [];
  return ids.flatMap((vessel) => {
    const { mash, solidsKg, extractKg } = vesselIn(likely.particle, vessel);
    return mash === undefined || solidsKg + extractKg < NO_GRIST_KG
      ? []
      : [{ vessel, mash, engine }];
  });
}
