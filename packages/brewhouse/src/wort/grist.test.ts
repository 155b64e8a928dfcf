import { OutOfRange } from '@ladlework/matter';
import { plato as degrees, gramsPer100mL } from '@ladlework/quantity';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument } from '../../../../reference/read.ts';
import { beerFromGrist, type GristLot, gristForBeer, inWholeBags } from './grist.ts';

const PALE: GristLot = {
  name: 'Pale malt',
  kind: 'malt',
  extractDry: 0.805,
  moisture: 0.045,
  share: 1,
  stepKg: 25,
};
const NO_LOSS = { mashAndLauter: 0, kettle: 0, transfer: 0 };
const lossOf = (yieldShare: number) => ({ ...NO_LOSS, mashAndLauter: 1 - yieldShare });
const target = (tankL: number, plato: number) => ({
  tankL,
  extract: { by: 'weight', plato: degrees(plato) } as const,
});

describe('kilograms from the beer wanted', () => {
  it('500 L at 12 °P hold 62.79 kg (derived)', () => {
    const beer = gristForBeer(target(500, 12), [PALE], NO_LOSS);
    expect(beer.account.at(-1)?.extractKg).toBeCloseTo(62.79, 1.9);
  });

  // Derived, on 76.88 % as weighed.
  it.each([
    [0.75, 108.9],
    [0.8, 102.1],
    [0.85, 96.1],
    [0.9, 90.7],
  ])('at a yield of %f: %f kg', (yieldShare, kg) => {
    expect(gristForBeer(target(500, 12), [PALE], lossOf(yieldShare)).gristKg).toBeCloseTo(kg, 0.9);
  });

  // A printed trade example takes 25 hL x 11.5 / 0.98 / 0.78 for 375.9 kg; right is 392.8 (derived).
  it('weight and volume are not the same: 392.8 kg, not 375.9', () => {
    const lot = { ...PALE, extractDry: 0.78, moisture: 0 };
    const losses = { ...NO_LOSS, transfer: 0.02 };
    expect(gristForBeer(target(2500, 11.5), [lot], losses).gristKg).toBeCloseTo(392.8, 0.9);
    const byVolume = {
      tankL: 2500,
      extract: { by: 'volume', gPer100mL: gramsPer100mL(11.5) } as const,
    };
    expect(gristForBeer(byVolume, [lot], losses).gristKg).toBeCloseTo(376.1, 0.9);
  });

  // MEBAK B-400.32.530, second hand.
  it('12.0 by weight is 12.56 by volume, 2.4 is 2.42', () => {
    for (const id of ['wv-12', 'wv-2.4']) {
      const check = readDocument<{ id: string; inp: number; out: number; tol: number }[]>(
        'wort-checks.json',
      ).find((c) => c.id === id);
      if (check === undefined) throw new Error(`no check ${id}`);
      const beer = gristForBeer(target(100, check.inp), [PALE], NO_LOSS);
      expect(Math.abs(beer.gPer100mL - check.out)).toBeLessThanOrEqual(check.tol);
    }
  });

  it('there and back, with every kilogram of extract accounted for', () => {
    const share = fc.double({ min: 0, max: 0.35, noNaN: true });
    fc.assert(
      fc.property(
        fc.double({ min: 50, max: 5000, noNaN: true }),
        fc.double({ min: 5, max: 22, noNaN: true }),
        fc.record({ mashAndLauter: share, kettle: share, transfer: share }),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        (tankL, plato, losses, part) => {
          const lots: GristLot[] = [
            { ...PALE, share: part },
            {
              name: 'Sugar',
              kind: 'kettle-sugar',
              extractDry: 1,
              moisture: 0,
              share: 1 - part,
              stepKg: 1,
            },
          ];
          const there = gristForBeer(target(tankL, plato), lots, losses);
          expect(there.plato).toBeCloseTo(plato, 9);
          const back = beerFromGrist(
            lots,
            there.lots.map((lot) => lot.kg),
            tankL,
            losses,
          );
          expect(back.gPer100mL).toBeCloseTo(there.gPer100mL, 9);
          const lost = there.account.reduce((sum, line) => sum + line.lostKg, 0);
          const [first, last] = [there.account[0], there.account.at(-1)];
          expect(lost + (last?.extractKg ?? 0)).toBeCloseTo(first?.extractKg ?? 0, 8);
        },
      ),
    );
  });

  it('refuses shares that are none', () => {
    expect(() => gristForBeer(target(500, 12), [{ ...PALE, share: 0.8 }], NO_LOSS)).toThrow(
      OutOfRange,
    );
    expect(() => gristForBeer(target(500, 12), [PALE], { ...NO_LOSS, kettle: 2 })).toThrow(
      OutOfRange,
    );
    expect(() => beerFromGrist([PALE], [], 500, NO_LOSS)).toThrow(OutOfRange);
  });
});

describe('whole bags', () => {
  const lots: GristLot[] = [
    { ...PALE, share: 0.9 },
    { ...PALE, name: 'Munich malt', extractDry: 0.78, share: 0.1, stepKg: 0.5 },
  ];

  it('shows what the rounding does', () => {
    const wanted = gristForBeer(target(820, 12), lots, lossOf(0.75));
    const bags = inWholeBags(wanted, lots, lossOf(0.75));
    expect((bags.grist.lots[0]?.kg ?? 1) % 25).toBe(0);
    expect((bags.grist.lots[1]?.kg ?? 1) % 0.5).toBe(0);
    const again = beerFromGrist(
      lots,
      bags.grist.lots.map((l) => l.kg),
      bags.tankLAtTarget,
      lossOf(0.75),
    );
    expect(again.plato).toBeCloseTo(12, 6);
    expect(bags.platoChange).toBeCloseTo(bags.grist.plato - 12, 9);
  });

  it('misses by no more than half the smallest step and what the big bags leave', () => {
    fc.assert(
      fc.property(fc.double({ min: 300, max: 3000, noNaN: true }), (tankL) => {
        const wanted = gristForBeer(target(tankL, 12), lots, lossOf(0.75));
        const bags = inWholeBags(wanted, lots, lossOf(0.75));
        expect(Math.abs(bags.grist.gristKg - wanted.gristKg)).toBeLessThanOrEqual(13);
      }),
    );
  });
});
