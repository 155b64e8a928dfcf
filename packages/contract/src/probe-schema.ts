/** A probe as it comes over the wire, and what it may send. */
import {
  calibrated,
  PROBE_KIND,
  type Probe,
  type ProbeSample,
  type ProbeWhat,
} from '@ladlework/log';
import { findUnit, parseQuantity, toHouse } from '@ladlework/quantity';
import * as v from 'valibot';
import { contradiction, type FieldError, fieldErrors } from './errors.ts';
import { few, line, plain, prose, sheet, shortId, whole } from './fields.ts';
import type { Parsed } from './parse.ts';

/** Topic levels without wildcards; MQTT 5.0 section 4.7 keeps those and `$` for its own use. */
const topic = () =>
  v.pipe(
    line(200),
    v.check(
      (text) => !text.startsWith('$') && !/[+#]/.test(text),
      'must not begin with $ nor hold + or #: a probe has one topic',
    ),
  );

const Point = sheet({
  shows: plain(-1000, 20_000),
  is: plain(-1000, 20_000),
  by: v.picklist(['ice', 'boiling', 'known']),
});

export const ProbeSchema = sheet({
  id: shortId(),
  name: line(80),
  kit: shortId(),
  vessel: shortId(),
  what: v.picklist(['temp', 'volume', 'level']),
  unit: line(12),
  sd: plain(0.01, 5),
  points: few(Point, 0, 2),
  offset: plain(-1000, 1000),
  topic: v.exactOptional(topic()),
  token: whole(1, 1_000_000),
});

/** Two points nearer than this leave the slope to chance [K]; for the others a share of the larger. */
const LEAST_APART_K = 20;
const LEAST_APART_SHARE = 0.2;
/** No working instrument is further from one to one than this. */
const SLOPE = { low: 0.8, high: 1.25 };
/** A calibration that moves a thermometer further than this says that it is broken [K]. */
const MOST_SHIFT_K = 15;

/** What contradicts itself in a probe of the right shape. */
export function probeContradictions(probe: Probe): FieldError[] {
  const errors: FieldError[] = [];
  const kind = PROBE_KIND[probe.what];
  if (findUnit(kind, probe.unit) === undefined) {
    const allowed = {
      temp: '°C, °F or K',
      volume: 'L, hL, gal, qt or bbl',
      level: 'm, cm, mm, in or ft',
    };
    const why = `"${probe.unit}" is no unit of what this probe measures; allowed: ${allowed[probe.what]}.`;
    errors.push(contradiction(probe, ['unit'], probe.unit, allowed[probe.what], why));
  }
  const [first, second] = probe.points;
  if (first !== undefined && second !== undefined) {
    const apart = Math.abs(second.shows - first.shows);
    const least =
      probe.what === 'temp'
        ? LEAST_APART_K
        : LEAST_APART_SHARE * Math.max(Math.abs(first.shows), Math.abs(second.shows));
    const slope = (second.is - first.is) / (second.shows - first.shows);
    if (!(apart >= least && apart > 0)) {
      const why = `the two points are ${apart.toFixed(1)} apart; allowed: ${least.toFixed(1)} or more. Take one in ice water and one at the boil.`;
      errors.push(
        contradiction(probe, ['points'], apart, `${least.toFixed(1)} or more apart`, why),
      );
    } else if (!(slope >= SLOPE.low && slope <= SLOPE.high)) {
      const why = `the two points make ${slope.toFixed(2)} of one; allowed: ${SLOPE.low} to ${SLOPE.high}. Check which was which.`;
      errors.push(
        contradiction(probe, ['points'], slope, `slope ${SLOPE.low} to ${SLOPE.high}`, why),
      );
    }
  }
  if (errors.length === 0 && probe.what === 'temp') {
    // A straight line is furthest off at an end of what a brewhouse holds.
    for (const shows of [0, 100]) {
      const shift = calibrated(probe, shows) - shows;
      if (Math.abs(shift) <= MOST_SHIFT_K) continue;
      const why = `the calibration moves ${shows} °C by ${shift.toFixed(1)} K; allowed: ${MOST_SHIFT_K} K. Read again; a probe that far off is broken.`;
      errors.push(contradiction(probe, ['points'], shift, `within ${MOST_SHIFT_K} K`, why));
      break;
    }
  }
  return errors;
}

/** Most readings in one message. */
export const MOST_READINGS = 1000;

const One = sheet({
  /** A number in the probe's unit or in `unit`, or text with a unit: "62.4 °C". */
  value: v.union([v.number(), v.pipe(v.string(), v.maxLength(60))]),
  unit: v.exactOptional(prose(12)),
  /** When it was so [ms since 1970], for devices with a clock; else when it arrives. */
  atMs: v.exactOptional(whole(0, Date.UTC(2100, 0, 1))),
});

/** What a probe may send: one reading, a list of them, or a bare number. */
export const ProbeReadingsBody = v.union([
  One,
  few(One, 1, MOST_READINGS),
  v.number(),
  sheet({ readings: few(One, 1, MOST_READINGS) }),
]);

/** A reading as sent, in the house unit; without a time when the device has no clock. */
export interface SentReading {
  readonly value: number;
  readonly atMs?: number;
}

/** What an instrument can show at all, broken or not: beyond it is another unit or no number. */
const CAN_SHOW: Readonly<Record<ProbeWhat, { low: number; high: number }>> = {
  temp: { low: -200, high: 1000 },
  volume: { low: -1000, high: 20_000 },
  level: { low: -10, high: 100 },
};

/**
 * Reads what a probe sent.
 *
 * @param probe whose unit a bare number is in
 * @param json parsed JSON of any of the forms of `ProbeReadingsBody`, or the text of a bare number
 * @returns readings in the house unit, not yet calibrated, or what is wrong with the first bad one
 */
export function parseProbeReadings(
  probe: Pick<Probe, 'what' | 'unit'>,
  json: unknown,
): Parsed<'readings', readonly SentReading[]> {
  const list = listOf(json);
  const readings: SentReading[] = [];
  if (list.length === 0 || list.length > MOST_READINGS) {
    return refuse(
      'readings',
      `a list of ${list.length}`,
      `1 to ${MOST_READINGS}`,
      'Send fewer at once',
    );
  }
  for (const [n, item] of list.entries()) {
    const where = list.length === 1 ? '' : `readings[${n}].`;
    const wrapped = typeof item === 'object' && item !== null ? item : { value: item };
    const parsed = v.safeParse(One, wrapped);
    if (!parsed.success) {
      const errors = fieldErrors(wrapped, parsed.issues).map((e) => ({
        ...e,
        field: `${where}${e.field}`,
        message: `${where}${e.message}`,
      }));
      return { ok: false, errors };
    }
    const value = readValue(probe, parsed.output, `${where}value`);
    if (!value.ok) return value;
    const { atMs } = parsed.output;
    readings.push({ value: value.value, ...(atMs !== undefined && { atMs }) });
  }
  return { ok: true, readings };
}

function listOf(json: unknown): readonly unknown[] {
  if (Array.isArray(json)) return json;
  if (typeof json === 'object' && json !== null && Object.hasOwn(json, 'readings')) {
    const { readings, ...rest } = json as { readings: unknown };
    if (Array.isArray(readings) && Object.keys(rest).length === 0) return readings;
  }
  return [json];
}

function readValue(
  probe: Pick<Probe, 'what' | 'unit'>,
  one: v.InferOutput<typeof One>,
  field: string,
): Parsed<'value', number> {
  const kind = PROBE_KIND[probe.what];
  const limits = CAN_SHOW[probe.what];
  const name = one.unit ?? probe.unit;
  const text = typeof one.value === 'string' ? one.value.trim() : one.value;
  const bare = typeof text === 'number' ? text : /^[+-]?\d/.test(text) ? Number(text) : Number.NaN;
  if (Number.isFinite(bare)) {
    const unit = findUnit(kind, name);
    if (unit === undefined) {
      return refuse('unit', `"${name}"`, `a unit of ${probe.what}`, 'Check the spelling');
    }
    const value = toHouse(kind, unit.symbol, bare);
    if (value >= limits.low && value <= limits.high) return { ok: true, value };
    return refuse(
      field,
      `${bare} ${name}`,
      `${limits.low} to ${limits.high}`,
      'Check wire and unit',
    );
  }
  const read = parseQuantity(kind, text, { min: limits.low, max: limits.high, field });
  if (read.ok) return { ok: true, value: read.value };
  const { allowed, message } = read.error;
  return {
    ok: false,
    errors: [{ code: 'wrong-type', field, value: String(text), allowed, message }],
  };
}

function refuse(field: string, value: string, allowed: string, what: string) {
  const message = `${field}: ${value} is outside the allowed range; allowed: ${allowed}. ${what}.`;
  const error: FieldError = { code: 'out-of-range', field, value, allowed, message };
  return { ok: false as const, errors: [error] };
}

/** Calibrated samples of one probe, for the page and the forecast. */
export interface ProbeSeries {
  readonly probe: Probe;
  /** In order of time. */
  readonly samples: readonly ProbeSample[];
}
