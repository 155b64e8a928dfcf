/** What malt, hands and heat cost: the brewer's own prices where he named them. */
import type { BurnerKind } from '@ladlework/brewhouse';
import type { Fuel, MaltLot, PlanDocument, StockLot } from '../document.ts';

/** What hands, heat and malt are worth, in the brewer's own money. */
export interface Prices {
  /** One pair of hands for an hour, 0-1000. */
  readonly perHour: number;
  /** Fuel or current as the meter counts it [per kWh], 0-100. */
  readonly perKWh: number;
  /** Where a fuel has a price of its own [per kWh]. */
  readonly byFuel?: { readonly [F in Fuel]?: number };
  /** A malt lot without a price of its own [per kg]; left out: such a lot is not counted. */
  readonly maltPerKg?: number;
}

/** Until the brewer names his own; our judgement, the order of small breweries in Europe. */
export const DEFAULT_PRICES: Prices = { perHour: 25, perKWh: 0.2 };

/** Prices with their money, and whether the brewer named any of them. */
export interface HousePrices extends Prices {
  /** Empty when the brewer did not name it. */
  readonly currency: string;
  readonly own: boolean;
}

const FUEL_OF: Readonly<Record<BurnerKind, Fuel>> = {
  'gas-hob': 'gas',
  'gas-burner': 'gas',
  'outdoor-propane': 'propane',
  resistance: 'electricity',
  induction: 'electricity',
  element: 'electricity',
  'steam-jacket': 'steam',
};

/**
 * The prices a document is reckoned with.
 * @param document its price list may be left out or name only some
 * @returns each price, the default where the brewer named none
 */
export function pricesOf({ prices = {} }: PlanDocument): HousePrices {
  const { currency = '', labourPerHour, energyPerKWh, maltPerKg } = prices;
  return {
    currency,
    perHour: labourPerHour ?? DEFAULT_PRICES.perHour,
    perKWh: DEFAULT_PRICES.perKWh,
    ...(energyPerKWh === undefined ? {} : { byFuel: energyPerKWh }),
    ...(maltPerKg === undefined ? {} : { maltPerKg }),
    own: labourPerHour !== undefined || energyPerKWh !== undefined || maltPerKg !== undefined,
  };
}

/** Price of what a burner of this kind takes in [per kWh]. */
export function heatPrice(kind: BurnerKind, prices: Prices): number {
  return prices.byFuel?.[FUEL_OF[kind]] ?? prices.perKWh;
}

/** Price of a lot [per kg]; undefined when neither the lot nor the list names one. */
export function maltPrice(lot: StockLot, prices: Prices): number | undefined {
  return lot.pricePerKg ?? prices.maltPerKg;
}

/**
 * What a grist costs.
 * @returns sum of kilograms times price; undefined when a lot has no price at all
 */
export function maltCost(malts: readonly MaltLot[], prices: Prices): number | undefined {
  let sum = 0;
  for (const lot of malts) {
    const price = maltPrice(lot, prices);
    if (price === undefined) return undefined;
    sum += price * lot.kg;
  }
  return sum;
}
