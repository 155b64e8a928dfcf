import type { Extract } from './extract.ts';
import { entryUnit, type UnitPair } from './pair.ts';
import { fromHouse, type Kind, toHouse } from './units.ts';

/** How one number is to be shown. */
export interface FormatOptions {
  /** Decimals; negative rounds to tens, hundreds. The unit's own when not given. */
  readonly digits?: number;
  /** Print the unit; true when not given. */
  readonly withUnit?: boolean;
  /** This unit, whatever the pair says. */
  readonly unit?: string;
}

/** Decimals by unit: [when below 1, below 10, below 100, above]. */
const DECIMALS: Readonly<Record<string, readonly [number, number, number, number]>> = {
  '°C': [1, 1, 1, 1],
  '°F': [1, 1, 1, 1],
  K: [1, 1, 1, 1],
  L: [2, 1, 1, 0],
  hL: [2, 2, 1, 1],
  mL: [1, 0, 0, 0],
  'm³': [3, 2, 1, 0],
  gal: [2, 2, 1, 1],
  qt: [2, 1, 1, 1],
  'fl oz': [1, 1, 1, 0],
  bbl: [2, 2, 2, 1],
  'UK gal': [2, 2, 1, 1],
  kg: [3, 2, 1, 0],
  g: [1, 1, 0, 0],
  t: [3, 2, 1, 0],
  lb: [2, 1, 1, 0],
  oz: [2, 2, 1, 0],
  kW: [2, 2, 1, 0],
  W: [0, 0, 0, -1],
  'BTU/h': [0, 0, 0, -2],
  kPa: [1, 1, 1, 1],
  bar: [2, 2, 1, 0],
  psi: [1, 1, 1, 1],
  Pa: [0, 0, 0, 0],
  hPa: [0, 0, 0, 0],
  m: [2, 1, 1, 0],
  cm: [1, 1, 1, 1],
  mm: [0, 0, 0, 0],
  in: [1, 1, 1, 1],
  ft: [1, 1, 1, 0],
  kWh: [2, 1, 1, 0],
  MJ: [2, 1, 1, 0],
  kJ: [0, 0, 0, 0],
  'L/kg': [2, 2, 2, 2],
  'qt/lb': [2, 2, 2, 2],
  min: [0, 0, 0, 0],
  h: [1, 1, 1, 1],
  s: [0, 0, 0, 0],
};

/** Decimals that a number of this size deserves in this unit. */
function decimalsFor(unit: string, x: number): number {
  const row = DECIMALS[unit] ?? [2, 2, 1, 0];
  const size = Math.abs(x);
  return size < 1 ? row[0] : size < 10 ? row[1] : size < 100 ? row[2] : row[3];
}

/** Rounds to decimals; never prints "-0". */
function fixed(x: number, digits: number): string {
  if (digits < 0) {
    const step = 10 ** -digits;
    return String(Math.round(x / step) * step + 0);
  }
  const text = x.toFixed(digits);
  return Number(text) === 0 ? (0).toFixed(digits) : text;
}

/** The unit and decimals in which a value is shown; rounding may lift it to the next unit. */
function presentation(
  kind: Kind,
  value: number,
  pair: UnitPair,
  options: FormatOptions = {},
): { unit: string; digits: number; shown: number } {
  if (options.unit !== undefined) {
    const shown = fromHouse(kind, options.unit, value);
    return {
      unit: options.unit,
      digits: options.digits ?? decimalsFor(options.unit, shown),
      shown,
    };
  }
  let unit = entryUnit(kind, pair, value);
  let shown = fromHouse(kind, unit, value);
  let digits = options.digits ?? decimalsFor(unit, shown);
  const rounded = toHouse(kind, unit, Number(fixed(shown, digits)));
  // 999.7 g reads "1.00 kg", not "1000 g".
  const lifted = entryUnit(kind, pair, rounded);
  if (lifted !== unit) {
    unit = lifted;
    shown = fromHouse(kind, unit, value);
    digits = options.digits ?? decimalsFor(unit, fromHouse(kind, unit, rounded));
  }
  return { unit, digits, shown };
}

/**
 * A number for a brewer's eyes, in the pair's units.
 *
 * @param kind what is measured
 * @param value in the house unit; must be finite
 * @param pair the brewer's units
 * @param options decimals, unit on or off, one fixed unit
 * @throws RangeError when the value is not finite (a bug: show the reason instead)
 * @example format('temperature', 66.6667, unitPair('us')) // "152.0 °F"
 */
export function format(
  kind: Kind,
  value: number,
  pair: UnitPair,
  options: FormatOptions = {},
): string {
  if (!Number.isFinite(value)) throw new RangeError(`cannot format ${value} as ${kind}`);
  if (kind === 'duration' && options.unit === undefined && options.digits === undefined) {
    return formatDuration(value, options.withUnit ?? true);
  }
  const { unit, digits, shown } = presentation(kind, value, pair, options);
  const text = fixed(shown, digits);
  return (options.withUnit ?? true) ? `${text} ${unit}` : text;
}

/**
 * A time span as it is said: "45 s", "35 min", "1 h 05".
 *
 * @param durationMin [min], finite; whole minutes from one minute up
 * @param withUnit false gives the bare number of minutes
 */
export function formatDuration(durationMin: number, withUnit = true): string {
  if (!withUnit) return fixed(durationMin, 0);
  const sign = durationMin < 0 ? '-' : '';
  const span = Math.abs(durationMin);
  const seconds = Math.round(span * 60);
  if (seconds === 0) return '0 min';
  if (seconds < 60) return `${sign}${seconds} s`;
  const whole = Math.round(span);
  if (whole < 60) return `${sign}${whole} min`;
  return `${sign}${Math.floor(whole / 60)} h ${String(whole % 60).padStart(2, '0')}`;
}

/** Three numbers of which the middle one is the best guess. */
export interface Band {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/**
 * A number with its doubt: "70.4 ± 0.5 °C" when the doubt is even to within rounding, else
 * "68.0–70.4–71.9 °C".
 *
 * The half width is never rounded to nothing: a band that is there is shown.
 *
 * @param kind what is measured
 * @param band low, likely, high in the house unit, finite and in order
 * @param pair the brewer's units
 * @param options as for {@link format}
 * @throws RangeError when a number is not finite or the three are out of order (a bug)
 */
export function formatBand(
  kind: Kind,
  band: Band,
  pair: UnitPair,
  options: FormatOptions = {},
): string {
  const { low, likely, high } = band;
  if (![low, likely, high].every(Number.isFinite)) {
    throw new RangeError(`cannot format a band of ${low}, ${likely}, ${high}`);
  }
  if (low > likely || likely > high) {
    throw new RangeError(`band out of order: ${low}, ${likely}, ${high}`);
  }
  const asSpan = kind === 'duration' && options.unit === undefined && options.digits === undefined;
  // Minutes carry no fraction; a span under a minute would lose its band otherwise.
  const { unit, digits, shown } = asSpan
    ? { unit: 'min', digits: 0, shown: likely }
    : presentation(kind, likely, pair, options);
  const step = 10 ** -digits;
  const below = shown - fromHouse(kind, unit, low);
  const above = fromHouse(kind, unit, high) - shown;
  const suffix = (options.withUnit ?? true) ? ` ${unit}` : '';
  if (Math.abs(above - below) <= step * (1 + 1e-9)) {
    const half = Math.max(above, below);
    const text = half === 0 ? undefined : fixed(Math.max(step, half), digits);
    if (asSpan) {
      const centre = formatDuration(likely, options.withUnit ?? true);
      return text === undefined ? centre : `${centre} ± ${text}${suffix}`;
    }
    const centre = fixed(shown, digits);
    return text === undefined ? `${centre}${suffix}` : `${centre} ± ${text}${suffix}`;
  }
  const three = [low, likely, high].map((v) =>
    asSpan ? formatDuration(v, options.withUnit ?? true) : fixed(fromHouse(kind, unit, v), digits),
  );
  return `${three.join('–')}${asSpan ? '' : suffix}`;
}

/**
 * An extract in its own notation: "12.0 °P", "1.048", "12.6 g/100 mL".
 *
 * @param extract the tagged value; convert in the room `matter` first when the pair wants another
 * @param options decimals (1 for °P and w/v, 3 for SG when not given), unit on or off
 */
export function formatExtract(
  extract: Extract,
  options: Pick<FormatOptions, 'digits' | 'withUnit'> = {},
): string {
  const text = fixed(extract.value, options.digits ?? (extract.notation === 'sg' ? 3 : 1));
  if (!(options.withUnit ?? true) || extract.notation === 'sg') return text;
  return extract.notation === 'plato' ? `${text} °P` : `${text} g/100 mL`;
}
