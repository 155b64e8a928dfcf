/**
 * A numeric routine was asked for something outside the range it is made for: a mistake in the
 * calling code, never the brewer's doing, so it is thrown. Outcomes that can happen with good input
 * (no root in the bracket, too many steps) are returned as values instead.
 */
export class NumericsRangeError extends RangeError {
  readonly field: string;
  readonly value: number;
  readonly allowed: string;

  constructor(field: string, value: number, allowed: string) {
    super(`${field} is ${value}; allowed: ${allowed}`);
    this.name = 'NumericsRangeError';
    this.field = field;
    this.value = value;
    this.allowed = allowed;
  }
}
