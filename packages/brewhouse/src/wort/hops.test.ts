import { OutOfRange } from '@ladlework/matter';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTable } from '../../../../reference/read.ts';
import { type HopAddition, type HopWort, hopResult, retimeHops } from './hops.ts';

const WORT: HopWort = { sg: 1.05, boilC: 100, stand: [], coldL: 870 };
const HOPS: HopAddition[] = [
  { name: 'Bitter', grams: 900, alphaPct: 9, boilMin: 60 },
  { name: 'Late', grams: 700, alphaPct: 4, boilMin: 10 },
  { name: 'Stand', grams: 1000, alphaPct: 4, boilMin: 'stand' },
];

describe('bitterness of additions', () => {
  // The trade's printed grid (common practice, no source) at 1.050.
  it.each(
    readTable('hop-utilisation.csv').map(
      (row) => [row.num('minutes'), row.num('OG_1.050')] as const,
    ),
  )('%f min in the kettle uses %f', (boilMin, share) => {
    const { additions } = hopResult([{ name: 'a', grams: 1000, alphaPct: 10, boilMin }], WORT);
    expect(Math.abs((additions[0]?.utilisation ?? 0) - share)).toBeLessThan(0.00051);
  });

  it('never gives more than was brought, and adds up', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 180, noNaN: true }),
        fc.double({ min: 0, max: 90, noNaN: true }),
        fc.double({ min: 75, max: 100, noNaN: true }),
        fc.double({ min: 88, max: 101, noNaN: true }),
        (boilMin, minutes, tC, boilC) => {
          const hops = [...HOPS, { name: 'x', grams: 500, alphaPct: 12, boilMin }];
          const result = hopResult(hops, { ...WORT, boilC, stand: [{ tC, minutes }] });
          for (const a of result.additions) {
            expect(a.isoMg).toBeGreaterThanOrEqual(0);
            expect(a.isoMg).toBeLessThanOrEqual(a.alphaMg);
            expect(a.isoMg).toBeCloseTo(a.utilisation * a.alphaMg, 6);
          }
          const sum = result.additions.reduce((s, a) => s + a.isoMg, 0);
          expect(sum / WORT.coldL).toBeCloseTo(result.ibu, 9);
        },
      ),
    );
  });

  it('hops of the stand follow the kinetics, 85 °C slower than 95', () => {
    const at = (tC: number) =>
      hopResult(HOPS, { ...WORT, stand: [{ tC, minutes: 30 }] }).additions[2]?.utilisation ?? 0;
    // Malowicki & Shellhammer 2005: 0.2097 and 0.0932 iso after 30 min, the same share recovered.
    expect(at(95) / at(85)).toBeCloseTo(0.2097 / 0.0932, 2);
    expect(at(70)).toBe(0);
  });

  it('high up the same hops give less; a kit factor scales them', () => {
    const high = hopResult(HOPS, { ...WORT, boilC: 94.8 });
    expect(high.ibu).toBeLessThan(0.85 * hopResult(HOPS, WORT).ibu);
    const kit = hopResult(HOPS, { ...WORT, factor: { kettle: 1.2, stand: 1 } });
    expect(kit.additions[0]?.ibu).toBeCloseTo(
      1.2 * (hopResult(HOPS, WORT).additions[0]?.ibu ?? 0),
      9,
    );
    expect(() => hopResult(HOPS, { ...WORT, factor: { kettle: 9, stand: 1 } })).toThrow(OutOfRange);
  });
});

describe('re-timing', () => {
  it('moves the bittering hops where time can do it', () => {
    const wanted = hopResult(HOPS, WORT).ibu - 2;
    const mended = retimeHops(HOPS, wanted, WORT, 75);
    // To the whole minute.
    expect(Math.abs(mended.ibu - wanted)).toBeLessThan(0.25);
    expect(mended.hops[0]?.boilMin).toBeLessThan(60);
    expect(mended.hops[0]?.grams).toBe(900);
    expect(mended.change).toMatch(/Bitter: \d+ min/);
  });

  it('weighs more where it cannot', () => {
    const wanted = hopResult(HOPS, WORT).ibu + 10;
    const mended = retimeHops(HOPS, wanted, WORT, 70);
    expect(mended.ibu).toBeCloseTo(wanted, 6);
    expect(mended.hops[0]?.boilMin).toBe(70);
    expect(mended.hops[0]?.grams).toBeGreaterThan(900);
  });

  it('leaves alone what fits, and hops that are already in', () => {
    expect(retimeHops(HOPS, hopResult(HOPS, WORT).ibu, WORT, 70).change).toBeUndefined();
    const late = retimeHops(HOPS, 60, WORT, 15);
    expect(late.hops[0]).toEqual(HOPS[0]);
    expect(late.hops[1]?.grams).toBeGreaterThan(700);
  });
});
