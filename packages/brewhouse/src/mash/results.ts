import * as at from './layout.ts';
import type { MashBrought } from './malt.ts';
import { extractKg, liquidKg, rawStarchKg, wortExtractPct } from './mixing.ts';
import type { MashParameters } from './parameters.ts';

/** Gelatinised starch above this share of the extract turns iodine blue (judgement). */
export const IODINE_NORMAL_BELOW = 0.005;
/** Litres one kg of extract adds to one kg of water [L]; for concentrations only. */
const LITRES_PER_KG_EXTRACT = 0.62;

/** What a brewer can read off one vessel. Enzymes are shares of what the whole grist brought. */
export interface MashResults {
  readonly extractKg: number;
  readonly wortExtractPct: number;
  readonly fermentableKg: number;
  readonly fermentableShare: number;
  readonly limitRealPct: number;
  readonly limitApparentPct: number;
  readonly starchUngelatinisedKg: number;
  readonly starchGelatinisedKg: number;
  readonly glucoseKg: number;
  readonly maltoseKg: number;
  readonly maltotrioseKg: number;
  readonly dextrinKg: number;
  readonly limitDextrinKg: number;
  readonly preformedKg: number;
  readonly otherKg: number;
  readonly preformedUndissolvedKg: number;
  readonly otherUndissolvedKg: number;
  readonly waterKg: number;
  readonly alphaLeft: number;
  readonly alphaDissolved: number;
  readonly betaLeft: number;
  readonly betaLabileDissolved: number;
  readonly betaStableDissolved: number;
  readonly betaUndissolved: number;
  readonly limitDextrinaseLeft: number;
  readonly limitDextrinaseDissolved: number;
  /** Share of the starch brought that is still raw, or opened and not split [-]. */
  readonly starchUngelatinisedShare: number;
  readonly starchGelatinisedShare: number;
  /** True when the wort would leave iodine yellow. */
  readonly iodineNormal: boolean;
  readonly glucoseGPerL: number;
  readonly maltoseGPerL: number;
  readonly maltotrioseGPerL: number;
  readonly dextrinsGPerL: number;
  readonly preformedGPerL: number;
  /** Share of the SMM brought that is still there [-]. */
  readonly smmLeft: number;
  /** Colour made by heat since mash-in, in this vessel's wort [EBC]. */
  readonly colourEbc: number;
}

function share(part: number, whole: number): number {
  return whole > 0 ? part / whole : 0;
}

/**
 * Reads the figures off one vessel.
 *
 * @param state  vessel
 * @param brought  what the whole grist brought, from `startMash`
 * @param parameters  parameter set or draw
 * @returns the figures; shares are 0 where there is nothing to take a share of
 * @source docs/science/mash.md, section Results; limit = 100 F, apparent = real / 0.81 (Balling
 *   near 12 %)
 */
export function mashResults(
  state: Float64Array,
  brought: MashBrought,
  parameters: MashParameters,
): MashResults {
  const k = at.COARSE;
  const extract = extractKg(state);
  const fermentable =
    state[at.GLUCOSE]! +
    state[at.MALTOSE]! +
    state[at.MALTOTRIOSE]! +
    state[at.PREFORMED]! +
    state[at.OUTSIDE_FERMENTABLE]!;
  const limitReal = 100 * share(fermentable, extract);
  const raw = rawStarchKg(state);
  const sg = state[at.SG]!;
  const litres = state[at.WATER]! + LITRES_PER_KG_EXTRACT * extract;
  const gPerL = (kg: number) => 1000 * share(kg, litres);
  const alphaSolid = state[at.AS]! + state[k + at.AS]!;
  const betaSolid = state[at.BS]! + state[k + at.BS]!;
  const limitSolid = state[at.LS]! + state[k + at.LS]! + state[at.LB]!;
  const { alpha, beta, limitDextrinase } = brought;
  return {
    extractKg: extract,
    wortExtractPct: wortExtractPct(state),
    fermentableKg: fermentable,
    fermentableShare: share(fermentable, extract),
    limitRealPct: limitReal,
    limitApparentPct: limitReal / parameters.q_app,
    starchUngelatinisedKg: raw,
    starchGelatinisedKg: sg,
    glucoseKg: state[at.GLUCOSE]!,
    maltoseKg: state[at.MALTOSE]!,
    maltotrioseKg: state[at.MALTOTRIOSE]!,
    dextrinKg: state[at.DEXTRIN]!,
    limitDextrinKg: state[at.LIMIT_DEXTRIN]!,
    preformedKg: state[at.PREFORMED]!,
    otherKg: state[at.OTHER]!,
    preformedUndissolvedKg: state[at.PS]! + state[k + at.PS]!,
    otherUndissolvedKg: state[at.OS]! + state[k + at.OS]!,
    waterKg: state[at.WATER]!,
    alphaLeft: share(state[at.ALPHA]! + alphaSolid, alpha),
    alphaDissolved: share(state[at.ALPHA]!, alpha),
    betaLeft: share(state[at.BETA_LABILE]! + state[at.BETA_STABLE]! + betaSolid, beta),
    betaLabileDissolved: share(state[at.BETA_LABILE]!, beta),
    betaStableDissolved: share(state[at.BETA_STABLE]!, beta),
    betaUndissolved: share(betaSolid, beta),
    limitDextrinaseLeft: share(state[at.LIMIT_DEXTRINASE]! + limitSolid, limitDextrinase),
    limitDextrinaseDissolved: share(state[at.LIMIT_DEXTRINASE]!, limitDextrinase),
    starchUngelatinisedShare: share(raw, brought.starchKg),
    starchGelatinisedShare: share(sg, brought.starchKg),
    iodineNormal: sg < IODINE_NORMAL_BELOW * extract,
    glucoseGPerL: gPerL(state[at.GLUCOSE]!),
    maltoseGPerL: gPerL(state[at.MALTOSE]!),
    maltotrioseGPerL: gPerL(state[at.MALTOTRIOSE]!),
    dextrinsGPerL: gPerL(state[at.DEXTRIN]! + state[at.LIMIT_DEXTRIN]!),
    preformedGPerL: gPerL(state[at.PREFORMED]!),
    smmLeft: share(state[at.SMM]!, brought.smm),
    colourEbc: share(state[at.COLOUR]!, liquidKg(state)),
  };
}
