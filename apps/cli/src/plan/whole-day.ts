/** The timetable as text for the brewer and as JSON for other programs. */
import { writeFile } from 'node:fs/promises';
import { calendarOf, type PlanDocument, type Timetable } from '@ladlework/planner';
import {
  format,
  formatClock,
  formatDuration,
  sentenceIn,
  type UnitPair,
} from '@ladlework/quantity';
import { columns } from '../output.ts';
import type { CalendarDay } from './calendar-day.ts';

/**
 * The whole day as a table, with what was proven, who may leave when, and where liquor waits.
 *
 * @param document the first brew of the day; its kit names things
 * @param timetable of all its brews
 * @param pair the brewer's units
 */
export function wholeDayText(document: PlanDocument, timetable: Timetable, pair: UnitPair): string {
  const clock = (minute: number) => formatClock(timetable.dayStartMin + minute);
  const notes = timetable.notes.map((note) => `- ${sentenceIn(note, pair)}`);
  if (timetable.activities.length === 0) {
    const clashes = timetable.clashes.map(
      (c) =>
        `- ${sentenceIn(c.text, pair)}${c.freesAlone ? ' Without this one the day fits.' : ''}`,
    );
    const said =
      timetable.proven === 'infeasible'
        ? 'It cannot be done as asked; this is proven.'
        : 'No timetable was found in the time there was, and none was ruled out.';
    return ['The whole day', said, ...clashes, ...notes].join('\n');
  }
  const nameOf = (id: string) => document.kit.vessels.find((v) => v.id === id)?.name ?? id;
  const rows = timetable.activities.map((a) => [
    `${clock(a.startMin)}–${clock(a.endMin)}`,
    a.hands.map((h) => (h.kind === 'at-hand' ? `(${h.id})` : h.id)).join(' ') || '-',
    a.slackMin < 1 ? '-' : formatDuration(a.slackMin),
    a.vessels.map(nameOf).join(', ') || '-',
    sentenceIn(a.name, pair),
  ]);
  return [
    'The whole day',
    columns([['clock', 'hands', 'slack', 'where', 'what'], ...rows], '  '),
    columns(summary(timetable, nameOf, clock, pair), '  '),
    ...notes,
  ].join('\n');
}

function summary(
  timetable: Timetable,
  nameOf: (id: string) => string,
  clock: (minute: number) => string,
  pair: UnitPair,
): string[][] {
  const { robust, proven, gapMin } = timetable;
  const sure =
    proven === 'optimal'
      ? 'proven: no other order or hands end it sooner'
      : `not proven; at most ${formatDuration(gapMin)} could be won`;
  const degrees = (c: number) => format('temperature', c, pair, { digits: 0 });
  const activity = (id: string) => timetable.activities.find((a) => a.id === id)?.name ?? id;
  return [
    ['all done', `${clock(timetable.finishMin)}; ${sure}`],
    ...(robust === undefined
      ? []
      : [
          ['', `as such days go ${clock(robust.finishMin.low)} to ${clock(robust.finishMin.high)}`],
          [
            'watch',
            robust.watch
              .map(
                (w) => `${sentenceIn(activity(w.id), pair)} (± ${formatDuration(w.spreadMin / 2)})`,
              )
              .join(', '),
          ],
        ]),
    ...(robust?.chance === undefined
      ? []
      : [
          ['in time', `${Math.round(robust.chance * 100)} of 100 such days end by the hour wished`],
        ]),
    ...timetable.hands.map((h) => [
      h.name,
      h.lastMin === 0
        ? 'is not needed'
        : `is wanted from ${clock(h.firstMin)} and may leave at ${clock(h.lastMin)}; hands busy for ${formatDuration(h.busyMin)}`,
    ]),
    ...timetable.parks.map((p) => [
      p.what,
      `heat ${format('volume', p.litres, pair)} to ${degrees(p.heatToC)}, ${p.moved ? 'park' : 'leave'} in ${nameOf(p.vessel)}: stands ${formatDuration(p.standMin)}, goes on at ${degrees(p.firstC)}${p.what === 'sparge' ? `, the last at ${degrees(p.lastC)}` : ''}; ${p.extraKWh.toFixed(1)} kWh for the waiting`,
    ]),
  ];
}

/** The timetable for other programs; docs/cli.md lists its fields. */
export function timetableJson(timetable: Timetable) {
  const { robust } = timetable;
  return {
    proven: timetable.proven,
    finish_min: timetable.activities.length === 0 ? null : timetable.finishMin,
    activities: timetable.activities.map((a) => ({
      name: a.name,
      brew: a.brew,
      start_min: a.startMin,
      end_min: a.endMin,
      vessels: a.vessels,
      hands: a.hands.map((h) => h.id),
      slack_min: a.slackMin,
    })),
    clashes: timetable.clashes,
    people: timetable.hands.map((h) => ({
      id: h.id,
      from_min: h.firstMin,
      free_from_min: h.lastMin,
      busy_min: h.busyMin,
    })),
    parks: timetable.parks.map((p) => ({
      brew: p.brew,
      what: p.what,
      vessel: p.vessel,
      litres: p.litres,
      heat_to_C: p.heatToC,
      stand_min: p.standMin,
      first_C: p.firstC,
      last_C: p.lastC,
      within_window: p.withinWindow,
      extra_kWh: p.extraKWh,
    })),
    ...(robust === undefined
      ? {}
      : {
          doubt: {
            finish_min: robust.finishMin,
            ...(robust.chance === undefined ? {} : { chance: robust.chance }),
            watch: robust.watch.map((w) => ({
              name: timetable.activities.find((a) => a.id === w.id)?.name ?? w.id,
              critical: w.critical,
              spread_min: w.spreadMin,
            })),
          },
        }),
    notes: timetable.notes,
  };
}

/**
 * Writes the calendar of a day.
 *
 * @param path of the file
 * @param timetable with activities
 * @param name what the calendar is called
 * @param day local date of minute 0; left out: tomorrow
 * @param stampUtcMs now
 * @throws when the file cannot be written
 */
export async function writeCalendar(
  path: string,
  timetable: Timetable,
  name: string,
  day: CalendarDay | undefined,
  stampUtcMs: number,
): Promise<void> {
  const { year, month, date } = day ?? calendarDay(new Date(stampUtcMs + 86_400_000));
  const minuteZero = new Date(year, month - 1, date, 0, timetable.dayStartMin).getTime();
  const uid = `${year}-${month}-${date}-${name.replace(/[^A-Za-z0-9]+/g, '-')}`;
  const text = calendarOf(timetable, { dayStartUtcMs: minuteZero, stampUtcMs, uid, name });
  await writeFile(path, text, 'utf8');
}

const calendarDay = (d: Date): CalendarDay => ({
  year: d.getFullYear(),
  month: d.getMonth() + 1,
  date: d.getDate(),
});
