import { OutOfRange } from '@ladlework/matter';
import { plato } from '@ladlework/quantity';
import { describe, expect, it } from 'vitest';
import { beerColour, type ColouredLot, hopsForBitterness, shareForColour } from './beer-target.ts';
import { beerFromGrist, gristForBeer } from './grist.ts';
import { hopResult } from './hops.ts';

const lot = (name: string, share: number, lovibond: number, extractDry: number): ColouredLot => ({
  name,
  kind: 'malt',
  extractDry,
  moisture: 0.045,
  share,
  stepKg: 0.1,
  lovibond,
});
const NO_LOSS = { mashAndLauter: 0, kettle: 0, transfer: 0 };
const LOSSES = { mashAndLauter: 0.04, kettle: 0.05, transfer: 0.02 };
const EBC_PER_SRM = 25 / 12.7;

describe('colour of the beer', () => {
  // Derived with Morey's law, 20 kg/hL: base 1.7 °L 3.1 SRM; +5 % at 30 °L 4.6; +10 % 6.0; 30 % at
  // 8 °L 5.1; 3 % at 60 °L 5.0.
  it.each([
    ['base alone', 0, 30, 3.1],
    ['5 % melanoidin', 0.05, 30, 4.6],
    ['10 % melanoidin', 0.1, 30, 6.0],
    ['30 % Munich', 0.3, 8, 5.1],
    ['3 % dark caramel', 0.03, 60, 5.0],
  ])('%s', (_, share, lovibond, srm) => {
    const lots = [lot('Base', 1 - share, 1.7, 0.805), lot('Other', share, lovibond, 0.78)];
    const grist = beerFromGrist(lots, [20 * (1 - share), 20 * share], 100, NO_LOSS);
    expect(Math.abs(beerColour(lots, grist) / EBC_PER_SRM - srm)).toBeLessThan(0.06);
  });

  // Derived: whole-grist extract -0.2 points with 5 % at 78 % dry against 80.5.
  it.each([
    [0.05, 0.78, 0.2],
    [0.3, 0.78, 0.9],
    [0.03, 0.7, 0.4],
  ])('%f of a lot at %f costs %f %% of the extract', (share, extractDry, lost) => {
    const lots = [lot('Base', 1 - share, 1.7, 0.805), lot('Other', share, 30, extractDry)];
    const of = (kg: number[]) => beerFromGrist(lots, kg, 100, NO_LOSS).account[0]?.extractKg ?? 0;
    const change = 1 - of([20 * (1 - share), 20 * share]) / of([20, 0]);
    expect(Math.abs(100 * change - lost)).toBeLessThan(0.06);
  });

  it('finds the share for a colour, and says when one malt cannot', () => {
    const lots = [lot('Base', 0.95, 1.7, 0.805), lot('Dark', 0.05, 60, 0.72)];
    const target = { tankL: 820, extract: { by: 'weight', plato: plato(12) } as const };
    const found = shareForColour({ target, lots, losses: LOSSES, vary: 'Dark', ebc: 18 });
    expect(found.ok && beerColour(found.lots, found.grist)).toBeCloseTo(18, 6);
    expect(found.ok && found.grist.plato).toBeCloseTo(12, 9);
    const pale = shareForColour({ target, lots, losses: LOSSES, vary: 'Dark', ebc: 3 });
    expect(pale.ok).toBe(false);
    expect(!pale.ok && pale.sentence).toMatch(/choose another malt/);
    expect(() => shareForColour({ target, lots, losses: LOSSES, vary: 'None', ebc: 9 })).toThrow(
      OutOfRange,
    );
    const kit = beerColour(lots, gristForBeer(target, lots, LOSSES), 1.1);
    expect(kit).toBeCloseTo(1.1 * beerColour(lots, gristForBeer(target, lots, LOSSES)), 9);
  });
});

it('hops for a bitterness keep their proportions', () => {
  const hops = [
    { name: 'a', grams: 2, alphaPct: 9, boilMin: 60 },
    { name: 'b', grams: 1, alphaPct: 4, boilMin: 'stand' },
  ] as const;
  const wort = { sg: 1.048, boilC: 99.5, stand: [{ tC: 95, minutes: 20 }], coldL: 870 };
  const scaled = hopsForBitterness(hops, 28, wort);
  expect(hopResult(scaled, wort).ibu).toBeCloseTo(28, 9);
  expect((scaled[0]?.grams ?? 0) / (scaled[1]?.grams ?? 1)).toBeCloseTo(2, 9);
  expect(() => hopsForBitterness([], 28, wort)).toThrow(OutOfRange);
});
