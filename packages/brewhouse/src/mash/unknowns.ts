import { BINS } from './layout.ts';

/**
 * Order of the unknowns while a vessel is carried through time. Ordinary starch bins come last,
 * highest access temperature first and the open bin at the very end, so that bins emptied by the
 * rising mash fall off.
 */

export const SG = 0;
export const D = 1;
export const L = 2;
export const G = 3;
export const M = 4;
export const T3 = 5;
/** Undissolved solubles, preformed and other together: they dissolve at one rate. */
export const Q = 6;
export const AS = 7;
export const A = 8;
export const BS = 9;
export const BL = 10;
export const BT = 11;
export const LS = 12;
export const LD = 13;
export const COLOUR = 14;
export const CORE = 15;

/** Options: bound limit dextrinase, alpha-glucosidase, resistant starch, coarse pieces. */
export const LB = 15;
export const GS = 16;
export const AG = 17;
export const RES = 18;
export const QC = 19;
export const ASC = 20;
export const BSC = 21;
export const LSC = 22;
export const GSC = 23;
export const SC = 24;
export const EXTENDED = SC + BINS + 1;

/** Most unknowns there can be. */
export const MASH_UNKNOWNS = EXTENDED + BINS + 1;
