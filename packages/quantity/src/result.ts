/** Either a value or the reason there is none. Expected failures travel this way, never as throws. */
export type Result<T, E> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly error: E };

/** Why a typed quantity was refused. */
export type QuantityErrorCode =
  | 'empty'
  | 'too-long'
  | 'not-a-number'
  | 'not-finite'
  | 'ambiguous'
  | 'too-many-numbers'
  | 'unknown-unit'
  | 'out-of-range';

/** A refusal a brewer can act on. */
export interface QuantityError {
  readonly code: QuantityErrorCode;
  /** The name of the field as the brewer sees it. */
  readonly field: string;
  /** What was typed. */
  readonly value: string;
  /** What would have been taken, in words. */
  readonly allowed: string;
  /** One sentence with field, value, allowed range and what to do. */
  readonly message: string;
}

/** Wraps a value. */
export function ok<T>(value: T): { readonly ok: true; readonly value: T } {
  return { ok: true, value };
}

/** Wraps a reason. */
export function fail<E>(error: E): { readonly ok: false; readonly error: E } {
  return { ok: false, error };
}
