/** Arguments of a sum: what they are, how they are read, where they hold. */
import { toPlato, toSg } from '@ladlework/matter';
import {
  fail,
  fromHouse,
  type Kind,
  ok,
  parseExtract,
  parseQuantity,
  type Result,
  toHouse,
} from '@ladlework/quantity';

export interface Limits {
  readonly min: number;
  readonly max: number;
  readonly unit: string;
}

export interface Argument<T> {
  /** What it is, in a few words. */
  readonly what: string;
  readonly optional: boolean;
  /** Taken when an optional argument is left out, as it would be typed. */
  readonly fallback?: string;
  readonly limits?: Limits;
  /** What may be typed, for the messages. */
  readonly allowed: string;
  /** Reads what was typed after `name=`. */
  read(name: string, text: string): Result<T, string>;
}

export type Arguments = Readonly<Record<string, Argument<unknown>>>;
export type Values<A extends Arguments> = {
  readonly [K in keyof A]: A[K] extends Argument<infer T> ? T : never;
};

/** "0 to 110 °C", "1 to 8". */
export function limitsText({ min, max, unit }: Limits): string {
  return `${min} to ${max}${unit === '' ? '' : ` ${unit}`}`;
}

/**
 * A quantity with units: a bare number is in the unit of the argument's name, anything else says its
 * own ("152f", "20 gal"). The value handed on is in the unit of the name.
 */
export function quantity(
  kind: Kind,
  unit: string,
  min: number,
  max: number,
  what: string,
): Argument<number> {
  const limits = { min, max, unit };
  return {
    what,
    optional: false,
    limits,
    allowed: limitsText(limits),
    read(name, text) {
      const read = parseQuantity(kind, text, {
        defaultUnit: unit,
        min: toHouse(kind, unit, min),
        max: toHouse(kind, unit, max),
        field: name,
      });
      return read.ok ? ok(fromHouse(kind, unit, read.value)) : fail(read.error.message);
    },
  };
}

export const temperature = (min: number, max: number, what: string): Argument<number> =>
  quantity('temperature', '°C', min, max, what);

const NUMBER = /^\s*([-+]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[-+]?\d+)?)\s*(.*?)\s*$/i;
const sameUnit = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[\s°·]/g, '')
    .replace('²', '2');

/**
 * A number in a unit that only this sum knows.
 *
 * @param unit written after the number or left out
 * @param also other units and what one of them is in `unit`
 */
export function number(
  unit: string,
  min: number,
  max: number,
  what: string,
  also: Readonly<Record<string, number>> = {},
): Argument<number> {
  const limits = { min, max, unit };
  const allowed = limitsText(limits);
  const factors = new Map<string, number>([
    ['', 1],
    [sameUnit(unit), 1],
  ]);
  for (const [other, factor] of Object.entries(also)) factors.set(sameUnit(other), factor);
  return {
    what,
    optional: false,
    limits,
    allowed,
    read(name, text) {
      const match = NUMBER.exec(text);
      const factor = factors.get(sameUnit(match?.[2] ?? ''));
      if (match === null)
        return fail(
          `${name}: "${shortened(text)}" is not a number; allowed: ${allowed}. Enter one number.`,
        );
      if (factor === undefined) {
        const known = [unit, ...Object.keys(also)].filter((u) => u !== '').join(', ') || 'no unit';
        return fail(
          `${name}: "${shortened(text)}" has a unit that is not known here; allowed: ${allowed}. Units known: ${known}.`,
        );
      }
      const value = Number(match[1]?.replace(',', '.')) * factor;
      if (!(value >= min && value <= max))
        return fail(
          `${name}: "${shortened(text)}" is outside the allowed range; allowed: ${allowed}. Check the number and its unit.`,
        );
      return ok(value);
    },
  };
}

/** An extract: a bare number is in the notation named, "1.048 sg" and "12 °P" are taken as they say. */
export function extract(
  notation: 'plato' | 'sg',
  min: number,
  max: number,
  what: string,
): Argument<number> {
  const limits = { min, max, unit: notation === 'plato' ? '°P' : '' };
  const allowed = limitsText(limits);
  return {
    what,
    optional: false,
    limits,
    allowed,
    read(name, text) {
      const bare = NUMBER.exec(text);
      const said = bare !== null && bare[2] === '' ? `${bare[1]} ${suffixOf(notation)}` : text;
      const read = parseExtract(said, { field: name });
      const value = read.ok
        ? notation === 'plato'
          ? toPlato(read.value)
          : toSg(read.value)
        : undefined;
      // The notation's own limits are wider than what a sum holds for.
      if (value !== undefined && value >= min && value <= max) return ok(value);
      if (!read.ok && read.error.code !== 'out-of-range') return fail(read.error.message);
      return fail(
        `${name}: "${shortened(text)}" is outside the allowed range; allowed: ${allowed}. Check the number and whether it is °P or SG.`,
      );
    },
  };
}

const suffixOf = (notation: 'plato' | 'sg'): string => (notation === 'plato' ? '°P' : 'sg');

/** One of a few words. */
export function choice<T extends string>(words: readonly T[], what: string): Argument<T> {
  const allowed = words.join(', ');
  return {
    what,
    optional: false,
    allowed,
    read(name, text) {
      const found = words.find((word) => word === text.trim().toLowerCase());
      return found === undefined
        ? fail(`${name}: "${shortened(text)}" is not one of the choices; allowed: ${allowed}.`)
        : ok(found);
    },
  };
}

/** Anything else, by its own reader. */
export function written<T>(
  what: string,
  allowed: string,
  readText: (text: string) => Result<T, string>,
): Argument<T> {
  return {
    what,
    optional: false,
    allowed,
    read(name, text) {
      const read = readText(text);
      return read.ok
        ? read
        : fail(`${name}: "${shortened(text)}" ${read.error}; allowed: ${allowed}.`);
    },
  };
}

/** The same, when it may be left out and nothing stands for it. */
export function optional<T>(argument: Argument<T>): Argument<T | undefined> {
  return { ...argument, optional: true };
}

/** The same, when it may be left out and something usual stands for it. */
export function usually<T>(argument: Argument<T>, fallback: string): Argument<T> {
  return { ...argument, optional: true, fallback };
}

/** Longest value shown back. */
const SHOWN = 60;

export const shortened = (text: string): string =>
  text.length > SHOWN ? `${text.slice(0, SHOWN)}…` : text;
