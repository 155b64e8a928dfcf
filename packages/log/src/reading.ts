/** What a reading means: how far to trust it, and whether it can be true at all. */
import { format, type Kind, type UnitPair } from '@ladlework/quantity';
import type { ReadingData, ReadingWhat } from './event.ts';

/**
 * Standard error of a reading taken in one place, and stirred and read in three, in the unit of
 * what is read. Temperature: plumes and cold bottoms in an unstirred mash; volume as a share of
 * the value: buckets and dips are off by 5-10 %.
 *
 * @source common practice, no source; a kit's own calibration replaces them when it is known
 */
const STANDARD_ERROR: Readonly<Record<ReadingWhat, { one: number; three: number; share?: true }>> =
  {
    temp: { one: 1.0, three: 0.3 },
    volume: { one: 0.05, three: 0.03, share: true },
    gravity: { one: 0.2, three: 0.1 },
    ph: { one: 0.1, three: 0.05 },
    iodine: { one: 0.25, three: 0.25 },
    level: { one: 0.01, three: 0.005 },
  };

/**
 * Standard error of a reading.
 *
 * @param reading as logged; its own `sdK` wins when the three places gave one
 * @returns in the unit of `what`: K, L, °P, pH, share, m; above zero
 */
export function readingSd(
  reading: Pick<ReadingData, 'what' | 'value' | 'places' | 'settled' | 'sdK'>,
): number {
  const e = STANDARD_ERROR[reading.what];
  const unsettled = reading.settled ? 1 : 2;
  const base = (reading.places === 3 ? e.three : e.one) * unsettled;
  // Three places that agree by luck do not make a thermometer better than it is.
  const own = reading.sdK ?? 0;
  return Math.max(own, e.share ? base * Math.max(Math.abs(reading.value), 1) : base);
}

/** What is known about the box a reading is for. All optional but the unit pair. */
export interface ReadingContext {
  /** Name of the vessel as the brewer knows it. */
  readonly vesselName?: string;
  readonly brimL?: number;
  /** Depth of the vessel [m]. */
  readonly depthM?: number;
  /** Boiling point at the brewery [°C]. */
  readonly boilingPointC?: number;
  /** What the plan or the forecast expects, in the unit of `what`. */
  readonly expected?: number;
  /** Units for the message. */
  readonly pair: UnitPair;
}

export type ReadingCheck =
  | { readonly ok: true }
  | {
      readonly ok: false;
      /** impossible: refuse. doubtful: ask once more, then take it. */
      readonly verdict: 'impossible' | 'doubtful';
      readonly code: 'not-a-number' | 'out-of-range' | 'far-from-expected';
      readonly field: string;
      readonly value: string;
      readonly allowed: string;
      readonly message: string;
    };

/** What can stand in a brewhouse vessel at all, and how far from expected is worth a second look. */
const LIMITS: Readonly<
  Record<ReadingWhat, { low: number; high: number; far: number; noun: string; kind?: Kind }>
> = {
  temp: { low: 0, high: 105, far: 8, noun: 'temperature', kind: 'temperature' },
  volume: { low: 0, high: 20_000, far: 0.3, noun: 'volume', kind: 'volume' },
  gravity: { low: -3, high: 40, far: 4, noun: 'extract' },
  ph: { low: 2, high: 12, far: 0.6, noun: 'pH' },
  iodine: { low: 0, high: 1, far: 2, noun: 'iodine test' },
  level: { low: 0, high: 10, far: 0.3, noun: 'level', kind: 'length' },
};

/** A thermometer may show this much above the boiling point: strong wort, scale error [K]. */
const ABOVE_BOIL_K = 2;
/** A vessel heaped to the rim may be read a little above its brim, as a share. */
const ABOVE_BRIM = 1.02;

/**
 * Whether a reading can be true.
 *
 * @param reading value in the unit of `what`
 * @param context what is known about the vessel; what is left out is not checked
 * @returns ok, or a refusal (`impossible`) or a question (`doubtful`) that names field, value, range
 */
export function checkReading(
  reading: Pick<ReadingData, 'vessel' | 'what' | 'value' | 'text'>,
  context: ReadingContext,
): ReadingCheck {
  const { what, value } = reading;
  const limits = LIMITS[what];
  const field = `${context.vesselName ?? reading.vessel} ${limits.noun}`;
  const say = (x: number) => shown(what, x, context.pair);
  const refuse = (
    verdict: 'impossible' | 'doubtful',
    code: 'not-a-number' | 'out-of-range' | 'far-from-expected',
    low: number,
    high: number,
    why: string,
  ): ReadingCheck => {
    const text = Number.isFinite(value) ? say(value) : reading.text;
    const allowed = `${say(low)} to ${say(high)}`;
    return {
      ok: false,
      verdict,
      code,
      field,
      value: text,
      allowed,
      message: `${field}: ${text} ${why}; ${verdict === 'impossible' ? 'possible' : 'expected'}: ${allowed}.`,
    };
  };

  const high = highest(what, limits.high, context);
  if (!Number.isFinite(value)) {
    return refuse('impossible', 'not-a-number', limits.low, high, 'is not a number');
  }
  if (value < limits.low || value > high) {
    const why =
      what === 'volume' && value > high
        ? 'is more than the vessel holds'
        : what === 'temp' && value > high
          ? 'is above the boiling point here'
          : 'cannot be true';
    return refuse('impossible', 'out-of-range', limits.low, high, `${why}. Read again`);
  }
  if (context.expected !== undefined) {
    const far = what === 'volume' ? limits.far * context.expected : limits.far;
    if (Math.abs(value - context.expected) > far) {
      return refuse(
        'doubtful',
        'far-from-expected',
        Math.max(limits.low, context.expected - far),
        Math.min(high, context.expected + far),
        'is far from what was expected. Stir, read again, or keep it',
      );
    }
  }
  return { ok: true };
}

function highest(what: ReadingWhat, high: number, context: ReadingContext): number {
  if (what === 'temp' && context.boilingPointC !== undefined) {
    return Math.min(high, context.boilingPointC + ABOVE_BOIL_K);
  }
  if (what === 'volume' && context.brimL !== undefined) return context.brimL * ABOVE_BRIM;
  if (what === 'level' && context.depthM !== undefined) return context.depthM * ABOVE_BRIM;
  return high;
}

function shown(what: ReadingWhat, value: number, pair: UnitPair): string {
  const { kind } = LIMITS[what];
  if (kind !== undefined) return format(kind, value, pair);
  const digits = what === 'ph' ? 2 : 1;
  return what === 'gravity' ? `${value.toFixed(digits)} °P` : value.toFixed(digits);
}
