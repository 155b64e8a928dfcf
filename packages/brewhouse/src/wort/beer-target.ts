/** Colour and bitterness of the beer wanted: the share of the dark malt, the grams of hops. */
import {
  ebcFromSrm,
  gramsPer100mL,
  inRange,
  maltColourUnits,
  OutOfRange,
  srmFromColourUnits,
} from '@ladlework/matter';
import { findRoot } from '@ladlework/numerics';
import {
  type BeerTarget,
  type ExtractLosses,
  type GristLot,
  type GristResult,
  gristForBeer,
} from './grist.ts';
import { type HopAddition, type HopWort, hopResult } from './hops.ts';

/** A lot with the colour on its sheet [°L], 0 to 2000. */
export interface ColouredLot extends GristLot {
  readonly lovibond: number;
}

/**
 * Colour of the beer a grist leads to. Within 20 % or worse until the brewery has its own factor; what
 * decoctions and a long boil add comes on top.
 *
 * @param lots the lots, in the order of the grist
 * @param grist from `gristForBeer` or `beerFromGrist`
 * @param factor measured over reckoned colour of this brewery's beers [-], 0.5 to 2
 * @returns colour [EBC]
 * @throws OutOfRange outside the ranges, or beyond 50 SRM
 * @source Morey's law of matter, in the wort at the end of the boil
 */
export function beerColour(lots: readonly ColouredLot[], grist: GristResult, factor = 1): number {
  const castOutKg = grist.account.find((line) => line.stage === 'cast-out')?.extractKg ?? 0;
  const castOutL = (100 * castOutKg) / gramsPer100mL(grist.plato);
  const malts = lots.map((lot, i) => ({ kg: grist.lots[i]?.kg ?? 0, lovibond: lot.lovibond }));
  const srm = srmFromColourUnits(maltColourUnits(malts, castOutL));
  return ebcFromSrm(srm) * inRange('colour factor', factor, 0.5, 2, '');
}

/** Outcome of asking for a colour. */
export type ColourOutcome =
  | { readonly ok: true; readonly lots: readonly ColouredLot[]; readonly grist: GristResult }
  | {
      readonly ok: false;
      readonly lowestEbc: number;
      readonly highestEbc: number;
      readonly sentence: string;
    };

/** More of one dark malt than this is another beer (judgement). */
const MOST_OF_ONE = 0.6;

/**
 * Share of one malt that gives the colour wanted, the others keeping their proportions.
 *
 * @param wish target, lots with shares adding up to one, losses; vary: name of the lot; ebc wanted, 2 to
 *   90; factor 0.5 to 2
 * @returns the lots and their grist, or between which colours this malt can go
 * @throws OutOfRange outside the ranges, or when no lot has the name
 * @source root of {@link beerColour} over the share
 */
export function shareForColour(wish: {
  readonly target: BeerTarget;
  readonly lots: readonly ColouredLot[];
  readonly losses: ExtractLosses;
  readonly vary: string;
  readonly ebc: number;
  readonly factor?: number;
}): ColourOutcome {
  const wanted = inRange('colour wanted', wish.ebc, 2, 90, 'EBC');
  const index = wish.lots.findIndex((lot) => lot.name === wish.vary);
  inRange(`lots named ${wish.vary}`, index < 0 ? 0 : 1, 1, 1, '');
  const rest = 1 - (wish.lots[index]?.share ?? 0);
  inRange('share of the other lots', rest, 0.01, 1, '');
  const lotsAt = (share: number) =>
    wish.lots.map((lot, i) => ({
      ...lot,
      share: i === index ? share : (lot.share * (1 - share)) / rest,
    }));
  const gristAt = (share: number) => gristForBeer(wish.target, lotsAt(share), wish.losses);
  const factor = wish.factor ?? 1;
  const colourAt = (share: number) => beerColour(lotsAt(share), gristAt(share), factor);
  const most = mostShare(colourAt);
  const root = findRoot((share) => colourAt(share) - wanted, 0, most);
  if (root.ok) return { ok: true, lots: lotsAt(root.x), grist: gristAt(root.x) };
  const ends = [colourAt(0), colourAt(most)].sort((a, b) => a - b) as [number, number];
  return {
    ok: false,
    lowestEbc: ends[0],
    highestEbc: ends[1],
    sentence: `${wish.vary} alone goes from ${ends[0].toFixed(1)} to ${ends[1].toFixed(1)} EBC; choose another malt for ${wanted} EBC.`,
  };
}

/** Largest share still inside the colour law, which ends at 50 SRM. */
function mostShare(colourAt: (share: number) => number): number {
  let most = MOST_OF_ONE;
  for (;;) {
    try {
      colourAt(most);
      return most;
    } catch (error) {
      if (!(error instanceof OutOfRange) || most < 1e-3) throw error;
      most *= 0.9;
    }
  }
}

/**
 * Grams of every addition for a bitterness, their proportions kept.
 *
 * @param hops the additions in any proportion, some of them above 0 g
 * @param wantedIbu bitterness wanted [mg/L], 0 to 150
 * @param wort as for `hopResult`
 * @returns the additions, scaled
 * @throws OutOfRange outside the ranges, or when the hops as given are not bitter at all
 * @source bitterness is proportional to the weight
 */
export function hopsForBitterness(
  hops: readonly HopAddition[],
  wantedIbu: number,
  wort: HopWort,
): readonly HopAddition[] {
  const wanted = inRange('bitterness wanted', wantedIbu, 0, 150, 'mg/L');
  const { ibu } = hopResult(hops, wort);
  inRange('bitterness of the hops given', ibu, 1e-3, 1e6, 'mg/L');
  return hops.map((hop) => ({ ...hop, grams: (hop.grams * wanted) / ibu }));
}
