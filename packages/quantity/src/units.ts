import type {
  Celsius,
  KelvinDifference,
  Kilograms,
  Kilopascals,
  KilowattHours,
  Kilowatts,
  Litres,
  LitresPerKilogram,
  Metres,
  Minutes,
} from './brands.ts';

/** The kinds of quantity that convert by a factor and, for temperature, an offset. */
export interface KindMap {
  temperature: Celsius;
  temperatureDifference: KelvinDifference;
  volume: Litres;
  mass: Kilograms;
  duration: Minutes;
  power: Kilowatts;
  pressure: Kilopascals;
  length: Metres;
  energy: KilowattHours;
  ratio: LitresPerKilogram;
}
export type Kind = keyof KindMap;

/** One unit: house value = (number + shift) * num / den. */
export interface Unit {
  /** The symbol printed after a number. */
  readonly symbol: string;
  /** Other spellings, lower case, without spaces or degree signs. */
  readonly aliases: readonly string[];
  readonly num: number;
  readonly den: number;
  readonly shift: number;
}

interface KindSpec {
  /** The unit numbers are kept in. */
  readonly house: string;
  /** Plain name for messages. */
  readonly noun: string;
  /** Two spellings that would be taken, for messages. */
  readonly examples: string;
  /** What physics allows, house unit. */
  readonly floor: number;
  /** What is taken when the field names no least value, house unit. */
  readonly min: number;
  readonly units: readonly Unit[];
  /** Units that may follow one another in one entry, largest first ("5 lb 4 oz"). */
  readonly compound: readonly string[];
}

const unit = (symbol: string, aliases: string, num: number, den = 1, shift = 0): Unit => ({
  symbol,
  aliases: aliases === '' ? [] : aliases.split(' '),
  num,
  den,
  shift,
});

/** US gallon = 231 in3 and inch = 25.4 mm, both exact. */
const US_GALLON_L = 3.785411784;
const POUND_KG = 0.45359237;
const INCH_M = 0.0254;
const BTU_KJ = 1.05505585262;
const STANDARD_GRAVITY_M_S2 = 9.80665;

/**
 * Units and exact factors.
 *
 * @source exact definitions as tabulated in NIST Special Publication 811, Appendix B (from memory);
 * the International Table BTU; US beer barrel of 31 US gallons, 27 CFR 25.11
 */
export const KINDS: { readonly [K in Kind]: KindSpec } = {
  temperature: {
    house: '°C',
    noun: 'temperature',
    examples: '"66 °C" or "151 °F"',
    floor: -273.15,
    min: -273.15,
    units: [
      unit('°C', 'c degc celsius centigrade', 1),
      unit('°F', 'f degf fahrenheit', 5, 9, -32),
      unit('K', 'kelvin', 1, 1, -273.15),
    ],
    compound: [],
  },
  temperatureDifference: {
    house: 'K',
    noun: 'temperature difference',
    examples: '"3 K" or "5.4 °F"',
    floor: -Infinity,
    min: -Infinity,
    units: [unit('K', 'kelvin c degc celsius', 1), unit('°F', 'f degf fahrenheit', 5, 9)],
    compound: [],
  },
  volume: {
    house: 'L',
    noun: 'volume',
    examples: '"80 L", "20 gal" or "3 bbl"',
    floor: -Infinity,
    min: 0,
    units: [
      unit('L', 'l litre litres liter liters ltr', 1),
      unit('hL', 'hl hectolitre hectolitres hectoliter hectoliters', 100),
      unit('mL', 'ml millilitre millilitres milliliter milliliters cc', 1, 1000),
      unit('m³', 'm3 m^3', 1000),
      unit('gal', 'gals gallon gallons usgal usgallon usgallons', US_GALLON_L),
      unit('qt', 'qts quart quarts usqt', US_GALLON_L, 4),
      unit('fl oz', 'floz usfloz', US_GALLON_L, 128),
      unit('bbl', 'bbls barrel barrels usbbl', 31 * US_GALLON_L),
      unit(
        'UK gal',
        'ukgal ukgallon ukgallons impgal imperialgal imperialgallon imperialgallons',
        4.54609,
      ),
    ],
    compound: ['gal', 'qt', 'fl oz'],
  },
  mass: {
    house: 'kg',
    noun: 'mass',
    examples: '"8 kg", "400 g" or "17 lb"',
    floor: -Infinity,
    min: 0,
    units: [
      unit('kg', 'kgs kilo kilos kilogram kilograms', 1),
      unit('g', 'gram grams', 1, 1000),
      unit('t', 'tonne tonnes', 1000),
      unit('lb', 'lbs pound pounds', POUND_KG),
      unit('oz', 'ounce ounces', POUND_KG, 16),
    ],
    compound: ['lb', 'oz'],
  },
  duration: {
    house: 'min',
    noun: 'time',
    examples: '"35 min", "1 h 05" or "1:05"',
    floor: -Infinity,
    min: 0,
    units: [
      unit('min', 'm mins minute minutes', 1),
      unit('h', 'hr hrs hour hours', 60),
      unit('s', 'sec secs second seconds', 1, 60),
    ],
    compound: ['h', 'min', 's'],
  },
  power: {
    house: 'kW',
    noun: 'power',
    examples: '"3.5 kW" or "12000 BTU/h"',
    floor: -Infinity,
    min: 0,
    units: [
      unit('kW', 'kilowatt kilowatts', 1),
      unit('W', 'watt watts', 1, 1000),
      unit('BTU/h', 'btu/hr btuh btu/hour', BTU_KJ, 3600),
    ],
    compound: [],
  },
  pressure: {
    house: 'kPa',
    noun: 'pressure',
    examples: '"80 kPa", "0.8 bar" or "12 psi"',
    floor: -Infinity,
    min: 0,
    units: [
      unit('kPa', 'kilopascal kilopascals', 1),
      unit('bar', 'bars', 100),
      unit('psi', 'lb/in2 lbf/in2', (POUND_KG * STANDARD_GRAVITY_M_S2) / (INCH_M * INCH_M), 1000),
      unit('Pa', 'pascal pascals', 1, 1000),
      unit('hPa', 'mbar millibar', 1, 10),
    ],
    compound: [],
  },
  length: {
    house: 'm',
    noun: 'length',
    examples: '"45 cm" or "18 in"',
    floor: -Infinity,
    min: 0,
    units: [
      unit('m', 'metre metres meter meters', 1),
      unit('cm', 'centimetre centimetres centimeter centimeters', 1, 100),
      unit('mm', 'millimetre millimetres millimeter millimeters', 1, 1000),
      unit('in', 'inch inches "', INCH_M),
      unit('ft', "foot feet '", 12 * INCH_M),
    ],
    compound: ['ft', 'in'],
  },
  energy: {
    house: 'kWh',
    noun: 'energy',
    examples: '"12 kWh" or "40 MJ"',
    floor: -Infinity,
    min: 0,
    units: [unit('kWh', '', 1), unit('MJ', '', 1, 3.6), unit('kJ', '', 1, 3600)],
    compound: [],
  },
  ratio: {
    house: 'L/kg',
    noun: 'liquor-to-grist ratio',
    examples: '"3.5 L/kg" or "1.7 qt/lb"',
    floor: -Infinity,
    min: 0,
    units: [unit('L/kg', 'l/kg', 1), unit('qt/lb', 'qts/lb quarts/lb', US_GALLON_L / 4, POUND_KG)],
    compound: [],
  },
};

/** Lower case, without spaces, dots and degree signs: "° F" and "degF" meet here. */
export function normaliseUnit(text: string): string {
  let out = '';
  for (const ch of text.toLowerCase()) {
    if (ch === ' ' || ch === '.' || ch === '°' || ch === 'º' || ch === '˚') continue;
    out += ch === '³' ? '3' : ch;
  }
  return out;
}

/**
 * The unit a spelling stands for.
 *
 * @param kind what is being measured
 * @param text a symbol or one of its other spellings, any case
 * @returns the unit, or undefined when no unit of that kind is written so
 */
export function findUnit(kind: Kind, text: string): Unit | undefined {
  const key = normaliseUnit(text);
  return KINDS[kind].units.find((u) => normaliseUnit(u.symbol) === key || u.aliases.includes(key));
}

function unitOrThrow(kind: Kind, symbol: string): Unit {
  const found = findUnit(kind, symbol);
  if (found === undefined) throw new RangeError(`no unit "${symbol}" for ${KINDS[kind].noun}`);
  return found;
}

/**
 * A number in some unit, in the house unit (°C, K, L, kg, min, kW, kPa, m, kWh, L/kg).
 *
 * @param kind what is being measured
 * @param symbol the unit of `x`
 * @param x the number
 * @throws RangeError when the unit does not belong to the kind (a bug: parse text first)
 * @example toHouse('temperature', '°F', 152) // 66.67 °C
 */
export function toHouse<K extends Kind>(kind: K, symbol: string, x: number): KindMap[K] {
  const u = unitOrThrow(kind, symbol);
  return (((x + u.shift) * u.num) / u.den) as KindMap[K];
}

/**
 * A number in the house unit, in another unit.
 *
 * @param kind what is being measured
 * @param symbol the unit wanted
 * @param value the number in the house unit
 * @throws RangeError when the unit does not belong to the kind (a bug)
 * @example fromHouse('volume', 'bbl', 352.04) // 3.00
 */
export function fromHouse(kind: Kind, symbol: string, value: number): number {
  const u = unitOrThrow(kind, symbol);
  return (value * u.den) / u.num - u.shift;
}
