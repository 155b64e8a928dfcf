import { inRange, OutOfRange } from './errors.ts';

/** Coefficients n1 to n10 of IAPWS-IF97 Table 34. */
const N1 = 0.11670521452767e4;
const N2 = -0.72421316703206e6;
const N3 = -0.17073846940092e2;
const N4 = 0.1202082470247e5;
const N5 = -0.32325550322333e7;
const N6 = 0.1491510861353e2;
const N7 = -0.48232657361591e4;
const N8 = 0.40511340542057e6;
const N9 = -0.23855557567849;
const N10 = 0.65017534844798e3;

const CRITICAL_C = 373.946;

/**
 * Vapour pressure of water. No allocation: safe inside a right-hand side.
 *
 * @param tC temperature [°C], 0 to 373.946
 * @returns saturation pressure, absolute [kPa]
 * @throws OutOfRange outside the range
 * @source IAPWS-IF97 (2007), region 4, eq. 30
 * @example saturationPressure(26.85) // 3.53659
 */
export function saturationPressure(tC: number): number {
  if (!(tC >= 0 && tC <= CRITICAL_C)) {
    throw new OutOfRange('temperature at saturation', tC, 0, CRITICAL_C, '°C');
  }
  const t = tC + 273.15;
  const th = t + N9 / (t - N10);
  const a = th * (th + N1) + N2;
  const b = th * (N3 * th + N4) + N5;
  const c = th * (N6 * th + N7) + N8;
  const root = (2 * c) / (-b + Math.sqrt(b * b - 4 * a * c));
  const square = root * root;
  return square * square * 1000;
}

/**
 * Temperature at which water boils under a pressure.
 *
 * @param pressureKPa absolute pressure [kPa], 0.6113 to 22064
 * @returns saturation temperature [°C]
 * @throws OutOfRange outside the range
 * @source IAPWS-IF97 (2007), region 4, eq. 31
 * @example saturationTemperature(101.325) // 99.974
 */
export function saturationTemperature(pressureKPa: number): number {
  const p = inRange('pressure', pressureKPa, 0.6112126, 22064.4, 'kPa') / 1000;
  const be = p ** 0.25;
  const e = be * (be + N3) + N6;
  const f = be * (N1 * be + N4) + N7;
  const g = be * (N2 * be + N5) + N8;
  const d = (2 * g) / (-f - Math.sqrt(f * f - 4 * e * g));
  return (N10 + d - Math.sqrt((N10 + d) ** 2 - 4 * (N9 + N10 * d))) / 2 - 273.15;
}

/**
 * Heat it takes to evaporate a kilogram of water. No allocation: safe inside a right-hand side.
 *
 * A cubic fitted to IAPWS-IF97; its error is at most 0.021 kJ/kg from 1 to 100 °C, and some
 * 0.2 kJ/kg at 110 °C.
 *
 * @param tC temperature [°C], 0 to 110
 * @returns latent heat [kJ/kg]
 * @throws OutOfRange outside the range
 * @source derived: fit to IAPWS-IF97 regions 1 and 2 on the saturation line
 * @example latentHeat(100) // 2256.5
 */
export function latentHeat(tC: number): number {
  if (!(tC >= 0 && tC <= 110)) throw new OutOfRange('temperature of evaporation', tC, 0, 110, '°C');
  return 2500.916 + tC * (-2.373938 + tC * (5.11878e-4 - 1.214731e-5 * tC));
}
