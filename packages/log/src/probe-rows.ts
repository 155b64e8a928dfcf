/**
 * What is kept of a probe that sends each second. A row stands for the readings from one time to
 * another that differed by no more than can matter; its least and greatest are in it.
 */
import type { ProbeWhat } from './probe.ts';

/** One reading of a probe. */
export interface ProbeSample {
  readonly atMs: number;
  /** In the house unit of what is measured. */
  readonly value: number;
}

/** Readings as kept, as the probe sent them: the calibration is applied when they are looked at. */
export interface KeptRow {
  readonly probe: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly first: number;
  readonly last: number;
  readonly low: number;
  readonly high: number;
  readonly readings: number;
}

/**
 * A row is closed by the first reading that
 * - falls into another five minutes of the clock, so that the last value of each is always kept,
 * - comes after a gap longer than `GAP_MS`, or
 * - is further than `STEP` from the first of the row, when that is at least `LEAST_MS` old.
 *
 * At most 360 rows an hour while it moves, 12 while it stands.
 */
const SLOT_MS = 300_000;
const GAP_MS = 120_000;
const LEAST_MS = 10_000;
/** Least change worth a row: a fifth of a kelvin; for the others a share of the value. */
const STEP_K = 0.2;
const STEP_SHARE = 0.005;

/** Which five minutes of the clock a time falls into. */
const slotOf = (atMs: number) => Math.floor(atMs / SLOT_MS);

/** Makes rows of the readings of one probe, as they come. */
export class RowMaker {
  readonly #probe: string;
  readonly #what: ProbeWhat;
  #open: { -readonly [K in keyof KeptRow]: KeptRow[K] } | undefined;

  /**
   * @param probe its id
   * @param what it measures
   */
  constructor(probe: string, what: ProbeWhat) {
    this.#probe = probe;
    this.#what = what;
  }

  /**
   * Takes one reading.
   *
   * @param sample as sent; one no later than the newest of the open row makes a row of its own
   * @returns the rows this closes, oldest first
   */
  take({ atMs, value }: ProbeSample): KeptRow[] {
    const open = this.#open;
    if (open === undefined) {
      this.#open = this.#row(atMs, value);
      return [];
    }
    if (atMs <= open.toMs) return [this.#row(atMs, value)];
    if (this.#closes(open, atMs, value)) {
      this.#open = this.#row(atMs, value);
      return [open];
    }
    open.toMs = atMs;
    open.last = value;
    open.low = Math.min(open.low, value);
    open.high = Math.max(open.high, value);
    open.readings += 1;
    return [];
  }

  /** The row that is still open. */
  get open(): KeptRow | undefined {
    return this.#open === undefined ? undefined : { ...this.#open };
  }

  /** Closes the open row, when the server ends or a batch must be on disk. */
  close(): KeptRow[] {
    const open = this.#open;
    this.#open = undefined;
    return open === undefined ? [] : [open];
  }

  #row(atMs: number, value: number) {
    return {
      probe: this.#probe,
      fromMs: atMs,
      toMs: atMs,
      first: value,
      last: value,
      low: value,
      high: value,
      readings: 1,
    };
  }

  #closes(open: KeptRow, atMs: number, value: number): boolean {
    if (slotOf(atMs) !== slotOf(open.fromMs) || atMs - open.toMs > GAP_MS) return true;
    const step = this.#what === 'temp' ? STEP_K : STEP_SHARE * Math.max(Math.abs(open.first), 1e-3);
    return Math.abs(value - open.first) > step && atMs - open.fromMs >= LEAST_MS;
  }
}

/** Rows as samples: where each began and ended. For drawing and for judging what is long past. */
export function samplesOf(rows: readonly KeptRow[]): ProbeSample[] {
  return rows.flatMap((r) =>
    r.toMs === r.fromMs
      ? [{ atMs: r.fromMs, value: r.first }]
      : [
          { atMs: r.fromMs, value: r.first },
          { atMs: r.toMs, value: r.last },
        ],
  );
}

/**
 * What the forecast hears of a probe: the last sample of each full five minutes of the clock that
 * is over. The same of raw readings and of kept rows.
 *
 * @param samples believed ones, in order of time
 * @param nowMs the five minutes it falls into are not over
 */
export function thinned(samples: readonly ProbeSample[], nowMs: number): ProbeSample[] {
  return samples.filter((s, n) => {
    const next = samples[n + 1];
    const slot = slotOf(s.atMs);
    return slot < slotOf(nowMs) && (next === undefined || slotOf(next.atMs) !== slot);
  });
}
