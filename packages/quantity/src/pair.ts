import type { Kind } from './units.ts';

/** Use this unit for values below the limit (house unit); the last step of a ladder has no limit. */
export interface UnitStep {
  readonly unit: string;
  readonly below: number;
}

/** The units a brewer chose once, for every number shown. */
export interface UnitPair {
  readonly name: 'us' | 'metric';
  /** For each kind, units from small to large. */
  readonly units: { readonly [K in Kind]: readonly UnitStep[] };
  /** How extract is written. */
  readonly extract: 'plato' | 'sg';
}

const only = (unit: string): readonly UnitStep[] => [{ unit, below: Infinity }];
const US_GALLON_L = 3.785411784;

const METRIC: UnitPair = {
  name: 'metric',
  extract: 'plato',
  units: {
    temperature: only('°C'),
    temperatureDifference: only('K'),
    // Small breweries say "620 L"; hectolitres begin where litres stop being read off a gauge.
    volume: [
      { unit: 'L', below: 2000 },
      { unit: 'hL', below: Infinity },
    ],
    mass: [
      { unit: 'g', below: 1 },
      { unit: 'kg', below: Infinity },
    ],
    duration: only('min'),
    power: only('kW'),
    pressure: only('kPa'),
    length: [
      { unit: 'cm', below: 3 },
      { unit: 'm', below: Infinity },
    ],
    energy: only('kWh'),
    ratio: only('L/kg'),
  },
};

const US: UnitPair = {
  name: 'us',
  extract: 'plato',
  units: {
    temperature: only('°F'),
    temperatureDifference: only('°F'),
    volume: [
      { unit: 'qt', below: 4 * US_GALLON_L },
      { unit: 'gal', below: 62 * US_GALLON_L },
      { unit: 'bbl', below: Infinity },
    ],
    mass: [
      { unit: 'oz', below: 0.45359237 },
      { unit: 'lb', below: Infinity },
    ],
    duration: only('min'),
    power: only('BTU/h'),
    pressure: only('psi'),
    length: [
      { unit: 'in', below: 3.048 },
      { unit: 'ft', below: Infinity },
    ],
    energy: only('kWh'),
    ratio: only('qt/lb'),
  },
};

/** What a brewer may set differently from the house ladder. */
export interface PairOverrides {
  readonly extract?: 'plato' | 'sg';
  readonly units?: Partial<UnitPair['units']>;
}

/**
 * The units shown to a brewer.
 *
 * @param name 'us' (°F, qt/gal/bbl, oz/lb, BTU/h, psi, in) or 'metric' (°C, L/hL, g/kg, kW, kPa, cm)
 * @param overrides another ladder for a kind, or extract as SG
 */
export function unitPair(name: UnitPair['name'], overrides: PairOverrides = {}): UnitPair {
  const base = name === 'us' ? US : METRIC;
  return {
    name: base.name,
    extract: overrides.extract ?? base.extract,
    units: { ...base.units, ...overrides.units },
  };
}

/**
 * The unit a bare number typed into a field is taken in: the field's own unit when it shows one,
 * else the largest of the pair's ladder (a bare volume is gallons or barrels by what the field shows).
 *
 * @param kind what is measured
 * @param pair the brewer's units
 * @param near a value in the house unit near which the entry is expected, if known
 */
export function entryUnit(kind: Kind, pair: UnitPair, near?: number): string {
  const ladder = pair.units[kind];
  const size = near === undefined ? Infinity : Math.abs(near);
  const step = ladder.find((s) => size < s.below) ?? ladder[ladder.length - 1];
  if (step === undefined) throw new RangeError(`no unit chosen for ${kind}`);
  return step.unit;
}
