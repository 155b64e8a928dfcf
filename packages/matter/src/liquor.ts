import { inRange } from './errors.ts';

/** Milligrams in a milliequivalent, from atomic masses (Ca 40.078, Mg 24.305, CaCO3 100.087). */
export const CALCIUM_MG_MEQ = 20.039;
export const MAGNESIUM_MG_MEQ = 12.1525;
export const CACO3_MG_MEQ = 50.0435;
/** German degrees in a milliequivalent a litre: 1 °dH is 10 mg CaO a litre (CaO 56.077). */
const DH_PER_MEQ = 56.077 / 20;

/** Alkalinity that is left once calcium and magnesium have done their part, in three units. */
export interface Alkalinity {
  readonly mEqL: number;
  /** [mg/L as CaCO3] */
  readonly mgLCaCO3: number;
  /** [°dH] */
  readonly dH: number;
}

/**
 * Residual alkalinity of brewing liquor. Worked in equivalents: dividing mg/L by 3.5 and 7 is wrong.
 *
 * @param liquor calciumMgL, magnesiumMgL [mg/L], 0 to 2000; alkalinityMgLCaCO3 [mg/L as CaCO3], 0 to
 *   2000
 * @returns residual alkalinity, negative for very hard soft-alkaline liquor
 * @throws OutOfRange outside the ranges
 * @source Kolbach 1953 (definition as in MEBAK W-030.01.900): alkalinity - Ca/3.5 - Mg/7
 * @example residualAlkalinity({ calciumMgL: 52, magnesiumMgL: 12, alkalinityMgLCaCO3: 130.4 }).dH // 4.8
 */
export function residualAlkalinity(liquor: {
  readonly calciumMgL: number;
  readonly magnesiumMgL: number;
  readonly alkalinityMgLCaCO3: number;
}): Alkalinity {
  const ca = inRange('calcium', liquor.calciumMgL, 0, 2000, 'mg/L') / CALCIUM_MG_MEQ;
  const mg = inRange('magnesium', liquor.magnesiumMgL, 0, 2000, 'mg/L') / MAGNESIUM_MG_MEQ;
  const alkalinity =
    inRange('alkalinity', liquor.alkalinityMgLCaCO3, 0, 2000, 'mg/L as CaCO3') / CACO3_MG_MEQ;
  const mEqL = alkalinity - ca / 3.5 - mg / 7;
  return { mEqL, mgLCaCO3: mEqL * CACO3_MG_MEQ, dH: mEqL * DH_PER_MEQ };
}
