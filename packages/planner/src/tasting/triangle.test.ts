import { describe, expect, it } from 'vitest';
import {
  tastingResult,
  triangleChance,
  triangleCritical,
  trianglePower,
  triangleTasters,
} from './triangle.ts';

describe('right answers that show a difference', () => {
  // ISO 4120:2004 Table A.1 and ASTM E1885, from memory: tasters, then 5 %, 1 %, 0.1 %.
  it.each([
    [6, 5, 6, undefined],
    [7, 5, 6, 7],
    [8, 6, 7, 8],
    [9, 6, 7, 8],
    [10, 7, 8, 9],
    [12, 8, 9, 10],
    [15, 9, 10, 12],
    [18, 10, 12, 13],
    [20, 11, 13, 14],
    [21, 12, 13, 15],
    [24, 13, 15, 16],
    [30, 15, 17, 19],
    [36, 18, 20, 22],
    [42, 20, 22, 25],
    [48, 22, 25, 27],
    [60, 27, 30, 33],
  ])('%d tasters: %d, %d, %s', (tasters, five, one, tenth) => {
    expect(triangleCritical(tasters, 0.05)).toBe(five);
    expect(triangleCritical(tasters, 0.01)).toBe(one);
    expect(triangleCritical(tasters, 0.001)).toBe(tenth);
  });

  it('is the least with a chance under the risk', () => {
    for (let tasters = 5; tasters <= 120; tasters++) {
      const critical = triangleCritical(tasters, 0.05) as number;
      expect(triangleChance(critical, tasters)).toBeLessThanOrEqual(0.05);
      expect(triangleChance(critical - 1, tasters)).toBeGreaterThan(0.05);
    }
  });

  it('by hand: three tasters all right by guessing once in 27', () => {
    expect(triangleChance(3, 3)).toBeCloseTo(1 / 27, 14);
    expect(triangleCritical(3, 0.01)).toBeUndefined();
  });
});

describe('tasters for the risks wanted', () => {
  // ISO 4120:2004 Table A.2 and the worked example of ASTM E1885, from memory.
  it.each([
    [0.05, 0.05, 0.3, 66],
    [0.05, 0.2, 0.5, 16],
    [0.05, 0.05, 0.5, 23],
  ])('alpha %d, beta %d, %d can tell: %d', (alpha, beta, distinguishers, tasters) => {
    expect(triangleTasters({ alpha, beta, distinguishers })?.tasters).toBe(tasters);
  });

  it('fewer would not do, and a thousand may not', () => {
    const wish = { alpha: 0.05, beta: 0.2, distinguishers: 0.4 };
    const { tasters, power } = triangleTasters(wish) ?? { tasters: 0, power: 0 };
    expect(power).toBeGreaterThanOrEqual(0.8);
    expect(trianglePower(tasters - 1, 0.05, 0.4)).toBeLessThan(0.8);
    expect(triangleTasters({ alpha: 0.001, beta: 0.01, distinguishers: 0.05 })).toBeUndefined();
  });
});

describe('answers', () => {
  it('enough right: told apart, with the chance of so many by guessing', () => {
    const result = tastingResult({ tasters: 15, correct: 9 });
    // P(X >= 9 | 15, 1/3) = 0.0308, common statistical tables of the binomial.
    expect(result.chance).toBeCloseTo(0.0308, 4);
    expect(result.different).toBe(true);
    expect(result.sentence).toMatch(/9 of 15 .*3 times in 100.*can be told apart/);
  });

  it('too few right: nothing shown, and how many might still tell', () => {
    const result = tastingResult({ tasters: 15, correct: 6 });
    expect(result.different).toBe(false);
    expect(result.sentence).toMatch(/no proof of likeness/);
    // Exact bound: at the share reported, 6 or fewer right come 5 times in 100.
    const p = 1 / 3 + (2 / 3) * result.distinguishersAtMost;
    let atMost = 0;
    let term = (1 - p) ** 15;
    for (let k = 0; k <= 6; k++) {
      atMost += term;
      term *= ((15 - k) / (k + 1)) * (p / (1 - p));
    }
    expect(atMost).toBeCloseTo(0.05, 6);
  });

  it('all right of three, none right, what cannot be', () => {
    expect(tastingResult({ tasters: 3, correct: 3, alpha: 0.01 }).sentence).toMatch(/so few/);
    expect(tastingResult({ tasters: 12, correct: 0 }).distinguishersAtMost).toBe(0);
    expect(() => tastingResult({ tasters: 12, correct: 13 })).toThrow(/right answers is 13/);
    expect(() => triangleChance(1, 2.5)).toThrow(/number of tasters/);
  });
});
