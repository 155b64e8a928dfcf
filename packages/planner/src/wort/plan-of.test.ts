import { expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import type { Plan } from '../plan.ts';
import { planDay } from '../plan-day.ts';
import { ONE_PULL as DAY } from '../three-barrels.ts';
import { timetableOf } from '../timetable/timetable-of.ts';
import { wortPlan } from './plan-of.ts';
import type { WortPlan } from './plan-types.ts';

const HOPS = [
  { name: 'Bitter', kg: 0.9, alphaPct: 6, boilMin: 60 },
  { name: 'Late', kg: 0.7, alphaPct: 4, boilMin: 'stand' },
] as const;

function withBeer(change: Partial<PlanDocument['beer']>): PlanDocument {
  return { ...DAY, beer: { ...DAY.beer, ...change } };
}

function planned(document: PlanDocument): Plan & { readonly wortPlan: WortPlan } {
  const plan = planDay(document, { draws: 50 });
  if (plan.wortPlan === undefined) throw new Error('no wort plan');
  return { ...plan, wortPlan: plan.wortPlan };
}

const at = (wort: WortPlan, stage: string) => {
  const found = wort.stages.find((s) => s.stage === stage);
  if (found === undefined) throw new Error(`no stage ${stage}`);
  return found;
};

const plain = planned(withBeer({ hops: HOPS })).wortPlan;

it('extract is accounted for from the mash to the tank', () => {
  let kg = plain.mash.likely.extractKg;
  for (const stage of plain.stages) {
    // Bands of differences are no differences of bands: to a part in a hundred.
    expect(Math.abs(stage.extractKg.likely - (kg - stage.lostKg.likely))).toBeLessThan(0.01 * kg);
    kg = stage.extractKg.likely;
  }
  expect(plain.grist.account.map((line) => line.stage)).toEqual([
    'laboratory',
    'kettle-full',
    'cast-out',
    'tank',
  ]);
});

it('goes over a worker’s door and into JSON as it is', () => {
  expect(JSON.parse(JSON.stringify(plain))).toEqual(plain);
  expect(structuredClone(plain)).toEqual(plain);
});

it('litres wanted in the tank are what the run-off is planned for', () => {
  for (const tankL of [300, 380]) {
    const wort = wortPlan(withBeer({ hops: HOPS, target: { tankL } }), plain.mash, { draws: 100 });
    expect(Math.abs(at(wort, 'tank').coldL.likely / tankL - 1)).toBeLessThan(0.015);
    expect(wort.wishes.map((w) => [w.what, w.met])).toEqual([['tank-litres', true]]);
  }
});

it('kilograms for the strength wanted, brewed again, give that strength', () => {
  const target = { tankL: 340, extract: { by: 'weight', plato: 11.5 } } as const;
  const first = planned(withBeer({ target })).wortPlan;
  const kg = first.grist.wanted?.kg ?? [];
  const malts = DAY.beer.malts.map((m, i) => ({ ...m, kg: kg[i] ?? m.kg }));
  const again = planned(withBeer({ target, malts })).wortPlan;
  // What the mash itself gives a kilogram shifts a little with its size.
  expect(Math.abs(at(again, 'tank').plato.likely - 11.5)).toBeLessThan(0.12);
  const from = Math.abs(at(first, 'tank').plato.likely - 11.5);
  expect(Math.abs(at(again, 'tank').plato.likely - 11.5)).toBeLessThanOrEqual(from);
});

// 12.0 % w/w is 12.56 g/100 mL: MEBAK B-400.32.530, second hand.
it('extract by volume is another wish than extract by weight', () => {
  const wish = (extract: NonNullable<PlanDocument['beer']['target']>['extract']) =>
    wortPlan(withBeer({ target: extract === undefined ? {} : { extract } }), plain.mash, {
      draws: 30,
    }).wishes[0]?.wanted;
  expect(wish({ by: 'weight', plato: 12 })).toBe(12);
  expect(wish({ by: 'volume', gPer100mL: 12.56 })).toBeCloseTo(12, 2);
  expect(wish({ by: 'volume', gPer100mL: 12 })).toBeCloseTo(11.49, 2);
});

it('a stronger mash is felt at every stage after it', () => {
  const { mash } = plain;
  const rich = wortPlan(
    withBeer({ hops: HOPS }),
    { ...mash, likely: { ...mash.likely, extractKg: 1.03 * mash.likely.extractKg } },
    { draws: 50 },
  );
  for (const stage of ['kettle-full', 'cast-out', 'knock-out', 'tank'])
    expect(at(rich, stage).plato.likely).toBeGreaterThan(at(plain, stage).plato.likely + 0.1);
  expect(at(rich, 'tank').ibu?.likely).toBeLessThan(at(plain, 'tank').ibu?.likely ?? 0);
});

it('refilling and not sparging at all keep back more extract than a running sparge', () => {
  const by = (spargeBy: 'continuous' | 'batch' | 'none') =>
    wortPlan(
      {
        ...withBeer({ target: spargeBy === 'none' ? {} : { tankL: 320 } }),
        day: { ...DAY.day, work: { spargeBy } },
      },
      plain.mash,
      { draws: 50 },
    );
  const [running, batch, none] = [by('continuous'), by('batch'), by('none')];
  expect(at(batch, 'kettle-full').coldL.likely).toBeCloseTo(
    at(running, 'kettle-full').coldL.likely,
    -1,
  );
  expect(at(batch, 'kettle-full').extractKg.likely).toBeLessThan(
    at(running, 'kettle-full').extractKg.likely,
  );
  expect(at(none, 'kettle-full').extractKg.likely).toBeLessThan(
    at(batch, 'kettle-full').extractKg.likely,
  );
  expect(none.lauter.spargeL.likely).toBe(0);
  expect(at(none, 'kettle-full').plato.likely).toBeCloseTo(none.lauter.firstPlato.likely, 6);
});

it('hop times stand at the hops, and the timetable takes them from there', () => {
  const plan = planned(withBeer({ hops: HOPS }));
  const timetable = timetableOf([withBeer({ hops: HOPS })], [plan], {});
  const hops = timetable.activities.filter((a) => a.id.startsWith('hops-'));
  expect(hops.map((a) => a.id)).toEqual(['hops-60']);
});

it('a kit on which nothing boils has a mash and no wort plan', () => {
  const { kit, mash } = DAY;
  const document: PlanDocument = {
    ...DAY,
    kit: { ...kit, vessels: kit.vessels.filter((v) => v.id === mash.tun), burners: [] },
    mash: {
      ...mash,
      liquorVessel: mash.tun,
      rests: mash.rests.slice(0, 1),
      raises: [],
    },
    day: { ...DAY.day, kettleC: 75 },
  };
  const plan = planDay(document, { draws: 50 });
  expect(plan.wort).toBeDefined();
  expect(plan.wortPlan).toBeUndefined();
  expect(plan.noWortPlan).toMatch(/no vessel that could boil/);
});
