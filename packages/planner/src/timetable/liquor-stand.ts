/** Hot liquor on its way and at rest: minutes to pour it, heat it needs for the time it stands. */
import type { Kit, Route } from '@ladlework/brewhouse';
import { type ParkWish, type StandTable, standTable } from './heat-time.ts';

/** Longest stand and longest heat-up that are looked at [min]. */
export const LONGEST_PARK_MIN = 720;

/**
 * Minutes a route takes for so much liquor.
 * @param route pump, hose or buckets
 * @param litres to be moved [L]
 */
export function pourMinutes(route: Route, litres: number): number {
  return Math.ceil(litres / route.portionL) * route.minutesPerPortion;
}

/** Stand tables, each computed once however many ways of the day ask for it. */
export class StandTables {
  private readonly known = new Map<string, StandTable>();

  /** The table of this wish, whatever stand it names. */
  of(kit: Kit, wish: ParkWish, airC: number): StandTable {
    const { from, to, litres, useMin, wantedC } = wish;
    const key = [from, to, litres, useMin, wantedC, airC].join(' ');
    const found = this.known.get(key) ?? standTable(kit, wish, airC, LONGEST_PARK_MIN);
    this.known.set(key, found);
    return found;
  }
}
