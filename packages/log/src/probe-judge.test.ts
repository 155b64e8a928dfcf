/** Hand-made series of what probes do. Times in seconds, °C; common practice, no source. */
import { describe, expect, it } from 'vitest';
import { judgeProbe, trustedSamples } from './probe-judge.ts';
import type { ProbeSample } from './probe-rows.ts';

const TEMP = { what: 'temp', boilingPointC: 99 } as const;

/** One reading each `everyS`, from a rule. */
const series = (count: number, everyS: number, value: (n: number) => number): ProbeSample[] =>
  Array.from({ length: count }, (_, n) => ({ atMs: n * everyS * 1000, value: value(n) }));

const at = (samples: readonly ProbeSample[], afterS = 0) =>
  judgeProbe(samples, (samples.at(-1)?.atMs ?? 0) + afterS * 1000, TEMP);

/** A tun that loses a tenth of a kelvin a minute, seen in steps of a sixteenth. */
const cooling = (everyS: number) => (n: number) =>
  Math.round((64 - (0.1 * n * everyS) / 60) * 16) / 16;

describe('L18 silent', () => {
  it('says that it never sent', () => {
    expect(judgeProbe([], 0, TEMP)).toEqual({ state: 'never' });
  });

  it('is judged by its own rhythm: half a minute for one that sends each second', () => {
    const second = series(100, 1, cooling(1));
    expect(at(second, 30).state).toBe('live');
    expect(at(second, 31)).toMatchObject({ state: 'silent', sinceMs: 99_000, rhythmMs: 1000 });
  });

  it('and twenty minutes for one that sends each five', () => {
    const slow = series(12, 300, cooling(300));
    expect(at(slow, 1199).state).toBe('live');
    expect(at(slow, 1201).state).toBe('silent');
  });

  it('one lost message in ten does not make it silent', () => {
    const lossy = series(100, 10, cooling(10)).filter((_, n) => n % 10 !== 3);
    expect(at(lossy, 25).state).toBe('live');
  });
});

describe('L18 impossible', () => {
  it.each([-127, 131, 101.1])('%s °C is none of a brewhouse vessel', (value) => {
    const broken = [...series(60, 1, cooling(1)), { atMs: 60_000, value }];
    expect(at(broken)).toEqual({ state: 'impossible', sinceMs: 60_000 });
    expect(trustedSamples(broken, TEMP)).toHaveLength(60);
  });

  it('and it is live again with the next good one', () => {
    const once = [
      ...series(60, 1, cooling(1)),
      { atMs: 60_000, value: -127 },
      { atMs: 61_000, value: 63.9 },
    ];
    expect(at(once)).toEqual({ state: 'live', sinceMs: 61_000 });
  });
});

describe('L18 jumped', () => {
  const before = series(120, 1, cooling(1));
  const after = (count: number, value: (n: number) => number) =>
    series(count, 1, value).map((s) => ({ ...s, atMs: s.atMs + 120_000 }));

  it('pulled out of the mash for a minute: what it showed there is not believed', () => {
    const out = [...before, ...after(60, () => 31), ...after(90, () => 63.7).slice(60)];
    expect(at([...before, ...after(60, () => 31)])).toEqual({ state: 'jumped', sinceMs: 120_000 });
    expect(at(out).state).toBe('live');
    expect(trustedSamples(out, TEMP).every((s) => s.value > 60)).toBe(true);
  });

  it('a new level that has stood two minutes within two kelvin is believed', () => {
    const moved = [...before, ...after(121, (n) => 30 + 0.01 * n)];
    expect(at(moved).state).toBe('live');
    expect(at(moved.slice(0, -1)).state).toBe('jumped');
  });

  it('a pot that comes up three kelvin a minute does not jump, whatever its rhythm', () => {
    for (const everyS of [1, 60, 300]) {
      const pot = series(Math.ceil(1200 / everyS), everyS, (n) => 40 + (3 * n * everyS) / 60);
      const trusted = trustedSamples(
        pot.filter((s) => s.value < 99),
        TEMP,
      );
      expect(trusted).toHaveLength(pot.filter((s) => s.value < 99).length);
    }
  });

  it('nor does a return of boiling mash that lifts the tun eight kelvin in ten minutes', () => {
    const tun = series(600, 1, (n) => 62 + (8 * n) / 600);
    expect(trustedSamples(tun, TEMP)).toHaveLength(600);
  });
});

describe('L18 flat', () => {
  it('the very same number for an hour', () => {
    const stuck = series(3601, 1, () => 62);
    expect(at(stuck).state).toBe('flat');
    expect(at(stuck.slice(0, -1)).state).toBe('live');
  });

  it('not one that moves by a sixteenth now and then', () => {
    expect(at(series(7200, 1, cooling(1))).state).toBe('live');
  });

  it('not a boil, which stands still', () => {
    expect(at(series(7200, 1, () => 98.5)).state).toBe('live');
  });

  it('not one that sends each five minutes: twelve readings prove nothing', () => {
    expect(at(series(13, 300, () => 62)).state).toBe('live');
  });
});
