import { inRange } from './errors.ts';
import { CACO3_MG_MEQ, CALCIUM_MG_MEQ, MAGNESIUM_MG_MEQ } from './liquor.ts';

/** First and second constant of carbonic acid, room temperature. Textbook values. */
const PK1 = 6.38;
const PK2 = 10.33;
/** End point of the alkalinity titration. */
const TITRATION_END = 4.3;

/** Charge of the carbonate species per mole of carbonate. */
function carbonateCharge(ph: number): number {
  const h = 10 ** -ph;
  const k1 = 10 ** -PK1;
  const k12 = k1 * 10 ** -PK2;
  return (k1 * h + 2 * k12) / (h * h + k1 * h + k12);
}

/** How a malt stands against acid: its own pH in distilled water, and what it takes to move it. */
export interface MaltBuffer {
  /** pH of a mash of it in distilled water, cooled. */
  readonly ph: number;
  /** Slope at that pH [mEq/(kg pH)], negative. */
  readonly slope: number;
  /** Curvature [mEq/(kg pH²)]. */
  readonly curvature?: number;
}

/**
 * pH of a mash, cooled to room temperature, where the protons given and taken balance. Within 0.1 at
 * best, and only with the malt lot's own titration: a measured mash pH always overrules it.
 *
 * @param mash gristKg [kg], 0.01 to 1e5; buffer of the grist: ph 4 to 7, slope -200 to -5 [mEq/(kg
 *   pH)], curvature -50 to 50; liquorL [L], 0.01 to 1e6; liquorPh 5 to 10.5; alkalinityMgLCaCO3,
 *   calciumMgL, magnesiumMgL [mg/L], 0 to 2000; acidMEq added acid [mEq], -1e6 to 1e6, 0 unless given
 * @returns pH at room temperature
 * @throws OutOfRange outside the ranges, or when no mash pH from 3.5 to 9 balances
 * @source proton balance: deLange, MBAA TQ 52(1):3 (2015); calcium and magnesium by Kolbach 1953
 * @example mashPh({ gristKg: 1, buffer: { ph: 6.07, slope: -44.9, curvature: -6 }, liquorL: 3,
 *   liquorPh: 7.5, alkalinityMgLCaCO3: 100.087, calciumMgL: 0, magnesiumMgL: 0 }) // 6.15
 */
export function mashPh(mash: {
  readonly gristKg: number;
  readonly buffer: MaltBuffer;
  readonly liquorL: number;
  readonly liquorPh: number;
  readonly alkalinityMgLCaCO3: number;
  readonly calciumMgL: number;
  readonly magnesiumMgL: number;
  readonly acidMEq?: number;
}): number {
  const grist = inRange('grist', mash.gristKg, 0.01, 1e5, 'kg');
  const liquor = inRange('mash liquor', mash.liquorL, 0.01, 1e6, 'L');
  const own = inRange('pH of the malt', mash.buffer.ph, 4, 7, '');
  const slope = inRange('buffer of the malt', mash.buffer.slope, -200, -5, 'mEq/(kg pH)');
  const bend = inRange('curvature of the buffer', mash.buffer.curvature ?? 0, -50, 50, '');
  const liquorPh = inRange('pH of the liquor', mash.liquorPh, 5, 10.5, '');
  const alkalinity = inRange('alkalinity', mash.alkalinityMgLCaCO3, 0, 2000, 'mg/L as CaCO3');
  const calcium = inRange('calcium', mash.calciumMgL, 0, 2000, 'mg/L') / CALCIUM_MG_MEQ;
  const magnesium = inRange('magnesium', mash.magnesiumMgL, 0, 2000, 'mg/L') / MAGNESIUM_MG_MEQ;
  const acid = inRange('acid', mash.acidMEq ?? 0, -1e6, 1e6, 'mEq');
  const charge = carbonateCharge(liquorPh);
  const carbonate = alkalinity / CACO3_MG_MEQ / (charge - carbonateCharge(TITRATION_END));
  /** Protons still wanted at a pH [mEq]; falls as the pH rises. */
  const wanted = (ph: number) => {
    const d = ph - own;
    const malt = grist * d * (slope + bend * d);
    const water = liquor * carbonate * (charge - carbonateCharge(ph));
    return malt + water - liquor * (calcium / 3.5 + magnesium / 7) - acid;
  };
  let low = 3.5;
  let high = 9;
  inRange('protons wanted at pH 3.5, less acid', wanted(low), 0, Infinity, 'mEq');
  inRange('protons wanted at pH 9, less acid', wanted(high), -Infinity, 0, 'mEq');
  for (let n = 0; n < 60; n++) {
    const mid = (low + high) / 2;
    if (wanted(mid) > 0) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
}
