import { inRange } from './errors.ts';
import { waterCp, waterDensity } from './water.ts';

/** Crushed malt as the engine takes it, with the band of what is published or practised. */
export const MALT = {
  /** Heat capacity [kJ/(kg K)] of grist at 4-5 % moisture; our choice between the two routes below. */
  heatCapacityKJKgK: { low: 1.65, likely: 1.72, high: 1.85 },
  /** Volume that a kilogram of grist takes up in water [L/kg]; Metzger 1996: 0.65 to 0.80. */
  displacementLPerKg: { low: 0.65, likely: 0.69, high: 0.8 },
  /** Heat set free when a kilogram of grist at 5 % moisture is wetted [kJ/kg]. */
  slakingKJKg: { low: 10, likely: 19, high: 25 },
  /**
   * Liquor a kilogram of grist holds back after run-off [L/kg], dead space apart; 0.75 to 1.04 from
   * published wet-grain figures, coarse manifolds to 1.7.
   */
  retentionLPerKg: { low: 0.75, likely: 1.0, high: 1.7 },
} as const;

/** Calorie of the handbook's relative heats [kJ/(kg K)]. */
const HANDBOOK_WATER_CP = 4.1868;

/**
 * Heat capacity of malt as the trade handbook has it.
 *
 * @param moisturePct moisture [% by weight], 0 to 12
 * @returns heat capacity [kJ/(kg K)]; every row of the handbook within 0.01 of its relative heat
 * @throws OutOfRange outside the range
 * @source derived: line through The Brewing Room Book 1984/85 table of relative specific heats
 * @example maltHeatCapacity(4) // 1.675
 */
export function maltHeatCapacity(moisturePct: number): number {
  return (0.38 + 0.005 * inRange('malt moisture', moisturePct, 0, 12, '%')) * HANDBOOK_WATER_CP;
}

/**
 * Heat set free when dry malt takes up water.
 *
 * @param moisturePct moisture [% by weight], 0 to 12; fitted from 0 to 8
 * @returns heat [kJ/kg grist]; the true figure may lie 40 % either side
 * @throws OutOfRange outside the range
 * @source derived: fit to the slaking corrections of The Brewing Room Book 1984/85 (°F column),
 *   error at most 2.0 kJ/kg
 * @example slakingHeat(5) // 19.07
 */
export function slakingHeat(moisturePct: number): number {
  return 35.8 * Math.exp(-0.126 * inRange('malt moisture', moisturePct, 0, 12, '%'));
}

/** Mass fractions; they add up to one. */
export interface Composition {
  readonly water: number;
  readonly protein: number;
  readonly fat: number;
  readonly carbohydrate: number;
  readonly fibre: number;
  readonly ash: number;
}
type Component = keyof Composition;

/** Choi & Okos 1986: cp = a + b t + c t² [kJ/(kg K)], rho = d + e t [kg/m³], t in °C. */
const CHOI_OKOS: Readonly<
  Record<
    Exclude<Component, 'water'>,
    { cp: readonly [number, number, number]; density: readonly [number, number] }
  >
> = {
  protein: { cp: [2.0082, 1.2089e-3, -1.3129e-6], density: [1329.9, -0.5184] },
  fat: { cp: [1.9842, 1.4733e-3, -4.8008e-6], density: [925.59, -0.41757] },
  carbohydrate: { cp: [1.5488, 1.9625e-3, -5.9399e-6], density: [1599.1, -0.31046] },
  fibre: { cp: [1.8459, 1.8306e-3, -4.6509e-6], density: [1311.5, -0.36589] },
  ash: { cp: [1.0926, 1.8896e-3, -3.6817e-6], density: [2423.8, -0.28063] },
};

/** Dry pale malt: 11 protein, 2.2 fat, 66.8 carbohydrate, 17.5 fibre, 2.5 ash; an assumption. */
const DRY_PALE_MALT = { protein: 0.11, fat: 0.022, carbohydrate: 0.668, fibre: 0.175, ash: 0.025 };

/**
 * Composition of pale malt at a moisture.
 *
 * @param moisturePct moisture [% by weight], 0 to 12
 * @returns mass fractions, adding up to one
 * @throws OutOfRange outside the range
 * @source assumed composition of the dry malt
 */
export function paleMaltComposition(moisturePct: number): Composition {
  const water = inRange('malt moisture', moisturePct, 0, 12, '%') / 100;
  const dry = DRY_PALE_MALT;
  return {
    water,
    protein: dry.protein * (1 - water),
    fat: dry.fat * (1 - water),
    carbohydrate: dry.carbohydrate * (1 - water),
    fibre: dry.fibre * (1 - water),
    ash: dry.ash * (1 - water),
  };
}

function componentCp(name: Component, tC: number): number {
  if (name === 'water') return waterCp(tC);
  const [a, b, c] = CHOI_OKOS[name].cp;
  return a + tC * (b + tC * c);
}

function componentDensity(name: Component, tC: number): number {
  if (name === 'water') return waterDensity(tC);
  const [d, e] = CHOI_OKOS[name].density;
  return d + tC * e;
}

function checkComposition(composition: Composition): readonly (readonly [Component, number])[] {
  const parts = Object.entries(composition) as [Component, number][];
  let sum = 0;
  for (const [name, share] of parts) sum += inRange(`share of ${name}`, share, 0, 1, '');
  inRange('sum of the shares', sum, 1 - 1e-6, 1 + 1e-6, '');
  return parts;
}

/**
 * Heat capacity of a foodstuff from its composition: mass-weighted.
 *
 * @param composition mass fractions adding up to one
 * @param tC temperature [°C], -20 to 110
 * @returns heat capacity [kJ/(kg K)]
 * @throws OutOfRange outside the ranges
 * @source Choi & Okos 1986; water by IAPWS SR6-08
 * @example mixtureCp(paleMaltComposition(4), 65) // 1.85
 */
export function mixtureCp(composition: Composition, tC: number): number {
  inRange('temperature', tC, -20, 110, '°C');
  let cp = 0;
  for (const [name, share] of checkComposition(composition)) cp += share * componentCp(name, tC);
  return cp;
}

/**
 * Density of a foodstuff from its composition: volumes add.
 *
 * @param composition mass fractions adding up to one
 * @param tC temperature [°C], -20 to 110
 * @returns density [kg/m³]
 * @throws OutOfRange outside the ranges
 * @source Choi & Okos 1986; water by IAPWS SR6-08
 */
export function mixtureDensity(composition: Composition, tC: number): number {
  inRange('temperature', tC, -20, 110, '°C');
  let volume = 0;
  for (const [name, share] of checkComposition(composition)) {
    volume += share / componentDensity(name, tC);
  }
  return 1 / volume;
}
