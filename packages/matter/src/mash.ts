import { plato as asPlato, type Plato } from '@ladlework/quantity';
import { inRange } from './errors.ts';
import { MALT } from './malt.ts';
import { waterDensity } from './water.ts';

/**
 * Heat capacity of mash liquor for hand sums [kJ/(kg K)]: within 0.2 % of the mean of SR6-08 from
 * 15 to 98 °C.
 */
export const WATER_CP = 4.187;

const MOST_KG = 1e6;

/** What a mash is made of. */
export interface Mash {
  readonly waterKg: number;
  readonly gristKg: number;
  readonly tC: number;
  /** Volume a kilogram of grist takes up [L/kg]. */
  readonly displacementLPerKg?: number;
  readonly gristCp?: number;
  readonly waterCp?: number;
}

/**
 * Heat capacity of a whole mash.
 *
 * @param mash waterKg and gristKg [kg], 0 to 1e6; gristCp and waterCp [kJ/(kg K)]
 * @returns heat capacity [kJ/K]
 * @throws OutOfRange outside the ranges
 * @source mass-weighted sum; grist 1.72 kJ/(kg K) unless given
 * @example mashHeatCapacity({ waterKg: 28, gristKg: 8, gristCp: 1.7 }) // 130.836
 */
export function mashHeatCapacity(mash: Omit<Mash, 'tC' | 'displacementLPerKg'>): number {
  const water = inRange('mash liquor', mash.waterKg, 0, MOST_KG, 'kg');
  const grist = inRange('grist', mash.gristKg, 0, MOST_KG, 'kg');
  const gristCp = inRange(
    'heat capacity of grist',
    mash.gristCp ?? MALT.heatCapacityKJKgK.likely,
    1,
    3,
    'kJ/(kg K)',
  );
  const waterCp = inRange('heat capacity of liquor', mash.waterCp ?? WATER_CP, 3, 5, 'kJ/(kg K)');
  return water * waterCp + grist * gristCp;
}

/**
 * Volume of a whole mash.
 *
 * @param mash waterKg and gristKg [kg], 0 to 1e6; tC [°C], 0 to 110
 * @returns volume [L] at tC
 * @throws OutOfRange outside the ranges
 * @source water by IAPWS SR6-08; grist displacement 0.69 L/kg unless given (Metzger 1996: 0.65-0.80)
 * @example mashVolume({ waterKg: 28, gristKg: 8, tC: 52 }) // 33.885
 */
export function mashVolume(
  mash: Pick<Mash, 'waterKg' | 'gristKg' | 'tC' | 'displacementLPerKg'>,
): number {
  const water = inRange('mash liquor', mash.waterKg, 0, MOST_KG, 'kg');
  const grist = inRange('grist', mash.gristKg, 0, MOST_KG, 'kg');
  const displaced = inRange(
    'displacement of grist',
    mash.displacementLPerKg ?? MALT.displacementLPerKg.likely,
    0.4,
    1,
    'L/kg',
  );
  inRange('mash temperature', mash.tC, 0, 110, '°C');
  return (water / waterDensity(mash.tC)) * 1000 + displaced * grist;
}

/**
 * Density of a whole mash.
 *
 * @param mash as for {@link mashVolume}, not both masses zero
 * @returns density [kg/L] at tC
 * @throws OutOfRange outside the ranges, or for an empty mash
 * @source mass over {@link mashVolume}
 * @example mashDensity({ waterKg: 3, gristKg: 1, tC: 65, displacementLPerKg: 0.687 }) // 1.068
 */
export function mashDensity(mash: Mash): number {
  const mass = inRange('mass of the mash', mash.waterKg + mash.gristKg, 1e-9, 2 * MOST_KG, 'kg');
  return mass / mashVolume(mash);
}

/**
 * Heat capacity of a litre of mash: nearly the same for thick and thin.
 *
 * @param mash as for {@link mashVolume}, not both masses zero
 * @returns heat capacity [kJ/(L K)] at tC
 * @throws OutOfRange outside the ranges, or for an empty mash
 * @source {@link mashHeatCapacity} over {@link mashVolume}
 * @example mashHeatPerLitre({ waterKg: 28, gristKg: 8, tC: 52, gristCp: 1.7 }) // 3.861
 */
export function mashHeatPerLitre(mash: Mash): number {
  inRange('mass of the mash', mash.waterKg + mash.gristKg, 1e-9, 2 * MOST_KG, 'kg');
  return mashHeatCapacity(mash) / mashVolume(mash);
}

/**
 * Strength of the wort in the mash once the grist is converted.
 *
 * @param mash liquorToGrist [kg/kg], 1.5 to 12; extractFraction of the grist as is [-], 0.3 to 0.9,
 *   0.75 unless given; moistureFraction of the grist [-], 0 to 0.15, 0.05 unless given
 * @returns extract of the first wort [°P]
 * @throws OutOfRange outside the ranges
 * @source mass balance
 * @example firstWort({ liquorToGrist: 4 }) // 15.6
 */
export function firstWort(mash: {
  readonly liquorToGrist: number;
  readonly extractFraction?: number;
  readonly moistureFraction?: number;
}): Plato {
  const r = inRange('liquor to grist', mash.liquorToGrist, 1.5, 12, 'kg/kg');
  const e = inRange('extract of the grist', mash.extractFraction ?? 0.75, 0.3, 0.9, 'kg/kg');
  const m = inRange('moisture of the grist', mash.moistureFraction ?? 0.05, 0, 0.15, 'kg/kg');
  return asPlato((100 * e) / (r + m + e));
}

/**
 * Main liquor for a wanted first wort, the school formula.
 *
 * @param yieldPct extract yield of the grist [%], 30 to 90
 * @param firstWortPct wanted first wort [% by weight], 5 to 30
 * @returns liquor [L per kg grist]
 * @throws OutOfRange outside the ranges
 * @source Metzger 1996
 * @example mainLiquor(70, 16) // 3.675
 */
export function mainLiquor(yieldPct: number, firstWortPct: number): number {
  const e = inRange('yield', yieldPct, 30, 90, '%');
  const vw = inRange('first wort', firstWortPct, 5, 30, '%');
  return (e * (100 - vw)) / (vw * 100);
}
