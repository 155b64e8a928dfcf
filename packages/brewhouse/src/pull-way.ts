/** What the brewer's hands do to get a pull of the thickness asked for. */

import type { Thickness } from './moves.ts';
import type { VesselState } from './situation.ts';
import { liquidVolume, type Thermal } from './thermal.ts';
import { solidToLiquid, THICK_LIQUOR_PER_KG } from './transfer.ts';

/** How differently mashes settle: sd of the logarithm of the settled liquor per kilogram (judgement). */
export const SETTLED_LN_SD = 0.15;
/** 10 % and 90 % of that. */
const SETTLED_BAND = Math.exp(1.2816 * SETTLED_LN_SD);

/**
 * Unstirred this long before the pull, so that the grain lies below and the liquid stands above
 * [min]. @source the upper end of field.md 18, 5-10 min to settle; common practice, no source
 */
export const SETTLE_MIN = 10;

/** Ratios this near are the same to a ladle. Our judgement. */
const SAME = 0.05;

/**
 * Stirred mash is of a known ratio, so it is taken and drained as long as no more than this much of
 * what is wanted has to be carried; beyond it the settled mash is. Our judgement.
 */
const MORE_STIRRED = 1.25;

/** Low, likely and high. */
export interface WayBand {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** How a pull is taken, computed from the mash as it stands at that moment. */
export interface PullWay {
  /**
   * stirred: stir up, take as it stands. settled: leave unstirred, scoop from below. strained: leave
   * unstirred, draw from the top or through a strainer.
   */
  readonly by: 'stirred' | 'settled' | 'strained';
  /** Minutes unstirred before the pull; 0 where it is stirred up and nothing is drawn from the top. */
  readonly settleMin: number;
  /** Liquor per grist of the whole mash, and of the pull in the pot [L/kg]. */
  readonly mashLPerKg: number;
  readonly pullLPerKg: WayBand;
  /** In all, in the pot [L]. */
  readonly litres: number;
  /** What is taken in the way of `by` [L]. */
  readonly bulkL: number;
  /** Clear liquid from the top of the same mash that goes with it [L]. */
  readonly topUpL?: WayBand;
  /** Liquid that runs back into the mash [L]. */
  readonly drainL?: WayBand;
}

/**
 * What to do to get a pull of this thickness out of the mash that stands there.
 *
 * Clear liquid is drawn first, from the top of the settled mash, when the pull is to be thinner than
 * the mash; then no second settling is needed. A settled mash is only about as thick as it settles,
 * so what has to be topped up or drained off has a band; stirred up, the mash is as thick as it is.
 *
 * @param state the mash pulled from
 * @param thermal its vessel; litres per kilogram of dry grist are taken from it
 * @param litres wanted in the pot [L], above 0 and no more than the vessel holds
 * @param thickness as asked for; a ratio is in L/kg, 0.5-20
 * @returns the way; undefined where no grist stands in the vessel
 * @source mash.md 7, fw = fs r / Rm; settled thick mash 1.8-2.2 kg/kg, physics.md 2.7
 * @example 3.3 L/kg in the tun, 80 L wanted at 2.7 L/kg: take 94 L stirred up, let 14 L run back
 */
export function pullWay(
  state: VesselState,
  thermal: Thermal,
  litres: number,
  thickness: Thickness,
): PullWay | undefined {
  const grist = state.solidsKg + state.extractKg;
  if (grist <= 0 || litres <= 0) return undefined;
  const mashLPerKg = state.waterKg / grist;
  const solidL = thermal.dryLKg * state.solidsKg;
  const liquidL = liquidVolume(state);
  const base = { mashLPerKg, litres };
  const exactly = (x: number): WayBand => ({ low: x, likely: x, high: x });
  const stirred: PullWay = {
    ...base,
    by: 'stirred',
    settleMin: 0,
    pullLPerKg: exactly(mashLPerKg),
    bulkL: litres,
  };
  const settles = THICK_LIQUOR_PER_KG < mashLPerKg * (1 - SAME);
  const settledLPerKg: WayBand = {
    low: THICK_LIQUOR_PER_KG / SETTLED_BAND,
    likely: THICK_LIQUOR_PER_KG,
    high: Math.min(mashLPerKg, THICK_LIQUOR_PER_KG * SETTLED_BAND),
  };
  if (thickness === 'as-it-comes' || (thickness === 'thick' && !settles)) return stirred;
  if (thickness === 'thick')
    return { ...stirred, by: 'settled', settleMin: SETTLE_MIN, pullLPerKg: settledLPerKg };
  const strainedLPerKg = mashLPerKg / solidToLiquid(state, 'thin', 1);
  if (thickness === 'thin' || thickness.liquorLPerKg >= strainedLPerKg * (1 - SAME))
    return {
      ...stirred,
      by: 'strained',
      settleMin: SETTLE_MIN,
      pullLPerKg: {
        low: strainedLPerKg / SETTLED_BAND,
        likely: strainedLPerKg,
        high: strainedLPerKg * SETTLED_BAND,
      },
    };
  // More than all the grist cannot come: then the rest of the litres is liquid.
  const leastLPerKg = (mashLPerKg * (litres - solidL)) / liquidL;
  const wanted = Math.max(thickness.liquorLPerKg, leastLPerKg);
  if (Math.abs(wanted - mashLPerKg) <= SAME * mashLPerKg) return stirred;
  /** Litres that a share of the grist brings with it at a ratio. */
  const volume = (share: number, ratio: number) =>
    share * (solidL + (ratio / mashLPerKg) * liquidL);
  const share = Math.min(1, litres / volume(1, wanted));
  const asked = { ...base, pullLPerKg: exactly(wanted) };
  if (wanted > mashLPerKg) {
    const topL = (liquidL * share * (wanted / mashLPerKg - 1)) / (1 - share);
    return {
      ...asked,
      by: 'stirred',
      settleMin: SETTLE_MIN,
      bulkL: litres - topL,
      topUpL: exactly(topL),
    };
  }
  const stirredL = volume(share, mashLPerKg);
  if (!settles || stirredL <= MORE_STIRRED * litres)
    return {
      ...asked,
      by: 'stirred',
      settleMin: 0,
      bulkL: stirredL,
      drainL: exactly(stirredL - litres),
    };
  // Wetter than usual, more liquid comes along with the same grain.
  const bulk = (ratio: number) => volume(share, ratio);
  const over = {
    low: bulk(settledLPerKg.low) - litres,
    likely: bulk(settledLPerKg.likely) - litres,
    high: bulk(settledLPerKg.high) - litres,
  };
  const settled = {
    ...asked,
    by: 'settled',
    settleMin: SETTLE_MIN,
    bulkL: bulk(settledLPerKg.likely),
  } as const;
  if (over.likely > 0) return { ...settled, drainL: { ...over, low: Math.max(0, over.low) } };
  return {
    ...settled,
    topUpL: { low: Math.max(0, -over.high), likely: -over.likely, high: -over.low },
  };
}

/** Less than this is not drawn apart [L]: what a full ladle more or less makes. */
const LEAST_L = 0.3;

/**
 * The way of a pull in plain words, for the move on every screen and paper.
 *
 * @param way from `pullWay`
 * @returns one or two sentences in litres and L/kg
 * @example pullWayText({ by: 'stirred', … }) // "Stir up from the bottom and take it as it stands, 3.2 L/kg."
 */
export function pullWayText(way: PullWay): string {
  const { by, settleMin, mashLPerKg, pullLPerKg, bulkL, litres } = way;
  const ratio = (x: number) => `${x.toFixed(1)} L/kg`;
  const size = (x: number) => `${x.toFixed(litres < 30 ? 1 : 0)} L`;
  const still = `Leave the mash unstirred for the last ${settleMin} min`;
  const top = usable(way.topUpL);
  const drain = usable(way.drainL);
  const ends = `that makes ${size(litres)} at ${ratio(pullLPerKg.likely)}`;
  if (by === 'strained')
    return `${still}, then draw from the top or through a strainer and leave the grain behind; about ${ratio(pullLPerKg.likely)} comes over.`;
  if (by === 'settled') {
    const scoop = `${still}, then scoop ${size(bulkL)} from below`;
    if (top)
      return `${scoop} and top up with ${spoken(top, size)} of clear liquid from the top of the mash: ${ends}.`;
    if (drain)
      return `${scoop} into a strainer and let ${spoken(drain, size)} of liquid run back into the mash: ${ends}.`;
    return `${scoop}; it settles to about ${ratio(pullLPerKg.likely)} (${pullLPerKg.low.toFixed(1)} to ${ratio(pullLPerKg.high)}).`;
  }
  if (top)
    return `${still}, draw ${spoken(top, size)} of clear liquid from the top, then stir up and take ${size(bulkL)} as it stands: ${ends}.`;
  if (drain)
    return `Stir up, take ${size(bulkL)} as it stands into a strainer and let ${spoken(drain, size)} of liquid run back into the mash: ${ends}.`;
  return `Stir up from the bottom and take it as it stands, ${ratio(mashLPerKg)}.`;
}

const usable = (b: WayBand | undefined): WayBand | undefined =>
  b !== undefined && b.likely >= LEAST_L ? b : undefined;

/** "4 L", or with its band where it matters: "4 L (2 to 6 L)". */
function spoken(b: WayBand, size: (x: number) => string): string {
  const said = size(b.likely);
  return size(b.low) === said && size(b.high) === said
    ? said
    : `${said} (${size(b.low).replace(' L', '')} to ${size(b.high)})`;
}
