import { MashRangeError } from './errors.ts';
import * as at from './layout.ts';
import { BIN_WEIGHTS, type MashParameters } from './parameters.ts';

/** What one malt that takes part in the mash is made of. Shares are of dry matter. */
export interface MashedMalt {
  readonly kind: 'mashed';
  /** Water in the malt as weighed [kg/kg], 0 to 0.5 (green malt). */
  readonly moisture: number;
  /** Starch, preformed sugar, other solubles [kg/kg dry]; together at most 1. */
  readonly starch: number;
  readonly preformed: number;
  readonly other: number;
  /** Enzymes against standard malt [-], 0 to 4. */
  readonly alpha: number;
  readonly beta: number;
  readonly limitDextrinase: number;
}

/**
 * Caramel, dextrin or roast malt: no enzyme and no raw starch, so its extract is added outside the
 * run and dissolves at once.
 */
export interface AddedMalt {
  readonly kind: 'added';
  readonly moisture: number;
  /** Extract [kg/kg dry], 0 to 1, and the share of it that ferments [-], 0 to 1. */
  readonly extract: number;
  readonly fermentableShare: number;
}

export type Malt = MashedMalt | AddedMalt;

export interface GristPart {
  readonly malt: Malt;
  /** As weighed, moisture included [kg]. */
  readonly massKg: number;
}

/** Options of the kinetics, each a property of grist or lot; all off by default. */
export interface MashOptions {
  /** C: share of the solids in coarse or poorly modified pieces [-], 0 to 0.95; 0 to 0.5 in use. */
  readonly coarseShare?: number;
  /** L: part of the limit dextrinase is bound and released slowly. */
  readonly boundLimitDextrinase?: boolean;
  /** V: alpha-glucosidase makes glucose from maltose; for a glucose figure only. */
  readonly glucosidase?: boolean;
  /** F: share of the starch that opens only near the boil [-], 0 to 0.2. */
  readonly resistantShare?: number;
}

/** What the whole grist brought to the mash: the denominators of every "left" figure. */
export interface MashBrought {
  readonly maltKg: number;
  readonly starchKg: number;
  readonly alpha: number;
  readonly beta: number;
  readonly limitDextrinase: number;
  readonly smm: number;
}

/** Share of limit dextrinase that is bound at mash-in under option L (prior sd 0.18). */
export const BOUND_LIMIT_DEXTRINASE = 0.66;
/** Option L counts more of the enzyme late, so its speed is refitted by this factor. */
const KL_FACTOR_WITH_BOUND = 0.79;

/** Typical pale malt, the malt of the fit: 81.9 % extract, 4.5 % moisture [mem]. */
export const STANDARD_MALT: MashedMalt = {
  kind: 'mashed',
  moisture: 0.045,
  starch: 0.62,
  preformed: 0.08,
  other: 0.095,
  alpha: 1,
  beta: 1,
  limitDextrinase: 1,
};

/** Dextrin malt: 72 % extract, 35 % of it fermentable (judgement). */
export const DEXTRIN_MALT: AddedMalt = {
  kind: 'added',
  moisture: 0.045,
  extract: 0.72,
  fermentableShare: 0.35,
};

function requireIn(field: string, value: number, low: number, high: number, unit = ''): void {
  if (!(value >= low && value <= high))
    throw new MashRangeError(field, value, `${low} to ${high}${unit === '' ? '' : ` ${unit}`}`);
}

/** Throws when a malt cannot be. */
export function checkMalt(malt: Malt, field = 'malt'): void {
  requireIn(`${field}.moisture`, malt.moisture, 0, 0.5, 'kg/kg');
  if (malt.kind === 'added') {
    requireIn(`${field}.extract`, malt.extract, 0, 1, 'kg/kg dry');
    requireIn(`${field}.fermentableShare`, malt.fermentableShare, 0, 1);
    return;
  }
  requireIn(`${field}.starch`, malt.starch, 0, 0.9, 'kg/kg dry');
  requireIn(`${field}.preformed`, malt.preformed, 0, 0.5, 'kg/kg dry');
  requireIn(`${field}.other`, malt.other, 0, 0.5, 'kg/kg dry');
  requireIn(`${field}.alpha`, malt.alpha, 0, 4);
  requireIn(`${field}.beta`, malt.beta, 0, 4);
  requireIn(`${field}.limitDextrinase`, malt.limitDextrinase, 0, 4);
  const sum = malt.starch + malt.preformed + malt.other;
  if (sum > 1) throw new MashRangeError(`${field}.starch + preformed + other`, sum, 'at most 1');
}

/**
 * Parameters to run with when options are on.
 *
 * @param parameters  parameter set or draw
 * @param options  options in use
 * @returns parameters, changed only under option L
 * @source docs/science/mash.md, section Options
 */
export function withOptions(parameters: MashParameters, options: MashOptions): MashParameters {
  return options.boundLimitDextrinase === true
    ? { ...parameters, kl65: parameters.kl65 * KL_FACTOR_WITH_BOUND }
    : parameters;
}

/**
 * A vessel at minute 0: all grist wet, nothing dissolved.
 *
 * @param parts  malts and their masses; several malts add up
 * @param liquorKg  brewing water [kg], above 0
 * @param parameters  parameter set or draw
 * @param options  options in use
 * @returns the vessel, and what the grist brought
 * @throws MashRangeError when a mass, share or malt is impossible
 * @source docs/science/mash.md, section Start from a malt sheet
 */
export function startMash(
  parts: readonly GristPart[],
  liquorKg: number,
  parameters: MashParameters,
  options: MashOptions = {},
): { readonly state: Float64Array; readonly brought: MashBrought } {
  if (!(liquorKg > 0 && Number.isFinite(liquorKg)))
    throw new MashRangeError('liquorKg', liquorKg, 'above 0 kg');
  const coarse = options.coarseShare ?? 0;
  const resistant = options.resistantShare ?? 0;
  requireIn('coarseShare', coarse, 0, 0.95);
  requireIn('resistantShare', resistant, 0, 0.2);
  const state = at.emptyMash();
  const brought = { maltKg: 0, starchKg: 0, alpha: 0, beta: 0, limitDextrinase: 0, smm: 0 };
  state[at.WATER] = liquorKg;
  parts.forEach(({ malt, massKg }, i) => {
    if (!(massKg >= 0 && Number.isFinite(massKg)))
      throw new MashRangeError(`grist[${i}].massKg`, massKg, '0 kg or more');
    checkMalt(malt, `grist[${i}].malt`);
    const dry = massKg * (1 - malt.moisture);
    state[at.WATER]! += massKg * malt.moisture;
    brought.maltKg += massKg;
    if (malt.kind === 'added') {
      state[at.OUTSIDE]! += dry * malt.extract;
      state[at.OUTSIDE_FERMENTABLE]! += dry * malt.extract * malt.fermentableShare;
      state[at.INERT]! += dry * (1 - malt.extract);
      return;
    }
    const starch = dry * malt.starch;
    const open = starch * (1 - resistant) * parameters.fd;
    const binned = starch * (1 - resistant) - open;
    for (let b = 0; b < at.BINS; b++) state[at.S + b]! += binned * BIN_WEIGHTS[b]!;
    state[at.S + at.OPEN_BIN]! += open;
    state[at.RESISTANT]! += starch * resistant;
    state[at.PS]! += dry * malt.preformed;
    state[at.OS]! += dry * malt.other;
    state[at.INERT]! += dry * (1 - malt.starch - malt.preformed - malt.other);
    state[at.AS]! += massKg * malt.alpha;
    state[at.BS]! += massKg * malt.beta;
    const limit = massKg * malt.limitDextrinase;
    const bound = options.boundLimitDextrinase === true ? BOUND_LIMIT_DEXTRINASE * limit : 0;
    state[at.LS]! += limit - bound;
    state[at.LB]! += bound;
    if (options.glucosidase === true) state[at.GS]! += massKg;
    state[at.SMM]! += massKg;
    brought.starchKg += starch;
    brought.alpha += massKg * malt.alpha;
    brought.beta += massKg * malt.beta;
    brought.limitDextrinase += limit;
    brought.smm += massKg;
  });
  if (coarse > 0)
    for (let i = 0; i < at.COARSE; i++) {
      state[at.COARSE + i] = coarse * state[i]!;
      state[i]! *= 1 - coarse;
    }
  return { state, brought };
}
