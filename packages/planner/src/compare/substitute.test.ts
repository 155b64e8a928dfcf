import { describe, expect, it } from 'vitest';
import { colourUnitsFor, comparedL } from './grist-colour.ts';
import { type Ask, type Choice, extremeShares, nearestShares, sharesFor } from './substitute.ts';

const lot = (more: Partial<Choice>): Choice => ({
  extractKgKg: 0.8,
  lovibond: 2,
  wk: 280,
  mostShare: 1,
  ownKg: 0,
  ...more,
});

/** Extract 80 kg at 9.158 EBC unless the case says otherwise. */
const asked = (choices: readonly Choice[], more: Partial<Ask> = {}): Ask => ({
  choices,
  extractKg: 80,
  extractTolerance: 1e-6,
  units: { low: colourUnitsFor(9.158) * (1 - 1e-6), high: colourUnitsFor(9.158) * (1 + 1e-6) },
  litresPerKg: comparedL(1),
  leastWk: 0,
  aim: 'own-grist',
  ...more,
});

const found = (ask: Ask): readonly number[] => {
  const shares = sharesFor(ask);
  if (shares.state !== 'found') throw new Error(shares.state);
  return shares.kg;
};

describe('by hand', () => {
  // Pale 2 °L, dark 10 °L, 0.8 kg of extract from each kilogram: 80 kg of extract is 100 kg of malt.
  // 75 and 25 kg: 75 · 2 + 25 · 10 = 400 kg °L = 881.8 lb °L in 80/0.12/1.048 = 636.13 L = 168.05 gal:
  // 5.2477 units; Morey 1.4922 · 5.2477^0.6859 = 4.652 SRM = 9.158 EBC.
  const pale = lot({ ownKg: 90 });
  const dark = lot({ lovibond: 10, wk: 150, ownKg: 10 });

  it('extract and colour are two equations in the two weights', () => {
    const [a, b] = found(asked([pale, dark]));
    expect(a).toBeCloseTo(75, 2);
    expect(b).toBeCloseTo(25, 2);
  });

  it('a third lot: the smallest change of the own grist takes the darkest', () => {
    // Own grist 90 + 10 kg is 280 kg °L, 120 short. Each kilogram of dark for pale brings 8 kg °L (15 kg,
    // 30 kg changed), each of 30 °L brings 28: 120/28 = 4.286 kg, 8.571 kg changed.
    const melanoidin = lot({ lovibond: 30, wk: 0, mostShare: 0.1 });
    const [a, b, c] = found(asked([pale, dark, melanoidin]));
    expect(a).toBeCloseTo(90 - 120 / 28, 2);
    expect(b).toBeCloseTo(10, 2);
    expect(c).toBeCloseTo(120 / 28, 2);
  });

  it('its share limit sends the rest to the next', () => {
    // 2 % of 100 kg: 2 kg of 30 °L bring 56 of 120 kg °L, the other 64 take 8 kg of the dark malt.
    const melanoidin = lot({ lovibond: 30, wk: 0, mostShare: 0.02 });
    const [a, b, c] = found(asked([pale, dark, melanoidin]));
    expect(c).toBeCloseTo(2, 3);
    expect(b).toBeCloseTo(18, 2);
    expect(a).toBeCloseTo(80, 2);
  });

  it('the cheapest: colour at the least money for a kilogram degree', () => {
    // Against pale at 1.00: dark costs 0.10 more for 8 degrees, 0.0125 each; the 30 °L malt 0.70 for 28,
    // 0.025 each. All pale is 200 kg °L, 200 short: 25 kg dark, 102.50 in all.
    const choices = [
      { ...pale, pricePerKg: 1 },
      { ...dark, pricePerKg: 1.1 },
      lot({ lovibond: 30, mostShare: 0.1, pricePerKg: 1.7 }),
    ];
    const [a, b, c] = found(asked(choices, { aim: 'price' }));
    expect(a).toBeCloseTo(75, 2);
    expect(b).toBeCloseTo(25, 2);
    expect(c).toBe(0);
  });

  it('enzymes: as much of the weak malt as they allow, the rest from one that colours more', () => {
    // Per 100 kg: colour asks 8 d + 28 m = 200, a mean of 255 °WK allows 130 d + 280 m <= 2500. With
    // m = (200 - 8 d)/28 that is 130 d + 2000 - 80 d <= 2500: d = 10, m = 120/28 = 4.286.
    const melanoidin = lot({ lovibond: 30, wk: 0, mostShare: 0.1 });
    const choices = [{ ...pale, ownKg: 75 }, { ...dark, ownKg: 25 }, melanoidin];
    const [p, d, m] = found(asked(choices, { leastWk: 255 }));
    expect(d).toBeCloseTo(10, 1);
    expect(m).toBeCloseTo(120 / 28, 2);
    expect(p).toBeCloseTo(90 - 120 / 28, 1);
  });

  it('mash pH: a row on the protons that its malts want', () => {
    // At the highest pH pale wants +2 and dark -14 mEq/kg: 2 · 75 - 14 · 25 = -200 <= 0 holds; with +6 the
    // sum is 100 and no grist of this colour comes under that pH.
    const at = (atHigh: number) => ({ atLow: 50, atHigh });
    const choices = (p: number) => [
      { ...pale, protons: at(p) },
      { ...dark, protons: at(-14) },
    ];
    expect(found(asked(choices(2)))[1]).toBeCloseTo(25, 2);
    expect(sharesFor(asked(choices(6))).state).toBe('none');
    expect(sharesFor(asked(choices(6)), new Set(['ph'])).state).toBe('found');
  });

  it('what is in store: 20 kg of dark malt are not 25', () => {
    const choices = [pale, { ...dark, mostKg: 20 }];
    expect(sharesFor(asked(choices)).state).toBe('none');
    const most = extremeShares(asked(choices), 'darkest');
    expect(most.state === 'found' && most.kg[1]).toBeCloseTo(20, 3);
  });
});

describe('whole bags, against every combination there is', () => {
  /** Morey's law and the volume, written out apart from the code under test. */
  const ebcOf = (kg: readonly number[], lots: readonly Choice[]) => {
    const extract = lots.reduce((sum, c, i) => sum + c.extractKgKg * (kg[i] as number), 0);
    const degrees = lots.reduce((sum, c, i) => sum + c.lovibond * (kg[i] as number), 0);
    const gallons = extract / 0.12 / 1.048 / 3.785411784;
    return (25 / 12.7) * 1.4922 * (degrees / 0.45359237 / gallons) ** 0.6859;
  };
  const LOTS: readonly Choice[] = [
    lot({ stepKg: 12.5, pricePerKg: 0.95, ownKg: 90 }),
    lot({ stepKg: 12.5, lovibond: 7, wk: 180, extractKgKg: 0.77, pricePerKg: 1.1, mostKg: 75 }),
    lot({ stepKg: 12.5, lovibond: 4, wk: 240, extractKgKg: 0.79, pricePerKg: 1.0 }),
    lot({ stepKg: 5, lovibond: 28, wk: 0, extractKgKg: 0.75, pricePerKg: 1.5, mostShare: 0.1 }),
  ];
  const LEAST_WK = 150;

  /** Kilograms of every grist in whole bags that keeps the limits. */
  function* allGrists(ebc: number, tolerance: number) {
    for (let a = 0; a <= 10; a++)
      for (let b = 0; b <= 6; b++)
        for (let c = 0; c <= 10; c++)
          for (let d = 0; d <= 4; d++) {
            const kg = [12.5 * a, 12.5 * b, 12.5 * c, 5 * d];
            const total = kg.reduce((sum, x) => sum + x, 0);
            const extract = LOTS.reduce((sum, l, i) => sum + l.extractKgKg * (kg[i] as number), 0);
            const wk = LOTS.reduce((sum, l, i) => sum + l.wk * (kg[i] as number), 0);
            if (Math.abs(extract / 80 - 1) > 0.03) continue;
            if ((kg[3] as number) > 0.1 * total || wk < LEAST_WK * total) continue;
            if (Math.abs(ebcOf(kg, LOTS) / ebc - 1) > tolerance) continue;
            yield kg;
          }
  }
  const priceOf = (kg: readonly number[]) =>
    kg.reduce((sum, x, i) => sum + x * (LOTS[i]?.pricePerKg as number), 0);
  const changeOf = (kg: readonly number[]) =>
    kg.reduce((sum, x, i) => sum + Math.abs(x - (LOTS[i]?.ownKg as number)), 0);
  const inBags = (ebc: number, aim: Ask['aim']) =>
    asked(LOTS, {
      aim,
      leastWk: LEAST_WK,
      extractTolerance: 0.03,
      units: { low: colourUnitsFor(ebc * 0.96), high: colourUnitsFor(ebc * 1.04) },
    });

  it.each([6.5, 7.5, 9, 11, 13])('%d EBC: no cheaper, no nearer, no fewer lots', (ebc) => {
    const all = [...allGrists(ebc, 0.04)];
    expect(all.length).toBeGreaterThan(0);
    const cheapest = found(inBags(ebc, 'price'));
    expect(priceOf(cheapest)).toBeCloseTo(Math.min(...all.map(priceOf)), 3);
    const nearest = found(inBags(ebc, 'own-grist'));
    expect(changeOf(nearest)).toBeCloseTo(Math.min(...all.map(changeOf)), 3);
    const lots = (kg: readonly number[]) => kg.filter((x) => x > 0).length;
    const fewest = found(inBags(ebc, 'fewest-lots'));
    expect(lots(fewest)).toBe(Math.min(...all.map(lots)));
  });

  it('where no combination fits there is none, and the nearest is the least miss', () => {
    const ebc = 19;
    expect([...allGrists(ebc, 0.04)]).toEqual([]);
    expect(sharesFor(inBags(ebc, 'price')).state).toBe('none');
    const nearest = nearestShares(inBags(ebc, 'price'));
    if (nearest.state !== 'found') throw new Error(nearest.state);
    const [, , , melanoidin] = nearest.kg as [number, number, number, number];
    const total = nearest.kg.reduce((sum, x) => sum + x, 0);
    expect(melanoidin).toBeLessThanOrEqual(0.1 * total + 1e-6);
    expect(ebcOf(nearest.kg, LOTS)).toBeLessThan(ebc);
  });
});
