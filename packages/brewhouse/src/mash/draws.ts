import type { MashedMalt } from './malt.ts';
import type { MashParameters } from './parameters.ts';
import { MASH_PRIORS, type Prior, SPLIT_PRIOR, splitOf } from './priors.ts';

const NAMES = Object.keys(MASH_PRIORS) as (keyof typeof MASH_PRIORS)[];
const BETWEEN = NAMES.filter((name) => MASH_PRIORS[name].betweenMaltsSd !== undefined);
const SPLIT_AT = NAMES.length;
const BETWEEN_AT = SPLIT_AT + 1;
const MALT_AT = BETWEEN_AT + BETWEEN.length;

/** Standard normals one draw of the mash takes: parameters, lot-to-lot spread, malt sheet. */
export const MASH_DRAW_DIMS = MALT_AT + 5;

/** How well a malt lot is known: absolute for shares, of the logarithm for enzymes. */
export interface MaltSpread {
  readonly starchSd: number;
  readonly preformedSd: number;
  readonly alphaLnSd: number;
  readonly betaLnSd: number;
  readonly limitDextrinaseLnSd: number;
}

function moved(value: number, prior: Prior, sd: number, z: number): number {
  const to = prior.kind === 'ln' ? value * Math.exp(sd * z) : value + sd * z;
  return Math.min(prior.high ?? Number.POSITIVE_INFINITY, Math.max(prior.low ?? -1e300, to));
}

/**
 * One draw of the kinetic parameters from their priors.
 *
 * @param base  parameter set drawn around
 * @param normals  MASH_DRAW_DIMS standard normals from `from` on; a missing one counts as 0, so an
 *   empty list is the nominal draw
 * @param options  `betweenMalts`: add the spread between malts and years (on unless the lot has
 *   been learned); `from`: place of the first normal, default 0
 * @returns the drawn parameters
 * @source docs/science/mash.md, section Parameters
 */
export function drawMashParameters(
  base: MashParameters,
  normals: ArrayLike<number>,
  { betweenMalts = true, from = 0 }: { betweenMalts?: boolean; from?: number } = {},
): MashParameters {
  const drawn: Record<string, number> = {};
  NAMES.forEach((name, i) => {
    const prior = MASH_PRIORS[name];
    let value = moved(base[name], prior, prior.sd, normals[from + i] ?? 0);
    if (betweenMalts && prior.betweenMaltsSd !== undefined) {
      const z = normals[from + BETWEEN_AT + BETWEEN.indexOf(name)] ?? 0;
      value = moved(value, prior, prior.betweenMaltsSd, z);
    }
    drawn[name] = value;
  });
  const z = normals[from + SPLIT_AT] ?? 0;
  if (z !== 0) {
    const s = Math.min(
      SPLIT_PRIOR.high,
      Math.max(SPLIT_PRIOR.low, base.aM / 0.12 + SPLIT_PRIOR.sd * z),
    );
    Object.assign(drawn, splitOf(s));
  }
  return { ...base, ...drawn };
}

/**
 * One draw of a malt lot.
 *
 * @param malt  the lot as its sheet has it
 * @param spread  how well it is known
 * @param normals  the same MASH_DRAW_DIMS normals as for the parameters
 * @param from  place of the first normal
 * @returns the drawn lot; shares stay possible, enzymes within 0.1 to 4
 * @source docs/science/mash.md, section Start from a malt sheet
 */
export function drawMalt(
  malt: MashedMalt,
  spread: MaltSpread,
  normals: ArrayLike<number>,
  from = 0,
): MashedMalt {
  const z = (i: number) => normals[from + MALT_AT + i] ?? 0;
  const bounded = (value: number, low: number, high: number) =>
    Math.min(high, Math.max(low, value));
  const preformed = bounded(malt.preformed + spread.preformedSd * z(1), 0, 0.4);
  const room = Math.min(0.9, 1 - preformed - malt.other);
  const enzyme = (value: number, lnSd: number, i: number) =>
    value === 0 ? 0 : bounded(value * Math.exp(lnSd * z(i)), 0.1, 4);
  return {
    ...malt,
    preformed,
    starch: bounded(malt.starch + spread.starchSd * z(0), 0, room),
    alpha: enzyme(malt.alpha, spread.alphaLnSd, 2),
    beta: enzyme(malt.beta, spread.betaLnSd, 3),
    limitDextrinase: enzyme(malt.limitDextrinase, spread.limitDextrinaseLnSd, 4),
  };
}
