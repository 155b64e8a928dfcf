import { inRange } from './errors.ts';

/** Pounds in a kilogram over US gallons in a litre: lb/gal from kg/L. */
const LB_GAL_PER_KG_L = 8.345404;
/** Morey's power law through three earlier rules. Common practice, no source. */
const MOREY = { factor: 1.4922, power: 0.6859, mostSrm: 50 } as const;
/** EBC is 25 times, SRM 12.7 times the absorbance of 1 cm at 430 nm. */
const EBC_PER_SRM = 25 / 12.7;

/** A malt as the colour sum sees it. */
export interface ColouredMalt {
  readonly kg: number;
  /** Colour of the malt on its certificate [°L]; EBC malt colour is another wort's and does not convert. */
  readonly lovibond: number;
}

/**
 * Colour that a grist carries, per volume of wort.
 *
 * @param malts each with its kg, 0 to 1e5, and its lovibond, 0 to 2000 [°L]
 * @param volumeL wort at the end of the boil, cold [L], 0.1 to 1e6
 * @returns malt colour units [lb °L/US gal]
 * @throws OutOfRange outside the ranges
 * @source definition: sum of mass times colour over volume (common practice, no source)
 * @example maltColourUnits([{ kg: 20, lovibond: 1.7 }], 100) // 2.84
 */
export function maltColourUnits(malts: readonly ColouredMalt[], volumeL: number): number {
  const volume = inRange('volume of wort', volumeL, 0.1, 1e6, 'L');
  let sum = 0;
  for (const malt of malts) {
    sum +=
      inRange('malt', malt.kg, 0, 1e5, 'kg') * inRange('malt colour', malt.lovibond, 0, 2000, '°L');
  }
  return (LB_GAL_PER_KG_L * sum) / volume;
}

/**
 * Colour of the beer that a grist leads to. Within 20 % or worse; a decoction adds to it.
 *
 * @param colourUnits malt colour units [lb °L/US gal], 0 to 167, where the law has 50 SRM
 * @returns colour [SRM]
 * @throws OutOfRange outside the range
 * @source Morey's power law (common practice, no source); exponent as in its first print
 * @example srmFromColourUnits(20) // 11.65
 */
export function srmFromColourUnits(colourUnits: number): number {
  const most = (MOREY.mostSrm / MOREY.factor) ** (1 / MOREY.power);
  return MOREY.factor * inRange('malt colour units', colourUnits, 0, most, '') ** MOREY.power;
}

/**
 * Beer colour on the European scale.
 *
 * @param srm colour of beer or wort [SRM], 0 to 1000
 * @returns colour [EBC]
 * @throws OutOfRange outside the range
 * @source both scales are multiples of the absorbance at 430 nm (Oxford Companion to Beer)
 * @example ebcFromSrm(10) // 19.69
 */
export function ebcFromSrm(srm: number): number {
  return EBC_PER_SRM * inRange('colour', srm, 0, 1000, 'SRM');
}
