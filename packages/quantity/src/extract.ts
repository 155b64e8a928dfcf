import {
  type GramsPer100mL,
  gramsPer100mL,
  type Plato,
  plato,
  type SpecificGravity,
  specificGravity,
} from './brands.ts';
import { fail, ok, type QuantityError, type QuantityErrorCode, type Result } from './result.ts';
import { LONGEST_ENTRY, scan, tidy } from './scan.ts';
import { normaliseUnit } from './units.ts';

/**
 * Extract as it was written. Turning one notation into another needs the density of wort and is
 * done in the room `matter`; here the notation is only read and kept apart.
 */
export type Extract =
  | { readonly notation: 'plato'; readonly value: Plato }
  | { readonly notation: 'sg'; readonly value: SpecificGravity }
  | { readonly notation: 'g/100mL'; readonly value: GramsPer100mL };
export type ExtractNotation = Extract['notation'];

/** What each notation may hold: spent beer to the thickest first runnings and worts. */
export const EXTRACT_LIMITS: Readonly<Record<ExtractNotation, { min: number; max: number }>> = {
  plato: { min: -5, max: 40 },
  sg: { min: 0.98, max: 1.18 },
  'g/100mL': { min: -5, max: 47 },
};

const SPELLINGS: Readonly<Record<string, ExtractNotation>> = {
  p: 'plato',
  degp: 'plato',
  plato: 'plato',
  '%': 'plato',
  '%w/w': 'plato',
  sg: 'sg',
  'g/100ml': 'g/100mL',
  '%w/v': 'g/100mL',
};

const ALLOWED = '-5 to 40 °P, or SG 0.980 to 1.180';

function refuse(
  code: QuantityErrorCode,
  field: string,
  value: string,
  why: string,
): { readonly ok: false; readonly error: QuantityError } {
  const shown = value.length > LONGEST_ENTRY ? `${value.slice(0, LONGEST_ENTRY)}…` : value;
  return fail({
    code,
    field,
    value: shown,
    allowed: ALLOWED,
    message: `${field}: "${shown}" ${why}; allowed: ${ALLOWED}. Enter an extract such as "12 °P" or "1.048".`,
  });
}

/**
 * Reads an extract in the brewer's notation.
 *
 * A bare number between 0.98 and 1.18 is a specific gravity, between 980 and 1180 a specific
 * gravity written without its point, anything else within limits is °P.
 *
 * @param input text such as "12.5 °P", "12,5p", "1.048", "SG 1.048", "1048", "12.6 g/100 mL";
 *   a number (not text) is read like a bare number
 * @param options name of the field
 * @returns the value tagged with its notation, or the refusal
 * @example parseExtract('1.048') // { ok: true, value: { notation: 'sg', value: 1.048 } }
 */
export function parseExtract(
  input: unknown,
  options: { readonly field?: string } = {},
): Result<Extract, QuantityError> {
  const field = options.field ?? 'extract';
  if (typeof input === 'number') return tag(input, undefined, field, String(input));
  if (typeof input !== 'string' || input.trim() === '') {
    return refuse('empty', field, typeof input === 'string' ? '' : typeof input, 'is empty');
  }
  if (input.length > LONGEST_ENTRY) return refuse('too-long', field, input, 'is too long');
  let text = tidy(input);
  let notation: ExtractNotation | undefined;
  if (text.toLowerCase().startsWith('sg')) {
    notation = 'sg';
    text = text.slice(2).trim();
  }
  // The digits of "g/100 mL" belong to the unit and would read as a second number.
  const slash = text.indexOf('/');
  if (slash > 0 && normaliseUnit(text.slice(slash - 1)) === 'g/100ml') {
    notation = 'g/100mL';
    text = text.slice(0, slash - 1);
  }
  const scanned = scan(separateGravity(text));
  if (!scanned.ok) {
    if (scanned.error === 'too-many-numbers') {
      return refuse('too-many-numbers', field, input, 'holds more than one number');
    }
    return refuse(scanned.error, field, input, 'is not a number that can be read');
  }
  const [term, second] = scanned.value;
  if (term === undefined || second !== undefined) {
    return refuse('too-many-numbers', field, input, 'holds more than one number');
  }
  if (term.unitText !== '') {
    const spelt = SPELLINGS[normaliseUnit(term.unitText)];
    if (spelt === undefined || (notation !== undefined && notation !== spelt)) {
      return refuse(
        'unknown-unit',
        field,
        input,
        'has a unit that is not known here (°P, SG, g/100 mL)',
      );
    }
    notation = spelt;
  }
  return tag(term.number, notation, field, input);
}

/** "1,048" is a gravity with a decimal comma, not one thousand and forty-eight in doubt. */
function separateGravity(text: string): string {
  const comma = text.indexOf(',');
  return comma >= 0 && !text.includes('.')
    ? `${text.slice(0, comma)}.${text.slice(comma + 1)}`
    : text;
}

function tag(
  n: number,
  notation: ExtractNotation | undefined,
  field: string,
  shown: string,
): Result<Extract, QuantityError> {
  if (!Number.isFinite(n))
    return refuse('not-finite', field, shown, 'is not a number that can be measured');
  const sg = EXTRACT_LIMITS.sg;
  const isWholeGravity = n >= sg.min * 1000 && n <= sg.max * 1000;
  const kind = notation ?? ((n >= sg.min && n <= sg.max) || isWholeGravity ? 'sg' : 'plato');
  const value = kind === 'sg' && isWholeGravity ? n / 1000 : n;
  const { min, max } = EXTRACT_LIMITS[kind];
  if (value < min || value > max)
    return refuse('out-of-range', field, shown, 'is outside the allowed range');
  if (kind === 'sg') return ok({ notation: kind, value: specificGravity(value) });
  if (kind === 'plato') return ok({ notation: kind, value: plato(value) });
  return ok({ notation: kind, value: gramsPer100mL(value) });
}
