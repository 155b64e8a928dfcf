/** The day of a brew, as it is typed. */

/** A local date. */
export interface CalendarDay {
  readonly year: number;
  readonly month: number;
  readonly date: number;
}

/**
 * Reads "2026-11-26".
 *
 * @returns the date; undefined when there is no such day
 */
export function readDay(text: string): CalendarDay | undefined {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (match === null) return undefined;
  const [year = 0, month = 0, date = 0] = match.slice(1).map(Number);
  const there = new Date(year, month - 1, date);
  return there.getMonth() === month - 1 && there.getDate() === date
    ? { year, month, date }
    : undefined;
}
