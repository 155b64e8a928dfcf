/** A running day that remembers how far each list of entries had been folded. */
import type { Move } from '@ladlework/brewhouse';
import type { PlanDocument } from './document.ts';
import type { DayEntry } from './live.ts';
import { applyEntry } from './live-apply.ts';
import { type DayOptions, type DaySession, minuteOf, openDay } from './live-session.ts';

/** Folded sessions kept; one holds every particle's contents, so not all of a long day. */
const KEPT = 48;

export interface DayKeeper {
  /**
   * The day after these entries.
   * @param entries in any order; those of one minute are taken in the order given
   */
  at(entries: readonly DayEntry[]): DaySession;
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
  const opening = openDay(document, moves, options);
  const kept = new Map<string, DaySession>();
  const remember = (key: string, session: DaySession) => {
    kept.delete(key);
    kept.set(key, session);
    for (const oldest of kept.keys()) {
      if (kept.size <= KEPT) break;
      kept.delete(oldest);
    }
  };
  return {
    at(entries) {
      const sorted = [...entries].sort((a, b) => minuteOf(a) - minuteOf(b));
      const keys: string[] = [];
      let key = '';
      for (const entry of sorted) {
        key += `${JSON.stringify(entry)}\n`;
        keys.push(key);
      }
      let from = sorted.length;
      let session: DaySession | undefined;
      while (from > 0 && !session) {
        session = kept.get(keys[from - 1] as string);
        if (!session) from--;
      }
      let now = session ?? opening;
      for (let i = from; i < sorted.length; i++) {
        now = applyEntry(now, sorted[i] as DayEntry);
        remember(keys[i] as string, now);
      }
      return now;
    },
  };
}
