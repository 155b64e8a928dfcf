/** Who was called away: since when, and what happened meanwhile. Pure. */
import type { LogEvent } from '@ladlework/log';

/** Shorter than this nobody has lost the thread [ms]. Common practice, no source. */
export const LOST_AFTER_MS = 3 * 60_000;

export interface Away {
  readonly sinceMs: number;
  readonly backMs: number;
}

/** The interruption between two looks at the page, when it was one. */
export const awayBetween = (lookedMs: number | undefined, backMs: number): Away | undefined =>
  lookedMs !== undefined && backMs - lookedMs >= LOST_AFTER_MS
    ? { sinceMs: lookedMs, backMs }
    : undefined;

/** Entries of a brew that other devices made in a time. */
export const meanwhile = (
  events: readonly LogEvent[],
  stream: string,
  own: string,
  { sinceMs, backMs }: Away,
): LogEvent[] =>
  events.filter(
    (e) => e.stream === stream && e.device !== own && e.readAtMs >= sinceMs && e.readAtMs <= backMs,
  );
