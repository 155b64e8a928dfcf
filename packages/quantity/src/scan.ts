import { fail, ok, type QuantityErrorCode, type Result } from './result.ts';

/** A number as typed and the unit text that followed it ('' when none did). */
export interface Term {
  readonly number: number;
  readonly unitText: string;
  /** True when the number had no decimal part and no exponent. */
  readonly whole: boolean;
}

/** Longer entries are refused unread: nothing a brewer types for one quantity is this long. */
export const LONGEST_ENTRY = 64;

const isDigit = (ch: string | undefined): boolean => ch !== undefined && ch >= '0' && ch <= '9';
const isSpace = (ch: string | undefined): boolean => ch === ' ';

/** One spelling for minus signs, spaces and degree letters before anything is read. */
export function tidy(text: string): string {
  let out = '';
  for (const ch of text) {
    switch (ch) {
      case '\u2212': // minus sign
      case '\uFE63':
      case '\uFF0D':
        out += '-';
        break;
      case '\u2103':
        out += '°C';
        break;
      case '\u2109':
        out += '°F';
        break;
      case '\t':
      case '\n':
      case '\r':
      case '\u00A0':
      case '\u2007':
      case '\u2009':
      case '\u202F':
        out += ' ';
        break;
      default:
        out += ch;
    }
  }
  return out.trim();
}

/**
 * Splits an entry such as "5 lb 4 oz" into numbers and unit texts.
 *
 * A single pass over the characters, so that no entry, however odd, takes more than linear time.
 * A comma is a decimal comma; "1,500" could be either and is refused, "1,500.0" and "1.500,0" and
 * "0,125" are not in doubt.
 */
export function scan(text: string): Result<readonly Term[], QuantityErrorCode> {
  const terms: Term[] = [];
  let i = 0;
  while (i < text.length) {
    while (isSpace(text[i])) i++;
    const start = i;
    if (terms.length === 0 && (text[i] === '-' || text[i] === '+')) i++;
    while (isSpace(text[i])) i++;
    const negative = text[start] === '-';
    const bodyStart = i;
    while (isDigit(text[i]) || ((text[i] === '.' || text[i] === ',') && isPartOfNumber(text, i)))
      i++;
    const body = text.slice(bodyStart, i);
    if (body === '') return fail('not-a-number');
    let exponent = '';
    if (text[i] === 'e' || text[i] === 'E') {
      const signed = text[i + 1] === '+' || text[i + 1] === '-' ? 1 : 0;
      if (isDigit(text[i + 1 + signed])) {
        const from = i;
        i += 1 + signed;
        while (isDigit(text[i])) i++;
        exponent = text.slice(from, i);
      }
    }
    const plain = decimalPoint(body);
    if (!plain.ok) return plain;
    const number = Number(plain.value + exponent) * (negative ? -1 : 1);
    if (!Number.isFinite(number)) return fail('not-finite');
    const unitStart = i;
    while (i < text.length && !isDigit(text[i]) && !(text[i] === '.' && isDigit(text[i + 1]))) i++;
    // "m3" and "in2" carry their digit with them.
    if (isDigit(text[i]) && i > unitStart && isPowerDigit(text, i, unitStart)) i++;
    const unitText = text.slice(unitStart, i).trim();
    // "5-10": the reader is looking at a range, not at a unit.
    if (unitText === '-' || unitText === '–' || unitText === '/' || unitText === ',') {
      return fail('too-many-numbers');
    }
    terms.push({
      number,
      unitText,
      whole: plain.value === body && !body.includes('.') && exponent === '',
    });
  }
  return terms.length === 0 ? fail('empty') : ok(terms);
}

/** A separator belongs to the number when a digit follows it, or when it ends the digits ("5."). */
function isPartOfNumber(text: string, i: number): boolean {
  return isDigit(text[i + 1]) || (isDigit(text[i - 1]) && text[i] === '.');
}

function isPowerDigit(text: string, i: number, unitStart: number): boolean {
  const before = text.slice(unitStart, i).trim().toLowerCase();
  const after = text[i + 1];
  return (
    (before === 'm' || before === 'm^' || before.endsWith('/in')) &&
    (after === undefined || isSpace(after))
  );
}

/** Turns decimal commas and thousands separators into a plain decimal point. */
function decimalPoint(body: string): Result<string, QuantityErrorCode> {
  const commas = body.split(',').length - 1;
  const dots = body.split('.').length - 1;
  if (commas === 0 && dots <= 1) return ok(body);
  if (commas === 0 || dots === 0) {
    const mark = commas === 0 ? '.' : ',';
    const groups = body.split(mark);
    if (groups.length === 2) {
      const [head = '', tail = ''] = groups;
      if (tail.length === 3 && head !== '' && head.length <= 3 && !head.startsWith('0')) {
        return fail('ambiguous');
      }
      return ok(`${head}.${tail}`);
    }
    return areThousands(groups) ? ok(groups.join('')) : fail('not-a-number');
  }
  const decimalMark = body.lastIndexOf(',') > body.lastIndexOf('.') ? ',' : '.';
  const cut = body.lastIndexOf(decimalMark);
  const head = body.slice(0, cut);
  const groups = head.split(decimalMark === ',' ? '.' : ',');
  if (head.includes(decimalMark) || !areThousands(groups)) return fail('not-a-number');
  return ok(`${groups.join('')}.${body.slice(cut + 1)}`);
}

function areThousands(groups: readonly string[]): boolean {
  return groups.every((g, n) => (n === 0 ? g.length >= 1 && g.length <= 3 : g.length === 3));
}
