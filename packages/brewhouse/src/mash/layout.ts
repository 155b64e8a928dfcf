/**
 * What stands in one vessel, as one flat array of kilograms. Every entry is extensive: taking a
 * share multiplies, joining two vessels adds.
 *
 * Solid entries travel with the grist, liquid entries with the liquid. The starch, enzymes and
 * solubles of coarse pieces (option C) have their own copies; unused slots stay nought.
 * Enzymes are counted in kg malt-equivalents (1 kg standard malt brings 1) and are not mass.
 */

/** Ordinary starch bins S[1..17] of the equations; slot S + 17 is the open bin S[18]. */
export const BINS = 17;
export const OPEN_BIN = 17;

/** Solid block of ordinary grist. */
export const S = 0;
/** Resistant starch, opened near the boil only (option F). */
export const RESISTANT = 18;
/** Undissolved alpha-amylase, beta-amylase, limit dextrinase, alpha-glucosidase [kg malt-eq.]. */
export const AS = 19;
export const BS = 20;
export const LS = 21;
export const GS = 22;
/** Undissolved preformed sugar and other solubles. */
export const PS = 23;
export const OS = 24;

/** Distance from an entry of ordinary grist to the same entry of coarse pieces. */
export const COARSE = 25;

/** Bound limit dextrinase (option L) [kg malt-eq.]; released, not dissolved, so not split by size. */
export const LB = 50;
/** Inert dry matter: husk, protein, what never dissolves. */
export const INERT = 51;

/** First liquid entry; everything before it is solid. */
export const LIQUID = 52;

/** Water: liquor and malt moisture, before what hydrolysis has bound is taken off. */
export const WATER = 52;
/** Gelatinised starch not yet split. */
export const SG = 53;
export const GLUCOSE = 54;
export const MALTOSE = 55;
export const MALTOTRIOSE = 56;
/** Dextrin open to beta-amylase, and limit dextrin. */
export const DEXTRIN = 57;
export const LIMIT_DEXTRIN = 58;
/** Dissolved preformed sugar and other solubles. */
export const PREFORMED = 59;
export const OTHER = 60;
/** Dissolved alpha; beta labile and heat-stable; limit dextrinase; alpha-glucosidase [kg malt-eq.]. */
export const ALPHA = 61;
export const BETA_LABILE = 62;
export const BETA_STABLE = 63;
export const LIMIT_DEXTRINASE = 64;
export const GLUCOSIDASE = 65;
/** Water bound by hydrolysis, already inside the sugars: weigh with WATER - BOUND. */
export const BOUND = 66;
/** Dissolved extract of malts reckoned outside the run, and the fermentable part of it. */
export const OUTSIDE = 67;
export const OUTSIDE_FERMENTABLE = 68;
/** S-methyl methionine, as kg of malt whose SMM is still there. */
export const SMM = 69;
/** Colour made by heat since mash-in [EBC x kg liquid]. */
export const COLOUR = 70;

/** Length of the array. */
export const MASH_SIZE = 71;

/** An empty vessel. */
export function emptyMash(): Float64Array {
  return new Float64Array(MASH_SIZE);
}
