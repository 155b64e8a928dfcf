import { inRange } from './errors.ts';
import { R22_A, R22_B, R22_C } from './ethanol-coefficients.ts';

/** c0 + x (c1 + x (c2 + ...)) */
function horner(c: readonly number[], x: number): number {
  let sum = 0;
  for (let k = c.length - 1; k >= 0; k--) sum = sum * x + (c[k] ?? 0);
  return sum;
}

/**
 * Density of a mixture of ethanol and water.
 *
 * @param massFraction ethanol [kg/kg], 0 to 1
 * @param tC temperature [°C], -20 to 40
 * @returns density [kg/m³]
 * @throws OutOfRange outside the ranges
 * @source OIML R22 (1975), general formula; also Directive 76/766/EEC, annex
 * @example ethanolDensity(1, 20) // 789.24
 */
export function ethanolDensity(massFraction: number, tC: number): number {
  const p = inRange('ethanol', massFraction, 0, 1, 'kg/kg');
  const d = inRange('temperature', tC, -20, 40, '°C') - 20;
  const temperature = R22_C.map((row) => p * horner(row, p));
  return horner(R22_A, p) + d * horner(R22_B, d) + d * horner(temperature, d);
}

/**
 * Ethanol in a mixture of known density.
 *
 * Halves the interval: near pure water below 4 °C the density does not fall steadily and the first
 * crossing from the water side is not promised there.
 *
 * @param densityKgM3 density [kg/m³], between those of ethanol and water at tC
 * @param tC temperature [°C], 4 to 40
 * @returns ethanol [mass fraction]
 * @throws OutOfRange outside the ranges
 * @source inverse of {@link ethanolDensity}
 * @example ethanolMassFraction(901.42, 15.5) // 0.5709979882
 */
export function ethanolMassFraction(densityKgM3: number, tC: number): number {
  inRange('temperature', tC, 4, 40, '°C');
  // A density computed at either end may miss it by its last bits.
  const slack = 1e-6;
  inRange(
    'density',
    densityKgM3,
    ethanolDensity(1, tC) - slack,
    ethanolDensity(0, tC) + slack,
    'kg/m³',
  );
  let low = 0;
  let high = 1;
  for (let n = 0; n < 60; n++) {
    const mid = (low + high) / 2;
    if (ethanolDensity(mid, tC) > densityKgM3) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
}

/**
 * Specific gravity of a mixture of ethanol and water.
 *
 * @param massFraction ethanol [kg/kg], 0 to 1
 * @returns specific gravity 20/20 °C
 * @throws OutOfRange outside the range
 * @source OIML R22
 * @example ethanolSg(0.05) // 0.991161
 */
export function ethanolSg(massFraction: number): number {
  return ethanolDensity(massFraction, 20) / R22_A[0];
}
