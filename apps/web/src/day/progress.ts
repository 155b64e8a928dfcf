/** From the log of a day's brews to what the timetable is told of it. Pure. */
import type { BrewState } from '@ladlework/log';
import type {
  DayForecast,
  MoveAhead,
  Moved,
  Progress,
  Timetable,
  TimetableActivity,
} from '@ladlework/planner';

/** Work that belongs to the day and not to one of its brews carries no number. */
const OF_THE_DAY = /^(tidy|event-\d+|break-\d+)$/;

/**
 * Id of a brew's logged move in the timetable of the day.
 *
 * @param moveId as logged
 * @param brew its number in the day, from 0
 * @param several whether the day has more than one brew
 */
const timetableId = (moveId: string, brew: number, several: boolean): string =>
  several && !OF_THE_DAY.test(moveId) ? `${brew + 1}.${moveId}` : moveId;

/** The id a tap on an activity is logged under, in the stream of its brew. */
export const moveIdOf = (activity: Pick<TimetableActivity, 'id' | 'brew'>): string =>
  activity.brew > 0 ? activity.id.replace(/^\d+\./, '') : activity.id;

/**
 * Everything begun or done today.
 *
 * @param brews of the day, in their order
 * @param startMs when the first began
 */
export function progressOf(brews: readonly BrewState[], startMs: number): Progress[] {
  const minute = (ms: number) => Math.max(0, (ms - startMs) / 60_000);
  return brews.flatMap((brew, k) =>
    brew.moves.flatMap((move): Progress[] => {
      const at = move.begunAtMs ?? move.doneAtMs;
      if (at === undefined) return [];
      return [
        {
          id: timetableId(move.moveId, k, brews.length > 1),
          startMin: minute(at),
          ...(move.doneAtMs === undefined ? {} : { endMin: minute(move.doneAtMs) }),
        },
      ];
    }),
  );
}

/**
 * The forecast moves of a brew, as the timetable of its day names and counts them.
 *
 * @param brews of the day, in their order
 * @param brew the one that is forecast
 * @param moves minutes after that brew began
 * @param startMs when the first began
 */
export function aheadOf(
  brews: readonly BrewState[],
  brew: BrewState,
  moves: DayForecast['moves'],
  startMs: number,
): MoveAhead[] {
  const k = brews.findIndex((b) => b.brew === brew.brew);
  const laterMin = ((brew.startedAtMs ?? startMs) - startMs) / 60_000;
  return moves.map((m) => ({
    id: timetableId(m.moveId, k, brews.length > 1),
    startMin: laterMin + m.startMin.likely,
    endMin: laterMin + m.endMin.likely,
  }));
}

/** One line about what moved: the first of those that moved alike, and how many went with it. */
export interface MovedLine {
  readonly key: string;
  readonly name: string;
  readonly fromMin: number;
  readonly toMin: number;
  readonly why: string;
  readonly more: number;
}

/**
 * What moved, a line for each shift, the greatest first.
 *
 * @param moved every activity that moved
 */
export function movedLines(moved: readonly Moved[]): MovedLine[] {
  const byShift = new Map<number, Moved[]>();
  for (const m of moved) {
    const shift = Math.round(m.toMin - m.fromMin);
    byShift.set(shift, [...(byShift.get(shift) ?? []), m]);
  }
  return [...byShift]
    .sort((a, b) => Math.abs(b[0]) - Math.abs(a[0]))
    .flatMap(([, alike]) => {
      const [first, ...rest] = [...alike].sort((a, b) => a.toMin - b.toMin);
      if (first === undefined) return [];
      const { id, name, fromMin, toMin, why } = first;
      return [{ key: `${id} ${toMin}`, name, fromMin, toMin, why, more: rest.length }];
    });
}

/** Where an activity of the timetable stands by the log. */
export interface WorkItem {
  readonly activity: TimetableActivity;
  readonly state: 'open' | 'underway';
}

/**
 * Activities that no mash plan has, not yet done, in the order they are due. Those that nobody taps
 * are left out: deliveries, breaks, watching, reading.
 *
 * @param timetable of the day as it goes
 * @param progress what was tapped
 * @param nowMin now; what is over by its own hour is left out
 */
export function workAhead(
  timetable: Timetable,
  progress: readonly Progress[],
  nowMin: number,
): WorkItem[] {
  const tapped = new Map(progress.map((p) => [p.id, p]));
  return timetable.activities.flatMap((activity): WorkItem[] => {
    if (activity.moveId !== undefined || UNTAPPED.test(moveIdOf(activity))) return [];
    const seen = tapped.get(activity.id);
    if (seen?.endMin !== undefined) return [];
    if (seen === undefined && activity.endMin < nowMin) return [];
    return [{ activity, state: seen === undefined ? 'open' : 'underway' }];
  });
}

const UNTAPPED = /^(event-|break-|read-|foam)/;

/** What goes on by itself when this is done: hot wort does not wait for a thumb. */
export function workAfter(moveId: string): string | undefined {
  const [, head, tag = ''] = /^(heat-wort|boil-wort)(.*)$/.exec(moveId) ?? [];
  if (head === undefined) return undefined;
  return head === 'heat-wort' ? `boil-wort${tag}` : `stand${tag}`;
}

/** Actions that need hands and have not begun: the next ones of the day. */
export function nextActions(
  timetable: Timetable,
  progress: readonly Progress[],
  nowMin: number,
  count: number,
): TimetableActivity[] {
  const tapped = new Set(progress.map((p) => p.id));
  return timetable.activities
    .filter((a) => !tapped.has(a.id) && a.endMin > nowMin && a.startMin >= nowMin - 0.5)
    .filter((a) => a.hands.some((h) => h.kind === 'busy'))
    .slice(0, count);
}
