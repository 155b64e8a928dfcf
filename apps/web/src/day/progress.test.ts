import type { BrewState } from '@ladlework/log';
import type { Timetable, TimetableActivity } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import {
  aheadOf,
  movedLines,
  moveIdOf,
  nextActions,
  progressOf,
  workAfter,
  workAhead,
} from './progress.ts';

const activity = (
  id: string,
  startMin: number,
  endMin: number,
  more: Partial<TimetableActivity> = {},
): TimetableActivity => ({
  id,
  name: id,
  brew: 1,
  startMin,
  endMin,
  vessels: [],
  tools: [],
  hands: [{ id: 'B', kind: 'busy' }],
  slackMin: 0,
  ...more,
});

const day = (...activities: TimetableActivity[]): Timetable => ({
  proven: 'optimal',
  finishMin: 700,
  gapMin: 0,
  levels: [],
  activities,
  clashes: [],
  parks: [],
  holds: [],
  hands: [],
  notes: [],
  dayStartMin: 360,
  choices: [],
});

const brew = (moves: readonly object[]) => ({ moves }) as unknown as BrewState;

describe('what was tapped', () => {
  it('is in minutes of the day, with the number of the brew where there are two', () => {
    const first = brew([
      { moveId: 'mash-in', begunAtMs: 60_000, doneAtMs: 960_000 },
      { moveId: 'tidy', begunAtMs: 1_200_000 },
      { moveId: 'rest-1' },
    ]);
    const second = brew([{ moveId: 'mash-in', doneAtMs: 1_800_000 }]);
    expect(progressOf([first, second], 0)).toEqual([
      { id: '1.mash-in', startMin: 1, endMin: 16 },
      { id: 'tidy', startMin: 20 },
      { id: '2.mash-in', startMin: 30, endMin: 30 },
    ]);
    expect(progressOf([first], 0).map((p) => p.id)).toEqual(['mash-in', 'tidy']);
  });

  it('is logged under the id without the number', () => {
    expect(moveIdOf({ id: '2.knock-out', brew: 2 })).toBe('knock-out');
    expect(moveIdOf({ id: 'tidy', brew: 0 })).toBe('tidy');
  });
});

it('says what moved alike in one line', () => {
  const moved = [
    { id: 'a', name: 'Boil', fromMin: 10, toMin: 22, why: 'waits' },
    { id: 'b', name: 'Return', fromMin: 30, toMin: 42, why: 'moved with it' },
    { id: 'c', name: 'Clean', fromMin: 90, toMin: 85, why: 'sooner' },
  ];
  expect(movedLines(moved).map((l) => [l.name, l.toMin, l.more])).toEqual([
    ['Boil', 22, 1],
    ['Clean', 85, 0],
  ]);
});

describe('work of the day', () => {
  const t = day(
    activity('mash-in', 0, 15, { moveId: 'mash-in' }),
    activity('read-mash-in', 20, 25),
    activity('heat-sparge', 15, 40, { hands: [{ id: 'B', kind: 'at-hand' }] }),
    activity('park', 40, 55),
    activity('run-off', 60, 160),
    activity('event-1', 100, 120, { brew: 0 }),
  );

  it('leaves out the mash, what nobody taps, and what is done or over', () => {
    const progress = [
      { id: 'heat-sparge', startMin: 16, endMin: 41 },
      { id: 'park', startMin: 42 },
    ];
    const ahead = workAhead(t, progress, 45).map((w) => [w.activity.id, w.state]);
    expect(ahead).toEqual([
      ['park', 'underway'],
      ['run-off', 'open'],
    ]);
  });

  it('names the next actions that need hands', () => {
    expect(nextActions(t, [], 18, 2).map((a) => a.id)).toEqual(['read-mash-in', 'park']);
  });

  it('goes on from heating to the boil and from the boil to the stand by itself', () => {
    expect(workAfter('heat-wort-p1')).toBe('boil-wort-p1');
    expect(workAfter('boil-wort')).toBe('stand');
    expect(workAfter('run-off')).toBeUndefined();
  });
});

describe('the forecast of a later brew', () => {
  it('counts from the first one’s start, under its own number', () => {
    const one = { brew: 'a', startedAtMs: 0 } as unknown as BrewState;
    const two = { brew: 'b', startedAtMs: 60 * 60_000 } as unknown as BrewState;
    const band = (likely: number) => ({ low: likely, likely, high: likely });
    const move = {
      moveId: 'heat-1',
      startMin: band(5),
      endMin: band(12.5),
      fromC: band(60),
      toC: band(70),
    };
    expect(aheadOf([one, two], two, [move], 0)).toEqual([
      { id: '2.heat-1', startMin: 65, endMin: 72.5 },
    ]);
  });
});
