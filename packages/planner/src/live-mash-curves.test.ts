import { describe, expect, it } from 'vitest';
import type { DayEntry } from './live.ts';
import { keepDay } from './live-keeper.ts';
import { TWO_PULLS } from './live-testing.ts';
import type { MashBand } from './mash-bands.ts';
import { planDay } from './plan-day.ts';

const plan = planDay(TWO_PULLS, { draws: 60, changes: false });
const moves = plan.moves.map((m) => m.move);
const tun = TWO_PULLS.mash.tun;

/** Every move of the likely day tapped at its minute, up to one of them. */
function entriesTo(lastId: string): DayEntry[] {
  const last = moves.findIndex((m) => m.id === lastId);
  return plan.trace.moves.slice(0, last + 1).flatMap((m): DayEntry[] => [
    { kind: 'begun', moveId: m.id, atMin: m.startMin },
    { kind: 'done', moveId: m.id, atMin: m.endMin },
  ]);
}

describe('the mash along the running day', () => {
  const keeper = keepDay(TWO_PULLS, moves, { draws: 60 });
  const back = plan.trace.moves.find((m) => m.id === 'return-1');
  const nowMin = (back?.endMin ?? 0) + 5;
  const bands = keeper.mash(entriesTo('return-1'), nowMin);

  it('goes from mash-in past now to the end of the mash, in one piece per stand', () => {
    const first = bands.find((b) => b.vessel === tun);
    const mashIn = plan.trace.moves.find((m) => m.kind === 'mash-in');
    expect(first?.timeMin[0]).toBeGreaterThanOrEqual(mashIn?.startMin ?? 0);
    expect(first?.timeMin[0]).toBeLessThan((mashIn?.endMin ?? 0) + 5);
    expect(first?.timeMin.at(-1)).toBeGreaterThan(nowMin + 20);
    for (const b of bands) {
      const sorted = [...b.timeMin].sort((x, y) => x - y);
      expect(b.timeMin).toEqual(sorted);
    }
  });

  it('agrees with the plan where the day goes as planned', () => {
    const of = (list: readonly MashBand[], atMin: number) => {
      const band = list.find((b) => b.vessel === tun);
      const i = band?.timeMin.findIndex((t) => t >= atMin) ?? -1;
      return band?.figures.extractKg.likely[i] ?? Number.NaN;
    };
    // Here the whole pull goes back at once; the plan keeps some of it until the mash is left to
    // settle, so it has a little less extract, and then only what the pull missed of the rest.
    const settles = plan.trace.moves.find((m) => m.id === 'settle-2')?.startMin ?? Number.NaN;
    for (const atMin of [nowMin, settles + 5]) {
      const ratio = of(bands, atMin) / of(plan.mashBands, atMin);
      expect(ratio).toBeGreaterThan(0.97);
      expect(ratio).toBeLessThan(1.08);
    }
  });

  it('has a band with the likely value inside, and boils the enzymes of the pull away', () => {
    const wide = bands.flatMap((b) => {
      const { low, likely, high } = b.figures.extractKg;
      return likely.map((x, i) => ({ x, low: low[i] as number, high: high[i] as number }));
    });
    expect(wide.length).toBeGreaterThan(20);
    const inside = wide.filter(({ x, low, high }) => x >= low * 0.97 && x <= high * 1.03);
    expect(inside.length / wide.length).toBeGreaterThan(0.9);
    expect(wide.filter(({ low, high }) => high > low * 1.002).length).toBeGreaterThan(10);
    const pot = bands.find((b) => b.vessel !== tun);
    expect(pot?.figures.betaLeft.likely.at(-1)).toBeLessThan(1e-3);
  });

  it('is nothing when the day runs without kinetics', () => {
    const plain = keepDay(TWO_PULLS, moves, { draws: 20, mash: 'off' });
    expect(plain.mash(entriesTo('mash-in'), nowMin)).toEqual([]);
  });
});
