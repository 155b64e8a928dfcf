import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { calendarOf, escapeText, foldLine, utcText } from './calendar.ts';
import type { Timetable } from './timetable-of.ts';

const timetable: Timetable = {
  proven: 'optimal',
  finishMin: 20,
  gapMin: 0,
  levels: [],
  activities: [
    {
      id: 'pull-1',
      name: 'Pull 1, thick; count buckets',
      brew: 1,
      startMin: 0,
      endMin: 15,
      vessels: ['tun', 'kettle'],
      tools: [],
      hands: [
        { id: 'B', kind: 'busy' },
        { id: 'H', kind: 'at-hand' },
      ],
      slackMin: 0,
    },
    {
      id: 'liquor-in',
      name: 'Liquor in',
      brew: 1,
      startMin: 20,
      endMin: 20,
      vessels: [],
      tools: [],
      hands: [{ id: 'B', kind: 'busy' }],
      slackMin: 0,
    },
  ],
  clashes: [],
  parks: [],
  holds: [],
  hands: [
    { id: 'B', name: 'Brewer', firstMin: 0, lastMin: 20, busyMin: 15 },
    { id: 'H', name: 'Helper', firstMin: 0, lastMin: 15, busyMin: 0 },
  ],
  notes: [],
  dayStartMin: 330,
  choices: [],
};
const options = {
  dayStartUtcMs: Date.UTC(2026, 10, 25, 5, 30),
  stampUtcMs: Date.UTC(2026, 10, 24, 18, 0, 1),
  uid: 'brew-7',
  name: 'Brew 7',
};

describe('iCalendar text (RFC 5545)', () => {
  it('is one event an activity, in UTC, with text escaped', () => {
    expect(calendarOf(timetable, options).split('\r\n')).toEqual([
      'BEGIN:VCALENDAR',
      'VERSION:2.0',
      'PRODID:-//Ladlework//Brew day//EN',
      'CALSCALE:GREGORIAN',
      'X-WR-CALNAME:Brew 7',
      'BEGIN:VEVENT',
      'UID:brew-7-pull-1',
      'DTSTAMP:20261124T180001Z',
      'DTSTART:20261125T053000Z',
      'DTEND:20261125T054500Z',
      'SUMMARY:Pull 1\\, thick\\; count buckets',
      'DESCRIPTION:Brewer\\, Helper at hand',
      'END:VEVENT',
      'BEGIN:VEVENT',
      'UID:brew-7-liquor-in',
      'DTSTAMP:20261124T180001Z',
      'DTSTART:20261125T055000Z',
      'SUMMARY:Liquor in',
      'DESCRIPTION:Brewer',
      'END:VEVENT',
      'END:VCALENDAR',
      '',
    ]);
  });

  it('can be that of one person', () => {
    expect(calendarOf(timetable, { ...options, hand: 'H' })).not.toContain('Liquor in');
  });

  it('folds after at most 75 octets and unfolds to the same line', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 300 }), (text) => {
        const line = escapeText(text);
        const folded = foldLine(line);
        for (const part of folded.split('\r\n'))
          expect(new TextEncoder().encode(part).length).toBeLessThanOrEqual(75);
        expect(folded.replaceAll('\r\n ', '')).toBe(line);
      }),
    );
  });

  it('leaves no raw line break or separator in a value', () => {
    expect(escapeText('a\\b;c,d\r\ne\nf')).toBe('a\\\\b\\;c\\,d\\ne\\nf');
  });

  it('writes any instant as the calendar does', () => {
    fc.assert(
      fc.property(fc.integer({ min: -2e9, max: 4e9 }), (seconds) => {
        const iso = new Date(seconds * 1000).toISOString();
        expect(utcText(seconds * 1000)).toBe(`${iso.slice(0, 19).replace(/[-:]/g, '')}Z`);
      }),
    );
  });
});
