import { NOMINAL } from '@ladlework/brewhouse';
import { band, normal, seededRandom } from '@ladlework/numerics';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drawsFor } from './ensemble.ts';
import { mashEngines } from './grist.ts';
import type { DayEntry } from './live.ts';
import { applyEntry } from './live-apply.ts';
import { vesselsNow } from './live-going-on.ts';
import { keepDay } from './live-keeper.ts';
import { forecastLanding } from './live-landing.ts';
import { type DaySession, openDay } from './live-session.ts';
import { type Particle, vesselIn } from './live-step.ts';
import {
  applyAll,
  hiddenDay,
  hiddenSession,
  IN_TURN,
  KETTLE_MASH,
  MIXED_RAISES,
  movesFor,
  SIDE_BY_SIDE,
  STOVE,
  THREE_VESSELS,
  TWO_PULLS,
  tapsWithReadings,
  tempReading,
  upTo,
} from './live-testing.ts';

const MOVES = movesFor(TWO_PULLS);
const TRUTH = drawsFor(TWO_PULLS.kit, 50, 99)[7] as ReturnType<typeof drawsFor>[number];
const HIDDEN = hiddenDay(TWO_PULLS, MOVES, TRUTH);
const COARSE = { mash: 'off', draws: 60, seed: 3 } as const;
const AFTER = ['mash-in', 'pull-1', 'rest-on-1', 'boil-up-1'];
const random = seededRandom(11);
const ENTRIES = tapsWithReadings(HIDDEN, TRUTH, ['done', 'boil-1'], AFTER, () => normal(random));
const contents = (s: DaySession) => s.particles.map((p) => p.situation.vessels);
const width = (b: { low: number; high: number }) => b.high - b.low;
const tunC = (s: DaySession, at: number) =>
  vesselsNow(s, at).find((v) => v.vessel === 'tun')?.tempC as ReturnType<typeof band>;

describe('a running day', () => {
  const day = applyAll(openDay(TWO_PULLS, MOVES, COARSE), ENTRIES);

  test('follows the hidden kit', () => {
    const at = day.lastMin;
    expect(day.questioned).toEqual([]);
    expect(day.readings).toBe(5);
    expect(Math.abs(tunC(day, at).likely - HIDDEN.tempC('tun', at))).toBeLessThan(0.6);
  });

  test('keeps every particle its grist', () => {
    for (const p of day.particles) {
      const dry = p.situation.vessels.reduce((sum, s) => sum + s.solidsKg + s.extractKg, 0);
      expect(dry).toBeCloseTo(68 * (1 - 0.045), 6);
    }
  });

  test('is the same when folded again', () => {
    const again = applyAll(openDay(TWO_PULLS, MOVES, COARSE), ENTRIES);
    expect(contents(again)).toEqual(contents(day));
  });

  test('is the same folded from any point on, and leaves the sessions it came from alone', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: ENTRIES.length }), (cut) => {
        const first = applyAll(
          openDay(TWO_PULLS, MOVES, { mash: 'off', draws: 6 }),
          ENTRIES.slice(0, cut),
        );
        const before = structuredClone(contents(first));
        const whole = applyAll(first, ENTRIES.slice(cut));
        expect(contents(first)).toEqual(before);
        expect(contents(whole)).toEqual(
          contents(applyAll(openDay(TWO_PULLS, MOVES, { mash: 'off', draws: 6 }), ENTRIES)),
        );
      }),
      { numRuns: 12, seed: 1 },
    );
  });

  test('learns kilowatts from the minutes of a heat-up', () => {
    const burner = (s: DaySession) => band(s.particles.map((p) => p.draw.burner));
    const open = burner(openDay(TWO_PULLS, MOVES, COARSE));
    const learned = burner(day);
    expect(width(learned)).toBeLessThan(0.6 * width(open));
    expect(Math.abs(learned.likely - TRUTH.burner)).toBeLessThan(
      Math.abs(open.likely - TRUTH.burner),
    );
  });

  test('gets along with a brewer who only taps what is done', () => {
    const done = ENTRIES.filter((e) => e.kind !== 'begun');
    const lazy = applyAll(openDay(TWO_PULLS, MOVES, COARSE), done);
    const at = lazy.lastMin;
    const a = forecastLanding(lazy, at)?.now.likely as number;
    const b = forecastLanding(day, at)?.now.likely as number;
    expect(Math.abs(a - b)).toBeLessThan(0.6);
  });

  test('gets along with a brewer who forgets most taps', () => {
    const few = ENTRIES.filter(
      (e) =>
        e.kind === 'reading' || (e.kind === 'done' && ['mash-in', 'boil-1'].includes(e.moveId)),
    );
    const lazy = applyAll(openDay(TWO_PULLS, MOVES, COARSE), few);
    const potC = vesselsNow(lazy, lazy.lastMin).find((v) => v.vessel === 'kettle')?.tempC;
    expect(potC?.likely).toBeGreaterThan(97);
    expect(
      Math.abs(tunC(lazy, lazy.lastMin).likely - HIDDEN.tempC('tun', lazy.lastMin)),
    ).toBeLessThan(1);
  });
});

describe('a day on every layout', () => {
  const layouts = {
    TWO_PULLS,
    STOVE,
    THREE_VESSELS,
    KETTLE_MASH,
    SIDE_BY_SIDE,
    IN_TURN,
    MIXED_RAISES,
  };

  // One engine: the session goes through the same moves in pieces, each as long as it really took.
  test.each(Object.entries(layouts))(
    '%s goes as the whole day simulated at once',
    (_, document) => {
      const moves = movesFor(document);
      const truth = { ...TRUTH, thermometerK: 0 };
      const hidden = hiddenDay(document, moves, truth);
      let day = hiddenSession(document, moves, truth);
      for (const tap of hidden.taps) {
        day = applyEntry(day, tap);
        if (tap.kind !== 'done') continue;
        const real = hidden.trace.moves.find((m) => m.id === tap.moveId);
        const state = vesselIn(day.particles[0] as Particle, real?.vessels.at(-1) as string);
        expect(state.tempC).toBeCloseTo(real?.toC as number, 2);
      }
      expect(day.questioned).toEqual([]);
      for (const end of hidden.trace.end.vessels)
        expect(vesselIn(day.particles[0] as Particle, end.vessel).waterKg).toBeCloseTo(
          end.waterKg,
          0,
        );
    },
  );

  test.each([
    ['SIDE_BY_SIDE', SIDE_BY_SIDE, 'return-1b'],
    ['IN_TURN', IN_TURN, 'return-1b'],
    ['KETTLE_MASH', KETTLE_MASH, 'return-1'],
  ] as const)(
    '%s is one pull with one landing, near its target when the pots boil',
    (_, document, id) => {
      const moves = movesFor(document);
      const hidden = hiddenDay(document, moves, { ...NOMINAL });
      const day = applyAll(
        hiddenSession(document, moves, NOMINAL),
        upTo(hidden.taps, 'begun', 'rest-on-1'),
      );
      expect(day.pulls.map((g) => [g.pull, g.final.id])).toEqual([[1, id]]);
      const boiled = moves.filter((m) => m.kind === 'boil').at(0)?.id as string;
      const done = applyAll(
        hiddenSession(document, moves, NOMINAL),
        upTo(hidden.taps, 'done', boiled),
      );
      const landing = forecastLanding(done, done.lastMin);
      const target = landing?.targetC as number;
      expect(Math.abs((landing?.now.likely as number) - target)).toBeLessThan(1);
      expect(Math.abs((landing?.asPlanned.likely as number) - target)).toBeLessThan(0.1);
    },
  );
});

describe('readings', () => {
  const bare = ENTRIES.filter((e) => e.kind !== 'reading');
  const without = applyAll(openDay(TWO_PULLS, MOVES, COARSE), bare);
  const withAll = applyAll(openDay(TWO_PULLS, MOVES, COARSE), ENTRIES);

  test('narrow the landing', () => {
    const at = withAll.lastMin;
    const wide = forecastLanding(without, at)?.now;
    const narrow = forecastLanding(withAll, at)?.now;
    expect(wide && narrow && width(narrow) / width(wide)).toBeLessThan(0.75);
  });

  test('of gravity and pH are kept without effect', () => {
    const at = withAll.lastMin;
    const gravity: DayEntry = {
      kind: 'reading',
      reading: { vessel: 'tun', what: 'gravity', value: 17, atMin: at, sd: 0.2 },
    };
    expect(contents(applyEntry(withAll, gravity))).toEqual(contents(withAll));
  });

  test('of a volume correct what was pulled', () => {
    const pulled = applyAll(openDay(TWO_PULLS, MOVES, COARSE), upTo(HIDDEN.taps, 'done', 'pull-1'));
    const at = pulled.lastMin;
    const value = HIDDEN.volumeL('kettle', at);
    const read = applyEntry(pulled, {
      kind: 'reading',
      reading: { vessel: 'kettle', what: 'volume', value, atMin: at, sd: 0.01 * value },
    });
    const volume = (s: DaySession) =>
      vesselsNow(s, at).find((v) => v.vessel === 'kettle')?.volumeL as ReturnType<typeof band>;
    expect(width(volume(read))).toBeLessThan(0.5 * width(volume(pulled)));
    expect(Math.abs(volume(read).likely - value)).toBeLessThan(0.02 * value);
  });

  test('that do not fit are asked about, and taken once confirmed', () => {
    const at = withAll.lastMin + 1;
    const odd = tempReading(HIDDEN, 'tun', at, 12);
    const asked = applyEntry(withAll, odd);
    expect(asked.questioned).toHaveLength(1);
    expect(asked.questioned[0]?.text).toMatch(/Mash tun: .* does not fit; expected .* °C/);
    expect(tunC(asked, at).likely).toBeCloseTo(tunC(withAll, at).likely, 9);
    const taken = applyEntry(withAll, { ...odd, confirmed: true });
    expect(taken.questioned).toHaveLength(0);
    expect(Math.abs(tunC(taken, at).likely - odd.reading.value)).toBeLessThan(1);
  });

  test('that are no numbers are refused by name', () => {
    const reading = { vessel: 'tun', what: 'temp', value: Number.NaN, atMin: 50, sd: 0.3 } as const;
    expect(() => applyEntry(without, { kind: 'reading', reading })).toThrow(
      /reading of tun: value NaN/,
    );
  });
});

describe('a kept day', () => {
  const keeper = keepDay(TWO_PULLS, MOVES, COARSE);
  const full = keeper.at(ENTRIES);

  test('does not care in which order entries come', () => {
    const reading = (e: DayEntry) => e.kind === 'reading';
    const late = [...ENTRIES.filter((e) => !reading(e)), ...ENTRIES.filter(reading)];
    const fresh = keepDay(TWO_PULLS, MOVES, COARSE).at(late);
    expect(fresh.readings).toBe(full.readings);
    expect(tunC(fresh, fresh.lastMin).likely).toBeCloseTo(tunC(full, full.lastMin).likely, 6);
  });

  test('forgets a withdrawn reading altogether', () => {
    const at = full.lastMin;
    const more = keeper.at([...ENTRIES, tempReading(HIDDEN, 'tun', at, TRUTH.thermometerK + 0.4)]);
    expect(more.readings).toBe(full.readings + 1);
    expect(keeper.at(ENTRIES)).toBe(full);
    const fewer = keeper.at(ENTRIES.filter((e) => e !== ENTRIES.find((x) => x.kind === 'reading')));
    const fresh = applyAll(
      openDay(TWO_PULLS, MOVES, COARSE),
      ENTRIES.filter((e) => e !== ENTRIES.find((x) => x.kind === 'reading')),
    );
    expect(contents(fewer)).toEqual(contents(fresh));
  });
});

describe('with the mash kinetics', () => {
  const honest = { ...TRUTH, thermometerK: 0 };
  const hidden = hiddenDay(TWO_PULLS, MOVES, honest, mashEngines(TWO_PULLS.beer)(NOMINAL));
  const taps = upTo(hidden.taps, 'done', 'boil-1');
  const known = (mash: boolean) => {
    const open = openDay(TWO_PULLS, MOVES, mash ? { draws: 1 } : { mash: 'off', draws: 1 });
    const likely = open.likely && {
      ...open.likely,
      particle: { ...open.likely.particle, draw: honest },
    };
    const particles = open.particles.map((p) => ({ ...p, draw: honest }));
    return applyAll({ ...open, particles, likely }, taps);
  };

  test('a mash dissolves as it does on the hidden kit', () => {
    const day = known(true);
    for (const vessel of ['tun', 'kettle']) {
      const state = vesselIn(day.particles[0] as Particle, vessel);
      const species = vesselIn(day.likely?.particle as Particle, vessel);
      expect(state.extractKg).toBeCloseTo(species.extractKg, 1);
      expect(day.likely?.engine.solidsKg(species.mash as Float64Array)).toBeCloseTo(
        species.solidsKg,
        6,
      );
    }
    expect(vesselIn(day.particles[0] as Particle, 'tun').extractKg).toBeGreaterThan(20);
  });

  test('and its return lands where it does there, warmer than if it were all solid', () => {
    const landedC = hidden.trace.moves.find((m) => m.id === 'return-1')?.transfer?.afterPortionC;
    const fourth = (mash: boolean) => {
      const day = known(mash);
      const back = applyEntry(
        applyEntry(day, { kind: 'begun', moveId: 'return-1', atMin: day.lastMin }),
        {
          kind: 'portions',
          moveId: 'return-1',
          atMin: day.lastMin + 4 * 0.6 * honest.hands,
          portions: 4,
        },
      );
      return vesselIn(back.particles[0] as Particle, 'tun').tempC;
    };
    expect(fourth(true)).toBeCloseTo(landedC?.[3] as number, 1);
    expect(fourth(true)).toBeGreaterThan(fourth(false) + 0.05);
  });

  test('readings take the likely day along', () => {
    const open = openDay(TWO_PULLS, MOVES, { draws: 20, seed: 3 });
    const day = applyAll(open, ENTRIES);
    const mean = day.particles.reduce((s, p) => s + vesselIn(p, 'tun').tempC / 20, 0);
    expect(vesselIn(day.likely?.particle as Particle, 'tun').tempC).toBeCloseTo(mean, 0);
  });
});
