import { describe, expect, test } from 'vitest';
import { drawsFor } from './ensemble.ts';
import { openDay } from './live-session.ts';
import type { Particle } from './live-step.ts';
import { applyAll, hiddenDay, movesFor, TWO_PULLS, tempReading, upTo } from './live-testing.ts';
import { wideLanding } from './live-wide.ts';

describe('what makes the landing wide', () => {
  const moves = movesFor(TWO_PULLS);
  const truth = drawsFor(TWO_PULLS.kit, 40, 77)[3] as Particle['draw'];
  const hidden = hiddenDay(TWO_PULLS, moves, truth);
  const taps = upTo(hidden.taps, 'begun', 'boil-1');
  const day = applyAll(openDay(TWO_PULLS, moves, { mash: 'off', draws: 200 }), taps);

  test('is named, greatest first, with shares of the variance', () => {
    const wide = wideLanding(day, day.lastMin);
    expect(wide?.bandK).toBeGreaterThan(0.5);
    expect(wide?.causes.length).toBeGreaterThan(0);
    const shares = wide?.causes.map((c) => c.share) ?? [];
    expect(shares).toEqual(shares.toSorted((a, b) => b - a));
    for (const share of shares) expect(share).toBeLessThanOrEqual(1);
  });

  test('a reading of the tun takes the tun out of it', () => {
    const share = (s: typeof day) =>
      wideLanding(s, s.lastMin)?.causes.find((c) => c.what.includes('Mash tun'))?.share ?? 0;
    const read = applyAll(day, [tempReading(hidden, 'tun', day.lastMin, truth.thermometerK)]);
    expect(wideLanding(read, read.lastMin)?.bandK).toBeLessThan(
      wideLanding(day, day.lastMin)?.bandK as number,
    );
    expect(share(read)).toBeLessThan(share(day));
  });

  test('is nothing when no return is left', () => {
    const over = applyAll(openDay(TWO_PULLS, moves, { mash: 'off', draws: 20 }), hidden.taps);
    expect(wideLanding(over, over.lastMin)).toBeUndefined();
  });
});
