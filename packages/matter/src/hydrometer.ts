import {
  plato as asPlato,
  type Plato,
  type SpecificGravity,
  specificGravity,
} from '@ladlework/quantity';
import { inRange } from './errors.ts';
import { wortDensity } from './wort.ts';

/** Cubic expansion of hydrometer glass [1/K], from memory. */
const GLASS_PER_K = 25e-6;

/** Brix shown over °P of wort; an instrument has its own. Common practice, no source. */
export const REFRACTOMETER_FACTOR = 1.04;

/** SG = sum of c_jk i^j f^k, i and f corrected Brix before and after. Common practice, no source. */
const FERMENTED = {
  constant: 1,
  before: [-0.0044993, 0.00027581, -7.28e-6],
  after: [0.011774, -0.0012717, 6.3293e-5],
} as const;

/**
 * True extract from a hydrometer made for 20 °C read in a sample at another temperature: the wort
 * whose density, seen through glass that has grown, is the one the stem shows.
 *
 * Above 40 °C tables and physics part company: cool the sample.
 *
 * @param platoRead what the stem shows [°P], 0 to 35
 * @param sampleC temperature of the sample [°C], 0 to 40
 * @returns extract at 20 °C [°P]
 * @throws OutOfRange outside the ranges
 * @source derived: ICUMSA density with glass expansion 25e-6/K (from memory); agrees with a fit to
 *   the ASBC table within 0.04 °P to 30 °C and 10 °P
 * @example hydrometerPlato(10, 40) // 11.52
 */
export function hydrometerPlato(platoRead: number, sampleC: number): Plato {
  inRange('hydrometer reading', platoRead, 0, 35, '°P');
  inRange('sample temperature', sampleC, 0, 40, '°C');
  const shown = wortDensity(platoRead / 100, 20) / (1 + GLASS_PER_K * (sampleC - 20));
  // Density rises steadily with extract, so halving the interval cannot miss.
  let low = 0;
  let high = 0.5;
  if (shown <= wortDensity(low, sampleC)) return asPlato(0);
  while (high - low > 1e-12) {
    const mid = (low + high) / 2;
    if (wortDensity(mid, sampleC) < shown) low = mid;
    else high = mid;
  }
  return asPlato(50 * (low + high));
}

/**
 * Extract of unfermented wort from a refractometer.
 *
 * @param brix reading [°Bx], 0 to 40
 * @param factor Brix shown over °P, 0.95 to 1.10; calibrate it for the instrument
 * @returns extract [°P]
 * @throws OutOfRange outside the ranges
 * @source common practice, no source
 * @example refractometerPlato(12.48) // 12.0
 */
export function refractometerPlato(brix: number, factor: number = REFRACTOMETER_FACTOR): Plato {
  return asPlato(
    inRange('refractometer reading', brix, 0, 40, '°Bx') /
      inRange('refractometer factor', factor, 0.95, 1.1, ''),
  );
}

/**
 * Gravity of fermented wort from two refractometer readings. Fitted on 12 and tried on 68 triplets
 * of data; only past half attenuation.
 *
 * @param platoBefore factor-corrected reading of the wort [°P], 5 to 25
 * @param platoAfter factor-corrected reading of the beer [°P], 0 to 25
 * @returns specific gravity 20/20 °C of the beer
 * @throws OutOfRange outside the ranges
 * @source common practice, no source: a cubic fit
 * @example fermentedSgByRefractometer(12, 6) // 1.01168
 */
export function fermentedSgByRefractometer(
  platoBefore: number,
  platoAfter: number,
): SpecificGravity {
  const i = inRange('reading before fermentation', platoBefore, 5, 25, '°P');
  const f = inRange('reading after fermentation', platoAfter, 0, 25, '°P');
  const { constant, before, after } = FERMENTED;
  return specificGravity(
    constant +
      i * (before[0] + i * (before[1] + i * before[2])) +
      f * (after[0] + f * (after[1] + f * after[2])),
  );
}
