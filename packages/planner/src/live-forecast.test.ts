import { simulate } from '@ladlework/brewhouse';
import { normal, seededRandom } from '@ladlework/numerics';
import { describe, expect, test } from 'vitest';
import { brewDay, dayOptions } from './day.ts';
import { drawsFor } from './ensemble.ts';
import { applyEntry } from './live-apply.ts';
import { forecastDay, remainingMoves } from './live-forecast.ts';
import { forecastLanding } from './live-landing.ts';
import { openDay } from './live-session.ts';
import {
  applyAll,
  hiddenDay,
  hiddenSession,
  movesFor,
  STOVE,
  TWO_PULLS,
  tapsWithReadings,
  unread,
  unreadLanding,
  upTo,
} from './live-testing.ts';
import { openingSituation } from './size.ts';

const MOVES = movesFor(TWO_PULLS);
const TRUTHS = drawsFor(TWO_PULLS.kit, 200, 4711);
const TRUTH = TRUTHS[0] as (typeof TRUTHS)[number];
const HIDDEN = hiddenDay(TWO_PULLS, MOVES, TRUTH);
/** Readings of a careful brewer. */
const AFTER = ['mash-in', 'pull-1', 'rest-on-1', 'boil-up-1', 'boil-1'];

describe('on a kit that is known exactly', () => {
  const day = applyAll(hiddenSession(TWO_PULLS, MOVES, TRUTH), upTo(HIDDEN.taps, 'done', 'boil-1'));
  const at = day.lastMin;

  test('the landing is the one that comes', () => {
    const open = hiddenDay(TWO_PULLS, unread(MOVES, 'return-1'), TRUTH);
    const needL = day.pulls[0]?.needL as number;
    const landing = forecastLanding(day, at);
    expect(landing?.now.likely).toBeCloseTo(unreadLanding(open.trace, 'return-1', needL, 10), 2);
    expect(landing?.withAllNow.likely).toBeCloseTo(
      open.trace.moves.find((m) => m.id === 'return-1')?.toC as number,
      2,
    );
  });

  test('the rest of the day is the one that comes, but for the thermometer', () => {
    const honest = { ...TRUTH, thermometerK: 0 };
    const hidden = hiddenDay(TWO_PULLS, MOVES, honest);
    const now = applyAll(
      hiddenSession(TWO_PULLS, MOVES, honest),
      upTo(hidden.taps, 'done', 'boil-1'),
    );
    const rest = forecastDay(now, now.lastMin);
    expect(rest.moves.map((m) => m.moveId)).toEqual(
      MOVES.slice(MOVES.findIndex((m) => m.id === 'return-1')).map((m) => m.id),
    );
    for (const move of rest.moves) {
      const real = hidden.trace.moves.find((m) => m.id === move.moveId);
      expect(move.endMin.likely).toBeCloseTo(real?.endMin as number, 1);
      expect(move.toC.likely).toBeCloseTo(real?.toC as number, 1);
    }
  });

  test('before anything happened it is the plan', () => {
    const plan = simulate(
      TWO_PULLS.kit,
      openingSituation(brewDay(TWO_PULLS)),
      MOVES,
      dayOptions(brewDay(TWO_PULLS), { ...TRUTH, thermometerK: 0 }),
    );
    const open = hiddenSession(TWO_PULLS, MOVES, { ...TRUTH, thermometerK: 0 });
    const rest = forecastDay(open, 0);
    expect(rest.mashEndMin.likely).toBeCloseTo(Math.max(...plan.moves.map((m) => m.endMin)), 6);
  });
});

describe('the landing', () => {
  const day = applyAll(
    openDay(TWO_PULLS, MOVES, { mash: 'off', draws: 60 }),
    upTo(HIDDEN.taps, 'done', 'boil-up-1'),
  );

  test('is cooler the later the return', () => {
    const later = [0, 5, 10, 20, 40].map((m) => forecastLanding(day, day.lastMin + m));
    for (const [i, l] of later.entries()) {
      if (l) expect(l.in10Min.likely).toBeLessThan(l.now.likely);
      const before = later[i - 1];
      // Every return is of the planned litres; the pot boils on while the tun slips.
      if (before && l) expect(l.now.likely).toBeLessThan(before.now.likely);
    }
  });

  test('is warmer with all that is there than with the planned need', () => {
    const l = forecastLanding(day, day.lastMin);
    expect(l?.withAllNow.likely).toBeGreaterThan(l?.now.likely as number);
    expect(l?.chance).toBeGreaterThan(0.9);
  });

  test('before the pull is forecast through the boil', () => {
    const early = applyAll(
      openDay(TWO_PULLS, MOVES, { mash: 'off', draws: 40 }),
      upTo(HIDDEN.taps, 'done', 'mash-in'),
    );
    const l = forecastLanding(early, early.lastMin);
    expect(l?.stage).toBe('before');
    expect(Math.abs((l?.asPlanned.likely as number) - 70)).toBeLessThan(0.5);
    expect(Math.abs((l?.now.likely as number) - 70)).toBeLessThan(2);
    expect(l?.returnAtMin.likely).toBeGreaterThan(early.lastMin + 45);
  });

  test('says when no return is left', () => {
    const over = applyAll(openDay(TWO_PULLS, MOVES, { mash: 'off', draws: 4 }), HIDDEN.taps);
    expect(forecastLanding(over, over.lastMin)).toBeUndefined();
    expect(remainingMoves(over, over.lastMin)).toEqual([]);
  });

  test('goes on from the portions that are back', () => {
    const begun = applyAll(
      openDay(TWO_PULLS, MOVES, { mash: 'off', draws: 60 }),
      upTo(HIDDEN.taps, 'begun', 'return-1'),
    );
    const before = forecastLanding(begun, begun.lastMin);
    const some = applyEntry(begun, {
      kind: 'portions',
      moveId: 'return-1',
      atMin: begun.lastMin + 2.4,
      portions: 4,
    });
    const l = forecastLanding(some, some.lastMin);
    expect(l?.stage).toBe('returning');
    expect(l?.haveL).toBeCloseTo((before?.haveL as number) - 40, 0);
    expect(Math.abs((l?.now.likely as number) - (before?.now.likely as number))).toBeLessThan(0.3);
  });
});

describe('the 80 % band', () => {
  // design.md 6 asks 80 +- 4 over 500 days of the full ensemble (bench/coverage.ts); here a coarse
  // ensemble and fewer days.
  test('holds where the return lands on four of five hidden kits', () => {
    const random = seededRandom(5);
    const open = openDay(TWO_PULLS, MOVES, { mash: 'off', draws: 64, seed: 3 });
    const needL = open.pulls[0]?.needL as number;
    const openMoves = unread(MOVES, 'return-1');
    let held = 0;
    for (const truth of TRUTHS) {
      const hidden = hiddenDay(TWO_PULLS, openMoves, truth);
      const landedC = unreadLanding(hidden.trace, 'return-1', needL, 10);
      const entries = tapsWithReadings(hidden, truth, ['done', 'boil-1'], AFTER, () =>
        normal(random),
      );
      const day = applyAll(open, entries);
      const band = forecastLanding(day, day.lastMin)?.now;
      if (band && landedC >= band.low && landedC <= band.high) held++;
    }
    expect((100 * held) / TRUTHS.length).toBeGreaterThan(74);
    expect((100 * held) / TRUTHS.length).toBeLessThan(86);
  });

  test('does so on a stove-top kit as well, and the readings narrow it', () => {
    const moves = movesFor(STOVE);
    const random = seededRandom(6);
    const truths = drawsFor(STOVE.kit, 30, 12);
    const open = openDay(STOVE, moves, { mash: 'off', draws: 48, seed: 3 });
    const needL = open.pulls[0]?.needL as number;
    let held = 0;
    let narrower = 0;
    for (const truth of truths) {
      const hidden = hiddenDay(STOVE, unread(moves, 'return-1'), truth);
      const landedC = unreadLanding(hidden.trace, 'return-1', needL, 1.5);
      const entries = tapsWithReadings(hidden, truth, ['done', 'boil-1'], AFTER, () =>
        normal(random),
      );
      const day = applyAll(open, entries);
      const blind = applyAll(
        open,
        entries.filter((e) => e.kind !== 'reading'),
      );
      const read = forecastLanding(day, day.lastMin)?.now;
      const unreadBand = forecastLanding(blind, blind.lastMin)?.now;
      if (!read || !unreadBand) continue;
      if (landedC >= read.low && landedC <= read.high) held++;
      if (read.high - read.low < unreadBand.high - unreadBand.low) narrower++;
    }
    // Binomial 95 % range of 30 days at 80 %: 19 to 28.
    expect(held).toBeGreaterThanOrEqual(19);
    expect(held).toBeLessThanOrEqual(29);
    expect(narrower).toBeGreaterThanOrEqual(28);
  });
});
