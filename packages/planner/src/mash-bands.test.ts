import { describe, expect, it } from 'vitest';
import { TWO_PULLS } from './live-testing.ts';
import { planDay } from './plan-day.ts';

describe('mash figures over the day', () => {
  const plan = planDay(TWO_PULLS, { draws: 60, changes: false });
  const of = (vessel: string) => plan.mashBands.filter((b) => b.vessel === vessel);

  it('follows the mash in every vessel that holds it, with the likely value inside the band', () => {
    const vessels = new Set(plan.mashBands.map((b) => b.vessel));
    expect(vessels.size).toBeGreaterThanOrEqual(2);
    for (const b of plan.mashBands)
      for (const { low, likely, high } of Object.values(b.figures)) {
        expect(likely.length).toBe(b.timeMin.length);
        for (let i = 0; i < likely.length; i++) {
          expect(Number.isFinite(likely[i])).toBe(true);
          expect(low[i]).toBeLessThanOrEqual((high[i] as number) + 1e-9);
        }
      }
  });

  it('boils the enzymes of a pull away and keeps some in the tun', () => {
    const tun = of(TWO_PULLS.mash.tun);
    const pot = plan.mashBands.find((b) => b.vessel !== TWO_PULLS.mash.tun);
    const boiled = plan.trace.moves.find((m) => m.kind === 'boil');
    const at = pot?.timeMin.findIndex((t) => t > (boiled?.startMin as number)) ?? -1;
    expect(at).toBeGreaterThan(0);
    expect(Math.max(...(pot?.figures.betaLeft.likely ?? []))).toBeGreaterThan(0.05);
    expect(pot?.figures.betaLeft.likely[at]).toBeLessThan(1e-6);
    expect(tun[0]?.figures.betaLeft.likely[0]).toBeGreaterThan(0.8);
  });

  it('asks for iodine at the end of each rest after a raise, with a chance between 0 and 1', () => {
    expect(plan.iodine.map((i) => i.rest)).toEqual([2, 3]);
    for (const i of plan.iodine) {
      expect(i.positiveChance).toBeGreaterThanOrEqual(0);
      expect(i.positiveChance).toBeLessThanOrEqual(1);
      expect(i.atMin).toBeGreaterThan(60);
    }
  });
});
