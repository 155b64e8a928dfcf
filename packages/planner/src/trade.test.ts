/** Facts of the trade on a three-barrel, two-vessel brewhouse. Common practice, no source. */
import { describe, expect, it } from 'vitest';
import { DEFAULT_PULL_AFTER_MIN } from './day.ts';
import type { PlanDocument } from './document.ts';
import { planDay } from './plan-day.ts';
import { ONE_PULL, pullInto, THREE_PULLS, weirsideDay } from './three-barrels.ts';

const plan = (document: PlanDocument) =>
  planDay(document, { draws: 60, mash: 'off', changes: false });
const one = plan(ONE_PULL);
const three = plan(THREE_PULLS);

describe('three barrels, two vessels', () => {
  it('can do it', () => {
    expect(one.clashes).toEqual([]);
    expect(three.clashes).toEqual([]);
  });

  it('pulls about a third of the mash', () => {
    for (const r of [...one.returns, ...three.returns]) {
      expect(r.pullShare.likely).toBeGreaterThan(0.22);
      expect(r.pullShare.likely).toBeLessThan(0.5);
    }
  });

  it('boils 10 to 20 minutes', () => {
    for (const m of [...one.moves, ...three.moves])
      if (m.move.kind === 'boil') {
        const minutes = m.endMin.likely - m.startMin.likely;
        expect(minutes).toBeGreaterThanOrEqual(9.9);
        expect(minutes).toBeLessThanOrEqual(20.1);
      }
  });

  it('begins a pull some 20 minutes into the rest', () => {
    const rest = one.moves.find((m) => m.move.id === 'rest-1');
    const pull = one.moves.find((m) => m.move.id === 'pull-1');
    const into = (pull?.startMin.likely ?? 0) - (rest?.startMin.likely ?? 0);
    expect(Math.abs(into - DEFAULT_PULL_AFTER_MIN)).toBeLessThan(1);
  });

  it('three pulls add hours', () => {
    expect(three.addedMin.likely).toBeGreaterThan(100);
    expect(three.addedMin.likely).toBeLessThan(300);
    expect(one.addedMin.likely).toBeGreaterThan(20);
    expect(one.addedMin.likely).toBeLessThan(90);
  });

  it('a stove-top pull of what one stock pot takes adds about half an hour and raises a few kelvin', () => {
    const stove = plan(
      weirsideDay({
        rests: [
          { tempC: 66, minutes: 60 },
          { tempC: 76, minutes: 10 },
        ],
        raises: [pullInto('stock', 10, 'thin')],
      }),
    );
    const [r] = stove.returns;
    expect(stove.feasible).toBe(false);
    expect(stove.clashes.map((c) => c.code)).toContain('rest-not-reached');
    const raised = (r?.landingC.likely ?? 0) - (r?.tunBeforeC.likely ?? 0);
    expect(raised).toBeGreaterThan(1);
    expect(raised).toBeLessThan(5);
    expect(r?.awayMin.likely).toBeGreaterThan(18);
    expect(r?.awayMin.likely).toBeLessThan(45);
  });

  it('lands on the rest, likely, and within a kelvin or so when the brewer stops at it', () => {
    for (const p of [one, three])
      for (const r of p.returns) {
        expect(Math.abs(r.landingC.likely - r.targetC)).toBeLessThan(0.7);
        expect(r.guidedLandingC.high - r.targetC).toBeLessThan(0.05);
        expect(r.textbookC).toBeGreaterThan(r.targetC);
      }
  });
});
