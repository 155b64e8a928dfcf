import { describe, expect, it } from 'vitest';
import type { MaltLot, PlanDocument } from '../document.ts';
import { ONE_PULL } from '../three-barrels.ts';
import { gristColour, kilnedRecipe, sharesFor } from './kilned-malts.ts';

const lot = (name: string, kg: number, colourEbc: number, diastaticWk: number): MaltLot => ({
  name,
  kg,
  type: 'base',
  certificate: { colourEbc, diastaticWk, extractFinePct: 80 / 0.96, moisturePct: 4 },
});
const brewOf = (...malts: MaltLot[]): PlanDocument => ({
  ...ONE_PULL,
  beer: { ...ONE_PULL.beer, malts },
});

describe('shares of two lots, by hand', () => {
  // 2 and 10 °L: EBC = 25/12.7 (1.3546 °L - 0.76).
  const lots = [lot('pale', 90, 3.837, 280), lot('dark', 10, 25.169, 150)];

  it('are two equations in two unknowns', () => {
    // 80 kg of extract: 100 kg of malt. 75 and 25 kg: 400 kg °L in 80/0.12/1.048 = 636.1 L is
    // 5.248 lb °L/gal; 1.4922 · 5.248^0.6859 = 4.652 SRM = 9.158 EBC.
    expect(gristColour(lots, [75, 25], 80)).toBeCloseTo(9.158, 2);
    const kg = sharesFor(lots, { extractKg: 80, colourEbc: 9.158 }, 1);
    expect(kg[0]).toBeCloseTo(75, 1);
    expect(kg[1]).toBeCloseTo(25, 1);
  });

  it('no lot goes under nothing: paler than the palest is all pale', () => {
    const kg = sharesFor(lots, { extractKg: 80, colourEbc: 2 }, 1);
    expect(kg[1]).toBe(0);
  });
});

describe('instead of boiling', () => {
  it('matches extract and colour of the decocted wort with the brewer’s lots', () => {
    const found = kilnedRecipe(brewOf(lot('pale', 66, 3.5, 280), lot('dark', 6, 20, 120)));
    if ('whyNot' in found) throw new Error(found.whyNot);
    const { grist, recipe } = found;
    expect(grist.extractKg.got / grist.extractKg.wanted).toBeCloseTo(1, 3);
    expect(grist.colourEbc.got / grist.colourEbc.wanted).toBeCloseTo(1, 3);
    const [pale, dark] = grist.malts;
    // The boil coloured: dark malt takes its place.
    expect(dark?.kg).toBeGreaterThan(6);
    expect(pale?.kg).toBeLessThan(66);
    expect(grist.text).toMatch(/not an equivalent/);
    expect(recipe.document.mash.raises).toEqual([]);
  });

  it.each([
    ['no kilned lot', [lot('pale', 72, 3.5, 280)], /no kilned malt lot/],
    [
      'a sheet without colour',
      [lot('dark', 6, 20, 120), { name: 'silent', kg: 60, type: 'base' as const }],
      /No colour on the sheet of silent/,
    ],
    ['nothing pale', [lot('dark', 72, 20, 120)], /Every lot of the beer is kilned/],
    [
      'too little enzyme',
      [lot('pale', 66, 3.5, 60), lot('dark', 6, 20, 20)],
      /not trusted to convert itself/,
    ],
  ])('%s: says why not', (_, malts, why) => {
    expect(kilnedRecipe(brewOf(...malts))).toMatchObject({ whyNot: expect.stringMatching(why) });
  });
});
