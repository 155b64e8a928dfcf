/** Sentences and small sums of the timetable. */
import type { Timetable, TimetableActivity } from '@ladlework/planner';
import { clockAt, show } from '../../../units/show.ts';

/** What was proven about the day, said plainly. */
export function provenText(timetable: Timetable): string {
  const { proven, finishMin, gapMin, dayStartMin } = timetable;
  if (proven === 'infeasible') return 'The day cannot be done as asked; this is proven.';
  if (timetable.activities.length === 0)
    return 'No timetable was found in the time there was, and none was ruled out.';
  const done = `All done at ${clockAt(finishMin, dayStartMin)}.`;
  if (proven === 'optimal') return `${done} Proven: no other order or hands end it sooner.`;
  return gapMin >= 1
    ? `${done} Not proven: another order could end it up to ${show('duration', gapMin)} sooner.`
    : `${done} No order ends it sooner; that nobody could leave earlier is not proven.`;
}

/**
 * A chance in words, no finer than a hundred draws tell it.
 *
 * @param chance 0-1
 */
export function chanceText(chance: number): string {
  if (chance < 0.01) return 'under 1 %';
  if (chance > 0.99) return 'over 99 %';
  return `${Math.round(chance * 100)} %`;
}

/**
 * The minute of the day a clock time stands for: the next one after the start.
 *
 * @param clock "17:30", or nothing
 * @param startMin clock time of minute 0 [min after midnight]
 * @returns minutes after day start, 1 to 1440; undefined when nothing was entered
 */
export function minuteOfClock(clock: string, startMin: number): number | undefined {
  const [hours, minutes] = clock.split(':').map(Number);
  if (hours === undefined || minutes === undefined || Number.isNaN(hours + minutes))
    return undefined;
  const after = (hours * 60 + minutes - startMin + 2880) % 1440;
  return after === 0 ? 1440 : after;
}

/** Who an activity takes: letters busy, and in brackets those only at hand. */
export function handsText(activity: TimetableActivity): string {
  const letters = activity.hands.map((h) => (h.kind === 'at-hand' ? `(${h.id})` : h.id));
  return letters.length === 0 ? '–' : letters.join(' ');
}

/**
 * The instant of minute 0.
 *
 * @param day "2026-11-26", in local time
 * @param startMin clock time of minute 0 [min after midnight]
 * @returns ms since 1970-01-01 UTC; undefined when `day` is no date
 */
export function instantOf(day: string, startMin: number): number | undefined {
  const [year, month, date] = day.split('-').map(Number);
  if (year === undefined || month === undefined || date === undefined) return undefined;
  const ms = new Date(year, month - 1, date, 0, startMin).getTime();
  return Number.isNaN(ms) ? undefined : ms;
}

/** The local date of an instant, as a date field takes it. */
export function dateOf(ms: number): string {
  const d = new Date(ms);
  const two = (n: number) => String(n).padStart(2, '0');
  return `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}`;
}
