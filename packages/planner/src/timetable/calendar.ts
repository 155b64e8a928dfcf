/** A timetable as an iCalendar text. */
import type { Timetable, TimetableActivity } from './timetable-of.ts';

export interface CalendarOptions {
  /** Instant of minute 0 [ms since 1970-01-01 UTC]. */
  readonly dayStartUtcMs: number;
  /** Instant the text is made [ms since 1970-01-01 UTC]. */
  readonly stampUtcMs: number;
  /** Unique on this house, as the id of the brew; made part of every UID. */
  readonly uid: string;
  /** What the calendar is called. */
  readonly name: string;
  /** Only what this person does; left out: everything. */
  readonly hand?: string;
}

/**
 * The activities as events.
 * @param timetable a timetable with activities
 * @param options instants, id, name and whose
 * @returns text with CRLF line ends, lines of at most 75 octets
 * @source RFC 5545 sections 3.1 (folding), 3.3.5 (UTC), 3.3.11 (escaping), 3.6.1 (events)
 */
export function calendarOf(timetable: Timetable, options: CalendarOptions): string {
  const { hand } = options;
  const chosen = timetable.activities.filter(
    (a) => hand === undefined || a.hands.some((h) => h.id === hand),
  );
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Ladlework//Brew day//EN',
    'CALSCALE:GREGORIAN',
    `X-WR-CALNAME:${escapeText(options.name)}`,
    ...chosen.flatMap((a) => eventOf(timetable, a, options)),
    'END:VCALENDAR',
  ];
  return lines.map((line) => `${foldLine(line)}\r\n`).join('');
}

function eventOf(timetable: Timetable, a: TimetableActivity, o: CalendarOptions): string[] {
  const at = (minute: number) => utcText(o.dayStartUtcMs + Math.round(minute) * 60_000);
  const name = (id: string) => timetable.hands.find((h) => h.id === id)?.name ?? id;
  const who = a.hands.map((h) => `${name(h.id)}${h.kind === 'at-hand' ? ' at hand' : ''}`);
  return [
    'BEGIN:VEVENT',
    `UID:${escapeText(o.uid)}-${a.id}`,
    `DTSTAMP:${utcText(o.stampUtcMs)}`,
    `DTSTART:${at(a.startMin)}`,
    // An event without an end ends when it starts; an end must lie after its start.
    ...(a.endMin > a.startMin ? [`DTEND:${at(a.endMin)}`] : []),
    `SUMMARY:${escapeText(a.name)}`,
    ...(who.length > 0 ? [`DESCRIPTION:${escapeText(who.join(', '))}`] : []),
    'END:VEVENT',
  ];
}

/** Backslash, semicolon, comma and line breaks as text values want them. */
export function escapeText(text: string): string {
  return text.replace(/[\\;,]/g, (c) => `\\${c}`).replace(/\r\n|\r|\n/g, '\\n');
}

const LINE_OCTETS = 75;

/** Folds a content line after at most 75 octets, never inside a character. */
export function foldLine(line: string): string {
  let out = '';
  let octets = 0;
  for (const char of line) {
    const size = octetsOf(char);
    if (octets + size > LINE_OCTETS) {
      out += '\r\n ';
      octets = 1;
    }
    out += char;
    octets += size;
  }
  return out;
}

/** Octets of one character in UTF-8. */
function octetsOf(char: string): number {
  const code = char.codePointAt(0) as number;
  if (code < 0x80) return 1;
  if (code < 0x800) return 2;
  return code < 0x10000 ? 3 : 4;
}

/**
 * An instant as 20261125T053000Z.
 * @param ms since 1970-01-01 UTC, years 1-9999
 * @source days to civil date of the proleptic Gregorian calendar (H. Hinnant, 2013)
 */
export function utcText(ms: number): string {
  const seconds = Math.floor(ms / 1000);
  const days = Math.floor(seconds / 86_400);
  const rest = seconds - days * 86_400;
  const z = days + 719_468;
  const era = Math.floor(z / 146_097);
  const doe = z - era * 146_097;
  const yoe = Math.floor(
    (doe - Math.floor(doe / 1460) + Math.floor(doe / 36_524) - Math.floor(doe / 146_096)) / 365,
  );
  const doy = doe - (365 * yoe + Math.floor(yoe / 4) - Math.floor(yoe / 100));
  const mp = Math.floor((5 * doy + 2) / 153);
  const day = doy - Math.floor((153 * mp + 2) / 5) + 1;
  const month = mp < 10 ? mp + 3 : mp - 9;
  const year = yoe + era * 400 + (month <= 2 ? 1 : 0);
  const two = (v: number) => String(v).padStart(2, '0');
  const date = `${String(year).padStart(4, '0')}${two(month)}${two(day)}`;
  const hours = Math.floor(rest / 3600);
  return `${date}T${two(hours)}${two(Math.floor(rest / 60) % 60)}${two(rest % 60)}Z`;
}
