import { describe, expect, it } from 'vitest';
import { lateReturns } from './late-return.ts';
import { TWO_PULLS } from './live-testing.ts';

describe('lateReturns', () => {
  const [first, second] = lateReturns(TWO_PULLS, 20);
  const [soon] = lateReturns(TWO_PULLS, 5);
  it('names each return and how long it was held up', () => {
    expect([first?.rest, second?.rest]).toEqual([2, 3]);
    expect(first?.lateMin).toBe(20);
  });
  it('never lands warmer and never leaves more enzyme for having come late', () => {
    for (const late of [first, second]) {
      expect(late?.landingK).toBeLessThan(0.01);
      expect(late?.betaPoints).toBeLessThan(0.2);
      expect(late?.endMin).toBeGreaterThan(10);
    }
  });
  it('costs more the later it comes', () => {
    expect(first?.endMin).toBeGreaterThan(soon?.endMin as number);
    expect(first?.landingK).toBeLessThanOrEqual((soon?.landingK as number) + 1e-9);
  });
});
