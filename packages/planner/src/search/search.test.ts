import { NOMINAL } from '@ladlework/brewhouse';
import { beforeAll, describe, expect, it } from 'vitest';
import { playWay } from '../compare/outcome.ts';
import { DEFAULT_PRICES } from '../compare/prices.ts';
import type { PlanDocument } from '../document.ts';
import { planDay } from '../plan-day.ts';
import { ONE_PULL, THREE_BARRELS, THREE_PULLS } from '../three-barrels.ts';
import { type SearchAxes, usualAxes } from './axes.ts';
import { type Candidate, dominates, KEYS, nonDominated, SAME, type Weighed } from './choose.ts';
import { framesOf } from './frames.ts';
import type { Menu } from './menu.ts';
import { FrameScreen, WEIGHED } from './screen.ts';
import { menuOf, searchPlans, weighLikely } from './search.ts';

const SMALL: SearchAxes = {
  liquorLPerKg: [2.7, 3.6],
  boilMinutes: [10, 30],
  thickness: ['thick'],
  restShare: [1, 0.5],
  pullRest: [undefined],
  places: [{ pots: ['kettle'], order: 'in-turn' }],
  reserve: [0.15],
  besideLPerKg: [0],
};
const plain: Weighed = {
  finishH: 3,
  handsBusyMin: 60,
  carriedKg: 100,
  energyKWh: 40,
  unboiled: -1,
  limitOff: 0,
  enzymesLost: 0.5,
  missChance: 0.1,
};

/** Every plan of the axes through the whole engine, nothing screened. */
function everyPlan(document: PlanDocument, axes: SearchAxes): Candidate[] {
  const own = playWay({ document, finish: [] }, [NOMINAL], DEFAULT_PRICES, true).worts[0];
  const limit = own?.limitApparentPct;
  const wanted = limit === undefined ? undefined : { low: limit, high: limit };
  const into = new Float64Array(WEIGHED.length);
  return framesOf(document, {}).flatMap((frame) => {
    const screen = new FrameScreen(frame, axes, DEFAULT_PRICES);
    for (const _ of screen.prepare());
    return Array.from({ length: screen.total }, (_, plan) => {
      const sure = screen.weigh(plan, into) ? (into[WEIGHED.indexOf('missChance')] as number) : 0;
      const recipe = { ...frame.recipe, document: screen.documentOf(plan) };
      return weighLikely(recipe, sure, wanted, {}, DEFAULT_PRICES);
    }).filter((c) => c !== undefined);
  });
}

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

describe('a search small enough to be proved', () => {
  let menu: Menu;
  let everyone: Candidate[];
  beforeAll(() => {
    menu = menuOf(ONE_PULL, { draws: 20, axes: SMALL, survivors: 1000, prices: DEFAULT_PRICES });
    everyone = everyPlan(ONE_PULL, SMALL);
  }, 240_000);
  const weighedOf = (document: PlanDocument) =>
    everyone.find((c) => JSON.stringify(c.recipe.document) === JSON.stringify(document))
      ?.weighed as Weighed;

  it('brute force: nothing among all plans beats one on the menu', () => {
    expect(menu.screened).toBeGreaterThan(40);
    expect(menu.complete).toBe(true);
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

  it('brute force: the best of all plans in each thing is on it', () => {
    const listed = menu.plans.map((p) => weighedOf(p.document));
    // Seven plans for eight things: the one left out is told apart by name.
    const missing = KEYS.filter((key) => {
      const best = Math.min(...everyone.map((c) => c.weighed[key]));
      return Math.min(...listed.map((w) => w[key])) > best + SAME[key];
    });
    expect(missing.length, missing.join()).toBeLessThanOrEqual(Math.max(0, KEYS.length - 7));
  });

  it('its plans differ, say why, and can be planned as they stand', () => {
    expect(new Set(menu.plans.map((p) => p.what)).size).toBe(menu.plans.length);
    for (const plan of menu.plans) {
      expect(plan.reason).not.toBe('');
      expect(plan.missChance).toBeGreaterThanOrEqual(0);
      expect(plan.missChance).toBeLessThanOrEqual(1);
      expect(plan.landings).toHaveLength(plan.document.mash.rests.length);
    }
    const inTun = menu.plans.filter((p) => p.document.mash.tun === 'tun');
    for (const { document, what } of inTun)
      expect(planDay(document, { draws: 2, mash: 'off', changes: false }).feasible, what).toBe(
        true,
      );
  });

  it('the same document gives the same menu, and it goes through JSON', () => {
    const again = menuOf(ONE_PULL, {
      draws: 20,
      axes: SMALL,
      survivors: 1000,
      prices: DEFAULT_PRICES,
    });
    expect(again).toEqual(menu);
    expect(JSON.parse(JSON.stringify(menu))).toEqual(menu);
  });
});

it('with the usual survivors no thing weighed is missed by more than a tenth of its span', () => {
  const axes: SearchAxes = { ...SMALL, thickness: ['thick', 'thin'], besideLPerKg: [0, 0.2] };
  const menu = menuOf(ONE_PULL, { draws: 10, axes, prices: DEFAULT_PRICES });
  const everyone = everyPlan(ONE_PULL, axes);
  const listed = menu.plans.map(
    (p) =>
      everyone.find((c) => JSON.stringify(c.recipe.document) === JSON.stringify(p.document))
        ?.weighed as Weighed,
  );
  for (const key of ['finishH', 'handsBusyMin', 'carriedKg', 'energyKWh', 'unboiled'] as const) {
    const values = everyone.map((c) => c.weighed[key]);
    const low = Math.min(...values);
    const gap = Math.min(...listed.map((w) => w[key])) - low;
    expect(gap / (Math.max(...values) - low), key).toBeLessThan(0.1);
  }
}, 240_000);

describe('targets', () => {
  const few = { draws: 10, axes: SMALL, survivors: 60 };
  it('pulls at most, and loads at most', () => {
    for (const { document } of menuOf(ONE_PULL, { ...few, targets: { mostPulls: 1 } }).plans)
      expect(document.mash.raises.filter((r) => r.by === 'decoction').length).toBeLessThan(2);
    const light = menuOf(ONE_PULL, { ...few, targets: { mostLiftKg: 5 } });
    for (const plan of light.plans) expect(plan.heaviestKg).toBeLessThanOrEqual(5);
  });

  it('a rest not wanted is on no plan; one that is free may be', () => {
    const rests = [
      { wanted: 'no' as const },
      { wanted: 'yes' as const },
      { wanted: 'free' as const },
      { wanted: 'yes' as const },
    ];
    const { plans } = menuOf(THREE_PULLS, { ...few, targets: { rests, mostPulls: 1 } });
    expect(plans.length).toBeGreaterThan(0);
    for (const { document } of plans)
      expect(document.mash.rests.map((r) => r.tempC)).not.toContain(37);
  });

  it('the beer: every plan likely meets it, and says how surely', () => {
    const limitApparentPct = { low: 84, high: 87 };
    const { plans } = menuOf(ONE_PULL, { ...few, targets: { limitApparentPct } });
    expect(plans.length).toBeGreaterThan(0);
    for (const p of plans) {
      const [chance] = p.chances;
      expect(chance?.target).toBe('limit of attenuation');
      expect(chance?.chance).toBeGreaterThan(0.2);
    }
  });

  it('what cannot be is not offered, and why is said', () => {
    const { plans, clash } = menuOf(ONE_PULL, { ...few, targets: { finishByMin: 300 } });
    expect(plans).toEqual([]);
    expect(clash?.sets[0]?.limits.map((l) => l.code)).toContain('finish-by');
  });
});

describe('step by step', () => {
  it('tells how far it is, and ends early with what it has', () => {
    const shares: number[] = [];
    let going = 40;
    const search = searchPlans(
      ONE_PULL,
      {},
      { draws: 10, axes: SMALL, keepGoing: () => --going > 0 },
    );
    let step = search.next();
    for (; !step.done; step = search.next()) shares.push(step.value.share);
    expect(step.value.complete).toBe(false);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    expect(shares.length).toBe(40);
  });
});

it('what the kit cannot do is screened out and counted', () => {
  const vessels = THREE_BARRELS.vessels.map((v) => (v.id === 'tun' ? { ...v, brimL: 250 } : v));
  const document = { ...ONE_PULL, kit: { ...THREE_BARRELS, vessels } };
  const menu = menuOf(document, { draws: 10, axes: SMALL });
  expect(menu.infeasible).toBeGreaterThan(0);
  expect(menu.played).toBeLessThanOrEqual(menu.screened - menu.infeasible);
  for (const { document: d, what } of menu.plans)
    expect(d.mash.tun === 'tun' ? d.mash.liquorLPerKg : 2.7, what).toBeLessThan(3.6);
});

it('a kit with one pot has few choices of pots, and all of them', () => {
  const kit = {
    ...THREE_BARRELS,
    vessels: THREE_BARRELS.vessels.filter((v) => v.id !== 'stock'),
    burners: THREE_BARRELS.burners.filter((b) => b.id !== 'stove'),
  };
  const places = usualAxes({ ...ONE_PULL, kit }).places;
  expect(places).toEqual([
    { pots: ['kettle'], order: 'in-turn' },
    { pots: ['kettle', 'kettle'], order: 'in-turn' },
  ]);
});
