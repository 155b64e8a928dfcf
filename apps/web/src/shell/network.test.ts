import { describe, expect, it } from 'vitest';
import { heard, type Network, networkText, shutOutText, waitMs } from './network.ts';

const clock = (ms: number) => `at ${ms}`;

describe('the network line', () => {
  it('keeps the time of the first silence', () => {
    const asking: Network = { state: 'asking' };
    const gone = heard(asking, false, 100);
    expect(heard(gone, false, 900)).toEqual({ state: 'gone', sinceMs: 100 });
    expect(heard(gone, true, 950)).toEqual({ state: 'here', sinceMs: 950 });
  });

  it('says how many entries are kept here', () => {
    expect(networkText({ state: 'gone', sinceMs: 7 }, 14, clock)).toBe(
      'no network since at 7, 14 entries kept here',
    );
    expect(networkText({ state: 'gone', sinceMs: 7 }, 1, clock)).toContain('1 entry kept here');
    expect(networkText({ state: 'here', sinceMs: 7 }, 0, clock)).toBe(
      'everything is on the server',
    );
    expect(networkText({ state: 'here', sinceMs: 7 }, 2, clock)).toBe(
      '2 entries kept here, sending',
    );
  });
});

it('says that a device was shut out, and that nothing is lost by it', () => {
  expect(shutOutText(3)).toBe('not paired with this brewhouse, 3 entries kept here');
  expect(shutOutText(0)).toContain('what it knew is still here');
});

describe('asking again', () => {
  it('waits longer after each silence, never beyond half a minute', () => {
    const waits = [1, 2, 3, 4, 5, 6, 7, 8, 20].map((n) => waitMs(n, 0.999));
    for (const [i, wait] of waits.entries()) expect(wait).toBeGreaterThanOrEqual(waits[i - 1] ?? 0);
    expect(waits.at(-1)).toBeLessThanOrEqual(30_000);
    expect(waitMs(1, 0)).toBe(375);
  });
});
