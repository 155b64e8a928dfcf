/** What would help most for the money: single changes beside each other, each one simulated. */
import type { PlanDocument } from '../document.ts';
import { type KitChange, usualChanges } from './kit-change.ts';
import {
  figuresOf,
  type KitFigures,
  playOwn,
  type WhatIf,
  type WhatIfOptions,
  whatIfOf,
} from './what-if.ts';

/** A change with what the brewer would pay for it, once. */
export interface Offer {
  readonly change: KitChange;
  /** [currency], 0-1e7; left out: no pay-back is told. */
  readonly price?: number;
  /** Paid again at every brew [currency], 0-1e5; a helper's wage left out is reckoned from the day. */
  readonly perBrew?: number;
}

export interface PayBack {
  /** Whole brews until it is paid; left out for never and for what has no price. */
  readonly brews?: number;
  readonly state: 'now' | 'after' | 'never' | 'no-price';
  readonly text: string;
}

export interface HelpRow {
  readonly change: KitChange;
  readonly text: string;
  readonly price?: number;
  readonly feasible: boolean;
  readonly whyNot: string;
  /** Likely minutes the day is shorter; of a larger brew for the same beer. */
  readonly minutesSaved: number;
  readonly landingBandK: { readonly own: number; readonly changed: number };
  readonly liftsAvoided: number;
  readonly energySavedKWh: number;
  /** Likely money saved at each brew: an hour of the day for one pair of hands, energy; less perBrew. */
  readonly moneySaved: number;
  readonly payBack: PayBack;
}

export interface HelpTable {
  /** Left out where the own plan cannot be brewed: then every row that can is what frees it. */
  readonly own?: KitFigures;
  readonly currency: string;
  /** Paid back soonest first, then most minutes saved; what cannot be brewed last. */
  readonly rows: readonly HelpRow[];
  /** What the money is reckoned from. */
  readonly note: string;
}

/** Money under this is no saving; a cent either way is rounding. */
const NO_MONEY = 0.01;

/**
 * A table over single changes.
 * @param document the brewer's own plan
 * @param offers changes with his prices; left out: those usual on such a kit, without prices
 * @param options draws and seed; the same draws go through every row
 * @returns the rows, sorted; never throws for what the kit cannot do
 * @throws UnknownName, OutOfRange as `changedDocument`
 */
export function helpTable(
  document: PlanDocument,
  offers: readonly Offer[] = usualOffers(document),
  options: WhatIfOptions = {},
): HelpTable {
  const own = playOwn(document, options);
  const { perHour, currency } = own.prices;
  const rows = offers.map((offer) => rowOf(offer, whatIfOf(own, offer.change), perHour));
  const figures = figuresOf(own.played);
  return {
    ...(figures ? { own: figures } : {}),
    currency,
    rows: rows.toSorted(byWorth),
    note: `An hour less of the day counts as one paid hour (${perHour}${currency === '' ? '' : ` ${currency}`}); energy at the prices of the list. A larger brew is counted for the same beer. What is saved in lifts and certainty has no price here.`,
  };
}

/** The usual changes on this kit, without prices. */
export function usualOffers(document: PlanDocument): Offer[] {
  return usualChanges(document).map((change) => ({ change }));
}

function rowOf(offer: Offer, found: WhatIf, perHour: number): HelpRow {
  const { change, text, feasible, whyNot, own, changed } = found;
  const base = {
    change,
    text,
    ...(offer.price === undefined ? {} : { price: offer.price }),
    feasible,
    whyNot,
  };
  if (!own || !changed || !found.difference)
    return {
      ...base,
      minutesSaved: 0,
      landingBandK: { own: own?.landingBandK ?? 0, changed: changed?.landingBandK ?? 0 },
      liftsAvoided: 0,
      energySavedKWh: 0,
      moneySaved: 0,
      payBack: feasible
        ? { state: 'no-price', text: 'makes the brew possible' }
        : { state: 'never', text: 'cannot be brewed' },
    };
  const share = change.what === 'batch-size' ? 1 / change.factor : 1;
  const saved = (pick: (f: KitFigures) => number) => pick(own) - share * pick(changed);
  const { difference } = found;
  const minutesSaved =
    share === 1 ? -difference.finishMin.likely : saved((f) => f.finishMin.likely);
  const handsMin =
    share === 1 ? -difference.handsBusyMin.likely : saved((f) => f.handsBusyMin.likely);
  const cost = share === 1 ? -difference.cost.likely : saved((f) => f.cost.likely);
  // The cost holds the work at the mash by the minute; the day is counted by its length instead.
  const energyAndMalt = cost - (handsMin / 60) * perHour;
  const wage = change.what === 'helper' ? (changed.finishMin.likely / 60) * perHour : 0;
  const moneySaved = (minutesSaved / 60) * perHour + energyAndMalt - (offer.perBrew ?? wage);
  return {
    ...base,
    minutesSaved,
    landingBandK: { own: own.landingBandK, changed: changed.landingBandK },
    liftsAvoided: saved((f) => f.lifts),
    energySavedKWh: share === 1 ? -difference.energyKWh.likely : saved((f) => f.energyKWh.likely),
    moneySaved,
    payBack: payBackOf(offer.price, moneySaved),
  };
}

/**
 * Brews until a price is saved.
 * @param price paid once; undefined when the brewer named none
 * @param moneySaved at each brew, below nought when it costs more
 * @example payBackOf(900, 12.4) // after 73 brews
 */
export function payBackOf(price: number | undefined, moneySaved: number): PayBack {
  if (moneySaved < NO_MONEY)
    return {
      state: 'never',
      text: moneySaved <= -NO_MONEY ? 'never: each brew costs more' : 'never: it saves no money',
    };
  if (price === undefined) return { state: 'no-price', text: 'name its price to see' };
  if (price === 0) return { state: 'now', brews: 0, text: 'now: it costs nothing' };
  const brews = Math.ceil(price / moneySaved);
  return { state: 'after', brews, text: `after ${brews} ${brews === 1 ? 'brew' : 'brews'}` };
}

function byWorth(a: HelpRow, b: HelpRow): number {
  const rank = (r: HelpRow) => (r.feasible ? 0 : 1);
  const brews = (r: HelpRow) => r.payBack.brews ?? Infinity;
  if (rank(a) !== rank(b)) return rank(a) - rank(b);
  if (brews(a) !== brews(b)) return brews(a) < brews(b) ? -1 : 1;
  return b.minutesSaved - a.minutesSaved;
}
