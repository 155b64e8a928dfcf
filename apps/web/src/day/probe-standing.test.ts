import type { Probe } from '@ladlework/log';
import type { DayEntry, Questioned } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { standingOfProbe } from './probe-standing.ts';

const PROBE: Probe = {
  id: 'p',
  name: 'Tun probe',
  kit: 'k',
  vessel: 'tun',
  what: 'temp',
  unit: '°C',
  sd: 0.5,
  points: [],
  offset: 0,
  token: 1,
};
const samples = Array.from({ length: 60 }, (_, n) => ({ atMs: 1000 * n, value: 62 + 0.01 * n }));
const entry = (atMin: number): Extract<DayEntry, { kind: 'reading' }> => ({
  kind: 'reading',
  id: `probe.p.${atMin}`,
  reading: { vessel: 'tun', what: 'temp', value: 62, atMin, sd: 0.3, probe: { id: 'p', sd: 0.5 } },
});
const doubt = (atMin: number, stuck?: true): Questioned => ({
  entry: entry(atMin),
  expected: { low: 64, likely: 65, high: 66 },
  text: 'Tun: 62.0 °C does not fit',
  ...(stuck && { stuck }),
});
const stands = (
  nowMs: number,
  questioned: readonly Questioned[] = [],
  told: readonly DayEntry[] = [],
) => standingOfProbe(PROBE, samples, nowMs, { what: 'temp' }, questioned, told);

describe('what is said of a probe', () => {
  it('live, and offered', () => {
    expect(stands(60_000)).toMatchObject({ word: 'live', offered: true });
  });

  it('silent since its last word; its old number is not offered as new', () => {
    expect(stands(200_000)).toMatchObject({ word: 'silent', sinceMs: 59_000, offered: false });
  });

  it('not believed while its newest reading does not fit, and why', () => {
    const told = [entry(5), entry(10)];
    expect(stands(60_000, [doubt(10)], told)).toMatchObject({
      word: 'not believed',
      text: 'Tun: 62.0 °C does not fit',
      offered: true,
    });
    expect(stands(60_000, [doubt(5)], told).word).toBe('live');
    expect(stands(60_000, [doubt(10, true)], told).word).toBe('stuck');
  });

  it('impossible is not offered', () => {
    const broken = [...samples, { atMs: 60_000, value: -127 }];
    expect(standingOfProbe(PROBE, broken, 61_000, { what: 'temp' }, [], [])).toMatchObject({
      word: 'impossible',
      offered: false,
    });
  });
});
