import type { MashParameters } from './parameters.ts';

/** How a parameter is spread: `ln` multiplies by exp(sd z), `abs` adds sd z. */
export interface Prior {
  readonly kind: 'ln' | 'abs';
  readonly sd: number;
  /** Further spread between malts and years, until a lot has been learned from readings. */
  readonly betweenMaltsSd?: number;
  /** Bounds that keep a far draw physical [unit of the parameter]. */
  readonly low?: number;
  readonly high?: number;
}

type Drawn =
  | 'mu'
  | 'sig'
  | 'sG'
  | 'fd'
  | 'kg65'
  | 'ka65'
  | 'kb65'
  | 'rD'
  | 'ka2'
  | 'kl65'
  | 'Ea_act'
  | 'bM'
  | 'kda65'
  | 'kdb65'
  | 'Edb'
  | 'kraw'
  | 'kdis'
  | 'kcol100';

/**
 * Spread of the parameters that are drawn; all others are held.
 *
 * @source reference/data/mash-parameters.json, priors and priors_between_malts; kraw and kdis from
 *   the fitting study (kdis 0.5 is judgement); kcol100 from docs/science/mash.md, Colour
 */
export const MASH_PRIORS: Readonly<Record<Drawn, Prior>> = {
  mu: { kind: 'abs', sd: 0.75, betweenMaltsSd: 1.5 },
  sig: { kind: 'abs', sd: 0.6, low: 0.5, high: 6 },
  sG: { kind: 'abs', sd: 0.06, low: 0, high: 0.6 },
  fd: { kind: 'abs', sd: 0.03, low: 0.02, high: 0.5 },
  kg65: { kind: 'ln', sd: 0.65 },
  ka65: { kind: 'ln', sd: 0.5 },
  kb65: { kind: 'ln', sd: 0.5 },
  rD: { kind: 'ln', sd: 0.7 },
  ka2: { kind: 'ln', sd: 0.95 },
  kl65: { kind: 'ln', sd: 0.9 },
  Ea_act: { kind: 'abs', sd: 12000, low: 0, high: 120000 },
  bM: { kind: 'abs', sd: 0.03, low: 0.4, high: 0.85 },
  kda65: { kind: 'ln', sd: 0.25 },
  kdb65: { kind: 'ln', sd: 0.3, betweenMaltsSd: 0.35 },
  Edb: { kind: 'abs', sd: 50000, low: 100000, high: 600000 },
  kraw: { kind: 'ln', sd: 0.8 },
  kdis: { kind: 'ln', sd: 0.5 },
  kcol100: { kind: 'ln', sd: 0.7 },
};

/**
 * The split of alpha-amylase is drawn through one number s: aM = aT = 0.12 s, aD = 0.84 - 0.24 s.
 *
 * @source reference/data/mash-parameters.json, priors, s
 */
export const SPLIT_PRIOR = { value: 1.441210055053934, sd: 0.5, low: 0.1, high: 3.4 } as const;

/** Values of aM, aT and aD for a split number. */
export function splitOf(s: number): Pick<MashParameters, 'aM' | 'aT' | 'aD'> {
  return { aM: 0.12 * s, aT: 0.12 * s, aD: 0.84 - 0.24 * s };
}
