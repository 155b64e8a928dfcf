/**
 * The ensemble of draws a kit owns before its own readings narrow it. How wide it is, and how it
 * is held against what is published of small kit: docs/decisions/0005-prior-spreads.md and
 * unknown-kit.ts.
 */
import {
  type Burner,
  type Draw,
  type Kit,
  MASH_DRAW_DIMS,
  NOMINAL,
  SETTLED_LN_SD,
} from '@ladlework/brewhouse';
import { drawMatrix } from '@ladlework/numerics';

/** Standard normals a draw hands on to the mash kinetics. */
export const MASH_NORMALS = MASH_DRAW_DIMS;
const OWN_NORMALS = 14;

/** Spread of each uncertain thing: ln for factors, absolute for the rest. */
export interface Spreads {
  readonly lossLn: number;
  readonly surfaceLn: number;
  readonly wallLn: number;
  readonly burnerLn: number;
  readonly transferLn: number;
  readonly dipLn: number;
  readonly handsLn: number;
  readonly thicknessLn: number;
  readonly gristKJKgK: number;
  readonly slakingLn: number;
  readonly displacementLKg: number;
  readonly airK: number;
  readonly gristK: number;
  readonly thermometerK: number;
}

/** Spreads of a described kit without readings. @source physics.md 2.6 (grist, slaking), field.md 1.18 (volumes off by 5-10 %); the rest our judgement */
export const DEFAULT_SPREADS: Spreads = {
  lossLn: 0.55,
  surfaceLn: 0.3,
  wallLn: 0.25,
  burnerLn: 0.18,
  transferLn: 0.5,
  dipLn: 0.05,
  handsLn: 0.2,
  thicknessLn: SETTLED_LN_SD,
  gristKJKgK: 0.05,
  slakingLn: 0.3,
  displacementLKg: 0.02,
  airK: 2,
  gristK: 0.7,
  thermometerK: 0.3,
};

/** A burner whose kilowatts were measured with a timed water test is known this well (ln). */
const TESTED_BURNER_LN = 0.05;

/**
 * Draws for a kit, the same for the same seed.
 * @param kit decides how well its burners are known
 * @param count number of draws, 1-100 000; 200 or more for bands
 * @param seed 32-bit integer
 * @param spreads what is uncertain and how much; default before any reading
 * @returns the draws
 */
export function drawsFor(
  kit: Kit,
  count: number,
  seed: number,
  spreads: Spreads = DEFAULT_SPREADS,
): Draw[] {
  const dims = OWN_NORMALS + MASH_NORMALS;
  const z = drawMatrix(count, dims, seed);
  const burnerLn = kit.burners.every((b: Burner) => b.waterTest !== undefined)
    ? TESTED_BURNER_LN
    : spreads.burnerLn;
  const draws: Draw[] = [];
  for (let i = 0; i < count; i++) {
    const at = (j: number) => Math.max(-3, Math.min(3, z[i * dims + j] as number));
    const factor = (j: number, ln: number) => Math.exp(ln * at(j));
    draws.push({
      loss: factor(0, spreads.lossLn),
      surface: factor(1, spreads.surfaceLn),
      wall: factor(2, spreads.wallLn),
      burner: factor(3, burnerLn),
      transfer: factor(4, spreads.transferLn),
      dip: factor(5, spreads.dipLn),
      hands: factor(6, spreads.handsLn),
      thickness: factor(7, spreads.thicknessLn),
      gristKJKgK: NOMINAL.gristKJKgK + spreads.gristKJKgK * at(8),
      slaking: factor(9, spreads.slakingLn),
      displacementLKg: NOMINAL.displacementLKg + spreads.displacementLKg * at(10),
      airK: spreads.airK * at(11),
      gristK: spreads.gristK * at(12),
      thermometerK: spreads.thermometerK * at(13),
      mash: Array.from({ length: MASH_NORMALS }, (_, j) => at(OWN_NORMALS + j)),
    });
  }
  return draws;
}
