/** When a rest counts as missed, for every comparison and every search alike. */
import type { MashRest } from '../document.ts';

/** A rest landing further off than this is missed [K]; our judgement, what a mash thermometer shows. */
export const MISSED_K = 1;

/**
 * Chance that some rest after a raise is missed; the first is mended as it is mashed in.
 * @param landings draw by draw, the temperature of every rest as it began [°C]
 * @param rests what each is to have
 * @returns 0-1; 0 where nothing is raised
 */
export function missChance(
  landings: readonly (readonly number[])[],
  rests: readonly MashRest[],
): number {
  const missed = landings.filter((landed) =>
    landed.some((c, i) => i > 0 && Math.abs(c - (rests[i]?.tempC ?? c)) > MISSED_K),
  );
  return missed.length / landings.length;
}
