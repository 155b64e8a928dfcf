/** What kind of malt a lot is, by its type and colour, and what is usual and certain of that kind. */
import { wkFromLintner } from '@ladlework/brewhouse';
import { type BufferKind, DEFAULT_BUFFERS, type MaltBuffer } from '@ladlework/matter';
import type { MaltLot, StockLot } from '../document.ts';

export type MaltKind =
  | 'pale malt'
  | 'Vienna malt'
  | 'Munich malt'
  | 'melanoidin malt'
  | 'wheat malt'
  | 'pale caramel malt'
  | 'dark caramel malt'
  | 'roast malt';

interface KindFacts {
  /** Most of a grist by custom, 0-1. */
  readonly mostShare: number;
  /** Diastatic power where a sheet does not print it [°WK]: the least the kind must have. */
  readonly leastWk: number;
  readonly buffer: BufferKind;
}

/**
 * @source shares: melanoidin 2-10 %, Munich to 100, Vienna to 100, dark caramel 1-5, from memory;
 *   pale caramel as melanoidin, wheat 10 %, our judgement: it stands in for no boil. Power: TGL 17756 (1966), Pilsner malt at
 *   least 200 °WK, Munich 80, caramel and colour malt none, melanoidin counted as none; Vienna and
 *   wheat are not in it and count as Munich, our judgement
 */
const KINDS: Readonly<Record<MaltKind, KindFacts>> = {
  'pale malt': { mostShare: 1, leastWk: 200, buffer: 'pilsner' },
  'Vienna malt': { mostShare: 1, leastWk: 80, buffer: 'pale' },
  'Munich malt': { mostShare: 1, leastWk: 80, buffer: 'munich' },
  'melanoidin malt': { mostShare: 0.1, leastWk: 0, buffer: 'munich' },
  'wheat malt': { mostShare: 0.1, leastWk: 80, buffer: 'wheat' },
  'pale caramel malt': { mostShare: 0.1, leastWk: 0, buffer: 'caramel' },
  'dark caramel malt': { mostShare: 0.05, leastWk: 0, buffer: 'caramel' },
  // Roast malt colours without standing in for a boiled mash: it stays what the brewer's grist has.
  'roast malt': { mostShare: 0, leastWk: 0, buffer: 'roast' },
};

/** Colours at which one kind of base malt, and of caramel malt, ends [EBC]; common practice, no source. */
const KINDS_BY_EBC = { pale: 6, vienna: 10, munich: 40, paleCaramel: 100 } as const;
/** A lot at or above this colours; under it is a pale malt [EBC]. */
export const KILNED_FROM_EBC = KINDS_BY_EBC.pale;
/** Diastatic power of a grist under which it is not trusted to convert itself [°WK]. @source wort-to-beer.md 8, 40 °Lintner */
export const CONVERTS_WK = wkFromLintner(40);

/** The kind of a lot; without a printed colour a base malt counts as pale. */
function maltKind({ type, certificate }: StockLot): MaltKind {
  const ebc = certificate?.colourEbc ?? 0;
  if (type === 'wheat') return 'wheat malt';
  if (type === 'roast') return 'roast malt';
  if (type === 'caramel')
    return ebc < KINDS_BY_EBC.paleCaramel ? 'pale caramel malt' : 'dark caramel malt';
  if (ebc < KINDS_BY_EBC.pale) return 'pale malt';
  if (ebc < KINDS_BY_EBC.vienna) return 'Vienna malt';
  return ebc < KINDS_BY_EBC.munich ? 'Munich malt' : 'melanoidin malt';
}

/** Most of the grist a lot may be: the brewer's word, else the usual, never less than it is now. */
export function mostShareOf(lot: StockLot, ownShare: number): number {
  return Math.max(ownShare, lot.mostShare ?? KINDS[maltKind(lot)].mostShare);
}

/** Diastatic power [°WK], and whether it stands on the sheet. */
export function powerOf(lot: StockLot): { readonly wk: number; readonly printed: boolean } {
  const enzymes = lot.type === 'base' || lot.type === 'wheat';
  if (!enzymes) return { wk: 0, printed: true };
  const printed = lot.certificate?.diastaticWk;
  return printed === undefined
    ? { wk: KINDS[maltKind(lot)].leastWk, printed: false }
    : { wk: printed, printed: true };
}

/** Diastatic power of a grist [°WK], mean by weight. */
export function gristPower(malts: readonly MaltLot[]): number {
  const kg = malts.reduce((sum, m) => sum + m.kg, 0);
  return malts.reduce((sum, m) => sum + m.kg * powerOf(m).wk, 0) / kg;
}

/** How the lot stands against acid, by its kind: no sheet prints a titration. */
export function bufferOf(lot: StockLot): MaltBuffer {
  return DEFAULT_BUFFERS[KINDS[maltKind(lot)].buffer];
}
