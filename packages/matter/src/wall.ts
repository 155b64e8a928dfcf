import { inRange } from './errors.ts';

const STEFAN_BOLTZMANN = 5.670374e-8;
const GRAVITY = 9.80665;

/** Emissivity of surfaces [-]. Common practice, no source. */
export const EMISSIVITY = {
  brightStainless: 0.16,
  heatedStainless: 0.6,
  polishedCopper: 0.035,
  oxidisedCopper: 0.7,
  aluminiumSheet: 0.09,
  paint: 0.92,
  water: 0.96,
} as const;

/** Heat loss of insulated tank walls [W/(m² K)], flat over temperature: open-tank table. */
export const INSULATED_WALL_U = { '1 in': 2.15, '2 in': 1.15, '3 in': 0.82 } as const;

/** Air at a film temperature. */
export interface AirProperties {
  /** [kg/m³] at 101.325 kPa */
  readonly density: number;
  /** [Pa s] */
  readonly viscosity: number;
  /** [W/(m K)] */
  readonly conductivity: number;
  /** [m²/s] */
  readonly kinematic: number;
  readonly prandtl: number;
}

/**
 * Properties of dry air at 101.325 kPa.
 *
 * @param tC film temperature [°C], -40 to 150
 * @returns density, viscosity, conductivity, kinematic viscosity, Prandtl number; within 3 % of
 *   printed tables
 * @throws OutOfRange outside the range
 * @source ideal gas; Sutherland's law with the constants of White, Viscous Fluid Flow (from memory);
 *   cp 1.007 kJ/(kg K)
 */
export function airProperties(tC: number): AirProperties {
  const t = inRange('air temperature', tC, -40, 150, '°C') + 273.15;
  const x = (t / 273.15) ** 1.5;
  const viscosity = (1.716e-5 * x * (273.15 + 110.4)) / (t + 110.4);
  const conductivity = (0.0241 * x * (273.15 + 194)) / (t + 194);
  const density = (101325 * 0.0289647) / (8.314463 * t);
  return {
    density,
    viscosity,
    conductivity,
    kinematic: viscosity / density,
    prandtl: (viscosity * 1007) / conductivity,
  };
}

/**
 * Free convection at a vertical wall, mean over its height.
 *
 * @param rayleigh Rayleigh number by the height [-], 0 to 1e12
 * @param prandtl Prandtl number [-], above 0 to 1e4
 * @returns Nusselt number [-]; holds for a cylinder when D/L is at least 35/Gr^0.25
 * @throws OutOfRange outside the ranges
 * @source Churchill & Chu 1975
 * @example verticalWallNusselt(1.813e9, 0.69) // 147
 */
export function verticalWallNusselt(rayleigh: number, prandtl: number): number {
  const ra = inRange('Rayleigh number', rayleigh, 0, 1e12, '');
  const pr = inRange('Prandtl number', prandtl, 1e-6, 1e4, '');
  return (0.825 + (0.387 * ra ** (1 / 6)) / (1 + (0.492 / pr) ** (9 / 16)) ** (8 / 27)) ** 2;
}

/**
 * Free convection from a hot plate facing up (or a cold one facing down).
 *
 * @param rayleigh Rayleigh number by area over perimeter [-], 1e4 to 1e11
 * @returns Nusselt number [-]
 * @throws OutOfRange outside the range
 * @source McAdams
 */
export function plateUpNusselt(rayleigh: number): number {
  const ra = inRange('Rayleigh number', rayleigh, 1e4, 1e11, '');
  return ra <= 1e7 ? 0.54 * ra ** 0.25 : 0.15 * ra ** (1 / 3);
}

/**
 * Free convection from a hot plate facing down (or a cold one facing up).
 *
 * @param rayleigh Rayleigh number by area over perimeter [-], 1e5 to 1e11
 * @returns Nusselt number [-]
 * @throws OutOfRange outside the range
 * @source McAdams
 */
export function plateDownNusselt(rayleigh: number): number {
  return 0.27 * inRange('Rayleigh number', rayleigh, 1e5, 1e11, '') ** 0.25;
}

/**
 * Heat transfer from a warm vertical wall to still air.
 *
 * @param surfaceC wall temperature [°C], -20 to 150
 * @param airC air temperature [°C], -30 to 60
 * @param heightM height of the wall [m], 0.01 to 10
 * @returns coefficient [W/(m² K)]
 * @throws OutOfRange outside the ranges
 * @source Churchill & Chu 1975; air at the film temperature
 * @example convectionCoefficient(65, 20, 0.4) // 5.3
 */
export function convectionCoefficient(surfaceC: number, airC: number, heightM: number): number {
  inRange('wall temperature', surfaceC, -20, 150, '°C');
  inRange('air temperature', airC, -30, 60, '°C');
  const height = inRange('height of the wall', heightM, 0.01, 10, 'm');
  const filmC = (surfaceC + airC) / 2;
  const air = airProperties(filmC);
  const grashof =
    (GRAVITY * Math.abs(surfaceC - airC) * height ** 3) / ((filmC + 273.15) * air.kinematic ** 2);
  return (verticalWallNusselt(grashof * air.prandtl, air.prandtl) * air.conductivity) / height;
}

/**
 * Radiation of a surface to a room at air temperature, as a coefficient.
 *
 * @param emissivity [-], 0 to 1; see {@link EMISSIVITY}
 * @param surfaceC surface temperature [°C], -20 to 1000
 * @param airC temperature of the room [°C], -30 to 60
 * @returns coefficient [W/(m² K)]
 * @throws OutOfRange outside the ranges
 * @source Stefan-Boltzmann
 */
export function radiationCoefficient(emissivity: number, surfaceC: number, airC: number): number {
  const e = inRange('emissivity', emissivity, 0, 1, '');
  const s = inRange('surface temperature', surfaceC, -20, 1000, '°C') + 273.15;
  const a = inRange('air temperature', airC, -30, 60, '°C') + 273.15;
  return e * STEFAN_BOLTZMANN * (s * s + a * a) * (s + a);
}

/**
 * Heat loss coefficient of a bare vertical wall: convection and radiation.
 *
 * @param wall surfaceC [°C], -20 to 150; airC [°C], -30 to 60; heightM [m], 0.01 to 10; emissivity 0 to 1
 * @returns coefficient [W/(m² K)]
 * @throws OutOfRange outside the ranges
 * @source Churchill & Chu 1975; Stefan-Boltzmann
 */
export function verticalWallCoefficient(wall: {
  readonly surfaceC: number;
  readonly airC: number;
  readonly heightM: number;
  readonly emissivity: number;
}): number {
  return (
    convectionCoefficient(wall.surfaceC, wall.airC, wall.heightM) +
    radiationCoefficient(wall.emissivity, wall.surfaceC, wall.airC)
  );
}

/**
 * Heat loss coefficient of a bare steel tank wall in still air, dull from use.
 *
 * @param tC liquid temperature [°C], 20 to 110; the table runs from 32 to 99
 * @returns coefficient [W/(m² K)]; within 2 % of the table
 * @throws OutOfRange outside the range
 * @source derived: line through an open-tank heat loss table in 60 °F still air (common practice)
 * @example bareWallU(65.6) // 11.5
 */
export function bareWallU(tC: number): number {
  return 7.48 + 0.0606 * inRange('liquid temperature', tC, 20, 110, '°C');
}

/**
 * Heat loss coefficient of a wall with a layer of insulation.
 *
 * @param wall thicknessM of the insulation [m], 0 to 1; conductivity [W/(m K)], 0.01 to 100;
 *   outsideCoefficient [W/(m² K)], 1 to 100, 9 unless given
 * @returns coefficient [W/(m² K)]
 * @throws OutOfRange outside the ranges
 * @source two resistances in series; a flat wall
 * @example insulatedWallU({ thicknessM: 0.0254, conductivity: 0.038 }) // 1.28
 */
export function insulatedWallU(wall: {
  readonly thicknessM: number;
  readonly conductivity: number;
  readonly outsideCoefficient?: number;
}): number {
  const thickness = inRange('thickness of insulation', wall.thicknessM, 0, 1, 'm');
  const k = inRange('conductivity of insulation', wall.conductivity, 0.01, 100, 'W/(m K)');
  const h = inRange('outside coefficient', wall.outsideCoefficient ?? 9, 1, 100, 'W/(m² K)');
  return 1 / (1 / h + thickness / k);
}
