import { inRange } from './errors.ts';
import { latentHeat } from './saturation.ts';
import { waterEnthalpy } from './water.ts';

/** Lower and higher heating value [MJ/kg]. Guzzo et al. 2022. */
export const FUELS = {
  methane: { lowerMJKg: 50.017, higherMJKg: 55.62 },
  propane: { lowerMJKg: 46.391, higherMJKg: 50.368 },
  butane: { lowerMJKg: 45.763, higherMJKg: 49.531 },
} as const;
export type Fuel = keyof typeof FUELS;

/** Share of the energy paid for that reaches the pot; a timed water test is better than any of them. */
export const HEAT_SOURCES = {
  outdoorPropane: {
    low: 0.2,
    likely: 0.3,
    high: 0.45,
    basis: 'LHV',
    source: 'our default between three timed logs, 0.24 to 0.30 (common practice, derived)',
  },
  gasHob: {
    low: 0.3,
    likely: 0.4,
    high: 0.5,
    basis: 'LHV',
    source: 'US DOE figure for domestic gas, second hand; band our judgement',
  },
  rangeTop: {
    low: 0.25,
    likely: 0.3,
    high: 0.4,
    basis: 'HHV',
    source: 'ASTM F1521 stock pot tests, Sorensen & Zabrowski 2009',
  },
  resistance: {
    low: 0.65,
    likely: 0.74,
    high: 0.8,
    basis: 'electric',
    source: 'US DOE figure, second hand; band our judgement',
  },
  induction: {
    low: 0.77,
    likely: 0.84,
    high: 0.9,
    basis: 'electric',
    source: 'US DOE figure, second hand; upper end EPRI 2014',
  },
  immersedElement: {
    low: 0.97,
    likely: 1,
    high: 1,
    basis: 'electric',
    source: 'derived: all of it, less the loss of the vessel, which is counted apart',
  },
} as const;
export type HeatSource = keyof typeof HEAT_SOURCES;

/**
 * Heat set free by burning fuel.
 *
 * @param fuel methane, propane or butane
 * @param kgPerH fuel burnt [kg/h], 0 to 1000
 * @returns power on the lower heating value [kW]
 * @throws OutOfRange outside the range
 * @source Guzzo et al. 2022
 * @example fuelPower('propane', 0.776) // 10.0
 */
export function fuelPower(fuel: Fuel, kgPerH: number): number {
  return (inRange('fuel burnt', kgPerH, 0, 1000, 'kg/h') * FUELS[fuel].lowerMJKg) / 3.6;
}

/**
 * Net power of a burner from heating a known weight of water.
 *
 * @param test waterKg [kg], above 0 to 1e5; fromC, toC [°C], 0 to 100, rising; minutes [min], 0.1 to
 *   1e4; vesselKJK heat capacity of the pot [kJ/K], 0 to 1e6; lossKW mean loss meanwhile [kW], 0 to 1e3
 * @returns power into the pot, losses added back [kW]
 * @throws OutOfRange outside the ranges
 * @source enthalpy of water by IAPWS SR6-08
 */
export function netPowerFromWaterTest(test: {
  readonly waterKg: number;
  readonly fromC: number;
  readonly toC: number;
  readonly minutes: number;
  readonly vesselKJK?: number;
  readonly lossKW?: number;
}): number {
  const water = inRange('water', test.waterKg, 1e-6, 1e5, 'kg');
  const from = inRange('first temperature', test.fromC, 0, 100, '°C');
  const to = inRange('last temperature', test.toC, from, 100, '°C');
  const time = inRange('time', test.minutes, 0.1, 1e4, 'min');
  const vessel = inRange('heat capacity of the pot', test.vesselKJK ?? 0, 0, 1e6, 'kJ/K');
  const loss = inRange('loss', test.lossKW ?? 0, 0, 1e3, 'kW');
  const heat = water * (waterEnthalpy(to) - waterEnthalpy(from)) + vessel * (to - from);
  return heat / (time * 60) + loss;
}

/**
 * Time to heat a body at constant power.
 *
 * @param body heatKJK [kJ/K], 0 to 1e7; fromC, toC [°C], -30 to 130, rising; netKW power less losses
 *   [kW], 1e-3 to 1e4
 * @returns time [min]
 * @throws OutOfRange outside the ranges
 * @source enthalpy balance
 * @example heatingTime({ heatKJK: 36.34, fromC: 52, toC: 72, netKW: 3 }) // 4.04
 */
export function heatingTime(body: {
  readonly heatKJK: number;
  readonly fromC: number;
  readonly toC: number;
  readonly netKW: number;
}): number {
  const heat = inRange('heat capacity', body.heatKJK, 0, 1e7, 'kJ/K');
  const from = inRange('first temperature', body.fromC, -30, 130, '°C');
  const to = inRange('last temperature', body.toC, from, 130, '°C');
  return (heat * (to - from)) / inRange('net power', body.netKW, 1e-3, 1e4, 'kW') / 60;
}

/**
 * Water a boil gives off. It follows from the power, never from the size of the batch.
 *
 * @param netKW power less losses [kW], 0 to 1e4
 * @param tC boiling temperature [°C], 60 to 110
 * @returns evaporation [kg/h]
 * @throws OutOfRange outside the ranges
 * @source power over the latent heat of {@link latentHeat}
 * @example boilOffRate(3.5, 100) // 5.58
 */
export function boilOffRate(netKW: number, tC: number): number {
  inRange('boiling temperature', tC, 60, 110, '°C');
  return (3600 * inRange('net power', netKW, 0, 1e4, 'kW')) / latentHeat(tC);
}
