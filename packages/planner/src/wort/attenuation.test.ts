import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { ONE_PULL } from '../three-barrels.ts';
import { attenuationAdvice } from './attenuation.ts';

/** One long rest and a mash-out: the rest alone decides. */
const INFUSION: PlanDocument = {
  ...ONE_PULL,
  mash: {
    ...ONE_PULL.mash,
    rests: [
      { tempC: 66, minutes: 60 },
      { tempC: 76, minutes: 10 },
    ],
    raises: [{ by: 'liquor' }],
  },
};

describe('a rest for a wanted attenuation', () => {
  const advice = attenuationAdvice(INFUSION, 80);

  it('reaches what was wanted, and brewed again, says so', () => {
    expect(advice.ways.map((w) => w.change)).toContain('temperature');
    for (const way of advice.ways) {
      expect(Math.abs(way.limitApparentPct.likely - 80)).toBeLessThan(0.1);
      const again = attenuationAdvice({ ...INFUSION, mash: way.mash }, 80);
      expect(Math.abs(again.nowPct - 80)).toBeLessThan(0.1);
    }
    expect(advice.outside).toEqual([]);
  });

  // A warmer rest leaves more dextrin, a longer one less (common practice, no source).
  it('wants it warmer for less, and longer for more', () => {
    const temps: number[] = [];
    const minutes: number[] = [];
    for (const wanted of [70, 75, 80, 84]) {
      for (const way of attenuationAdvice(INFUSION, wanted).ways)
        (way.change === 'temperature' ? temps : minutes).push(
          way.change === 'temperature' ? way.tempC : way.minutes,
        );
    }
    expect(temps.length).toBeGreaterThanOrEqual(3);
    expect(temps).toEqual([...temps].sort((a, b) => b - a));
    expect(new Set(temps).size).toBe(temps.length);
    expect(minutes).toEqual([...minutes].sort((a, b) => a - b));
  });

  it('says how far this rest can go when it cannot', () => {
    const none = attenuationAdvice(INFUSION, 94);
    expect(none.ways).toEqual([]);
    expect(none.sentence).toMatch(/alone goes from \d+ to \d+ %/);
    expect(none.reach.byTemperature.high).toBeLessThan(94);
  });

  it('sizes the pulls anew', () => {
    const wanted = attenuationAdvice(ONE_PULL, 78);
    expect(wanted.rest).toBe(1);
    for (const way of wanted.ways)
      expect(way.mash.rests.map((r) => r.tempC).at(1)).toBe(ONE_PULL.mash.rests[1]?.tempC);
  });
});
