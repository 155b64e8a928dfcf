/** A running day that remembers how far each list of entries had been folded. */
import type { Move, VesselCurve } from '@ladlework/brewhouse';
import type { PlanDocument } from './document.ts';
import type { DayEntry } from './live.ts';
import { applyEntry } from './live-apply.ts';
import { curvesOf, mashOf, type Past, pastThrough } from './live-history.ts';
import { mashAlong } from './live-mash-curves.ts';
import { type DayOptions, type DaySession, minuteOf, openDay } from './live-session.ts';
import type { MashBand } from './mash-bands.ts';

/** Folded sessions kept; one holds every particle's contents, so not all of a long day. */
const KEPT = 48;

export interface DayKeeper {
  /**
   * The day after these entries.
   * @param entries in any order; those of one minute are taken in the order given
   */
  at(entries: readonly DayEntry[]): DaySession;
  /**
   * What stood in the vessels up to a minute, as the entries of each moment had it.
   * @param entries as for `at`
   * @param nowMin [min after day start]
   */
  history(entries: readonly DayEntry[], nowMin: number): VesselCurve[];
  /**
   * The mash of each vessel, as it became and as it is likely to go on.
   * @param entries as for `at`
   * @param nowMin [min after day start], not before the newest entry
   */
  mash(entries: readonly DayEntry[], nowMin: number): MashBand[];
}

/** A session and how it came there. */
interface Reached {
  readonly session: DaySession;
  readonly past: Past | undefined;
}

/**
 * Keeps a day for a page: a new entry costs only its own step, an undo or a correction goes back
 * to the last session before it and folds on from there.
 */
export function keepDay(
  document: PlanDocument,
  moves: readonly Move[],
  options: DayOptions = {},
): DayKeeper {
  const opening: Reached = { session: openDay(document, moves, options), past: undefined };
  const kept = new Map<string, Reached>();
  const remember = (key: string, reached: Reached) => {
    kept.delete(key);
    kept.set(key, reached);
    for (const oldest of kept.keys()) {
      if (kept.size <= KEPT) break;
      kept.delete(oldest);
    }
  };
  const reach = (entries: readonly DayEntry[]): Reached => {
    const sorted = [...entries].sort((a, b) => minuteOf(a) - minuteOf(b));
    const keys: string[] = [];
    let key = '';
    for (const entry of sorted) {
      key += `${JSON.stringify(entry)}\n`;
      keys.push(key);
    }
    let from = sorted.length;
    let known: Reached | undefined;
    while (from > 0 && !known) {
      known = kept.get(keys[from - 1] as string);
      if (!known) from--;
    }
    let now = known ?? opening;
    for (let i = from; i < sorted.length; i++) {
      const session = applyEntry(now.session, sorted[i] as DayEntry);
      now = { session, past: pastThrough(now.past, now.session, session) };
      remember(keys[i] as string, now);
    }
    return now;
  };
  return {
    at: (entries) => reach(entries).session,
    history(entries, nowMin) {
      const { session, past } = reach(entries);
      return curvesOf(past, session, nowMin);
    },
    mash(entries, nowMin) {
      const { session, past } = reach(entries);
      return mashAlong(mashOf(past), session, nowMin);
    },
  };
}
