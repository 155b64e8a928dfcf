import { mashPh } from '@ladlework/matter';
import { describe, expect, it } from 'vitest';
import type { MaltLot, PlanDocument, StockLot } from '../document.ts';
import { ONE_PULL } from '../three-barrels.ts';
import { gristColour } from './grist-colour.ts';
import { insteadOfBoiling, kilnedRecipe } from './kilned-malts.ts';

const lot = (name: string, kg: number, colourEbc: number, diastaticWk: number): MaltLot => ({
  name,
  kg,
  type: 'base',
  certificate: { colourEbc, diastaticWk, extractFinePct: 80 / 0.96, moisturePct: 4 },
});
const stockLot = (
  name: string,
  ebc: number,
  wk: number,
  more: Partial<StockLot> = {},
): StockLot => {
  const { kg: _, ...rest } = lot(name, 1, ebc, wk);
  return { ...rest, ...more };
};
const brewOf = (...malts: MaltLot[]): PlanDocument => ({
  ...ONE_PULL,
  beer: { ...ONE_PULL.beer, malts },
});

it('colour of a grist by hand', () => {
  // 2 and 10 °L are 3.837 and 25.169 EBC by 25/12.7 (1.3546 °L - 0.76); the sum is in substitute.test.ts.
  const lots = [lot('pale', 90, 3.837, 280), lot('dark', 10, 25.169, 150)];
  expect(gristColour(lots, [75, 25], 80)).toBeCloseTo(9.158, 2);
});

describe('instead of boiling', () => {
  const own = [lot('pale', 66, 3.5, 280), lot('dark', 6, 20, 120)];

  it('matches extract and colour of the decocted wort with the brewer’s lots', () => {
    const found = kilnedRecipe(brewOf(...own));
    if ('whyNot' in found) throw new Error(found.whyNot);
    const { grist, recipe } = found;
    expect(Math.abs(grist.extractKg.got / grist.extractKg.wanted - 1)).toBeLessThan(0.002);
    expect(Math.abs(grist.colourEbc.got / grist.colourEbc.wanted - 1)).toBeLessThan(0.005);
    const [pale, dark] = grist.malts;
    // The boil coloured: dark malt takes its place.
    expect(dark?.kg).toBeGreaterThan(6);
    expect(pale?.kg).toBeLessThan(66);
    expect(grist.colourEbc.boils.low).toBeLessThan(grist.colourEbc.boils.likely);
    expect(grist.text).toMatch(/not an equivalent/);
    expect(recipe.document.mash.raises).toEqual([]);
  });

  it('takes from the store what the beer has not, keeps share limits and tells the price', () => {
    const document: PlanDocument = {
      ...brewOf({ ...lot('pale', 72, 3.5, 280), pricePerKg: 0.9 }),
      prices: { currency: '€' },
      stock: [stockLot('melanoidin', 70, 0, { pricePerKg: 1.5, bagKg: 25 })],
    };
    const found = insteadOfBoiling(document);
    if (!found.ok) throw new Error(found.whyNot);
    const melanoidin = found.grist.malts.find((m) => m.name === 'melanoidin');
    expect(melanoidin?.share).toBeGreaterThan(0);
    expect(melanoidin?.share).toBeLessThanOrEqual(0.1);
    expect(melanoidin?.bags).toBeCloseTo((melanoidin?.kg as number) / 25, 9);
    const cost = found.grist.malts.reduce((sum, m) => sum + (m.cost as number), 0);
    expect(found.grist.cost?.got).toBeCloseTo(cost, 9);
    expect(found.grist.cost?.was).toBeCloseTo(72 * 0.9, 9);
    expect(found.document.beer.malts.map((m) => m.name)).toEqual(['pale', 'melanoidin']);
  });

  it('whole bags: every lot with a bag in whole ones, or the nearest there is', () => {
    const stock = [stockLot('munich', 16, 200, { bagKg: 12.5 })];
    const malts = [{ ...lot('pale', 72, 3.5, 280), bagKg: 12.5 }];
    const loose = { steps: 'bags', extractTolerance: 0.1, colourTolerance: 0.3 } as const;
    const found = insteadOfBoiling({ ...brewOf(...malts), stock }, loose);
    if (!found.ok) throw new Error(found.whyNot);
    for (const m of found.grist.malts) expect(m.bags).toBeCloseTo(Math.round(m.bags as number), 9);
    const strict = { steps: 'bags', extractTolerance: 1e-4, colourTolerance: 1e-3 } as const;
    const none = insteadOfBoiling({ ...brewOf(...malts), stock }, strict);
    if (none.ok) throw new Error('bags cannot be that exact');
    expect(none.whyNot).toMatch(/weighed from the scale one does/);
    expect(none.nearest?.malts.length).toBeGreaterThan(0);
  });

  it('mash pH: the own grist’s reading carries over to the new one', () => {
    const found = insteadOfBoiling(brewOf(...own));
    if (!found.ok) throw new Error(found.whyNot);
    const { ph } = found.grist;
    expect(ph.own).toBe(5.4);
    // More Munich-like malt rests lower in the same liquor, and by little.
    expect(ph.got).toBeLessThan(5.4);
    expect(ph.got).toBeGreaterThan(5.3);
    // A grist of one malt in soft liquor comes to rest where its buffer says: the zero of the balance.
    const one = { gristKg: 1, buffer: { ph: 5.75, slope: -40 }, liquorL: 3, liquorPh: 7 };
    const soft = { alkalinityMgLCaCO3: 0, calciumMgL: 0, magnesiumMgL: 0 };
    expect(mashPh({ ...one, ...soft })).toBeCloseTo(5.75, 9);
    const { mashPh: _read, ...unread } = ONE_PULL.beer;
    const unknown = insteadOfBoiling({ ...ONE_PULL, beer: { ...unread, malts: own } });
    expect(unknown.ok && unknown.grist.notes.join(' ')).toMatch(/was not a limit/);
  });

  it.each([
    ['no kilned lot', [lot('pale', 72, 3.5, 280)], /no kilned malt lot/],
    [
      'a sheet without colour',
      [lot('dark', 6, 20, 120), { name: 'silent', kg: 60, type: 'base' as const }],
      /No colour on the sheet of silent/,
    ],
    ['nothing to darken with', [lot('dark', 72, 20, 200)], /the darkest they give is .* EBC/],
    [
      'too little enzyme',
      [lot('pale', 50, 3.5, 60), lot('dark', 22, 20, 30)],
      /°WK and is not trusted to convert itself/,
    ],
  ])('%s: says why not', (_, malts, why) => {
    const found = kilnedRecipe(brewOf(...malts));
    expect('whyNot' in found && found.whyNot).toMatch(why);
  });

  it('names a lot that would do, and with that lot in store it does', () => {
    const document = brewOf(lot('dark', 72, 20, 200));
    const none = insteadOfBoiling(document);
    if (none.ok) throw new Error('one lot has one colour');
    expect(none.wouldDo).toMatch(/With a dark Munich malt of 25 EBC in store it would/);
    const bought = insteadOfBoiling({ ...document, stock: [stockLot('bought', 25, 80)] });
    expect(bought.ok).toBe(true);
  });

  it('too little in store: says of which lot and how much is wanted', () => {
    const stock = [stockLot('melanoidin', 70, 0, { inStoreKg: 0.1 })];
    const none = insteadOfBoiling({ ...brewOf(lot('pale', 72, 3.5, 280)), stock });
    expect(!none.ok && none.whyNot).toMatch(/melanoidin has 0\.1 kg in store, [\d.]+ kg is wanted/);
  });

  it('a kit that cannot boil the pull: the wort of the kit with what frees it', () => {
    const raises = ONE_PULL.mash.raises.map((r) => ({ ...r, pots: ['stock'] }));
    const burners = ONE_PULL.kit.burners.map((b) => ({ ...b, ratedKW: 60 }));
    const document: PlanDocument = {
      ...brewOf(...own),
      kit: { ...ONE_PULL.kit, burners },
      mash: { ...ONE_PULL.mash, raises },
    };
    const found = insteadOfBoiling(document);
    expect(found.ok ? '' : found.whyNot).toBe('');
    expect(found.ok && found.grist.notes[0]).toMatch(/This kit cannot make the decocted wort/);
  });

  it('the cheapest wants a price on every lot', () => {
    const none = insteadOfBoiling(brewOf(...own), { aim: 'price' });
    expect(!none.ok && none.whyNot).toMatch(/pale and dark have no price/);
  });
});
