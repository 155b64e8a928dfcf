import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tastingSheet } from './sheet.ts';

const wish = { a: 'one pull', b: 'kilned malts', tasters: 18, seed: 5 };

describe('the sheet of a triangle test', () => {
  it('is the same for the same seed', () => {
    expect(tastingSheet(wish)).toEqual(tastingSheet(wish));
    expect(tastingSheet({ ...wish, seed: 6 }).tasters).not.toEqual(tastingSheet(wish).tasters);
  });

  it('deals the six orders evenly, every code once, three digits', () => {
    fc.assert(
      fc.property(fc.integer({ min: 3, max: 60 }), fc.integer(), (tasters, seed) => {
        const sheet = tastingSheet({ ...wish, tasters, seed: seed | 0 });
        const orders = new Map<string, number>();
        const codes = sheet.tasters.flatMap((t) => t.glasses.map((g) => g.code));
        for (const t of sheet.tasters) {
          const order = t.glasses.map((g) => g.sample).join('');
          orders.set(order, (orders.get(order) ?? 0) + 1);
          const odd = t.glasses.filter((g) => g.code === t.odd);
          expect(odd).toHaveLength(1);
          expect(t.glasses.filter((g) => g.sample === odd[0]?.sample)).toHaveLength(1);
        }
        const counts = [...orders.values()];
        if (tasters >= 6) {
          expect(orders.size).toBe(6);
          expect(Math.max(...counts) - Math.min(...counts)).toBeLessThanOrEqual(1);
        }
        expect(new Set(codes).size).toBe(3 * tasters);
        for (const code of codes) expect(code).toMatch(/^[1-9]\d\d$/);
        expect(sheet.pours.A + sheet.pours.B).toBe(3 * tasters);
      }),
    );
  });

  it('tells the one who pours, and no taster, which is which', () => {
    const sheet = tastingSheet(wish);
    expect(sheet.critical).toBe(10); // ISO 4120 Table A.1, from memory
    expect(sheet.keyText).toMatch(/A is one pull: 27 glasses. B is kilned malts: 27 glasses/);
    expect(sheet.keyText).toMatch(/10 or more of 18 right/);
    sheet.slipTexts.forEach((slip, i) => {
      expect(slip).toMatch(new RegExp(`^Taster ${i + 1} `));
      expect(slip).not.toMatch(/one pull|kilned| [AB]\b/);
      for (const g of sheet.tasters[i]?.glasses ?? []) expect(slip).toContain(g.code);
    });
  });

  it('says when so few tasters can show nothing', () => {
    const sheet = tastingSheet({ ...wish, tasters: 3, alpha: 0.01 });
    expect(sheet.critical).toBeUndefined();
    expect(sheet.keyText).toMatch(/3 tasters cannot show a difference/);
    expect(() => tastingSheet({ ...wish, tasters: 2 })).toThrow(/number of tasters/);
    expect(() => tastingSheet({ ...wish, seed: 1.5 })).toThrow(/seed/);
  });
});
