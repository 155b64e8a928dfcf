import type { TransferTrace } from '@ladlework/brewhouse';
import { describe, expect, test } from 'vitest';
import { afterLitres, litresTo, portionsOf } from './live-portions.ts';

/** Two whole portions and a half one. */
const transfer: TransferTrace = {
  litres: 25,
  kg: 26,
  solidShare: 0.3,
  liquidShare: 0.3,
  portions: 3,
  beforeC: 60,
  sourceC: 99,
  arrivalC: 95,
  landingC: 64,
  keptL: 0,
  afterPortionC: [62, 63.5, 64],
};
const steps = portionsOf(60, [transfer], 10);

describe('portion by portion', () => {
  test('the landing lies between portions on a straight line', () => {
    expect(afterLitres(steps, 0)).toBe(60);
    expect(afterLitres(steps, 15)).toBeCloseTo(62.75, 9);
    expect(afterLitres(steps, 22.5)).toBeCloseTo(63.75, 9);
    expect(afterLitres(steps, 99)).toBe(64);
  });

  test('and the litres to a temperature are its inverse', () => {
    for (const litres of [1, 7.5, 10, 18, 24])
      expect(litresTo(steps, afterLitres(steps, litres))).toBeCloseTo(litres, 9);
    expect(litresTo(steps, 59)).toBe(0);
    expect(litresTo(steps, 70)).toBe(25);
  });

  test('a second pot goes on where the first ended', () => {
    const second = { ...transfer, litres: 10, portions: 1, beforeC: 63.9, afterPortionC: [65.5] };
    const both = portionsOf(60, [transfer, second], 10);
    expect(both.litres).toEqual([0, 10, 20, 25, 35]);
    expect(afterLitres(both, 30)).toBeCloseTo(64.75, 9);
    expect(litresTo(both, 65)).toBeCloseTo(25 + 10 / 1.5, 9);
  });

  test('nothing returned leaves it as it was', () => {
    const none = portionsOf(61.2, [{ ...transfer, litres: 0, portions: 0, afterPortionC: [] }], 10);
    expect(afterLitres(none, 5)).toBe(61.2);
    expect(litresTo(none, 70)).toBe(0);
  });
});
