import { describe, expect, it } from 'vitest';
import { steadyAt } from './steady.ts';

const series = (count: number, value: (n: number) => number) =>
  Array.from({ length: count }, (_, n) => ({ atMs: 1000 * n, value: value(n) }));

describe('a probe is calibrated when it stands still', () => {
  it('takes the mean of its last half minute', () => {
    const steady = steadyAt(
      series(61, (n) => (n < 25 ? 20 : n % 2 === 0 ? 0.4 : 0.6)),
      60_000,
    );
    expect(steady.ok && steady.shows).toBeCloseTo(0.5, 1);
  });

  it('not while it moves', () => {
    expect(
      steadyAt(
        series(61, (n) => 20 - 0.3 * n),
        60_000,
      ),
    ).toMatchObject({
      ok: false,
      why: 'It still moves: 9.0 K in half a minute; allowed: 0.3 K. Stir and wait.',
    });
  });

  it('nor when it has hardly sent, or long ago', () => {
    expect(
      steadyAt(
        series(2, () => 0),
        2000,
      ).ok,
    ).toBe(false);
    expect(
      steadyAt(
        series(60, () => 0),
        600_000,
      ).ok,
    ).toBe(false);
  });
});
