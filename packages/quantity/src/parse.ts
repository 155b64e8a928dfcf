import { fail, ok, type QuantityError, type QuantityErrorCode, type Result } from './result.ts';
import { LONGEST_ENTRY, scan, type Term, tidy } from './scan.ts';
import {
  findUnit,
  fromHouse,
  KINDS,
  type Kind,
  type KindMap,
  toHouse,
  type Unit,
} from './units.ts';

/** How one field wants its quantity. */
export interface ParseOptions {
  /** Unit of a bare number; the house unit when not given. */
  readonly defaultUnit?: string;
  /** Least value taken, house unit. */
  readonly min?: number;
  /** Greatest value taken, house unit. */
  readonly max?: number;
  /** The field's name as the brewer sees it. */
  readonly field?: string;
}

/** Seven significant figures are more than any reading holds and hide binary tails. */
const plainNumber = (x: number): string => String(Number(x.toPrecision(7)));

const inUnit = (kind: Kind, u: Unit, house: number): string =>
  `${plainNumber(fromHouse(kind, u.symbol, house))} ${u.symbol}`;

/** "20 °C to 100 °C", "0 L or more", "up to 5 kg". */
function allowedText(kind: Kind, u: Unit, min: number, max: number): string {
  if (min > -Infinity && max < Infinity)
    return `${inUnit(kind, u, min)} to ${inUnit(kind, u, max)}`;
  if (min > -Infinity) return `${inUnit(kind, u, min)} or more`;
  if (max < Infinity) return `up to ${inUnit(kind, u, max)}`;
  return `any ${KINDS[kind].noun}`;
}

const REASONS: Readonly<Record<QuantityErrorCode, string>> = {
  empty: 'is empty',
  'too-long': 'is too long to be one quantity',
  'not-a-number': 'does not begin with a number',
  'not-finite': 'is not a number that can be measured',
  ambiguous: 'could mean two numbers (a decimal comma or a thousands comma)',
  'too-many-numbers': 'holds more than one number',
  'unknown-unit': 'has a unit that is not known here',
  'out-of-range': 'is outside the allowed range',
};

const ADVICE: Readonly<Partial<Record<QuantityErrorCode, string>>> = {
  ambiguous: 'Leave out the thousands mark, or write a decimal point.',
  'too-many-numbers': 'Enter one number.',
};

function refuse(
  code: QuantityErrorCode,
  kind: Kind,
  value: string,
  options: ParseOptions,
  shownUnit: Unit,
): { readonly ok: false; readonly error: QuantityError } {
  const spec = KINDS[kind];
  const field = options.field ?? spec.noun;
  const { min, max } = limits(kind, options);
  const allowed = allowedText(kind, shownUnit, min, max);
  const shown = value.length > LONGEST_ENTRY ? `${value.slice(0, LONGEST_ENTRY)}…` : value;
  const units = spec.units.map((u) => u.symbol).join(', ');
  const advice =
    code === 'out-of-range'
      ? 'Check the number and its unit.'
      : (ADVICE[code] ?? `Enter a ${spec.noun} such as ${spec.examples}.`);
  const known = code === 'unknown-unit' ? ` Units known: ${units}.` : '';
  return fail({
    code,
    field,
    value: shown,
    allowed,
    message: `${field}: "${shown}" ${REASONS[code]}; allowed: ${allowed}. ${advice}${known}`,
  });
}

function limits(kind: Kind, options: ParseOptions): { min: number; max: number } {
  const spec = KINDS[kind];
  return {
    min: Math.max(spec.floor, options.min ?? spec.min),
    max: options.max ?? Infinity,
  };
}

/**
 * Reads a quantity a person typed or a file holds.
 *
 * Text: a number, with or without a unit ("152f", "62 °C", "3 bbl", "4,5 kg", ".5", "5 lb 4 oz");
 * times also as "1:05" and "1h05". A number (not text) is taken to be in the house unit already.
 *
 * @param kind what is measured; decides the units known and the house unit of the result
 * @param input the text, or a number in the house unit
 * @param options unit of a bare number, limits in the house unit, name of the field
 * @returns the value in the house unit (°C, K, L, kg, min, kW, kPa, m, kWh, L/kg), or the refusal
 * @throws RangeError when `defaultUnit` is not a unit of the kind (a bug)
 * @example parseQuantity('temperature', '152f') // { ok: true, value: 66.67 }
 */
export function parseQuantity<K extends Kind>(
  kind: K,
  input: unknown,
  options: ParseOptions = {},
): Result<KindMap[K], QuantityError> {
  const spec = KINDS[kind];
  const defaultSymbol = options.defaultUnit ?? spec.house;
  const defaultUnit = findUnit(kind, defaultSymbol);
  if (defaultUnit === undefined)
    throw new RangeError(`no unit "${defaultSymbol}" for ${spec.noun}`);
  const houseUnit = findUnit(kind, spec.house) ?? defaultUnit;

  if (typeof input === 'number') {
    if (!Number.isFinite(input))
      return refuse('not-finite', kind, String(input), options, houseUnit);
    return within(kind, input as KindMap[K], plainNumber(input), options, houseUnit);
  }
  if (typeof input !== 'string') {
    const shown = input === null || input === undefined ? '' : typeof input;
    return refuse(shown === '' ? 'empty' : 'not-a-number', kind, shown, options, defaultUnit);
  }
  if (input.length > LONGEST_ENTRY) return refuse('too-long', kind, input, options, defaultUnit);
  const text = tidy(input);
  if (text === '') return refuse('empty', kind, text, options, defaultUnit);

  if (kind === 'duration' && text.includes(':')) {
    const read = readColonTime(text);
    if (read === undefined) return refuse('not-a-number', kind, text, options, defaultUnit);
    return within(kind, read as KindMap[K], text, options, defaultUnit);
  }
  const scanned = scan(text);
  if (!scanned.ok) return refuse(scanned.error, kind, text, options, defaultUnit);
  const summed = sumTerms(kind, scanned.value, defaultUnit);
  if (!summed.ok) return refuse(summed.error, kind, text, options, defaultUnit);
  return within(kind, summed.value.house as KindMap[K], text, options, summed.value.unit);
}

function within<K extends Kind>(
  kind: K,
  value: KindMap[K],
  text: string,
  options: ParseOptions,
  shownUnit: Unit,
): Result<KindMap[K], QuantityError> {
  const { min, max } = limits(kind, options);
  if (!Number.isFinite(value)) return refuse('not-finite', kind, text, options, shownUnit);
  // A limit met exactly must pass in every unit: 32 °F is 0 °C whatever the last bit says.
  const slack = 1e-12 * Math.max(1, Math.abs(value));
  if (value < min - slack || value > max + slack) {
    return refuse('out-of-range', kind, text, options, shownUnit);
  }
  return ok(value);
}

/** Adds up "5 lb 4 oz"; units must follow one another downwards and only the last may be broken. */
function sumTerms(
  kind: Kind,
  terms: readonly Term[],
  defaultUnit: Unit,
): Result<{ house: number; unit: Unit }, QuantityErrorCode> {
  const { compound } = KINDS[kind];
  let house = 0;
  let last = -1;
  let first: Unit | undefined;
  const sign = (terms[0]?.number ?? 0) < 0 ? -1 : 1;
  for (const [n, term] of terms.entries()) {
    let u: Unit | undefined;
    if (term.unitText !== '') u = findUnit(kind, term.unitText);
    else if (n === 0) u = defaultUnit;
    else if (last >= 0 && n === terms.length - 1) u = findUnit(kind, compound[last + 1] ?? ''); // "1h05"
    if (u === undefined) return fail(term.unitText === '' ? 'too-many-numbers' : 'unknown-unit');
    if (terms.length > 1) {
      const place = compound.indexOf(u.symbol);
      const broken = n < terms.length - 1 && !term.whole;
      const bare = n === 0 && term.unitText === '';
      if (place <= last || broken || bare) return fail('too-many-numbers');
      last = place;
    }
    first ??= u;
    house +=
      n === 0 ? toHouse(kind, u.symbol, term.number) : sign * toHouse(kind, u.symbol, term.number);
  }
  return ok({ house, unit: first ?? defaultUnit });
}

/** "1:05" is 1 h 5 min, "0:05:30" is 5 min 30 s. */
function readColonTime(text: string): number | undefined {
  const parts = text.split(':');
  if (parts.length < 2 || parts.length > 3) return undefined;
  let total = 0;
  for (const [n, part] of parts.entries()) {
    if (part === '' || part.length > (n === 0 ? 4 : 2)) return undefined;
    for (const ch of part) if (ch < '0' || ch > '9') return undefined;
    const value = Number(part);
    if (n > 0 && value > 59) return undefined;
    total += n === 0 ? value * 60 : n === 1 ? value : value / 60;
  }
  return total;
}
