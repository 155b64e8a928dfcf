import { burnerPowerKW } from '@ladlework/brewhouse';
import { beforeAll, describe, expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { ONE_PULL, THREE_BARRELS } from '../three-barrels.ts';
import { type HelpTable, helpTable, payBackOf, usualOffers } from './help-table.ts';
import { changedDocument, changeText, type KitChange } from './kit-change.ts';
import { whatIf, whatIfAll } from './what-if.ts';

const OPTIONS = { draws: 20, seed: 3 };
const PRICED: PlanDocument = {
  ...ONE_PULL,
  prices: { currency: '€', labourPerHour: 30, energyPerKWh: { gas: 0.1 } },
};

describe('one change', () => {
  it('that changes nothing differs in nothing, draw by draw', () => {
    const same: KitChange = { what: 'burner-power', burner: 'jet', ratedKW: 55 };
    const { difference } = whatIf(ONE_PULL, same, OPTIONS);
    const { landingBandK, lifts, limitApparentPoints, ...bands } = difference ?? {};
    for (const b of Object.values(bands)) {
      expect((b as { low: number }).low).toBeCloseTo(0, 6);
      expect((b as { high: number }).high).toBeCloseTo(0, 6);
    }
    expect(limitApparentPoints?.likely).toBeCloseTo(0, 6);
    expect([landingBandK, lifts]).toEqual([expect.closeTo(0, 6), 0]);
  });

  it.each<[string, KitChange, (d: NonNullable<ReturnType<typeof whatIf>['difference']>) => void]>([
    [
      'a stronger burner ends the day sooner',
      { what: 'burner-power', burner: 'jet', ratedKW: 90 },
      (d) => expect(d.finishMin.high).toBeLessThan(0),
    ],
    [
      'insulation saves heat',
      { what: 'insulation', vessel: 'tun', lossWK: 2 },
      (d) => expect(d.energyKWh.likely).toBeLessThan(0),
    ],
    [
      'a pump spares every bucket',
      { what: 'pump', litresPerMin: 15 },
      (d) => {
        expect(d.lifts).toBeLessThan(0);
        expect(d.carriedKg.high).toBeLessThan(0);
      },
    ],
    [
      'up the mountain the pull is larger: more to carry',
      { what: 'altitude', altitudeM: 2200 },
      (d) => expect(d.carriedKg.likely).toBeGreaterThan(0),
    ],
  ])('%s', (_, change, holds) => {
    const found = whatIf(ONE_PULL, change, OPTIONS);
    expect(found.whyNot).toBe('');
    if (!found.difference) throw new Error('no difference');
    holds(found.difference);
  });

  it('that cannot be brewed says why', () => {
    const found = whatIf(ONE_PULL, { what: 'batch-size', factor: 3 }, OPTIONS);
    expect(found.feasible).toBe(false);
    expect(found.whyNot).toMatch(/mash tun/);
    expect(found.changed).toBeUndefined();
  });

  it('names what the kit does not have, and refuses what cannot be', () => {
    expect(() =>
      changedDocument(ONE_PULL, { what: 'burner-power', burner: 'x', ratedKW: 9 }),
    ).toThrow(/no burner x/);
    expect(() => changedDocument(ONE_PULL, { what: 'batch-size', factor: 0 })).toThrow(
      /batch size/,
    );
  });

  it('a burner known by its water test keeps what the test showed', () => {
    const waterTest = { waterL: 100, fromC: 20, toC: 60, minutes: 20, vessel: 'kettle' };
    const burners = THREE_BARRELS.burners.map((b) => (b.id === 'jet' ? { ...b, waterTest } : b));
    const tested = { ...ONE_PULL, kit: { ...THREE_BARRELS, burners } };
    const twice = changedDocument(tested, { what: 'burner-power', burner: 'jet', ratedKW: 110 });
    const power = (d: PlanDocument) =>
      burnerPowerKW(d.kit.burners.find((b) => b.id === 'jet') as (typeof burners)[number], d.kit);
    expect(power(twice)).toBeCloseTo(2 * power(tested), 9);
  });

  it('every usual change can be said and planned', () => {
    for (const { change } of usualOffers(ONE_PULL)) {
      expect(changeText(ONE_PULL, change)).not.toMatch(/undefined|NaN/);
      expect(changedDocument(ONE_PULL, change)).not.toEqual(ONE_PULL);
    }
  });
});

describe('what would help most for the money', () => {
  let table: HelpTable;
  const stronger: KitChange = { what: 'burner-power', burner: 'jet', ratedKW: 90 };
  beforeAll(() => {
    const offers = usualOffers(PRICED).map((o) => ({ ...o, price: 900 }));
    table = helpTable(PRICED, [...offers, { change: stronger, price: 0 }], OPTIONS);
  });

  it('is sorted: soonest paid back first, what cannot be brewed last', () => {
    const brews = table.rows.filter((r) => r.feasible).map((r) => r.payBack.brews ?? Infinity);
    expect(brews).toEqual(brews.toSorted((a, b) => a - b));
    expect(table.rows[0]?.payBack.text).toBe('now: it costs nothing');
    const feasible = table.rows.map((r) => r.feasible);
    expect(feasible).toEqual(feasible.toSorted((a, b) => Number(b) - Number(a)));
  });

  it('money is the shorter day and the energy, by hand from the paired differences', () => {
    const { difference } = whatIf(PRICED, stronger, OPTIONS);
    const row = table.rows.find((r) => r.price === 0);
    if (!difference || !row) throw new Error('not played');
    // All burners of this kit are gas at 0.10; malt is the same and work at the mash is in the day.
    const day = (-difference.finishMin.likely / 60) * 30;
    expect(row.minutesSaved).toBeCloseTo(-difference.finishMin.likely, 9);
    expect(row.moneySaved).toBeCloseTo(day - 0.1 * difference.energyKWh.likely, 1);
  });

  it('a helper costs his wage and says so', () => {
    const row = table.rows.find((r) => r.change.what === 'helper');
    expect(row?.payBack.text).toMatch(/never: each brew costs more/);
    expect(row?.moneySaved).toBeLessThan(-30);
  });

  it('pay-back by hand', () => {
    // 900 at 12.40 a brew: 72.58, so 73 brews.
    expect(payBackOf(900, 12.4)).toMatchObject({ state: 'after', brews: 73 });
    expect(payBackOf(12, 12)).toMatchObject({ text: 'after 1 brew' });
    expect(payBackOf(900, 0)).toMatchObject({ state: 'never' });
    expect(payBackOf(undefined, 3)).toMatchObject({ state: 'no-price' });
  });

  it('where the own plan cannot be brewed, tells what makes it possible', () => {
    const raises = ONE_PULL.mash.raises.map((r) => ({ ...r, pots: ['stock'] }));
    const burners = THREE_BARRELS.burners.map((b) => ({ ...b, ratedKW: 60 }));
    const cannot: PlanDocument = {
      ...ONE_PULL,
      kit: { ...THREE_BARRELS, burners },
      mash: { ...ONE_PULL.mash, raises },
    };
    const found = helpTable(
      cannot,
      [
        { change: { what: 'pot-volume', vessel: 'stock', brimL: 400 } },
        { change: { what: 'helper' } },
      ],
      OPTIONS,
    );
    expect(found.own).toBeUndefined();
    expect(found.rows[0]?.change.what).toBe('pot-volume');
    expect(found.rows[0]?.payBack.text).toBe('makes the brew possible');
    expect(found.rows[1]?.payBack.text).toBe('cannot be brewed');
  });
});

describe('several changes at once', () => {
  const options = { draws: 20, seed: 2 };
  const [burner] = ONE_PULL.kit.burners;
  if (burner === undefined) throw new Error('this kit has no burner');
  const stronger = { what: 'burner-power', burner: burner.id, ratedKW: burner.ratedKW * 1.5 };
  const changes = [stronger, { what: 'altitude', altitudeM: 900 }] as KitChange[];

  it('are made one after another, and one alone is what it is by itself', () => {
    const both = whatIfAll(ONE_PULL, changes, options);
    expect(both.document.kit.altitudeM).toBe(900);
    expect(both.document.kit.burners[0]?.ratedKW).toBeCloseTo(burner.ratedKW * 1.5, 9);
    const [first] = changes as [KitChange];
    const { change, ...alone } = whatIf(ONE_PULL, first, options);
    expect(change).toBe(first);
    expect(whatIfAll(ONE_PULL, [first], options)).toEqual(alone);
  });

  it('none at all is the own plan, which differs from itself by nothing', () => {
    const { difference, feasible } = whatIfAll(ONE_PULL, [], options);
    expect(feasible).toBe(true);
    expect(difference?.finishMin).toEqual({ low: 0, likely: 0, high: 0 });
    expect(difference?.landingBandK).toBe(0);
  });
});
