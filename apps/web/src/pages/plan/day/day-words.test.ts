import type { Timetable } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import {
  chanceText,
  dateOf,
  handsText,
  instantOf,
  minuteOfClock,
  provenText,
} from './day-words.ts';

const day = (change: Partial<Timetable>): Timetable => ({
  proven: 'optimal',
  finishMin: 704,
  gapMin: 0,
  levels: [],
  activities: [
    {
      id: 'mash-in',
      name: 'Mash in',
      brew: 1,
      startMin: 60,
      endMin: 80,
      vessels: ['tun'],
      tools: [],
      hands: [
        { id: 'B', kind: 'busy' },
        { id: 'H', kind: 'at-hand' },
      ],
      slackMin: 0,
    },
  ],
  clashes: [],
  parks: [],
  holds: [],
  hands: [],
  notes: [],
  dayStartMin: 360,
  choices: [],
  ...change,
});

describe('what was proven', () => {
  it('is said only when it was', () => {
    expect(provenText(day({}))).toMatch(/^All done at 17:44\. Proven/);
    const gap = provenText(day({ proven: 'bounded', gapMin: 12 }));
    expect(gap).toMatch(/Not proven: another order could end it up to 12 min sooner/);
    expect(provenText(day({ proven: 'bounded' }))).toMatch(/is not proven\.$/);
    expect(provenText(day({ proven: 'infeasible', activities: [] }))).toMatch(/cannot/);
    expect(provenText(day({ proven: 'bounded', activities: [] }))).toMatch(/none was ruled out/);
  });
});

it('a chance is no finer than a hundred draws', () => {
  expect([0, 0.004, 0.54, 1].map(chanceText)).toEqual([
    'under 1 %',
    'under 1 %',
    '54 %',
    'over 99 %',
  ]);
});

it('a clock time is the next one after the start of the day', () => {
  expect(minuteOfClock('17:30', 360)).toBe(690);
  expect(minuteOfClock('01:00', 360)).toBe(1140);
  expect(minuteOfClock('06:00', 360)).toBe(1440);
  expect(minuteOfClock('', 360)).toBeUndefined();
});

it('letters in brackets stay at hand', () => {
  const [activity] = day({}).activities;
  expect(activity && handsText(activity)).toBe('B (H)');
});

it('minute 0 of a date is its local clock time', () => {
  const ms = instantOf('2026-11-26', 350);
  expect(ms).toBe(new Date(2026, 10, 26, 5, 50).getTime());
  expect(dateOf(ms ?? 0)).toBe('2026-11-26');
  expect(instantOf('', 350)).toBeUndefined();
});
