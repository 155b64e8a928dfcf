/** The brews that share one day on one kit. */
import type { BrewState } from '@ladlework/log';
import { brews } from './house.ts';

/**
 * The brews of the day of this one, in the order they are begun; itself alone when it shares none.
 *
 * @param brew any of them
 */
export function brewsOfDay(brew: BrewState): readonly BrewState[] {
  const root = brew.dayOf ?? brew.brew;
  const plannedMs = (b: BrewState) => b.plans[0]?.atMs ?? 0;
  const all = brews.value
    .filter((b) => b.document !== undefined && (b.brew === root || b.dayOf === root))
    .sort(
      (a, b) => Number(b.brew === root) - Number(a.brew === root) || plannedMs(a) - plannedMs(b),
    );
  return all.some((b) => b.brew === brew.brew) ? all : [brew];
}
