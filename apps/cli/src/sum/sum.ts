/** What a handbook sum is: arguments in, results out, with its equation, range and source. */
import type { Arguments, Values } from './argument.ts';

export interface ResultSpec {
  readonly unit: string;
  readonly what: string;
  /** Decimals for the eye; the JSON carries all of them. */
  readonly digits: number;
}

/** Numbers by result name; null where the sum forbids an answer. */
export type Numbers = Readonly<Record<string, number | null>>;

export type Answer =
  | { readonly ok: true; readonly numbers: Numbers; readonly note?: string }
  /** Arguments that are each right and do not go together. */
  | { readonly ok: false; readonly message: string };

export interface Sum {
  readonly name: string;
  readonly what: string;
  readonly arguments: Arguments;
  readonly results: Readonly<Record<string, ResultSpec>>;
  readonly equation: string;
  readonly source: string;
  /** Arguments as they would be typed, for the list and the guide. */
  readonly example: string;
  answer(values: Readonly<Record<string, unknown>>): Answer | Promise<Answer>;
}

/** Ties the values a sum gets to the arguments it names. */
export function defineSum<A extends Arguments>(
  sum: Omit<Sum, 'arguments' | 'answer'> & {
    readonly arguments: A;
    answer(values: Values<A>): Answer | Promise<Answer>;
  },
): Sum {
  // The runner fills exactly the arguments named, each read by its own reader.
  return sum as unknown as Sum;
}

export const result = (unit: string, digits: number, what: string): ResultSpec => ({
  unit,
  digits,
  what,
});

export const numbers = (values: Numbers, note?: string): Answer => ({
  ok: true,
  numbers: values,
  ...(note === undefined ? {} : { note }),
});
