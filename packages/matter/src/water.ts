import { OutOfRange } from './errors.ts';

/** Coefficients of IAPWS SR6-08(2011), Table 1 and equations 7 and 8, as printed. */
const R = 0.46151805;
const TR = 10;
const P0_MPA = 0.1;
const C2 = 3.869269598e1;
const C1 = -2.452093414e2;
const C3 = -8.983025854;
/** a_i and n_i of the Gibbs energy, i = 1..3. */
const A1 = -1.661470539e5;
const A2 = 2.70878164e6;
const A3 = -1.557191544e8;
/** b_i and m_i of the Gibbs energy, i = 1..4. */
const B1 = -8.237426256e-1;
const B2 = 1.908956353;
const B3 = -2.017597384;
const B4 = 8.546361348e-1;
/** Specific volume: constant, a_6..a_10 (powers 4, 5, 7, 8, 9, 10 without 6), b_5..b_10. */
const V_A = [
  1.93763157e-2, 6.74458446e3, -2.22521604e5, 1.00231247e8, -1.63552118e9, 8.32299658e9,
] as const;
const V_B = [
  5.78545292e-3, -1.53195665e-2, 3.11337859e-2, -4.23546241e-2, 3.38713507e-2, -1.19946761e-2,
] as const;
const VISCOSITY = [
  [280.68, -1.9],
  [511.45, -7.7],
  [61.131, -19.6],
  [0.45903, -40],
] as const;
const CONDUCTIVITY = [
  [1.663, -1.15],
  [-1.7781, -3.4],
  [1.1567, -6],
  [-0.432115, -7.6],
] as const;

const MIN_C = -20;
const MAX_C = 110;

function kelvin(tC: number): number {
  if (tC >= MIN_C && tC <= MAX_C) return tC + 273.15;
  throw new OutOfRange('water temperature', tC, MIN_C, MAX_C, '°C');
}

/**
 * Density of liquid water at 0.1 MPa. No allocation: safe inside a right-hand side.
 *
 * @param tC temperature [°C], -20 to 110 (above 100 the liquid is metastable)
 * @returns density [kg/m³]; formula error below 1e-6 of the value
 * @throws OutOfRange outside the range
 * @source IAPWS SR6-08(2011), eq. 4
 * @example waterDensity(25) // 997.047
 */
export function waterDensity(tC: number): number {
  const t = kelvin(tC);
  const al = TR / (593 - t);
  const be = TR / (t - 232);
  const al2 = al * al;
  const al4 = al2 * al2;
  const al7 = al4 * al2 * al;
  const be2 = be * be;
  const be4 = be2 * be2;
  const sumA =
    V_A[0] + V_A[1] * al4 + V_A[2] * al4 * al + al7 * (V_A[3] + al * (V_A[4] + al * V_A[5]));
  const sumB =
    be * (V_B[0] + be * (V_B[1] + be * V_B[2] + be2 * V_B[3])) +
    V_B[4] * be4 * be +
    V_B[5] * be4 * be2;
  return 1 / (((R * TR) / P0_MPA / 1000) * (sumA + sumB));
}

/**
 * Heat capacity of liquid water at 0.1 MPa.
 *
 * @param tC temperature [°C], -20 to 110
 * @returns isobaric heat capacity [kJ/(kg K)]
 * @throws OutOfRange outside the range
 * @source IAPWS SR6-08(2011), eq. 6
 * @example waterCp(25) // 4.18145
 */
export function waterCp(tC: number): number {
  const t = kelvin(tC);
  const tau = t / TR;
  const al = TR / (593 - t);
  const be = TR / (t - 232);
  const al2 = al * al;
  const al6 = al2 * al2 * al2;
  const be2 = be * be;
  const be4 = be2 * be2;
  const sumA = al6 * (20 * A1 + al * (30 * A2 + 56 * A3 * al2));
  const sumB = be4 * (6 * B1 + be * (12 * B2 + be * (20 * B3 + be * 30 * B4)));
  return -R * (C3 + tau * (sumA + sumB));
}

/**
 * Gibbs energy of liquid water at 0.1 MPa, zero of energy and entropy as in IAPWS-95.
 *
 * @param tC temperature [°C], -20 to 110
 * @returns specific Gibbs energy [kJ/kg]
 * @throws OutOfRange outside the range
 * @source IAPWS SR6-08(2011), eq. 1
 */
export function waterGibbs(tC: number): number {
  const t = kelvin(tC);
  const tau = t / TR;
  const al = TR / (593 - t);
  const be = TR / (t - 232);
  const al4 = al * al * al * al;
  const be2 = be * be;
  const sumA = al4 * (A1 + al * (A2 + A3 * al * al));
  const sumB = be2 * (B1 + be * (B2 + be * (B3 + be * B4)));
  return R * TR * (C1 + C2 * tau + C3 * tau * Math.log(tau) + sumA + sumB);
}

/**
 * Entropy of liquid water at 0.1 MPa.
 *
 * @param tC temperature [°C], -20 to 110
 * @returns specific entropy [kJ/(kg K)]
 * @throws OutOfRange outside the range
 * @source IAPWS SR6-08(2011), eq. 5
 */
export function waterEntropy(tC: number): number {
  const t = kelvin(tC);
  const tau = t / TR;
  const al = TR / (593 - t);
  const be = TR / (t - 232);
  const al5 = al * al * al * al * al;
  const be3 = be * be * be;
  const sumA = al5 * (4 * A1 + al * (5 * A2 + 7 * A3 * al * al));
  const sumB = be3 * (2 * B1 + be * (3 * B2 + be * (4 * B3 + be * 5 * B4)));
  return -R * (C2 + C3 * (1 + Math.log(tau)) + sumA - sumB);
}

/**
 * Enthalpy of liquid water at 0.1 MPa; about zero at 0 °C.
 *
 * @param tC temperature [°C], -20 to 110
 * @returns specific enthalpy [kJ/kg]
 * @throws OutOfRange outside the range
 * @source IAPWS SR6-08(2011), h = g + T s
 * @example waterEnthalpy(66) // 276.365
 */
export function waterEnthalpy(tC: number): number {
  return waterGibbs(tC) + (tC + 273.15) * waterEntropy(tC);
}

/**
 * Viscosity of liquid water at 0.1 MPa.
 *
 * @param tC temperature [°C], -20 to 110
 * @returns dynamic viscosity [mPa s]
 * @throws OutOfRange outside the range
 * @source IAPWS SR6-08(2011), eq. 7
 * @example waterViscosity(20) // 1.0016
 */
export function waterViscosity(tC: number): number {
  const x = kelvin(tC) / 300;
  let sum = 0;
  for (const [factor, power] of VISCOSITY) sum += factor * x ** power;
  return sum * 1e-3;
}

/**
 * Thermal conductivity of liquid water at 0.1 MPa.
 *
 * @param tC temperature [°C], -20 to 110
 * @returns thermal conductivity [W/(m K)]
 * @throws OutOfRange outside the range
 * @source IAPWS SR6-08(2011), eq. 8
 * @example waterConductivity(25) // 0.60650
 */
export function waterConductivity(tC: number): number {
  const x = kelvin(tC) / 300;
  let sum = 0;
  for (const [factor, power] of CONDUCTIVITY) sum += factor * x ** power;
  return sum;
}
