/** A number outside what a formula, or nature, allows. Physics functions throw it; edges catch it. */
export class OutOfRange extends Error {
  readonly field: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly unit: string;

  constructor(field: string, value: number, min: number, max: number, unit: string) {
    const u = unit === '' ? '' : ` ${unit}`;
    super(
      `${field} is ${plain(value)}${u}; it must be between ${plain(min)} and ${plain(max)}${u}. ` +
        'Check the number and its unit.',
    );
    this.name = 'OutOfRange';
    this.field = field;
    this.value = value;
    this.min = min;
    this.max = max;
    this.unit = unit;
  }
}

const plain = (x: number): string =>
  Number.isFinite(x) ? String(Number(x.toPrecision(6))) : String(x);

/**
 * Passes a number that lies within limits; anything else, NaN included, throws.
 *
 * @param field plain name of the quantity
 * @param value the number
 * @param min least value taken
 * @param max greatest value taken
 * @param unit unit for the message, '' for a pure number
 * @returns `value`
 * @throws OutOfRange
 * @source none: a guard
 */
export function inRange(
  field: string,
  value: number,
  min: number,
  max: number,
  unit: string,
): number {
  if (value >= min && value <= max) return value;
  throw new OutOfRange(field, value, min, max, unit);
}
