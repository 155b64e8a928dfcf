/** The timetable for paper: the list of one person, and the strip of the day. */
import type { NeedKind } from './problem.ts';
import { clockOf, type Timetable } from './timetable-of.ts';

/**
 * What one person does, line by line, in plain text.
 * @param timetable a timetable with activities
 * @param hand letter of the person
 * @param vesselName names of vessels by id
 * @returns text that ends with when this person may leave; empty when the person is not needed
 */
export function handList(
  timetable: Timetable,
  hand: string,
  vesselName: (id: string) => string,
): string {
  const me = timetable.hands.find((h) => h.id === hand);
  const mine = timetable.activities.flatMap((a) => {
    const own = a.hands.find((h) => h.id === hand);
    return own ? [{ a, kind: own.kind }] : [];
  });
  if (!me || mine.length === 0) return '';
  const clock = (minute: number) => clockOf(timetable.dayStartMin + minute);
  const lines = mine.map(({ a, kind }) => {
    const others = a.hands
      .filter((h) => h.id !== hand)
      .map((h) => timetable.hands.find((x) => x.id === h.id)?.name ?? h.id);
    const where = a.vessels.map(vesselName).join(', ');
    const notes = [
      ...(kind === 'at-hand' ? ['stay at hand'] : []),
      ...(others.length > 0 ? [`with ${others.join(' and ')}`] : []),
      ...(where ? [where] : []),
    ];
    const note = notes.length > 0 ? ` (${notes.join('; ')})` : '';
    return `${clock(a.startMin)}-${clock(a.endMin)}  ${a.name}${note}`;
  });
  return [`${me.name}`, ...lines, `Free from ${clock(me.lastMin)}.`].join('\n');
}

export interface StripBar {
  readonly startMin: number;
  readonly endMin: number;
  readonly name: string;
  /** Activity; left out for content that stands in a vessel. */
  readonly id?: string;
  /** holds: content stands there; works: the vessel is worked on; else what the hands do. */
  readonly weight: 'holds' | 'works' | NeedKind;
}

export interface StripRow {
  readonly id: string;
  readonly name: string;
  readonly of: 'vessel' | 'hand' | 'tool';
  readonly bars: readonly StripBar[];
}

/** The strip of a day: a row for each vessel, tool and pair of hands that is used. */
export interface DayStrip {
  /** Whole hours that hold the day [min after midnight]. */
  readonly fromMin: number;
  readonly toMin: number;
  readonly rows: readonly StripRow[];
}

/**
 * The day strip as data, for the page and for print.
 * @param timetable a timetable with activities
 * @param names of vessels and tools by id
 */
export function dayStrip(timetable: Timetable, names: Readonly<Record<string, string>>): DayStrip {
  const { activities, dayStartMin } = timetable;
  const rows = new Map<string, { of: StripRow['of']; name: string; bars: StripBar[] }>();
  const bar = (of: StripRow['of'], id: string, name: string, b: StripBar) => {
    const row = rows.get(`${of} ${id}`) ?? { of, name, bars: [] };
    row.bars.push(b);
    rows.set(`${of} ${id}`, row);
  };
  for (const h of timetable.holds)
    bar('vessel', h.vessel, names[h.vessel] ?? h.vessel, {
      ...h,
      name: h.content,
      weight: 'holds',
    });
  for (const { id, name, startMin, endMin, vessels, tools } of activities) {
    const works = { id, name, startMin, endMin, weight: 'works' } as const;
    for (const v of vessels) bar('vessel', v, names[v] ?? v, works);
    for (const t of tools) bar('tool', t, names[t] ?? t, works);
  }
  for (const hand of timetable.hands)
    for (const { id, name, startMin, endMin, hands } of activities)
      for (const h of hands)
        if (h.id === hand.id)
          bar('hand', hand.id, hand.name, { id, name, startMin, endMin, weight: h.kind });
  const firstMin = Math.min(0, ...activities.map((a) => a.startMin));
  const lastMin = Math.max(0, ...activities.map((a) => a.endMin));
  return {
    fromMin: 60 * Math.floor((dayStartMin + firstMin) / 60),
    toMin: 60 * Math.ceil((dayStartMin + lastMin) / 60),
    rows: [...rows].map(([key, { of, name, bars }]) => ({
      id: key.slice(key.indexOf(' ') + 1),
      name,
      of,
      bars: bars.sort((a, b) => a.startMin - b.startMin),
    })),
  };
}
