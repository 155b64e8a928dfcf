import { beforeAll, describe, expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { planDay } from '../plan-day.ts';
import { ONE_PULL, THREE_BARRELS } from '../three-barrels.ts';
import { timetableOf } from '../timetable/timetable-of.ts';
import { METHODS } from './methods.ts';
import { pairedWays, type Way, waysOf } from './ways.ts';

const OPTIONS = { draws: 30, seed: 4 };
const width = (b: { low: number; high: number }) => b.high - b.low;

describe('ways of one beer side by side', () => {
  let ways: Way[];
  const way = (method: Way['method']) => ways.find((w) => w.method === method) as Way;
  beforeAll(() => {
    ways = waysOf(ONE_PULL, OPTIONS);
  });

  it('one entry a method, in order; figures when feasible, a reason when not', () => {
    expect(ways.map((w) => w.method)).toEqual(METHODS);
    for (const w of ways) {
      expect(w.feasible, w.method).toBe(w.figures !== undefined && w.wort !== undefined);
      expect(w.whyNot !== '', w.method).toBe(!w.feasible);
    }
    // The one lot of this beer has no sheet.
    expect(way('no-pull-kilned-malts').whyNot).toMatch(/No colour on the sheet of Pale malt/);
  });

  it('the same seed gives the same answer, another seed another', () => {
    expect(waysOf(ONE_PULL, OPTIONS)).toEqual(ways);
    const other = waysOf(ONE_PULL, { ...OPTIONS, seed: 5 });
    expect(other.find((w) => w.method === 'one-pull')?.figures).not.toEqual(
      way('one-pull').figures,
    );
  });

  it('the plan as written differs from itself by nothing', () => {
    const { against } = way('one-pull');
    for (const b of Object.values(against ?? {})) expect(b).toEqual({ low: 0, likely: 0, high: 0 });
  });

  it('a difference is narrower than the figures it is of: the same draws go through both', () => {
    const direct = way('direct-heat');
    expect(width(direct.against?.extractKg as never)).toBeLessThan(
      0.2 * width(direct.wort?.extractKg as never),
    );
  });

  it('hours are those of the whole day by its timetable', () => {
    const plan = planDay(ONE_PULL, { draws: 50, changes: false });
    const day = timetableOf(ONE_PULL, plan, { draws: 30, seed: 4 });
    const finishH = way('one-pull').figures?.finishH;
    expect((finishH?.likely as number) * 60).toBeGreaterThan(plan.mashEndMin.likely + 200);
    expect(
      Math.abs((finishH?.likely as number) * 60 - (day.robust?.finishMin.likely as number)),
    ).toBeLessThan(6);
    // Mash made in the kettle goes over to be run off, and the wort is boiled in the kettle after it.
    const heated = way('direct-heat').figures?.finishH.likely as number;
    expect(Math.abs(heated - (finishH?.likely as number))).toBeLessThan(2);
  });

  // Common practice, no source: what every brewer knows of the ways.
  it('more pulls take longer, more hands, more heat and more carrying', () => {
    const order = ['infusion', 'one-pull', 'two-pulls', 'three-pulls'] as const;
    for (const f of ['finishH', 'handsBusyMin', 'carriedKg', 'energyKWh', 'cost'] as const) {
      const likely = order.map((m) => way(m).figures?.[f].likely as number);
      expect(likely, f).toEqual(likely.toSorted((a, b) => a - b));
    }
  });
});

it('a tun too small for more liquor: that way says why, the others stand', () => {
  const kit = {
    ...THREE_BARRELS,
    vessels: THREE_BARRELS.vessels.map((v) => (v.id === 'tun' ? { ...v, brimL: 330 } : v)),
  };
  const document: PlanDocument = { ...ONE_PULL, kit };
  const ways = waysOf(document, OPTIONS);
  const step = ways.find((w) => w.method === 'step-infusion');
  expect(step?.feasible).toBe(false);
  expect(step?.whyNot).toMatch(/mash tun would hold \d+ L and has 330 L to the brim/);
  expect(ways.find((w) => w.method === 'infusion')?.feasible).toBe(true);
});

describe('any way against any other', () => {
  it('is the other way round with the sign turned, and nothing against itself', () => {
    const { own, ways, against } = pairedWays(ONE_PULL, OPTIONS);
    expect(own).toBe('one-pull');
    const feasible = ways.filter((w) => w.feasible).map((w) => w.method);
    expect(Object.keys(against)).toEqual(feasible);
    for (const a of feasible) {
      expect(against[a]?.[a]?.finishH, a).toEqual({ low: 0, likely: 0, high: 0 });
      for (const b of feasible) {
        const [there, back] = [against[a]?.[b]?.energyKWh, against[b]?.[a]?.energyKWh];
        expect(there?.likely, `${a} ${b}`).toBeCloseTo(-(back?.likely ?? Number.NaN), 9);
        expect(there?.low, `${a} ${b}`).toBeCloseTo(-(back?.high ?? Number.NaN), 9);
      }
    }
    const held = ways.find((w) => w.method === 'infusion');
    expect(held?.against).toEqual(against.infusion?.['one-pull']);
  });

  it('tells the chance that a rest is missed, and the lifts', () => {
    const { ways } = pairedWays(ONE_PULL, OPTIONS);
    for (const w of ways.filter((w) => w.feasible)) {
      expect(w.missChance, w.method).toBeGreaterThanOrEqual(0);
      expect(w.missChance, w.method).toBeLessThanOrEqual(1);
      expect(w.lifts?.count ?? 0, w.method).toBeGreaterThanOrEqual(0);
    }
    // Nothing is raised in a single infusion, so no raise can miss.
    expect(ways.find((w) => w.method === 'infusion')?.missChance).toBe(0);
    expect(ways.find((w) => w.method === 'three-pulls')?.missChance).toBeGreaterThan(0);
    const lifts = (m: Way['method']) => ways.find((w) => w.method === m)?.lifts?.count ?? 0;
    expect(lifts('two-pulls')).toBeGreaterThan(lifts('infusion'));
  });
});
