import { inRange } from './errors.ts';

/** Density [kg/m³], conductivity [W/(m K)] and heat capacity [kJ/(kg K)]; ISO and ASHRAE values. */
export const MATERIALS = {
  stainless: { densityKgM3: 7900, conductivityWMK: 17, heatCapacityKJKgK: 0.46 },
  copper: { densityKgM3: 8900, conductivityWMK: 380, heatCapacityKJKgK: 0.38 },
  aluminium: { densityKgM3: 2800, conductivityWMK: 160, heatCapacityKJKgK: 0.88 },
} as const;

/** Conductivity of insulation [W/(m K)]; ISO and ASHRAE values. */
export const INSULATION_CONDUCTIVITY = { mineralWool: 0.038, puFoam: 0.026, cork: 0.05 } as const;

export type Material = keyof typeof MATERIALS;

/**
 * Heat capacity of the parts of a vessel that follow the mash.
 *
 * @param parts material and mass of each part [kg], 0 to 1e5
 * @returns heat capacity [kJ/K]
 * @throws OutOfRange outside the range
 * @source sum of mass times heat capacity; ISO and ASHRAE values
 * @example vesselHeatCapacity([{ material: 'stainless', massKg: 6.5 }]) // 2.99
 */
export function vesselHeatCapacity(
  parts: readonly { readonly material: Material; readonly massKg: number }[],
): number {
  let sum = 0;
  for (const part of parts) {
    sum +=
      inRange('mass of the part', part.massKg, 0, 1e5, 'kg') *
      MATERIALS[part.material].heatCapacityKJKgK;
  }
  return sum;
}

/**
 * Height of a content above the bottom of an upright round vessel: what the dip rod shows.
 *
 * @param diameterM inner diameter [m], 0.01 to 20
 * @param litres content [L], 0 to 1e6
 * @returns height [m]
 * @throws OutOfRange outside the ranges
 * @source geometry of a cylinder
 * @example fillHeight(0.4, 38) // 0.302
 */
export function fillHeight(diameterM: number, litres: number): number {
  const d = inRange('diameter', diameterM, 0.01, 20, 'm');
  return inRange('content', litres, 0, 1e6, 'L') / 1000 / ((Math.PI / 4) * d * d);
}

/**
 * Temperature of a standing vessel after a while.
 *
 * @param vessel heatKJK of contents and vessel [kJ/K], above 0 to 1e7; uaWK [W/K], 0 to 1e5; fromC
 *   [°C], -30 to 130; airC [°C], -30 to 60; minutes [min], 0 to 1e5
 * @returns temperature [°C]
 * @throws OutOfRange outside the ranges
 * @source Newton's law of cooling
 * @example coolingOff({ heatKJK: 134, uaWK: 5, fromC: 66, airC: 20, minutes: 60 }) // 60.2
 */
export function coolingOff(vessel: {
  readonly heatKJK: number;
  readonly uaWK: number;
  readonly fromC: number;
  readonly airC: number;
  readonly minutes: number;
}): number {
  const heat = inRange('heat capacity', vessel.heatKJK, 1e-9, 1e7, 'kJ/K');
  const ua = inRange('heat loss UA', vessel.uaWK, 0, 1e5, 'W/K');
  const from = inRange('temperature', vessel.fromC, -30, 130, '°C');
  const air = inRange('air temperature', vessel.airC, -30, 60, '°C');
  const time = inRange('time', vessel.minutes, 0, 1e5, 'min');
  return air + (from - air) * Math.exp((-ua * time * 60) / (heat * 1000));
}

/**
 * The loss of a vessel from standing hot water in it.
 *
 * @param test heatKJK of water and vessel [kJ/K], above 0 to 1e7; fromC, toC [°C], both above the
 *   air and falling; airC [°C], -30 to 60; minutes [min], 1 to 1e5
 * @returns UA [W/K]
 * @throws OutOfRange outside the ranges
 * @source Newton's law of cooling, inverted
 */
export function uaFromCooling(test: {
  readonly heatKJK: number;
  readonly fromC: number;
  readonly toC: number;
  readonly airC: number;
  readonly minutes: number;
}): number {
  const heat = inRange('heat capacity', test.heatKJK, 1e-9, 1e7, 'kJ/K');
  const air = inRange('air temperature', test.airC, -30, 60, '°C');
  const from = inRange('first temperature', test.fromC, air + 0.1, 130, '°C');
  const to = inRange('last temperature', test.toC, air + 0.05, from, '°C');
  const time = inRange('time', test.minutes, 1, 1e5, 'min');
  return (heat * 1000 * Math.log((from - air) / (to - air))) / (time * 60);
}
