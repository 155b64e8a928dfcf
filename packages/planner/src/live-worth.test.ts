import { describe, expect, test } from 'vitest';
import { drawsFor } from './ensemble.ts';
import { applyEntry } from './live-apply.ts';
import { forecastLanding } from './live-landing.ts';
import { openDay } from './live-session.ts';
import type { Particle } from './live-step.ts';
import { applyAll, hiddenDay, movesFor, TWO_PULLS, tempReading, upTo } from './live-testing.ts';
import { narrowingBy, readingsWorth } from './live-worth.ts';

describe('what a reading would be worth', () => {
  const moves = movesFor(TWO_PULLS);
  const truth = drawsFor(TWO_PULLS.kit, 40, 77)[3] as Particle['draw'];
  const hidden = hiddenDay(TWO_PULLS, moves, truth);
  const day = applyAll(
    openDay(TWO_PULLS, moves, { mash: 'off', draws: 200 }),
    upTo(hidden.taps, 'done', 'boil-up-1'),
  );
  const at = day.lastMin;
  const worth = readingsWorth(day, at);

  test('is listed for tun and pot, best first', () => {
    expect(worth).toHaveLength(4);
    for (const [i, w] of worth.entries()) {
      expect(w.narrowing).toBeGreaterThanOrEqual(0);
      expect(w.narrowing).toBeLessThan(1);
      expect(w.bandAfterK).toBeCloseTo(w.bandNowK * (1 - w.narrowing), 9);
      if (i > 0) expect(w.narrowing).toBeLessThanOrEqual((worth[i - 1] as typeof w).narrowing);
    }
  });

  test('a boiling pot has nothing to say by its temperature', () => {
    const pot = worth.find((w) => w.vessel === 'kettle' && w.what === 'temp');
    expect(pot?.narrowing).toBeLessThan(0.02);
    expect(pot?.text).toBe('Kettle temperature: hardly narrows the landing');
  });

  test('is about what the reading then does', () => {
    const tun = worth.find((w) => w.vessel === 'tun' && w.what === 'temp');
    const read = applyEntry(day, tempReading(hidden, 'tun', at, truth.thermometerK));
    const band = forecastLanding(read, at)?.now;
    const after = (band?.high ?? 0) - (band?.low ?? 0);
    expect(tun?.narrowing).toBeGreaterThan(0.05);
    expect(after / (tun?.bandAfterK ?? 1)).toBeGreaterThan(0.85);
    expect(after / (tun?.bandAfterK ?? 1)).toBeLessThan(1.15);
  });

  test('is nothing when no return is left', () => {
    const over = applyAll(openDay(TWO_PULLS, moves, { mash: 'off', draws: 4 }), hidden.taps);
    expect(readingsWorth(over, over.lastMin)).toEqual([]);
  });
});

// Linear regression with noise: sd ratio = sqrt(1 - r2 v / (v + sd2)).
describe('the narrowing of a band', () => {
  const xs = Array.from({ length: 4001 }, (_, i) => (i - 2000) / 500);
  const v = xs.reduce((s, x) => s + x * x, 0) / 4000;
  test('is the closed form when one thing decides', () => {
    const ys = xs.map((x) => 3 * x + 70);
    expect(narrowingBy(ys, xs, 0.5)).toBeCloseTo(1 - Math.sqrt(0.25 / (v + 0.25)), 2);
  });
  test('is nothing when it has nothing to do with it', () => {
    expect(
      narrowingBy(
        xs.map((x) => x * x),
        xs,
        0.1,
      ),
    ).toBeLessThan(1e-6);
    expect(narrowingBy(xs, [...xs].fill(5), 0.1)).toBe(0);
  });
});
