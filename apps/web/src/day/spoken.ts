/** Numbers as they are said at a kettle, to what the parser of quantities reads. Pure. */
import type { ReadingWhat } from '@ladlework/log';
import { toPlato } from '@ladlework/matter';
import {
  entryUnit,
  fail,
  type Kind,
  ok,
  parseExtract,
  parseQuantity,
  type Result,
  type UnitPair,
} from '@ladlework/quantity';

const ONES: Readonly<Record<string, number>> = {
  zero: 0,
  oh: 0,
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
  eleven: 11,
  twelve: 12,
  thirteen: 13,
  fourteen: 14,
  fifteen: 15,
  sixteen: 16,
  seventeen: 17,
  eighteen: 18,
  nineteen: 19,
};
const TENS: Readonly<Record<string, number>> = {
  twenty: 20,
  thirty: 30,
  forty: 40,
  fifty: 50,
  sixty: 60,
  seventy: 70,
  eighty: 80,
  ninety: 90,
};
const UNITS: Readonly<Record<string, string>> = {
  celsius: '°C',
  centigrade: '°C',
  fahrenheit: '°F',
  litre: 'L',
  litres: 'L',
  liter: 'L',
  liters: 'L',
  hectolitres: 'hL',
  hectoliters: 'hL',
  gallon: 'gal',
  gallons: 'gal',
  barrel: 'bbl',
  barrels: 'bbl',
  plato: '°P',
};
/** Taken by the parser as they are. */
const SHORT: ReadonlySet<string> = new Set(['c', 'f', 'l', 'hl', 'gal', 'bbl', 'p', 'sg']);
/** Said beside the number and no part of it. */
const FILLERS: ReadonlySet<string> = new Set(['degree', 'degrees', 'and', 'ph', 'a', 'gravity']);

/**
 * Writes what was said as it would be typed: "sixty-three point five celsius" is "63.5 °C",
 * "one oh four eight" is "1048", "half" after a number is ".5".
 *
 * @param said as a browser heard it, English, words or digits
 * @returns `undefined` when a word of it belongs to no number
 */
export function typedFromSpoken(said: string): string | undefined {
  let digits = '';
  /** What was said last decides whether the next word adds, as in "sixty two", or follows. */
  let open: 'tens' | 'hundreds' | undefined;
  let pointed = false;
  let unit = '';
  const add = (value: number) => {
    digits = String(Number(digits) + value);
  };
  const words = said
    .toLowerCase()
    .replace(/(\d),(\d)/g, '$1.$2')
    .replace(/[-°]/g, ' ')
    .match(/\d+(?:\.\d+)?|\.\d+|[a-zµ]+/g);
  for (const word of words ?? []) {
    if (FILLERS.has(word)) continue;
    if (unit !== '') return undefined;
    const one = ONES[word];
    const ten = TENS[word];
    if (one !== undefined) {
      if (open !== undefined && !pointed && (open === 'hundreds' || (one > 0 && one < 10)))
        add(one);
      else digits += String(one);
      open = undefined;
    } else if (ten !== undefined) {
      if (open === 'hundreds' && !pointed) add(ten);
      else digits += String(ten);
      open = 'tens';
    } else if (word === 'hundred' && digits !== '' && !pointed) {
      digits = String(Number(digits) * 100);
      open = 'hundreds';
    } else if ((word === 'point' || word === 'comma' || word === 'dot') && !pointed) {
      digits = `${digits === '' ? '0' : digits}.`;
      pointed = true;
      open = undefined;
    } else if (word === 'half' && digits !== '' && !pointed) {
      digits += '.5';
      pointed = true;
    } else if (/^[.\d]/.test(word)) {
      if (word.includes('.') && pointed) return undefined;
      pointed ||= word.includes('.');
      digits += word;
      open = undefined;
    } else if (digits !== '') unit = UNITS[word] ?? (SHORT.has(word) ? word : '?');
    else return undefined;
    if (unit === '?') return undefined;
  }
  if (!/\d/.test(digits) || digits.endsWith('.')) return undefined;
  return unit === '' ? digits : `${digits} ${unit}`;
}

const KIND: Partial<Record<ReadingWhat, Kind>> = {
  temp: 'temperature',
  volume: 'volume',
  level: 'length',
};

/**
 * A reading that was said, read by the same parser as one that was typed.
 *
 * @param what is read
 * @param said as the browser heard it
 * @param pair the brewer's units; a bare number is in the pad's
 * @param near an expected value [SI], which picks among gal and bbl
 * @returns value in SI, or what was heard and how to say it
 */
export function spokenReading(
  what: Exclude<ReadingWhat, 'iodine'>,
  said: string,
  pair: UnitPair,
  near: number,
): Result<number, string> {
  const typed = typedFromSpoken(said);
  if (typed === undefined)
    return fail(`Heard “${said}”, which is no number. Say it as “sixty-three point five”.`);
  if (what === 'gravity') {
    const extract = parseExtract(typed, { field: 'gravity' });
    return extract.ok ? ok(toPlato(extract.value)) : fail(extract.error.message);
  }
  const kind = KIND[what];
  if (kind !== undefined) {
    const defaultUnit = entryUnit(kind, pair, near);
    const read = parseQuantity(kind, typed, { field: what, defaultUnit });
    return read.ok ? ok(read.value) : fail(read.error.message);
  }
  const ph = Number(typed);
  return Number.isFinite(ph) ? ok(ph) : fail(`Heard “${said}”, which is no pH.`);
}
