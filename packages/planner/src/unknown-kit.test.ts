/** The prior: what is said of a small kit before it has a reading of its own. */
import { quantile } from '@ladlework/numerics';
import { describe, expect, it } from 'vitest';
import { landingOnUnknownKit, returnsOnUnknownKit, unknownKit } from './unknown-kit.ts';

const TYPICAL = { pullFraction: 1 / 3, fromC: 62, minutesAway: 50 };
const returns = returnsOnUnknownKit(TYPICAL);

function moments(values: readonly number[]) {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  const variance = values.reduce((s, v) => s + (v - mean) ** 2, 0) / values.length;
  return { mean, sd: Math.sqrt(variance) };
}

describe('a typical pull on a small kit nobody has described', () => {
  it('arrives at 90 ± 4 °C (physics.md 8.6)', () => {
    const { mean, sd } = moments(returns.map((r) => r.arrivalC));
    expect(Math.abs(mean - 90)).toBeLessThan(1);
    expect(Math.abs(sd - 4)).toBeLessThan(1);
  });

  it('comes back to a mash that slipped 3 ± 2 K (physics.md 8.6)', () => {
    const { mean, sd } = moments(returns.map((r) => r.slipK));
    expect(Math.abs(mean - 3)).toBeLessThan(0.7);
    expect(Math.abs(sd - 2)).toBeLessThan(0.6);
  });

  it('has the published allowance, 5-10 K and 85-90 °C, as its pessimistic end (Metzger 1996)', () => {
    const slips = returns.map((r) => r.slipK);
    const arrivals = returns.map((r) => r.arrivalC);
    expect(quantile(slips, 0.95)).toBeGreaterThan(5);
    expect(quantile(slips, 0.5)).toBeLessThan(5);
    expect(quantile(arrivals, 0.1)).toBeGreaterThan(82);
    expect(quantile(arrivals, 0.1)).toBeLessThan(90);
  });

  it('lands a third from 62 °C inside the spread of field.md 7, nearer its middle', () => {
    const { lowC, likelyC, highC, textbookC } = landingOnUnknownKit(TYPICAL);
    expect(textbookC).toBeCloseTo(74.67, 2);
    expect(lowC).toBeGreaterThan(63);
    expect(highC).toBeLessThan(73);
    expect(likelyC).toBeGreaterThan(67.5);
    expect(likelyC).toBeLessThan(71.7);
  });
});

describe('what moves the landing', () => {
  const likely = (change: object) => landingOnUnknownKit({ ...TYPICAL, ...change }).likelyC;

  it('more pulled, hotter boil, shorter away: warmer', () => {
    expect(likely({ pullFraction: 0.4 })).toBeGreaterThan(likely({}));
    expect(likely({ boilC: 95 })).toBeLessThan(likely({}));
    expect(likely({ minutesAway: 90 })).toBeLessThan(likely({}));
  });

  it('a bigger batch keeps its heat better', () => {
    expect(likely({ batchL: 350 })).toBeGreaterThan(likely({ batchL: 20 }));
  });

  it('says which figure is out of range', () => {
    expect(() => landingOnUnknownKit({ ...TYPICAL, pullFraction: 0.9 })).toThrow(
      'pullFraction 0.9',
    );
    expect(() => unknownKit(3)).toThrow('batchL 3');
  });
});
