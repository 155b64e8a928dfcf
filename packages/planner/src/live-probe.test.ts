/**
 * Probes on synthetic days of hidden kits. Invented kits and noise: what is held here is that the
 * bands hold, not where a real probe stands.
 */
import { normal, seededRandom } from '@ladlework/numerics';
import { describe, expect, test } from 'vitest';
import { drawsFor } from './ensemble.ts';
import type { DayEntry } from './live.ts';
import { vesselsNow } from './live-going-on.ts';
import { forecastLanding } from './live-landing.ts';
import { type DaySession, minuteOf, openDay } from './live-session.ts';
import {
  applyAll,
  type HiddenDay,
  hiddenDay,
  movesFor,
  TWO_PULLS,
  tapsWithReadings,
  tempReading,
  unread,
  unreadLanding,
  upTo,
} from './live-testing.ts';

const MOVES = movesFor(TWO_PULLS);
const OPEN = openDay(TWO_PULLS, MOVES, { mash: 'off', draws: 150, seed: 3 });
const PROBE = { id: 'p-tun', sd: 0.7 };

/** A tun probe heard each five minutes of a hidden day. */
function heard(
  hidden: HiddenDay,
  fromMin: number,
  toMin: number,
  shows: (trueC: number, minute: number) => number,
  by: 'probe' | 'many thermometers' = 'probe',
): DayEntry[] {
  const entries: DayEntry[] = [];
  for (let minute = Math.ceil(fromMin / 5) * 5; minute <= toMin; minute += 5) {
    const value = shows(hidden.tempC('tun', minute), minute);
    const own = { vessel: 'tun', what: 'temp', value, atMin: minute, sd: 0.3 } as const;
    entries.push({ kind: 'reading', reading: by === 'probe' ? { ...own, probe: PROBE } : own });
  }
  return entries;
}

const inTime = (entries: readonly DayEntry[]) =>
  [...entries].sort((a, b) => minuteOf(a) - minuteOf(b));

const tun = (session: DaySession, minute: number) => {
  const found = vesselsNow(session, minute).find((v) => v.vessel === 'tun');
  if (!found) throw new Error('no tun');
  return found.tempC;
};

/** A hidden day as far as the first pull, and when the mash was in. */
function firstRest() {
  const truth = drawsFor(TWO_PULLS.kit, 8, 99)[3];
  if (!truth) throw new Error('no draw');
  const hidden = hiddenDay(TWO_PULLS, MOVES, truth);
  const taps = upTo(hidden.taps, 'done', 'mash-in');
  const inMin = minuteOf(taps.at(-1) as DayEntry);
  const pull = hidden.taps.find((e) => e.kind === 'begun' && e.moveId === 'pull-1');
  return { truth, hidden, taps, inMin, pullMin: pull ? minuteOf(pull) : inMin + 30 };
}

describe('what a probe is off is not averaged away', () => {
  const { hidden, taps, inMin, pullMin } = firstRest();
  const random = seededRandom(4);
  const off = 0.9;
  const shows = (c: number) => c + off + 0.1 * normal(random);
  const day = (by: 'probe' | 'many thermometers') =>
    applyAll(OPEN, [...taps, ...heard(hidden, inMin + 6, pullMin, shows, by)]);
  const width = (s: DaySession) => tun(s, pullMin).high - tun(s, pullMin).low;

  test('a whole rest of readings leaves the band as wide as the probe is doubtful', () => {
    // 80 % of a normal is 2.563 standard deviations wide (table of the normal distribution).
    const session = day('probe');
    expect(session.questioned).toEqual([]);
    expect(width(session)).toBeGreaterThan(0.5 * 2.563 * PROBE.sd);
    expect(width(session)).toBeLessThan(width(applyAll(OPEN, taps)));
  });

  test('taken one by one as if each were a new thermometer, it would be falsely narrow', () => {
    const truth = hidden.tempC('tun', pullMin);
    const naive = tun(day('many thermometers'), pullMin);
    expect(naive.low).toBeGreaterThan(truth);
    const ours = tun(day('probe'), pullMin);
    expect(ours.low).toBeLessThan(truth);
  });

  test('one settled reading by hand tells what the probe is off, and it is believed from there', () => {
    const entries = heard(hidden, inMin + 6, pullMin, shows);
    const hand = tempReading(hidden, 'tun', inMin + 7, 0);
    const session = applyAll(OPEN, inTime([...taps, ...entries, hand]));
    const offs = session.particles.map((p) => p.probes?.[PROBE.id] ?? Number.NaN);
    const mean = offs.reduce((a, b) => a + b, 0) / offs.length;
    expect(mean).toBeGreaterThan(0.5 * off);
    expect(width(session)).toBeLessThan(width(day('probe')));
  });

  test('a probe heard each minute narrows no further than one heard each five', () => {
    const often: DayEntry[] = [];
    for (let m = Math.ceil(inMin + 6); m <= pullMin; m++)
      often.push({
        kind: 'reading',
        reading: {
          vessel: 'tun',
          what: 'temp',
          value: shows(hidden.tempC('tun', m)),
          atMin: m,
          sd: 0.3,
          probe: PROBE,
        },
      });
    expect(width(applyAll(OPEN, [...taps, ...often]))).toBeGreaterThan(0.75 * width(day('probe')));
  });
});

describe('a probe that stands still', () => {
  const { hidden, taps, inMin } = firstRest();
  /** A tun left open in the cold: enough loss to be seen in the rest. */
  const cold = openDay(
    {
      ...TWO_PULLS,
      kit: { ...TWO_PULLS.kit, vessels: TWO_PULLS.kit.vessels.map((v) => ({ ...v, lossWK: 120 })) },
    },
    MOVES,
    { mash: 'off', draws: 100, seed: 3 },
  );
  const stuckC = 62;

  test('is found out by what the mash must have lost, and no longer believed', () => {
    const session = applyAll(cold, [
      ...taps,
      ...heard(hidden, inMin + 6, inMin + 60, () => stuckC),
    ]);
    const [first] = session.questioned;
    expect(first?.stuck).toBe(true);
    expect(first?.text).toMatch(/has shown 62.0 °C for \d+ min, while the content must have lost/);
    const from = minuteOf(first?.entry as DayEntry);
    const last = session.questioned.at(-1);
    expect(minuteOf(last?.entry as DayEntry)).toBeGreaterThan(from);
    expect(tun(session, inMin + 60).likely).toBeLessThan(stuckC - 0.5);
  });

  test('a reading by hand that agrees frees it', () => {
    const entries = heard(hidden, inMin + 6, inMin + 60, () => stuckC);
    const until = applyAll(cold, [...taps, ...entries]).questioned[0]?.entry;
    const at = minuteOf(until as DayEntry);
    const hand: DayEntry = {
      kind: 'reading',
      confirmed: true,
      reading: { vessel: 'tun', what: 'temp', value: 62.1, atMin: at + 1, sd: 0.3 },
    };
    const session = applyAll(cold, inTime([...taps, ...entries, hand]));
    const after = session.questioned.filter((q) => minuteOf(q.entry) > at + 1);
    expect(after.filter((q) => minuteOf(q.entry) < at + 8)).toEqual([]);
  });

  test('one whose last digit moves is not stuck', () => {
    const live = heard(hidden, inMin + 6, inMin + 60, (c, m) => c + (m % 10 === 0 ? 0.06 : 0));
    expect(applyAll(OPEN, [...taps, ...live]).questioned.filter((q) => q.stuck)).toEqual([]);
  });
});

describe('when it is not heard', () => {
  const { hidden, taps, inMin } = firstRest();

  test('while the mash is carried, and five minutes after', () => {
    const early = applyAll(OPEN, [...taps, ...heard(hidden, inMin, inMin + 4.9, () => 30)]);
    expect(early.readings).toBe(0);
    expect(early.questioned).toEqual([]);
  });

  test('in an empty vessel it shows the air', () => {
    const air = applyAll(
      OPEN,
      heard(hidden, 0, 0, () => 16),
    );
    expect(air.readings).toBe(0);
    expect(air.questioned).toEqual([]);
  });

  test('what cannot be is asked about and has no effect', () => {
    const mad = applyAll(OPEN, [...taps, ...heard(hidden, inMin + 6, inMin + 10, () => 40)]);
    expect(mad.questioned[0]?.text).toMatch(/40.0 °C does not fit; expected .* read by hand/);
    expect(tun(mad, inMin + 10).likely).toBeCloseTo(
      tun(applyAll(OPEN, taps), inMin + 10).likely,
      6,
    );
  });
});

describe('over many hidden days with a biased probe', () => {
  const DAYS = 60;
  const needL = OPEN.pulls[0]?.needL ?? 0;
  const portionL = TWO_PULLS.kit.routes[0]?.portionL ?? 1;
  const random = seededRandom(11);
  const held = { probe: 0, 'many thermometers': 0 };
  for (const truth of drawsFor(TWO_PULLS.kit, DAYS, 99)) {
    const hidden = hiddenDay(TWO_PULLS, unread(MOVES, 'return-1'), truth);
    const landedC = unreadLanding(hidden.trace, 'return-1', needL, portionL);
    const taps = tapsWithReadings(hidden, truth, ['done', 'boil-1'], [], () => normal(random));
    const end = minuteOf(taps.at(-1) as DayEntry);
    // One bias a day, drawn from what the probe is said to be good for, and a little noise.
    const off = PROBE.sd * normal(random);
    const noise = Array.from({ length: 100 }, () => 0.1 * normal(random));
    const shows = (c: number, minute: number) => c + off + (noise[minute / 5] ?? 0);
    for (const by of ['probe', 'many thermometers'] as const) {
      const day = applyAll(OPEN, inTime([...taps, ...heard(hidden, 0, end, shows, by)]));
      const band = forecastLanding(day, end)?.now;
      if (!band) throw new Error('no return left');
      if (landedC >= band.low && landedC <= band.high) held[by]++;
    }
  }

  test('the 80 % band of the landing holds as it should', () => {
    // 80 % of sixty days has a standard deviation of 3.1.
    expect(held.probe).toBeGreaterThanOrEqual(0.8 * DAYS - 2 * 3.1);
  });

  test('and would not, were each reading taken for a new thermometer', () => {
    expect(held['many thermometers']).toBeLessThan(held.probe - 3.1);
  });
});
