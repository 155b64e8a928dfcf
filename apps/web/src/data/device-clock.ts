/**
 * How this device's clock stands to the brewhouse's, which is the server's. The device's own is
 * never trusted by itself: it is held against the server when there is one, and against the
 * browser's stopwatch all the time. Pure; clock.ts feeds it.
 */
import type { ClockNote } from '@ladlework/log';

/** Both of the device's clocks at one moment. */
export interface Look {
  /** Calendar clock, epoch ms; people and networks set it. */
  readonly dateMs: number;
  /** Stopwatch [ms]; nobody sets it, but on some devices it stands still while the device sleeps. */
  readonly perfMs: number;
  /**
   * Whether the page was on the screen of a device that leaves it before it sleeps. A computer whose
   * lid is shut does not.
   */
  readonly watched: boolean;
}

/** One question to the server's clock. */
export interface ClockSample {
  /** By the stopwatch [ms]. */
  readonly askedPerfMs: number;
  readonly answeredPerfMs: number;
  /** The device's calendar clock at the answer, epoch ms. */
  readonly answeredDateMs: number;
  /** What the server said, epoch ms. */
  readonly serverMs: number;
}

export interface DeviceClock {
  /** To be added to the device's calendar clock [ms]. */
  readonly offsetMs: number;
  /** The most that is wrong [ms]; absent until a server has answered since the page was opened. */
  readonly errorMs?: number;
  /** Device time of the answer the offset comes from, epoch ms. */
  readonly answeredDateMs?: number;
  /** Stopwatch at the last answer of any worth [ms]. */
  readonly heardPerfMs?: number;
  /** Jumps that may have been sleep or may have been a hand, since the last answer [ms]. */
  readonly doubtMs: number;
  /** The doubt is from a clock that was found behind when the page was opened. */
  readonly setBackWhileShut?: true;
  /** The latest jump that was certain [ms]: back is negative. Already made good in the offset. */
  readonly jumpMs?: number;
  readonly look: Pick<Look, 'dateMs' | 'perfMs'>;
}

/** What outlives the page. */
export interface KeptClock {
  readonly offsetMs: number;
  /** The device's calendar clock when it was kept, epoch ms. */
  readonly dateMs: number;
}

/** Differences up to this are the clock's grain and a network that trims it [ms]. */
const GRAIN_MS = 1000;
/** An answer that took longer says little; it is used only when there is none better [ms]. */
const LONGEST_TRIP_MS = 4000;
/** How fast two clocks may drift apart. Crystals are good to 50 parts in a million (from memory). */
const DRIFT = 50e-6;

/**
 * The clock of a page that has just been opened.
 *
 * @param kept what the page before it left, if any
 */
export function openedClock(look: Look, kept: KeptClock | undefined): DeviceClock {
  const now = { dateMs: look.dateMs, perfMs: look.perfMs };
  if (kept === undefined) return { offsetMs: 0, doubtMs: 0, look: now };
  // Time does not run back: a clock behind what it showed before was set back, by this or by more.
  const backMs = kept.dateMs - look.dateMs;
  if (backMs <= GRAIN_MS) return { offsetMs: kept.offsetMs, doubtMs: 0, look: now };
  const offsetMs = kept.offsetMs + backMs;
  return { offsetMs, doubtMs: backMs, jumpMs: -backMs, setBackWhileShut: true, look: now };
}

/** Holds the calendar clock against the stopwatch. */
export function lookedAt(clock: DeviceClock, look: Look): DeviceClock {
  const now = { dateMs: look.dateMs, perfMs: look.perfMs };
  const gapMs = look.dateMs - clock.look.dateMs - (look.perfMs - clock.look.perfMs);
  if (Math.abs(gapMs) <= GRAIN_MS) return { ...clock, look: now };
  // Back, or forward before somebody's eyes: set by a hand or a network. Brewhouse time goes on.
  if (gapMs < 0 || look.watched) {
    return { ...clock, offsetMs: clock.offsetMs - gapMs, jumpMs: gapMs, look: now };
  }
  // Forward while nobody looked: far more often sleep, during which the stopwatch stood still.
  return { ...clock, doubtMs: clock.doubtMs + gapMs, look: now };
}

/**
 * Takes an answer of the server: half its trip is the most it can be wrong. A better answer from
 * before is kept while its own error, growing by drift, is smaller and the two do not contradict.
 */
export function answered(clock: DeviceClock, sample: ClockSample): DeviceClock {
  const tripMs = sample.answeredPerfMs - sample.askedPerfMs;
  if (tripMs < 0 || (tripMs > LONGEST_TRIP_MS && clock.errorMs !== undefined)) return clock;
  const errorMs = tripMs / 2;
  const offsetMs = sample.serverMs + errorMs - sample.answeredDateMs;
  const { answeredDateMs } = sample;
  const {
    jumpMs: _,
    setBackWhileShut: __,
    ...rest
  } = { ...clock, heardPerfMs: sample.answeredPerfMs };
  const fresh = { ...rest, offsetMs, errorMs, answeredDateMs, doubtMs: 0 };
  if (clock.errorMs === undefined || clock.answeredDateMs === undefined) return fresh;
  const ageMs = Math.abs(answeredDateMs - clock.answeredDateMs);
  const grownMs = clock.errorMs + DRIFT * ageMs;
  const agree = Math.abs(offsetMs - clock.offsetMs) <= errorMs + grownMs + GRAIN_MS;
  return agree && grownMs <= errorMs && clock.doubtMs === 0 ? rest : fresh;
}

/** Half a second of drift in ten minutes is a bad clock; asking again after that is plenty [ms]. */
const HOLDS_MS = 600_000;

/** Whether the server should be asked now: never yet, after a jump, or because it is time. */
export function wantsAnswer(clock: DeviceClock): boolean {
  if (clock.heardPerfMs === undefined || clock.jumpMs !== undefined || clock.doubtMs > 0) {
    return true;
  }
  return clock.look.perfMs - clock.heardPerfMs > HOLDS_MS;
}

/** From here on a difference is told [ms]. */
const WORTH_TELLING_MS = 60_000;
/** More than that is no drift: one of the two was never set [ms]. */
const NEVER_SET_MS = 3_600_000;

/**
 * What the shell says of the clock; nothing when it is well.
 *
 * @example "this device’s clock is 4 min slow; times are mended"
 */
export function clockText(clock: DeviceClock): string | undefined {
  if (clock.setBackWhileShut === true && clock.doubtMs >= WORTH_TELLING_MS) {
    return `this device’s clock went back ${spanOf(clock.doubtMs)} or more while the page was shut; times since then are doubtful`;
  }
  if (clock.doubtMs >= NEVER_SET_MS) {
    return `this device slept ${spanOf(clock.doubtMs)}, or its clock was put on; times since then are doubtful until the server is asked`;
  }
  const { offsetMs } = clock;
  if (Math.abs(offsetMs) < WORTH_TELLING_MS) return undefined;
  const way = offsetMs > 0 ? 'slow' : 'fast';
  const wrong =
    Math.abs(offsetMs) >= NEVER_SET_MS ? ', or the server’s is wrong: set the one that is' : '';
  return `this device’s clock is ${spanOf(offsetMs)} ${way}; times are mended${wrong}`;
}

function spanOf(ms: number): string {
  const minutes = Math.round(Math.abs(ms) / 60_000);
  if (minutes < 60) return `${minutes} min`;
  if (minutes < 48 * 60) return `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
  return `${Math.round(minutes / 1440)} days`;
}

/** The clock as an event carries it. */
export function noteOf(clock: DeviceClock): ClockNote {
  return {
    offsetMs: Math.round(clock.offsetMs),
    ...(clock.errorMs !== undefined && { errorMs: Math.ceil(clock.errorMs) }),
    ...(clock.doubtMs > 0 && { doubtMs: Math.round(clock.doubtMs) }),
  };
}
