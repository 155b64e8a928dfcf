import { precursorRate } from '@ladlework/matter';

/**
 * Integral of a first-order rate along a straight temperature line.
 *
 * @param k  rate at the reference temperature [1/min]
 * @param theta  activation energy over gas constant [K]
 * @param inverseRef  1 / reference temperature [1/K]
 * @param fromC  temperature at the start [°C]
 * @param toC  temperature at the end [°C]
 * @param minutes  length [min]
 * @returns integral [-]; three-point Gauss on pieces of at most 4 K, relative error below 1e-8
 * @source Abramowitz & Stegun 25.4.30
 */
export function rateIntegral(
  k: number,
  theta: number,
  inverseRef: number,
  fromC: number,
  toC: number,
  minutes: number,
): number {
  const rise = toC - fromC;
  if (rise === 0) return k * minutes * Math.exp(-theta * (1 / (fromC + 273.15) - inverseRef));
  const pieces = Math.ceil(Math.abs(rise) / 4);
  const width = rise / pieces;
  const reach = 0.5 * width * Math.sqrt(0.6);
  let sum = 0;
  for (let i = 0; i < pieces; i++) {
    const middle = fromC + (i + 0.5) * width + 273.15;
    sum +=
      8 * Math.exp(-theta * (1 / middle - inverseRef)) +
      5 * Math.exp(-theta * (1 / (middle - reach) - inverseRef)) +
      5 * Math.exp(-theta * (1 / (middle + reach) - inverseRef));
  }
  return (k * minutes * sum) / (18 * pieces);
}

/** Below this S-methyl methionine all but stands still [°C]: the lower end of the rate's range. */
const SMM_FROM_C = 70;

/**
 * Share of S-methyl methionine that outlives a straight temperature line.
 *
 * @param fromC  temperature at the start [°C], to 105
 * @param toC  temperature at the end [°C], to 105
 * @param minutes  length [min]
 * @returns share left [-]
 * @throws OutOfRange above 105 °C
 * @source Wilson & Booer 1979, by `precursorRate`; integral as above
 */
export function smmKept(fromC: number, toC: number, minutes: number): number {
  if (Math.max(fromC, toC) <= SMM_FROM_C) return 1;
  const rise = toC - fromC;
  const pieces = Math.max(1, Math.ceil(Math.abs(rise) / 4));
  const width = rise / pieces;
  const reach = 0.5 * width * Math.sqrt(0.6);
  let sum = 0;
  for (let i = 0; i < pieces; i++) {
    const middle = fromC + (i + 0.5) * width;
    sum += 8 * splitting(middle) + 5 * splitting(middle - reach) + 5 * splitting(middle + reach);
  }
  return Math.exp((-minutes * sum) / (18 * pieces));
}

function splitting(tempC: number): number {
  return tempC < SMM_FROM_C ? 0 : precursorRate(tempC);
}
