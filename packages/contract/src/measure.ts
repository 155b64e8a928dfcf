/** Quantities with units that only a kit sheet uses: heat capacity, heat loss, area, rates, share. */
import { fail, ok, type Result } from '@ladlework/quantity';

export type Measure =
  | 'heatCapacity'
  | 'heatLoss'
  | 'area'
  | 'heatingRate'
  | 'flow'
  | 'massFlow'
  | 'heatTransfer'
  | 'concentration'
  | 'dose'
  | 'share'
  | 'percent'
  | 'pricePerMass'
  | 'pricePerHour'
  | 'pricePerEnergy';

/** Factors to the house unit. BTU: International Table, 1.05505585262 kJ; foot 0.3048 m; exact. */
const MEASURES: Readonly<
  Record<Measure, { noun: string; house: string; units: Readonly<Record<string, number>> }>
> = {
  heatCapacity: {
    noun: 'heat capacity',
    house: 'kJ/K',
    units: { 'kJ/K': 1, 'J/K': 1e-3, 'MJ/K': 1000, 'BTU/°F': 1.05505585262 * 1.8 },
  },
  heatLoss: {
    noun: 'heat loss',
    house: 'W/K',
    units: { 'W/K': 1, 'kW/K': 1000, 'BTU/h°F': (1055.05585262 / 3600) * 1.8 },
  },
  area: {
    noun: 'area',
    house: 'm²',
    units: { 'm²': 1, m2: 1, 'cm²': 1e-4, cm2: 1e-4, 'ft²': 0.09290304, ft2: 0.09290304 },
  },
  heatingRate: {
    noun: 'heating rate',
    house: 'K/min',
    units: { 'K/min': 1, '°C/min': 1, 'C/min': 1, '°F/min': 5 / 9, 'F/min': 5 / 9 },
  },
  // US gallon 3.785411784 L, pound 0.45359237 kg; exact.
  flow: {
    noun: 'flow',
    house: 'L/min',
    units: { 'L/min': 1, 'L/h': 1 / 60, 'hL/h': 100 / 60, 'gal/min': 3.785411784 },
  },
  massFlow: {
    noun: 'rate',
    house: 'kg/min',
    units: { 'kg/min': 1, 'kg/h': 1 / 60, 'lb/min': 0.45359237 },
  },
  heatTransfer: { noun: 'heat transfer', house: 'W/K', units: { 'W/K': 1, 'kW/K': 1000 } },
  concentration: {
    noun: 'concentration',
    house: 'mg/L',
    units: { 'mg/L': 1, ppm: 1, 'g/L': 1000 },
  },
  // 1 g in a US gallon of 3.785411784 L; exact.
  dose: { noun: 'dose', house: 'g/L', units: { 'g/L': 1, 'g/hL': 0.01, 'g/gal': 1 / 3.785411784 } },
  share: { noun: 'share', house: '', units: { '': 1, '%': 0.01 } },
  percent: { noun: 'percentage', house: '%', units: { '%': 1 } },
  pricePerMass: { noun: 'price', house: '/kg', units: { '/kg': 1, '/lb': 1 / 0.45359237 } },
  pricePerHour: { noun: 'price', house: '/h', units: { '/h': 1 } },
  // US therm 105.4804 MJ, exact.
  pricePerEnergy: {
    noun: 'price',
    house: '/kWh',
    units: { '/kWh': 1, '/MJ': 3.6, '/therm': 3.6 / 105.4804 },
  },
};

/** Signs of money that may stand before or behind the number; which money it is, the price list says. */
const MONEY = /[€$£¥]/g;

export interface MeasureError {
  readonly code: 'not-a-number' | 'unknown-unit' | 'out-of-range';
  readonly value: string;
  readonly allowed: string;
  /** Without the field's name: that is known only where the file is walked. */
  readonly why: string;
}

/** Unit of a measure as numbers are kept. */
export const houseUnit = (measure: Measure): string => MEASURES[measure].house;

/**
 * Reads one of the measures.
 *
 * @param input a number in the house unit, or text: "12 kJ/K", "65 %", "1.5 K/min", "$0.85/lb"
 * @param low least value taken, house unit
 * @param high greatest value taken, house unit
 * @returns the value in the house unit, or the refusal
 * @example parseMeasure('share', '65 %', 0, 1) // { ok: true, value: 0.65 }
 */
export function parseMeasure(
  measure: Measure,
  input: unknown,
  low: number,
  high: number,
): Result<number, MeasureError> {
  const { noun, house, units } = MEASURES[measure];
  const suffix = house === '' ? '' : ` ${house}`;
  const allowed = `${low} to ${high}${suffix}`;
  const value = typeof input === 'string' ? input.slice(0, 60) : String(input);
  const refuse = (code: MeasureError['code'], why: string) => fail({ code, value, allowed, why });

  let number: number;
  if (typeof input === 'number') number = input;
  else if (typeof input === 'string' && input.length <= 60) {
    const text = house.startsWith('/') ? input.replace(MONEY, '') : input;
    const match = /^\s*([+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:e[+-]?\d+)?)\s*(.*?)\s*$/i.exec(text);
    if (match === null) return refuse('not-a-number', `does not begin with a number`);
    const unit = (match[2] ?? '').replaceAll(/\s/g, '') || house;
    const factor = Object.entries(units).find(([u]) => u.toLowerCase() === unit.toLowerCase())?.[1];
    if (factor === undefined) {
      const known = Object.keys(units).filter((u) => u !== '');
      return refuse('unknown-unit', `has a unit that is not known here (${known.join(', ')})`);
    }
    number = Number((match[1] ?? '').replace(',', '.')) * factor;
  } else return refuse('not-a-number', `is not a ${noun}`);

  if (!Number.isFinite(number)) return refuse('not-a-number', 'is not a number');
  // A limit met exactly must pass in every unit.
  const slack = 1e-12 * Math.max(1, Math.abs(number));
  if (number < low - slack || number > high + slack) {
    return refuse('out-of-range', 'is outside the allowed range');
  }
  return ok(number);
}
