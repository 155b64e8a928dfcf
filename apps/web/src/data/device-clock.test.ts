import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  answered,
  type ClockSample,
  clockText,
  type DeviceClock,
  lookedAt,
  noteOf,
  openedClock,
  wantsAnswer,
} from './device-clock.ts';

const T = Date.UTC(2026, 10, 25, 7);
const MIN = 60_000;

/** A device whose two clocks and whose server are moved by hand. */
class Device {
  dateMs = T;
  perfMs = 0;
  /** The brewhouse's own time. */
  trueMs = T;
  clock: DeviceClock;

  constructor(offMs = 0) {
    this.dateMs += offMs;
    this.clock = openedClock(this.#look(true), undefined);
  }
  #look(watched: boolean) {
    return { dateMs: this.dateMs, perfMs: this.perfMs, watched };
  }
  /** Time passes with the page open. */
  pass(ms: number) {
    this.dateMs += ms;
    this.perfMs += ms;
    this.trueMs += ms;
    this.clock = lookedAt(this.clock, this.#look(true));
    return this;
  }
  /** The device sleeps; its stopwatch stands still. */
  sleep(ms: number) {
    this.dateMs += ms;
    this.trueMs += ms;
    this.clock = lookedAt(this.clock, this.#look(false));
    return this;
  }
  /** A hand or a network sets the clock. */
  set(byMs: number, watched = true) {
    this.dateMs += byMs;
    this.clock = lookedAt(this.clock, this.#look(watched));
    return this;
  }
  ask(thereMs: number, backMs: number) {
    const askedPerfMs = this.perfMs;
    this.pass(thereMs);
    const serverMs = this.trueMs;
    this.pass(backMs);
    return this.answer({
      askedPerfMs,
      answeredPerfMs: this.perfMs,
      answeredDateMs: this.dateMs,
      serverMs,
    });
  }
  answer(sample: ClockSample) {
    this.clock = answered(this.clock, sample);
    return this;
  }
  /** How far what the page takes for now is from the truth [ms]. */
  get wrongMs() {
    return this.dateMs + this.clock.offsetMs - this.trueMs;
  }
}

describe('an answer of the server', () => {
  it('is never wrong by more than half its trip, however lopsided the trip was', () => {
    const ms = fc.integer({ min: 0, max: 1900 });
    fc.assert(
      fc.property(ms, ms, fc.integer({ min: -1e10, max: 1e10 }), (there, back, off) => {
        const device = new Device(off).ask(there, back);
        expect(Math.abs(device.wrongMs)).toBeLessThanOrEqual((device.clock.errorMs ?? 0) + 1e-3);
        expect(device.clock.errorMs).toBe((there + back) / 2);
      }),
    );
  });

  it('from a quick trip is kept over that of a slow one, until drift has used it up', () => {
    const device = new Device(5000).ask(5, 5).pass(MIN);
    const { offsetMs } = device.clock;
    expect(device.ask(20, 700).clock.offsetMs).toBe(offsetMs);
    device.pass(4 * 3600_000).ask(300, 300);
    expect(device.clock.errorMs).toBe(300);
  });

  it('that took too long is used only when there is none better', () => {
    const device = new Device(9000).ask(4000, 3000);
    expect(device.clock.errorMs).toBe(3500);
    device.ask(10, 10);
    expect(device.clock.errorMs).toBe(10);
    expect(device.ask(4000, 3000).clock.errorMs).toBe(10);
  });

  it('that contradicts the one before is believed: something moved unseen', () => {
    const device = new Device().ask(1, 1);
    device.trueMs += 30_000;
    device.ask(200, 200);
    expect(Math.abs(device.wrongMs)).toBeLessThanOrEqual(200);
  });

  it('of a stopwatch that ran backwards is none', () => {
    const { clock } = new Device();
    const sample = { askedPerfMs: 5, answeredPerfMs: 1, answeredDateMs: T, serverMs: 0 };
    expect(answered(clock, sample)).toBe(clock);
  });
});

describe('without a server', () => {
  it.each([-3 * 3600_000, -12 * MIN, -2000])('a clock set back by %i ms is made good', (by) => {
    const device = new Device(40_000)
      .ask(1, 1)
      .pass(10 * MIN)
      .set(by)
      .pass(MIN);
    expect(Math.abs(device.wrongMs)).toBeLessThan(2);
    expect(device.clock.jumpMs).toBe(by);
    // Nobody need have looked: a stopwatch never runs fast.
    const unseen = new Device().ask(1, 1).set(by, false).pass(MIN);
    expect(Math.abs(unseen.wrongMs)).toBeLessThan(2);
  });

  it('one set on before the brewer’s eyes is made good too', () => {
    const device = new Device()
      .ask(1, 1)
      .pass(MIN)
      .set(12 * MIN)
      .pass(MIN);
    expect(Math.abs(device.wrongMs)).toBeLessThan(2);
  });

  it('sleep is believed, and doubted aloud when it was long', () => {
    const device = new Device().ask(1, 1).sleep(20 * MIN);
    expect(Math.abs(device.wrongMs)).toBeLessThan(2);
    expect(device.clock.doubtMs).toBe(20 * MIN);
    expect(clockText(device.clock)).toBeUndefined();
    device.sleep(50 * MIN);
    expect(clockText(device.clock)).toMatch(/slept 1 h 10 min, or its clock was put on/);
    expect(noteOf(device.clock)).toEqual({ offsetMs: 0, errorMs: 1, doubtMs: 70 * MIN });
    device.ask(5, 5);
    expect(device.clock.doubtMs).toBe(0);
    expect(clockText(device.clock)).toBeUndefined();
  });

  it('a trimmed clock is no jump', () => {
    const device = new Device().ask(1, 1).set(400).set(-300);
    expect(device.clock.jumpMs).toBeUndefined();
    expect(device.clock.doubtMs).toBe(0);
  });

  it('any mixture of setting, passing and asking ends within the error it claims', () => {
    const act = fc.oneof(
      fc.record({ do: fc.constant('pass' as const), ms: fc.integer({ min: 0, max: 3600_000 }) }),
      fc.record({ do: fc.constant('set' as const), ms: fc.integer({ min: -1e8, max: 1e8 }) }),
      fc.record({ do: fc.constant('ask' as const), ms: fc.integer({ min: 0, max: 1500 }) }),
    );
    fc.assert(
      fc.property(
        fc.array(act, { maxLength: 30 }),
        fc.integer({ min: -1e9, max: 1e9 }),
        (acts, off) => {
          const device = new Device(off).ask(0, 0);
          let unseenMs = 0;
          for (const a of acts) {
            if (a.do === 'pass') device.pass(a.ms);
            else if (a.do === 'ask') {
              device.ask(a.ms, a.ms / 2);
              unseenMs += a.ms / 2;
            } else {
              device.set(a.ms);
              // Up to its grain a jump passes for trimming.
              if (Math.abs(a.ms) <= 1000) unseenMs += Math.abs(a.ms);
            }
          }
          const error = (device.clock.errorMs ?? 0) + unseenMs + 1;
          expect(Math.abs(device.wrongMs)).toBeLessThanOrEqual(error);
        },
      ),
    );
  });
});

describe('a page opened again', () => {
  const look = (dateMs: number) => ({ dateMs, perfMs: 0, watched: true });

  it('goes on with the offset of the one before, unconfirmed', () => {
    const clock = openedClock(look(T), { offsetMs: -240_000, dateMs: T - MIN });
    expect(noteOf(clock)).toEqual({ offsetMs: -240_000 });
    expect(wantsAnswer(clock)).toBe(true);
    expect(clockText(clock)).toBe('this device’s clock is 4 min fast; times are mended');
  });

  it('notices a clock that was set back while it was shut, and never runs backwards', () => {
    const clock = openedClock(look(T - 90 * MIN), { offsetMs: 1000, dateMs: T });
    expect(T - 90 * MIN + clock.offsetMs).toBe(T + 1000);
    expect(clockText(clock)).toMatch(/went back 1 h 30 min or more while the page was shut/);
    expect(noteOf(clock).doubtMs).toBe(90 * MIN);
  });
});

describe('what the shell says', () => {
  const at = (offsetMs: number) => clockText({ ...new Device().clock, offsetMs });

  it('keeps quiet about seconds, names minutes, and doubts the server too when it is hours', () => {
    expect(at(0)).toBeUndefined();
    expect(at(45_000)).toBeUndefined();
    expect(at(4 * MIN)).toBe('this device’s clock is 4 min slow; times are mended');
    expect(at(-185 * MIN)).toMatch(
      /3 h 5 min fast; .* or the server’s is wrong: set the one that is/,
    );
    expect(at(9 * 86_400_000)).toMatch(/9 days slow/);
  });
});

describe('asking again', () => {
  it('is wanted at first, after a jump, after sleep, and every ten minutes', () => {
    const device = new Device();
    expect(wantsAnswer(device.clock)).toBe(true);
    expect(wantsAnswer(device.ask(1, 1).pass(9 * MIN).clock)).toBe(false);
    expect(wantsAnswer(device.pass(2 * MIN).clock)).toBe(true);
    expect(wantsAnswer(device.ask(40, 40).clock)).toBe(false);
    expect(wantsAnswer(device.set(5000).clock)).toBe(true);
    expect(wantsAnswer(device.ask(400, 400).sleep(5 * MIN).clock)).toBe(true);
    expect(wantsAnswer(device.ask(400, 400).clock)).toBe(false);
  });
});
