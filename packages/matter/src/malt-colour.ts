import { ebcFromSrm } from './colour.ts';
import { inRange } from './errors.ts';

/** SRM of the laboratory wort against degrees Lovibond. From memory. */
const LOVIBOND = { slope: 1.3546, offset: -0.76 } as const;

/**
 * Colour of a malt's laboratory wort from its degrees Lovibond.
 *
 * @param lovibond [°L], 1 to 600
 * @returns colour of the laboratory wort [SRM]
 * @throws OutOfRange outside the range
 * @source SRM = 1.3546 °L - 0.76 (from memory; pairs in use agree within 0.1)
 * @example srmFromLovibond(10) // 12.79
 */
export function srmFromLovibond(lovibond: number): number {
  return LOVIBOND.slope * inRange('malt colour', lovibond, 1, 600, '°L') + LOVIBOND.offset;
}

/**
 * Degrees Lovibond for the colour sum when the sheet gives EBC. EBC and ASBC worts differ in
 * strength, and this carries one over to the other by the scale alone: say so beside the result.
 *
 * @param ebc colour on the malt sheet [EBC], 1.2 to 1600
 * @returns [°L], approximate
 * @throws OutOfRange outside the range
 * @source inverse of {@link srmFromLovibond}, EBC by the absorbance scale
 * @example lovibondFromSheetEbc(3.6) // 1.91
 */
export function lovibondFromSheetEbc(ebc: number): number {
  const srm = inRange('malt colour', ebc, 1.2, 1600, 'EBC') / ebcFromSrm(1);
  return (srm - LOVIBOND.offset) / LOVIBOND.slope;
}

/**
 * Beer colour from a photometer.
 *
 * @param absorbance430 of 1 cm at 430 nm [-], 0 to 20 (dilution counted in)
 * @returns colour [SRM]
 * @throws OutOfRange outside the range
 * @source SRM = 12.7 A430 (Oxford Companion to Beer)
 * @example srmFromAbsorbance(0.5) // 6.35
 */
export function srmFromAbsorbance(absorbance430: number): number {
  return 12.7 * inRange('absorbance', absorbance430, 0, 20, '');
}
