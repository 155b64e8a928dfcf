import fc from 'fast-check';
import { expect, it } from 'vitest';
import { formatClock, parseClock } from './clock.ts';

it.each([
  ['7:05', 425],
  ['07:05', 425],
  ['7.05', 425],
  ['0705', 425],
  ['705', 425],
  ['7', 420],
  ['7:05 pm', 1145],
  ['12:00 am', 0],
  ['12:30pm', 750],
  ['23:59', 1439],
])('"%s" is %d minutes past midnight', (text, expected) => {
  expect(parseClock(text)).toEqual({ ok: true, value: expected });
});

it.each(['', '24:00', '7:60', '7:5', 'noon', '13:00 pm', '0 am', '-7:00', '7:05:00', '70501'])(
  '"%s" is refused with the range',
  (text) => {
    const read = parseClock(text, { field: 'mash in' });
    expect(read.ok).toBe(false);
    if (!read.ok) expect(read.error.message).toMatch(/^mash in: .*00:00 to 23:59/);
  },
);

it('every minute of the day reads back', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 1439 }), (m) => {
      expect(parseClock(formatClock(m))).toEqual({ ok: true, value: m });
    }),
  );
});

it('times past midnight wrap', () => {
  expect(formatClock(1440 + 65)).toBe('01:05');
  expect(formatClock(-5)).toBe('23:55');
});
