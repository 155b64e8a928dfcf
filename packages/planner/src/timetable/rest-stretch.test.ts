import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { TWO_PULLS } from '../live-testing.ts';
import { planDay } from '../plan-day.ts';
import { dayStretch } from './rest-stretch.ts';

/** One rest, infused: nothing but its length decides the wort. */
const rested = (minutes: number): PlanDocument => ({
  ...TWO_PULLS,
  mash: { ...TWO_PULLS.mash, rests: [{ tempC: 66, minutes }], raises: [] },
});
const limitOf = (document: PlanDocument) =>
  planDay(document, { draws: 50, changes: false }).wort?.limitApparentPct.likely ?? Number.NaN;

describe('how long a rest may last', () => {
  it('is until the limit of attenuation has moved by a point', () => {
    const [allowed = 0] = dayStretch([rested(30)]);
    expect(allowed % 5).toBe(0);
    expect(allowed).toBeGreaterThan(0);
    const moved = (more: number) => Math.abs(limitOf(rested(30 + more)) - limitOf(rested(30)));
    // The plan's likely is the middle of the draws, which moves a little less than the likely kit.
    expect(moved(allowed)).toBeLessThan(1);
    expect(moved(30)).toBeGreaterThan(1);
    expect(allowed).toBeLessThan(30);
  });

  it('is more once the enzymes have done their work', () => {
    const [early = 0] = dayStretch([rested(30)]);
    const [late = 0] = dayStretch([rested(150)]);
    expect(late).toBeGreaterThan(early);
  });

  it('of several brews is the least, rest by rest', () => {
    const both = dayStretch([rested(30), rested(150)]);
    expect(both).toEqual(dayStretch([rested(30)]));
    expect(dayStretch([rested(150), TWO_PULLS])).toHaveLength(TWO_PULLS.mash.rests.length);
  });
});
