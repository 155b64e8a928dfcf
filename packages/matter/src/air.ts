import { inRange } from './errors.ts';

/**
 * Thresholds for cautions [ppm by volume]; the local code decides. CO: NIOSH REL 35, OSHA PEL 50
 * (time-weighted), NIOSH ceiling 200. CO2: OSHA PEL and ACGIH 5000, short term 30 000, and 40 000
 * immediately dangerous (from memory). Oxygen 29 CFR 1910.146.
 */
export const AIR_LIMITS = {
  carbonMonoxidePpm: { caution: 35, limit: 50, ceiling: 200 },
  carbonDioxidePpm: { caution: 5000, shortTerm: 30000, danger: 40000 },
  oxygenPct: { low: 19.5, high: 23.5 },
} as const;

/** Dry products of burning a kilogram of propane with just enough air, at 20 °C [m³/kg]. */
const PROPANE_DRY_PRODUCTS_M3_KG = 11.9;
/** Carbon monoxide in the products, undiluted, that appliance standards usually allow (from memory). */
const APPLIANCE_CO_PPM = 800;
/** Carbon dioxide, at 20 °C and 101.325 kPa [m³/kg]. */
const CO2_M3_KG = 0.5465;

/**
 * Carbon monoxide that a propane burner builds up in a closed room.
 *
 * @param room propaneKgPerH [kg/h], 0 to 100; volumeM3 [m³], 1 to 1e5; airChangesPerH [1/h], 0.05 to
 *   100; airFreePpm carbon monoxide in undiluted products [ppm], 0 to 1e5, 800 unless given
 * @returns steady concentration [ppm]
 * @throws OutOfRange outside the ranges
 * @source derived: steady balance of a mixed room; 800 ppm air-free is the usual appliance limit
 *   (from memory)
 * @example burnerCarbonMonoxide({ propaneKgPerH: 0.776, volumeM3: 50, airChangesPerH: 1 }) // 148
 */
export function burnerCarbonMonoxide(room: {
  readonly propaneKgPerH: number;
  readonly volumeM3: number;
  readonly airChangesPerH: number;
  readonly airFreePpm?: number;
}): number {
  const fuel = inRange('propane burnt', room.propaneKgPerH, 0, 100, 'kg/h');
  const volume = inRange('volume of the room', room.volumeM3, 1, 1e5, 'm³');
  const changes = inRange('air changes', room.airChangesPerH, 0.05, 100, '/h');
  const ppm = inRange(
    'carbon monoxide in the products',
    room.airFreePpm ?? APPLIANCE_CO_PPM,
    0,
    1e5,
    'ppm',
  );
  return (fuel * PROPANE_DRY_PRODUCTS_M3_KG * ppm) / (volume * changes);
}

/**
 * Carbon dioxide of a fermentation let into a sealed room.
 *
 * @param room extractKg real extract fermented [kg], 0 to 1e5; volumeM3 [m³], 1 to 1e5
 * @returns concentration [% by volume], the room's own air not counted
 * @throws OutOfRange outside the ranges
 * @source Balling: 0.9565 g CO2 from 2.0665 g extract; ideal gas at 20 °C
 * @example fermentationCo2({ extractKg: 1.674, volumeM3: 20 }) // 2.1
 */
export function fermentationCo2(room: {
  readonly extractKg: number;
  readonly volumeM3: number;
}): number {
  const extract = inRange('extract fermented', room.extractKg, 0, 1e5, 'kg');
  const gas = ((extract * 0.9565) / 2.0665) * CO2_M3_KG;
  return (100 * gas) / inRange('volume of the room', room.volumeM3, 1, 1e5, 'm³');
}
