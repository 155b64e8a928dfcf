import { inRange, OutOfRange } from './errors.ts';
import { saturationPressure, saturationTemperature } from './saturation.ts';
import { waterDensity, waterViscosity } from './water.ts';

/**
 * Excess of the density of a sucrose solution over water: rows are powers of (t - 20)/100, columns
 * powers of the mass fraction from the first. ICUMSA SPS-4 (Bubnik et al. 1995).
 */
const DENSITY_0 = [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.289] as const;
const DENSITY_1 = [-46.272, -7.172, 1.1597, 5.1126, 17.5254] as const;
const DENSITY_2 = [59.7712, 7.2491, 12.363, -35.4791] as const;
const DENSITY_3 = [-47.2207, -21.6977, 27.6301] as const;
const DENSITY_4 = [18.3184, 12.3081] as const;

const MOLAR_WATER = 18.01528;
const MOLAR_SUCROSE = 342.2965;
/** Starzak & Peacock: ln gamma = Q/(R T) x^2 (1 + a x + b x^2). */
const ACTIVITY = { qJMol: -17638, a: -1.0038, b: -0.24653, gasJMolK: 8.314 } as const;

/** Viscosity of wort over that of sucrose of equal extract. EBC congress wort range, from memory. */
export const WORT_VISCOSITY_FACTOR = { low: 1.15, likely: 1.2, high: 1.25 } as const;

/**
 * Density of wort, taken as sucrose solution of the same extract (the definition of °P at 20 °C).
 *
 * @param w extract [mass fraction], 0 to 0.7
 * @param tC temperature [°C], 0 to 110; published to 100, the last kelvins carry the boil
 * @returns density [kg/m³]; within 8e-5 of NBS Circular 440 to 30 % at 20 °C
 * @throws OutOfRange outside the ranges
 * @source ICUMSA SPS-4 (Bubnik et al. 1995), over water by IAPWS SR6-08
 * @example wortDensity(0.12, 20) // 1046.45
 */
export function wortDensity(w: number, tC: number): number {
  if (!(w >= 0 && w <= 0.7)) throw new OutOfRange('extract', w, 0, 0.7, 'kg/kg');
  if (!(tC >= 0 && tC <= 110)) throw new OutOfRange('wort temperature', tC, 0, 110, '°C');
  const x = (tC - 20) / 100;
  const d0 = DENSITY_0;
  const d1 = DENSITY_1;
  const d2 = DENSITY_2;
  const d3 = DENSITY_3;
  const d4 = DENSITY_4;
  const s0 = w * (d0[0] + w * (d0[1] + w * (d0[2] + w * (d0[3] + w * (d0[4] + w * d0[5])))));
  const s1 = w * (d1[0] + w * (d1[1] + w * (d1[2] + w * (d1[3] + w * d1[4]))));
  const s2 = w * (d2[0] + w * (d2[1] + w * (d2[2] + w * d2[3])));
  const s3 = w * (d3[0] + w * (d3[1] + w * d3[2]));
  const s4 = w * (d4[0] + w * d4[1]);
  return waterDensity(tC) + s0 + x * (s1 + x * (s2 + x * (s3 + x * s4)));
}

/**
 * Heat capacity of wort.
 *
 * @param w extract [mass fraction], 0 to 0.6
 * @param tC temperature [°C], 0 to 110; published to 100
 * @param purity sucrose in the extract [fraction], 0 to 1; 1 for wort
 * @returns heat capacity [kJ/(kg K)]
 * @throws OutOfRange outside the ranges
 * @source Llano Restrepo 2005, the sugar technologists' formula (Bubnik/Hugot agree within 0.003)
 * @example wortCp(0.12, 65) // 3.941
 */
export function wortCp(w: number, tC: number, purity = 1): number {
  if (!(w >= 0 && w <= 0.6)) throw new OutOfRange('extract', w, 0, 0.6, 'kg/kg');
  if (!(tC >= 0 && tC <= 110)) throw new OutOfRange('wort temperature', tC, 0, 110, '°C');
  if (!(purity >= 0 && purity <= 1)) throw new OutOfRange('purity', purity, 0, 1, '');
  return 4.184 + w * (-2.971 + 0.46 * purity + 0.0075 * tC);
}

function activityOfWater(x: number, tK: number): number {
  const { qJMol, a, b, gasJMolK } = ACTIVITY;
  return (1 - x) * Math.exp((qJMol / (gasJMolK * tK)) * x * x * (1 + a * x + b * x * x));
}

/**
 * How much hotter wort boils than water at the same pressure.
 *
 * Newton on ln p, a few steps; not for a right-hand side, once a move is fine.
 *
 * @param w extract [mass fraction], 0 to 0.6
 * @param pressureKPa absolute pressure [kPa], 45 to 200
 * @returns boiling point rise [K]
 * @throws OutOfRange outside the ranges
 * @source Starzak & Peacock 1997, activity of water in sucrose solution (form of the algebra from
 *   memory); IAPWS-IF97 region 4
 * @example boilingRise(0.12) // 0.21
 */
export function boilingRise(w: number, pressureKPa = 101.325): number {
  inRange('extract', w, 0, 0.6, 'kg/kg');
  inRange('pressure', pressureKPa, 45, 200, 'kPa');
  if (w === 0) return 0;
  const sucrose = w / MOLAR_SUCROSE;
  const x = sucrose / (sucrose + (1 - w) / MOLAR_WATER);
  const tWater = saturationTemperature(pressureKPa);
  let t = tWater;
  for (let n = 0; n < 20; n++) {
    const residual = Math.log(
      (activityOfWater(x, t + 273.15) * saturationPressure(t)) / pressureKPa,
    );
    const slope = Math.log(saturationPressure(t + 0.01) / saturationPressure(t - 0.01)) / 0.02;
    const step = residual / slope;
    t -= step;
    if (Math.abs(step) < 1e-10) return t - tWater;
  }
  throw new Error(`boiling rise did not settle for w ${w} at ${pressureKPa} kPa`);
}

/**
 * Viscosity of sucrose solution.
 *
 * @param w extract [mass fraction], 0 to 0.4; fitted to 0.2
 * @param tC temperature [°C], 0 to 105; fitted from 5 to 85
 * @returns dynamic viscosity [mPa s]; within 2.6 % of the tables to 20 %, 6.6 % to 40 %
 * @throws OutOfRange outside the ranges
 * @source derived: fit to Perry's Chemical Engineers' Handbook, 7th ed., Table 2-366 (Bingham &
 *   Jackson 1919) and the CRC table at 20 °C, over water by IAPWS SR6-08
 * @example sucroseViscosity(0.12, 78) // 0.474
 */
export function sucroseViscosity(w: number, tC: number): number {
  inRange('extract', w, 0, 0.4, 'kg/kg');
  inRange('wort temperature', tC, 0, 105, '°C');
  const d = tC - 20;
  return (
    waterViscosity(tC) *
    Math.exp(((2.6571 + d * (-0.017245 + 8.611e-5 * d)) * w) / (1 - 1.0478 * w))
  );
}

/**
 * Viscosity of wort: thicker than sucrose of equal extract by a factor of its own.
 *
 * @param w extract [mass fraction], 0 to 0.4
 * @param tC temperature [°C], 0 to 105
 * @param factor wort over sucrose [-], 1 to 2; 1.15 to 1.25 usual
 * @returns dynamic viscosity [mPa s]; water itself when w is 0
 * @throws OutOfRange outside the ranges
 * @source {@link sucroseViscosity}; factor from the usual EBC congress wort viscosity, 1.45 to
 *   1.60 mPa s at 8.6 % and 20 °C (from memory)
 * @example wortViscosity(0.12, 78) // 0.57
 */
export function wortViscosity(
  w: number,
  tC: number,
  factor: number = WORT_VISCOSITY_FACTOR.likely,
): number {
  inRange('viscosity factor', factor, 1, 2, '');
  // The factor belongs to the extract: below 2 % it fades, so that water stays water.
  const share = Math.min(1, w / 0.02);
  return sucroseViscosity(w, tC) * (1 + (factor - 1) * share);
}
