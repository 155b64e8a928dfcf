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
 * @param named what boils, by the names of the kit; several stand behind one another with commas
 * @param steamKgH of all of them [kg/h]
 * @returns [cm/h]; nothing when the kit does not know a width
 */
export function fallCmPerH(kit: Kit, named: string, steamKgH: number): number | undefined {
  const names = named.split(', ');
  const widths = kit.vessels.flatMap((v) =>
    v.name === named || names.includes(v.name) ? [v.diameterM] : [],
  );
  const areaM2 = widths.reduce((sum, m) => sum + (Math.PI / 4) * m ** 2, 0);
  return areaM2 > 0 ? (steamKgH / BOILING_KG_PER_L / 1000 / areaM2) * 100 : undefined;
}
