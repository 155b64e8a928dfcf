import { carbonateCharge, TITRATION_END_PH } from './carbonate.ts';
import { inRange } from './errors.ts';
import { CACO3_MG_MEQ, CALCIUM_MG_MEQ, MAGNESIUM_MG_MEQ } from './liquor.ts';

/** Between these a mash pH is sought. */
const LEAST_PH = 3.5;
const MOST_PH = 9;

/** How a malt stands against acid: its own pH in distilled water, and what it takes to move it. */
export interface MaltBuffer {
  /** pH of a mash of it in distilled water, cooled. */
  readonly ph: number;
  /** Slope at that pH [mEq/(kg pH)], negative. */
  readonly slope: number;
  /** Curvature [mEq/(kg pH²)]. */
  readonly curvature?: number;
  /** Third term [mEq/(kg pH³)]. */
  readonly third?: number;
}

/** A mash as the proton balance sees it. */
export interface MashProtons {
  readonly gristKg: number;
  readonly buffer: MaltBuffer;
  readonly liquorL: number;
  readonly liquorPh: number;
  readonly alkalinityMgLCaCO3: number;
  readonly calciumMgL: number;
  readonly magnesiumMgL: number;
  readonly acidMEq?: number;
}

/**
 * Protons a mash still wants at a pH: what acid must give for the mash to come to rest there.
 *
 * @param mash gristKg [kg], 0.01 to 1e5; buffer of the grist: ph 4 to 7, slope -200 to -5 [mEq/(kg
 *   pH)], curvature and third -50 to 50; liquorL [L], 0.01 to 1e6; liquorPh 5 to 10.5;
 *   alkalinityMgLCaCO3, calciumMgL, magnesiumMgL [mg/L], 0 to 2000; acidMEq added acid [mEq], -1e6 to
 *   1e6, 0 unless given
 * @param ph at room temperature, 3.5 to 9
 * @returns protons [mEq]; negative when the mash has too many
 * @throws OutOfRange outside the ranges
 * @source proton balance: deLange, MBAA TQ 52(1):3 (2015); calcium and magnesium by Kolbach 1953
 * @example protonsWanted({ gristKg: 1, buffer: { ph: 6.07, slope: -44.9, curvature: -6 }, liquorL: 3,
 *   liquorPh: 7, alkalinityMgLCaCO3: 0, calciumMgL: 0, magnesiumMgL: 0 }, 5.4) // 27.4
 */
export function protonsWanted(mash: MashProtons, ph: number): number {
  const grist = inRange('grist', mash.gristKg, 0.01, 1e5, 'kg');
  const liquor = inRange('mash liquor', mash.liquorL, 0.01, 1e6, 'L');
  const own = inRange('pH of the malt', mash.buffer.ph, 4, 7, '');
  const slope = inRange('buffer of the malt', mash.buffer.slope, -200, -5, 'mEq/(kg pH)');
  const bend = inRange('curvature of the buffer', mash.buffer.curvature ?? 0, -50, 50, '');
  const third = inRange('third term of the buffer', mash.buffer.third ?? 0, -50, 50, '');
  const liquorPh = inRange('pH of the liquor', mash.liquorPh, 5, 10.5, '');
  const alkalinity = inRange('alkalinity', mash.alkalinityMgLCaCO3, 0, 2000, 'mg/L as CaCO3');
  const calcium = inRange('calcium', mash.calciumMgL, 0, 2000, 'mg/L') / CALCIUM_MG_MEQ;
  const magnesium = inRange('magnesium', mash.magnesiumMgL, 0, 2000, 'mg/L') / MAGNESIUM_MG_MEQ;
  const acid = inRange('acid', mash.acidMEq ?? 0, -1e6, 1e6, 'mEq');
  const d = inRange('pH of the mash', ph, LEAST_PH, MOST_PH, '') - own;
  const charge = carbonateCharge(liquorPh);
  const carbonate = alkalinity / CACO3_MG_MEQ / (charge - carbonateCharge(TITRATION_END_PH));
  const malt = grist * d * (slope + d * (bend + d * third));
  const water = liquor * carbonate * (charge - carbonateCharge(ph));
  return malt + water - liquor * (calcium / 3.5 + magnesium / 7) - acid;
}

/**
 * pH of a mash, cooled to room temperature, where the protons given and taken balance. Within 0.1 at
 * best, and only with the malt lot's own titration: a measured mash pH always overrules it.
 *
 * @param mash as for {@link protonsWanted}: gristKg 0.01 to 1e5 and so on
 * @returns pH at room temperature
 * @throws OutOfRange outside the ranges, or when no mash pH from 3.5 to 9 balances
 * @source proton balance: deLange, MBAA TQ 52(1):3 (2015); calcium and magnesium by Kolbach 1953
 * @example mashPh({ gristKg: 1, buffer: { ph: 6.07, slope: -44.9, curvature: -6 }, liquorL: 3,
 *   liquorPh: 7.5, alkalinityMgLCaCO3: 100.087, calciumMgL: 0, magnesiumMgL: 0 }) // 6.15
 */
export function mashPh(mash: MashProtons): number {
  let low = LEAST_PH;
  let high = MOST_PH;
  inRange('protons wanted at pH 3.5, less acid', protonsWanted(mash, low), 0, Infinity, 'mEq');
  inRange('protons wanted at pH 9, less acid', protonsWanted(mash, high), -Infinity, 0, 'mEq');
  for (let n = 0; n < 60; n++) {
    const mid = (low + high) / 2;
    if (protonsWanted(mash, mid) > 0) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
}
