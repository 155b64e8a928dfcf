import { beforeAll, describe, expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { planDay } from '../plan-day.ts';
import { ONE_PULL, THREE_BARRELS } from '../three-barrels.ts';
import { candidatesOf, type MenuAxes } from './candidates.ts';
import {
  type Candidate,
  dominates,
  type Menu,
  menuOf,
  nonDominated,
  type Weighed,
  weighPlayed,
} from './menu.ts';
import { DEFAULT_PRICES } from './prices.ts';

const SMALL: MenuAxes = {
  liquorLPerKg: [2.7, 3.6],
  boilMinutes: [10, 30],
  thickness: ['thick'],
  restShare: [1],
  morePots: false,
};
const plain: Weighed = {
  finishH: 3,
  handsBusyMin: 60,
  carriedKg: 100,
  energyKWh: 40,
  unboiled: -1,
  limitOff: 0,
};
const KEYS = Object.keys(plain) as (keyof Weighed)[];

describe('dominance', () => {
  it('no worse in anything and better in something', () => {
    expect(dominates({ ...plain, finishH: 2 }, plain)).toBe(true);
    expect(dominates(plain, { ...plain, finishH: 2 })).toBe(false);
    expect(dominates({ ...plain, finishH: 2, carriedKg: 120 }, plain)).toBe(false);
    expect(dominates(plain, plain)).toBe(false);
    // Half a minute is no difference to a brewer.
    expect(dominates({ ...plain, finishH: 3 - 0.5 / 60 }, plain)).toBe(false);
  });

  it('of two alike the first stays', () => {
    const recipe = { document: ONE_PULL, finish: [] };
    const twins: Candidate[] = [plain, { ...plain }].map((weighed) => ({ recipe, weighed }));
    expect(nonDominated(twins)).toEqual([twins[0]]);
  });
});

describe('a menu small enough to be proved', () => {
  let menu: Menu;
  let everyone: Candidate[];
  beforeAll(() => {
    menu = menuOf(ONE_PULL, { draws: 30, axes: SMALL });
    everyone = weighPlayed(ONE_PULL, candidatesOf(ONE_PULL, SMALL), DEFAULT_PRICES);
  });
  const weighedOf = (document: PlanDocument) =>
    everyone.find((c) => JSON.stringify(c.recipe.document) === JSON.stringify(document))
      ?.weighed as Weighed;

  it('brute force: nothing among all candidates beats a plan on it', () => {
    expect(menu.screened).toBe(candidatesOf(ONE_PULL, SMALL).length);
    expect(menu.screened).toBeGreaterThan(15);
    expect(menu.plans.length).toBeGreaterThan(2);
    expect(menu.plans.length).toBeLessThanOrEqual(7);
    for (const plan of menu.plans) {
      const weighed = weighedOf(plan.document);
      const beaten = everyone.filter(
        (c) => KEYS.every((k) => c.weighed[k] < weighed[k]) || dominates(c.weighed, weighed),
      );
      expect(beaten, plan.what).toEqual([]);
    }
  });

  it('brute force: the best of all candidates in each thing is on it', () => {
    const listed = menu.plans.map((p) => weighedOf(p.document));
    const slack: Weighed = {
      finishH: 1 / 60,
      handsBusyMin: 1,
      carriedKg: 1,
      energyKWh: 0.1,
      unboiled: 0.01,
      limitOff: 0.05,
    };
    for (const key of KEYS) {
      const best = Math.min(...everyone.map((c) => c.weighed[key]));
      expect(Math.min(...listed.map((w) => w[key])), key).toBeLessThanOrEqual(best + slack[key]);
    }
  });

  it('its plans differ, say why, and can be planned as they stand', () => {
    expect(new Set(menu.plans.map((p) => p.what)).size).toBe(menu.plans.length);
    for (const plan of menu.plans) expect(plan.reason).not.toBe('');
    const direct = menu.plans.filter((p) => p.document.mash.tun === 'tun');
    for (const { document, what } of direct)
      expect(planDay(document, { draws: 2, mash: 'off', changes: false }).feasible, what).toBe(
        true,
      );
  });

  it('the same document gives the same menu', () => {
    const few = { draws: 20, axes: { ...SMALL, liquorLPerKg: [3.6], boilMinutes: [15] } };
    expect(menuOf(ONE_PULL, few)).toEqual(menuOf(ONE_PULL, few));
  });
});

it('what the kit cannot do is screened out and counted', () => {
  const vessels = THREE_BARRELS.vessels.map((v) => (v.id === 'tun' ? { ...v, brimL: 250 } : v));
  const document = { ...ONE_PULL, kit: { ...THREE_BARRELS, vessels } };
  const menu = menuOf(document, { draws: 30, axes: SMALL });
  expect(menu.infeasible).toBeGreaterThan(0);
  expect(menu.played).toBeLessThanOrEqual(menu.screened - menu.infeasible);
  for (const { document: d, what } of menu.plans)
    expect(d.mash.tun === 'tun' ? d.mash.liquorLPerKg : 2.7, what).toBeLessThan(3.6);
});
