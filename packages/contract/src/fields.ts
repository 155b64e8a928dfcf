/** Building blocks of the schemas: quantities with units, ids, names, whole numbers. */
import { KINDS, type Kind, parseClock, parseQuantity } from '@ladlework/quantity';
import * as v from 'valibot';
import { houseUnit, type Measure, parseMeasure } from './measure.ts';

/** What parseQuantity says before the reason; cut off, the path of the field takes its place. */
const NO_FIELD = 'field';

/** A number in the house unit or text with a unit, as JSON Schema. */
function numberOrText(unit: string, low: number, high: number, text: string) {
  return {
    anyOf: [
      { type: 'number', minimum: low, maximum: high },
      { type: 'string', maxLength: 60 },
    ],
    description: `${low} to ${high}${unit === '' ? '' : ` ${unit}`}, or text such as ${text}`,
  };
}

type Reading = { ok: true; value: number } | { ok: false; allowed: string; why: string };

/** A schema that reads one quantity; `expected` of its issue carries the allowed range. */
function reader(json: Record<string, unknown>, read: (input: unknown) => Reading) {
  return v.pipe(
    v.unknown(),
    v.metadata(json),
    v.rawTransform<unknown, number>(({ dataset, addIssue, NEVER }) => {
      const result = read(dataset.value);
      if (result.ok) return result.value;
      addIssue({ expected: result.allowed, message: result.why });
      return NEVER;
    }),
  );
}

/**
 * A quantity of a kind `quantity` knows.
 *
 * @param kind decides units and house unit
 * @param low least value taken, house unit
 * @param high greatest value taken, house unit
 */
export function quantity(kind: Kind, low: number, high: number) {
  const spec = KINDS[kind];
  return reader(numberOrText(spec.house, low, high, spec.examples), (input) => {
    const read = parseQuantity(kind, input, { min: low, max: high, field: NO_FIELD });
    if (read.ok) return read;
    const { allowed, message } = read.error;
    return { ok: false, allowed, why: message.slice(NO_FIELD.length + 2) };
  });
}

/** A quantity of a kit sheet's own measures. */
export function measure(kind: Measure, low: number, high: number) {
  const unit = houseUnit(kind);
  const example = kind === 'share' ? '"65 %"' : `"1 ${unit}"`;
  return reader(numberOrText(unit, low, high, example), (input) => {
    const read = parseMeasure(kind, input, low, high);
    if (read.ok) return read;
    const { value, allowed, why } = read.error;
    return { ok: false, allowed, why: `"${value}" ${why}; allowed: ${allowed}.` };
  });
}

/** A time of day as minutes after midnight, or "06:00". */
export function clockTime() {
  const json = numberOrText('minutes after midnight', 0, 1439, '"06:00"');
  return reader(json, (input) => {
    if (typeof input === 'number' && Number.isFinite(input) && input >= 0 && input < 1440) {
      return { ok: true, value: input };
    }
    const read = parseClock(typeof input === 'number' ? `${input} minutes` : input, {
      field: NO_FIELD,
    });
    if (read.ok) return read;
    const { allowed, message } = read.error;
    return { ok: false, allowed, why: message.slice(NO_FIELD.length + 2) };
  });
}

/** A plain number without a unit of its own: pH, EBC, °WK. */
export function plain(low: number, high: number, unit = '') {
  const allowed = `${low} to ${high}${unit === '' ? '' : ` ${unit}`}`;
  const json = {
    type: 'number',
    minimum: low,
    maximum: high,
    description: allowed,
  };
  return reader(json, (input) => {
    if (typeof input === 'number' && input >= low && input <= high) {
      return { ok: true, value: input };
    }
    const shown = typeof input === 'number' ? String(input) : JSON.stringify(input)?.slice(0, 60);
    const what = typeof input === 'number' ? 'is outside the allowed range' : 'is not a number';
    return { ok: false, allowed, why: `${shown} ${what}; allowed: ${allowed}.` };
  });
}

/** A whole number. */
export function whole(low: number, high: number) {
  return v.pipe(
    v.number(),
    v.integer('is not a whole number'),
    v.minValue(low, `must be ${low} or more`),
    v.maxValue(high, `must be ${high} or less`),
  );
}

/** Text a person wrote, one line, not blank. */
export function line(maxLength: number) {
  return v.pipe(
    v.string(),
    v.maxLength(maxLength, `is longer than ${maxLength} characters`),
    v.regex(/\S/, 'is blank'),
    v.check((text) => !hasControls(text, ''), 'has control characters or line breaks'),
  );
}

/** Text a person wrote; line breaks and tabs allowed, may be empty. */
export function prose(maxLength: number) {
  return v.pipe(
    v.string(),
    v.maxLength(maxLength, `is longer than ${maxLength} characters`),
    v.check((text) => !hasControls(text, '\n\r\t'), 'has control characters'),
  );
}

function hasControls(text: string, allowed: string): boolean {
  for (const ch of text) {
    const code = ch.codePointAt(0) ?? 0;
    if ((code < 0x20 || code === 0x7f) && !allowed.includes(ch)) return true;
  }
  return false;
}

/** Id of a vessel, burner, move: it keys tables in the engine. */
export function shortId() {
  return v.pipe(
    v.string(),
    v.regex(
      /^[A-Za-z0-9][A-Za-z0-9_.-]{0,63}$/,
      'must begin with a letter or digit and hold at most 64 letters, digits, dots, dashes, underscores',
    ),
    // "constructor" in a plain object finds what nobody put there.
    v.check((id) => !(id in {}), 'is a word with a meaning of its own in JavaScript'),
  );
}

/** An object without unknown fields; a misspelt one is told with the names there are. */
export function sheet<const E extends v.ObjectEntries>(entries: E) {
  return v.strictObject(entries, (issue) => {
    if (issue.expected === 'never') return `${KNOWN}${Object.keys(entries).join(', ')}`;
    const key = issue.expected?.replaceAll('"', '') ?? '';
    const entry = Object.hasOwn(entries, key) ? entries[key] : undefined;
    return entry === undefined ? issue.message : `${WANTED}${wanted(entry)}`;
  });
}

/** Marks by which `errors.ts` knows the two messages of a sheet. */
export const KNOWN = 'known: ';
export const WANTED = 'wanted: ';

/** What a missing field should have held. */
function wanted(schema: v.ObjectEntries[string]): string {
  if (schema.kind !== 'schema') return 'a value';
  // The pipes of this file put what is allowed into the metadata.
  const { description } = v.getMetadata(schema as Parameters<typeof v.getMetadata>[0]);
  return typeof description === 'string' ? description : plainWord(schema.expects);
}

/** A type as valibot names it, in plain words. */
export function plainWord(expects: string): string {
  const words: Readonly<Record<string, string>> = {
    Object: 'an object',
    Array: 'a list',
    string: 'text',
    number: 'a number',
    boolean: 'true or false',
  };
  return (
    words[expects] ??
    expects
      .split(' | ')
      .map((w) => words[w] ?? w.replace(/^\(/, '').replace(/\)$/, ''))
      .join(', ')
  );
}

/** A list of `least` to `most` items. */
export function few<S extends v.GenericSchema>(item: S, least: number, most: number) {
  return v.pipe(
    v.array(item),
    v.minLength(least, `has fewer than ${least}`),
    v.maxLength(most, `has more than ${most}`),
  );
}
