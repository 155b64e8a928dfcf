/** Hops and steam of the boil, as they are shown. Pure. */
import type { Kit } from '@ladlework/brewhouse';
import type { WortDay } from '@ladlework/planner';

type BoilHop = WortDay['boil']['hops'][number];

/** What goes in together. */
export interface HopMoment {
  readonly boilMin: number | 'stand';
  readonly atMin: number;
  readonly names: readonly { readonly name: string; readonly kg: number }[];
  readonly ibu: number;
}

/** Hops by the moment they go in; re-timed minutes are whole, as a clock on the wall is. */
export function hopsOfBoil(hops: readonly BoilHop[]): HopMoment[] {
  const moments = new Map<number | 'stand', HopMoment>();
  for (const { name, kg, boilMin, atMin, ibu } of hops) {
    const key = boilMin === 'stand' ? boilMin : Math.round(boilMin);
    const there = moments.get(key);
    moments.set(key, {
      boilMin: key,
      atMin: there?.atMin ?? atMin,
      names: [...(there?.names ?? []), { name, kg }],
      ibu: (there?.ibu ?? 0) + ibu,
    });
  }
  return [...moments.values()].sort((a, b) => a.atMin - b.atMin);
}

/** Boiling wort weighs about this [kg/L]. @source water at 100 °C 0.958 with about 12 % extract; our rounding */
const BOILING_KG_PER_L = 1;

/**
 * How fast the level falls.
 *
 * @param vessel that boils
 * @param steamKgH [kg/h]
 * @returns [cm/h]; nothing when the kit does not know the vessel's width
 */
export function fallCmPerH(kit: Kit, vessel: string, steamKgH: number): number | undefined {
  const diameterM = kit.vessels.find((v) => v.id === vessel)?.diameterM;
  if (diameterM === undefined || diameterM <= 0) return undefined;
  const areaM2 = (Math.PI / 4) * diameterM ** 2;
  return (steamKgH / BOILING_KG_PER_L / 1000 / areaM2) * 100;
}
