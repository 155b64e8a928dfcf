import type { PlanDocument } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { targetsOf } from './targets.ts';

const document = {
  day: { startMin: 6 * 60 },
  mash: {
    rests: [
      { tempC: 62, minutes: 30 },
      { tempC: 72, minutes: 20 },
    ],
  },
} as unknown as PlanDocument;

describe('targets of the form', () => {
  it('names only what was named', () => {
    expect(targetsOf({}, document)).toEqual({});
    expect(targetsOf({ hands: [] }, document)).toEqual({});
  });

  it('takes an hour before the start as one of the day after', () => {
    expect(targetsOf({ finishClockMin: 16 * 60 }, document).finishByMin).toBe(600);
    expect(targetsOf({ finishClockMin: 60 }, document).finishByMin).toBe(19 * 60);
  });

  it('leaves the other end of a range open', () => {
    expect(targetsOf({ limitLow: 82 }, document).limitApparentPct).toEqual({ low: 82, high: 100 });
    expect(targetsOf({ colourHigh: 3 }, document).colourAddedEbc).toEqual({ low: 0, high: 3 });
  });

  it('tells a wish for every rest as soon as one of them is not as planned', () => {
    const rests = [{ wanted: 'free' as const }];
    expect(targetsOf({ rests }, document).rests).toEqual([{ wanted: 'free' }, { wanted: 'yes' }]);
  });
});
