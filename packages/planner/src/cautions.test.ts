import { NOMINAL } from '@ladlework/brewhouse';
import { describe, expect, test } from 'vitest';
import { cautionsOf } from './cautions.ts';
import { brewDay } from './day.ts';
import { hiddenDay, movesFor, TWO_PULLS } from './live-testing.ts';

const [, ...later] = TWO_PULLS.mash.rests;
const COOL = {
  ...TWO_PULLS,
  mash: { ...TWO_PULLS.mash, rests: [{ tempC: 37, minutes: 20 }, ...later] },
};

describe('cautions', () => {
  const moves = movesFor(COOL);
  const found = cautionsOf(brewDay(COOL), moves, hiddenDay(COOL, moves, NOMINAL).trace);
  const scald = (moveId: string) => found.find((c) => c.moveId === moveId && c.code === 'scald');

  // The wording of the US CPSC begins at 49 °C (second hand).
  test('a pull at 37 °C burns nobody, its return off the boil does at once', () => {
    expect(scald('pull-1')).toBeUndefined();
    expect(scald('return-1')?.text).toMatch(/^Mash at (9\d|100) °C burns in about 1 s/);
  });

  test('every figure in them is a number', () => {
    for (const { text } of found) expect(text).not.toMatch(/Infinity|NaN|undefined/);
  });
});
