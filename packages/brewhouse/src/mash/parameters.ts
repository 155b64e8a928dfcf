/**
 * Parameters of the mash kinetics. Symbols are those of docs/science/mash.md; rates hold at 65 °C
 * and follow k exp(-(E/R)(1/T - 1/338.15)).
 */
export interface MashParameters {
  /** Gas constant as used in the fit [J/(mol K)]. */
  readonly R: number;
  /** Reference temperature of every rate [°C]. */
  readonly T_ref_C: number;
  /** Liquor per kg malt at which a dissolved enzyme counts as concentration 1 [kg/kg]. */
  readonly water_ref: number;
  /** Mean access temperature of starch at extract X0 [°C]. */
  readonly mu: number;
  /** Spread (1 sd) of the access temperature over the bins [°C]. */
  readonly sig: number;
  /** Rise of the access temperature with wort extract [°C per %]. */
  readonly sG: number;
  /** Wort extract at which mu holds [%]. */
  readonly X0: number;
  /** Width of the opening sigmoid [°C]. */
  readonly width: number;
  /** Share of starch open without gelatinisation [-]. */
  readonly fd: number;
  /** Access temperature of that open share [°C]; extract does not move it. */
  readonly Tfd: number;
  /** Opening of starch whose access temperature is passed [1/min]. */
  readonly kg65: number;
  /** Its activation energy [J/mol]; erosion below the access temperature has the same. */
  readonly Eg: number;
  /** Erosion of starch below its access temperature by malt amylases [1/min]. */
  readonly kraw: number;
  /** Alpha-amylase on gelatinised starch [1/min]. */
  readonly ka65: number;
  /** Beta-amylase on gelatinised starch [1/min]. */
  readonly kb65: number;
  /** Beta-amylase on dextrin, relative to gelatinised starch [-]. */
  readonly rD: number;
  /** Alpha-amylase on dextrin [1/min]. */
  readonly ka2: number;
  /** Limit dextrinase on limit dextrin [1/min]. */
  readonly kl65: number;
  /** Activation energy of catalysis [J/mol]. */
  readonly Ea_act: number;
  /** Alpha on starch: shares to glucose, maltose, maltotriose, dextrin [-]; the rest limit dextrin. */
  readonly aG: number;
  readonly aM: number;
  readonly aT: number;
  readonly aD: number;
  /** Beta on starch: shares to maltose, maltotriose [-]; the rest limit dextrin. */
  readonly bM: number;
  readonly bT: number;
  /** Beta on dextrin: share to maltotriose [-]; the rest maltose. */
  readonly dT: number;
  /** Alpha on dextrin: shares to glucose, maltose, maltotriose, limit dextrin [-]. */
  readonly cG: number;
  readonly cM: number;
  readonly cT: number;
  readonly cL: number;
  /** Mass gain from starch to glucose, maltose, maltotriose [kg/kg]. */
  readonly hG: number;
  readonly hM: number;
  readonly hT: number;
  /** Loss of alpha-amylase [1/min] and its activation energy [J/mol]. */
  readonly kda65: number;
  readonly Eda: number;
  /** Loss of labile beta-amylase at extract Xref [1/min] and its activation energy [J/mol]. */
  readonly kdb65: number;
  readonly Edb: number;
  /** Heat-stable share of beta-amylase [-] and its rate of loss relative to the labile part [-]. */
  readonly fst: number;
  readonly kds_ratio: number;
  /** Protection of beta-amylase by sugar [1/% extract]. */
  readonly cprot: number;
  /** Wort extract at which kdb65 holds [%]. */
  readonly Xref: number;
  /** Loss of limit dextrinase [1/min] and its activation energy [J/mol]. */
  readonly kdl65: number;
  readonly Edl: number;
  /** Loss of undissolved relative to dissolved enzyme [-]: alpha, beta, limit dextrinase. */
  readonly uA: number;
  readonly uB: number;
  readonly uL: number;
  /** Dissolution of enzymes and preformed solubles [1/min] and its activation energy [J/mol]. */
  readonly kdis: number;
  readonly Edis: number;
  /** Real over apparent limit of attenuation [-]. */
  readonly q_app: number;
  /** Coarse pieces (option C): transport limit on opening and dissolution [1/min, J/mol]. */
  readonly kc: number;
  readonly Ec: number;
  /** Bound limit dextrinase (option L): release, its energy, loss while bound, its energy. */
  readonly krel: number;
  readonly Erel: number;
  readonly klb: number;
  readonly Elb: number;
  /** Alpha-glucosidase on maltose (option V), its loss, energy of the loss, mass gain. */
  readonly kag: number;
  readonly kdg: number;
  readonly Edg: number;
  readonly hV: number;
  /** Access temperature of resistant starch (option F) [°C]. */
  readonly Tfr: number;
  /** Colour at 100 °C and 12 % extract [EBC/min], its energy, and the temperature it starts from. */
  readonly kcol100: number;
  readonly Ecol: number;
  readonly Tcol: number;
}

/**
 * The plain set: the fit itself.
 *
 * @source reference/data/mash-parameters.json (docs/science/mash.md, section Parameters); options
 *   from the fitting study, off unless the starting state has something for them to act on
 */
export const PLAIN_PARAMETERS: MashParameters = {
  R: 8.314,
  T_ref_C: 65,
  water_ref: 3,
  mu: 58.62129617088935,
  sig: 3.030002148785689,
  sG: 0.2593642514229533,
  X0: 10,
  width: 0.4,
  fd: 0.2191677245639637,
  Tfd: 40,
  kg65: 0.9149540235030256,
  Eg: 110000,
  kraw: 0,
  ka65: 0.39831717875600625,
  kb65: 1.9869786869495782,
  rD: 0.29853787454035186,
  ka2: 0.018425912662642038,
  kl65: 0.0035828619344594826,
  Ea_act: 46157.385125514505,
  aG: 0.04,
  aM: 0.17294520660647206,
  aT: 0.17294520660647206,
  aD: 0.49410958678705585,
  bM: 0.607967323876792,
  bT: 0.1,
  dT: 0.18,
  cG: 0.1,
  cM: 0.25,
  cT: 0.25,
  cL: 0.4,
  hG: 1.111,
  hM: 1.0556,
  hT: 1.037,
  kda65: 0.012638570008803468,
  Eda: 224000,
  kdb65: 0.060957395215595796,
  Edb: 369337.62011416006,
  fst: 0.07,
  kds_ratio: 0.02,
  cprot: 0.07,
  Xref: 27,
  kdl65: 0.06,
  Edl: 330000,
  uA: 1,
  uB: 0.5,
  uL: 0.5,
  kdis: 0.12,
  Edis: 20000,
  q_app: 0.81,
  kc: 0.06,
  Ec: 60000,
  krel: 0.0039,
  Erel: 20000,
  klb: 0.003,
  Elb: 200000,
  kag: 0.0011,
  kdg: 0.0041,
  Edg: 250000,
  hV: 1.0526,
  Tfr: 90,
  kcol100: 0.03,
  Ecol: 100000,
  Tcol: 80,
};

/**
 * The recommended set, and the default everywhere: plain, with granules eroded below their melting
 * point. It predicts rows it was not fitted to better than the plain one.
 *
 * @source fitting study on 31 measured rows (docs/science/mash.md, section Recommended set)
 */
export const RECOMMENDED_PARAMETERS: MashParameters = { ...PLAIN_PARAMETERS, kraw: 0.0078 };

/** Dissolution of fine laboratory grist [1/min]: for comparing with laboratory mashes only. */
export const KDIS_FINE_GRIST = 0.44;

/** Name of a parameter set. */
export type MashParameterSet = 'plain' | 'recommended';

export const MASH_PARAMETER_SETS: Readonly<Record<MashParameterSet, MashParameters>> = {
  plain: PLAIN_PARAMETERS,
  recommended: RECOMMENDED_PARAMETERS,
};

/**
 * z-scores of the 17 bins: a normal distribution on -2.6 to 2.6.
 *
 * @source reference/data/mash-parameters.json, gelatinisation_nodes
 */
export const BIN_SCORES: readonly number[] = Array.from({ length: 17 }, (_, i) => -2.6 + 0.325 * i);

const DENSITIES = BIN_SCORES.map((z) => Math.exp((-z * z) / 2));
const DENSITY_SUM = DENSITIES.reduce((sum, d) => sum + d, 0);

/** Shares of the binned starch [-]; they add up to 1. */
export const BIN_WEIGHTS: readonly number[] = DENSITIES.map((d) => d / DENSITY_SUM);
