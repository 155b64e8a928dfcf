import { inRange } from './errors.ts';

const moistureIn = (moisture: number): number =>
  inRange('moisture of the malt', moisture, 0, 0.15, 'kg/kg');

/**
 * Extract of malt from the strength of its laboratory wort (50 g of malt made up to 450 g).
 *
 * @param platoCongress strength of the laboratory wort [°P], 4 to 12
 * @param moisture of the malt [kg/kg], 0 to 0.15
 * @returns extract of the malt as it is [kg/kg]
 * @throws OutOfRange outside the ranges
 * @source congress mash: E = P (M + 800)/(100 - P), per cent (from memory)
 * @example congressExtract(8.9, 0.042) // 0.7857
 */
export function congressExtract(platoCongress: number, moisture: number): number {
  const p = inRange('laboratory wort', platoCongress, 4, 12, '°P');
  return (p * (100 * moistureIn(moisture) + 800)) / (100 - p) / 100;
}

/**
 * Extract as weighed from extract of dry matter. The published variant that divides by one plus the
 * moisture falls a tenth of a point short.
 *
 * @param extractDry [kg/kg dry], 0 to 1
 * @param moisture of the malt [kg/kg], 0 to 0.15
 * @returns extract [kg/kg as weighed]
 * @throws OutOfRange outside the ranges
 * @source definition
 * @example extractAsIs(0.805, 0.045) // 0.7688
 */
export function extractAsIs(extractDry: number, moisture: number): number {
  return inRange('extract of the malt', extractDry, 0, 1, 'kg/kg dry') * (1 - moistureIn(moisture));
}

/**
 * Extract of dry matter from extract as weighed: the inverse of {@link extractAsIs}.
 *
 * @param extract [kg/kg as weighed], 0 to 0.95
 * @param moisture of the malt [kg/kg], 0 to 0.15
 * @returns extract [kg/kg dry]
 * @throws OutOfRange outside the ranges
 * @source definition
 * @example extractDryFrom(0.7857, 0.042) // 0.8201
 */
export function extractDryFrom(extract: number, moisture: number): number {
  return inRange('extract of the malt', extract, 0, 0.95, 'kg/kg') / (1 - moistureIn(moisture));
}

/**
 * European per cent to the laboratory degrees of the Institute of Brewing.
 *
 * @param extractDryPct fine-grind extract [% dry], 60 to 90
 * @returns [litre degrees per kg]; approximate
 * @throws OutOfRange outside the range
 * @source common practice, no source: (EBC - 1.705)/0.2586
 * @example litreDegreesFromExtract(80) // 302.8
 */
export function litreDegreesFromExtract(extractDryPct: number): number {
  return (inRange('extract of the malt', extractDryPct, 60, 90, '% dry') - 1.705) / 0.2586;
}
