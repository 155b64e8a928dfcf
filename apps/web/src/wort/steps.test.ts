import type { TimetableActivity } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { stepNow, wortIsPitched, wortSteps } from './steps.ts';

const activity = (id: string, startMin: number): TimetableActivity =>
  ({ id, name: id, brew: 0, startMin, endMin: startMin + 10, hands: [] }) as never;
const DAY = [
  activity('pitch', 90),
  activity('grain-out', 20),
  activity('run-off', 10),
  activity('heat-wort', 12),
  activity('boil-wort', 40),
];
const logged = (begun: readonly string[], done: readonly string[]) => ({
  moves: [...new Set([...begun, ...done])].map((moveId) => ({
    moveId,
    ...(begun.includes(moveId) && { begunAtMs: 1 }),
    ...(done.includes(moveId) && { doneAtMs: 2 }),
  })) as never,
});

describe('the work from the mash to pitched wort', () => {
  it('stands in the order of the wort, without what goes on beside it', () => {
    expect(wortSteps(DAY, logged([], [])).map((s) => s.id)).toEqual([
      'run-off',
      'heat-wort',
      'boil-wort',
      'pitch',
    ]);
  });

  it('has the run-off on top while the wort is heated beside it', () => {
    expect(stepNow(wortSteps(DAY, logged(['run-off', 'heat-wort'], [])))?.id).toBe('run-off');
  });

  it('goes on with what follows, and past what was passed over', () => {
    expect(stepNow(wortSteps(DAY, logged([], ['run-off'])))?.id).toBe('heat-wort');
    expect(stepNow(wortSteps(DAY, logged([], ['boil-wort'])))?.id).toBe('pitch');
  });

  it('is over once it is pitched', () => {
    expect(wortIsPitched(wortSteps(DAY, logged([], ['boil-wort'])))).toBe(false);
    const pitched = wortSteps(DAY, logged([], ['boil-wort', 'pitch']));
    expect(stepNow(pitched)).toBeUndefined();
    expect(wortIsPitched(pitched)).toBe(true);
  });

  it('goes on in the usual order while there is no timetable', () => {
    const steps = wortSteps([], logged([], ['run-off']));
    expect(stepNow(steps)).toMatchObject({ id: 'heat-wort', name: 'Bring the wort to the boil' });
  });
});
