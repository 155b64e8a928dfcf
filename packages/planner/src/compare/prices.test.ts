import { NOMINAL } from '@ladlework/brewhouse';
import { describe, expect, it } from 'vitest';
import type { PlanDocument } from '../document.ts';
import { ONE_PULL } from '../three-barrels.ts';
import { playWay } from './outcome.ts';
import { DEFAULT_PRICES, heatPrice, maltCost, pricesOf } from './prices.ts';

describe('the brewer’s prices', () => {
  it('stand in for the defaults one by one', () => {
    expect(pricesOf(ONE_PULL)).toEqual({ ...DEFAULT_PRICES, currency: '', own: false });
    const named = pricesOf({ ...ONE_PULL, prices: { currency: '€', labourPerHour: 30 } });
    expect(named).toMatchObject({ currency: '€', perHour: 30, perKWh: 0.2, own: true });
  });

  it('a fuel without a price of its own costs what heat costs', () => {
    const prices = { ...DEFAULT_PRICES, byFuel: { propane: 0.14 } };
    expect(heatPrice('outdoor-propane', prices)).toBe(0.14);
    expect(heatPrice('induction', prices)).toBe(0.2);
  });

  it('a grist with one unpriced lot has no cost', () => {
    const [base] = ONE_PULL.beer.malts;
    if (!base) throw new Error('no malt');
    const priced = { ...base, kg: 100, pricePerKg: 0.9 };
    const silent = { ...base, kg: 10 };
    expect(maltCost([priced, silent], DEFAULT_PRICES)).toBeUndefined();
    expect(maltCost([priced, silent], { ...DEFAULT_PRICES, maltPerKg: 1.2 })).toBeCloseTo(102, 9);
  });

  it('make up the cost of a brew: hands, each burner’s fuel, malt', () => {
    const document: PlanDocument = {
      ...ONE_PULL,
      beer: {
        ...ONE_PULL.beer,
        malts: ONE_PULL.beer.malts.map((m) => ({ ...m, pricePerKg: 1 })),
      },
    };
    const fuels = { gas: 0.5, propane: 0.5, electricity: 0.5, steam: 0.5 };
    const prices = { perHour: 30, perKWh: 9, byFuel: fuels };
    const [o] = playWay({ document, finish: [] }, [NOMINAL], prices).outcomes;
    if (!o) throw new Error('the day cannot be brewed');
    const gristKg = document.beer.malts.reduce((sum, m) => sum + m.kg, 0);
    expect(o.cost).toBeCloseTo((o.handsBusyMin / 60) * 30 + o.energyKWh * 0.5 + gristKg, 6);
  });
});
