import { BINS } from './layout.ts';
import { BIN_SCORES, type MashParameters } from './parameters.ts';

/**
 * Parameters made ready for the inner loop: activation energies as temperatures, splits multiplied
 * out, bins as ratios. One is made per draw and shared by all vessels of that draw.
 */
export interface CompiledMash {
  readonly parameters: MashParameters;
  /** 1/K of the reference temperature. */
  readonly inverseRef: number;
  /** Activation energies over the gas constant [K]. */
  readonly thetaOpen: number;
  readonly thetaAct: number;
  readonly thetaDissolve: number;
  readonly thetaAlpha: number;
  readonly thetaBeta: number;
  readonly thetaLimit: number;
  readonly thetaCoarse: number;
  readonly thetaRelease: number;
  readonly thetaBound: number;
  readonly thetaGlucosidase: number;
  readonly thetaColour: number;
  /** exp(sig z_i / width), rising. */
  readonly binFactor: Float64Array;
  /** Mass splits with their gains: alpha on starch, beta on starch, beta on dextrin. */
  readonly alphaGlucose: number;
  readonly alphaMaltose: number;
  readonly alphaMaltotriose: number;
  readonly alphaLimit: number;
  readonly betaMaltose: number;
  readonly betaMaltotriose: number;
  readonly betaLimit: number;
  readonly dextrinMaltose: number;
  readonly dextrinMaltotriose: number;
}

/**
 * Makes a parameter set ready for `advanceMash`.
 *
 * @param parameters  parameter set or draw
 * @returns compiled form
 * @source docs/science/mash.md, section Rates
 */
export function compileMash(parameters: MashParameters): CompiledMash {
  const p = parameters;
  const binFactor = new Float64Array(BINS);
  for (let i = 0; i < BINS; i++) binFactor[i] = Math.exp((p.sig * BIN_SCORES[i]!) / p.width);
  return {
    parameters: p,
    inverseRef: 1 / (p.T_ref_C + 273.15),
    thetaOpen: p.Eg / p.R,
    thetaAct: p.Ea_act / p.R,
    thetaDissolve: p.Edis / p.R,
    thetaAlpha: p.Eda / p.R,
    thetaBeta: p.Edb / p.R,
    thetaLimit: p.Edl / p.R,
    thetaCoarse: p.Ec / p.R,
    thetaRelease: p.Erel / p.R,
    thetaBound: p.Elb / p.R,
    thetaGlucosidase: p.Edg / p.R,
    thetaColour: p.Ecol / p.R,
    binFactor,
    alphaGlucose: p.hG * p.aG,
    alphaMaltose: p.hM * p.aM,
    alphaMaltotriose: p.hT * p.aT,
    alphaLimit: 1 - p.aG - p.aM - p.aT - p.aD,
    betaMaltose: p.hM * p.bM,
    betaMaltotriose: p.hT * p.bT,
    betaLimit: 1 - p.bM - p.bT,
    dextrinMaltose: p.hM * (1 - p.dT),
    dextrinMaltotriose: p.hT * p.dT,
  };
}
