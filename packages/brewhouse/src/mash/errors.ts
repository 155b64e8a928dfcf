/** A figure given to the mash kinetics that cannot be: names field, value and allowed range. */
export class MashRangeError extends RangeError {
  readonly field: string;
  readonly value: number;
  readonly allowed: string;

  constructor(field: string, value: number, allowed: string) {
    super(`${field} is ${value}; allowed: ${allowed}`);
    this.name = 'MashRangeError';
    this.field = field;
    this.value = value;
    this.allowed = allowed;
  }
}
