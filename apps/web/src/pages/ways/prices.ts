/**
 * The brewer's prices. They are the same for every kit and every beer, and what a comparison is
 * reckoned with on this device; no brew's record needs them.
 */
import { type PricesFile, parsePricesFile } from '@ladlework/contract';
import type { PlanDocument, PriceList } from '@ladlework/planner';
import { kept } from '../../shell/kept.ts';

export const prices = kept<PriceList>('prices', {}, (raw) => {
  const parsed = parsePricesFile({ prices: raw });
  return parsed.ok ? parsed.file.prices : undefined;
});

/** What single changes of kit would cost, by their words. */
export const offerPrices = kept<Readonly<Record<string, number>>>('offer-prices', {}, (raw) =>
  typeof raw === 'object' && raw !== null && Object.values(raw).every(isPrice)
    ? (raw as Record<string, number>)
    : undefined,
);

const isPrice = (raw: unknown): boolean => typeof raw === 'number' && raw >= 0 && raw <= MOST_PAID;
export const MOST_PAID = 1e7;

/** The document as a comparison reckons with it. */
export function withPrices(document: PlanDocument): PlanDocument {
  return Object.keys(prices.value).length === 0
    ? document
    : { ...document, prices: prices.value as NonNullable<PricesFile['prices']> };
}
