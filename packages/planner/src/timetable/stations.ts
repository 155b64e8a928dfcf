/** Which vessel of the kit does what once the mash is through. */
import type { Vessel } from '@ladlework/brewhouse';
import { type BrewDay, vesselOf } from '../day.ts';
import { bestBurner } from './heat-time.ts';
import type { Work } from './work.ts';

/** Vessel the bed stands in: a lauter tun of its own, or where the mash rested. */
export function lauterOf(day: BrewDay): Vessel {
  return day.kit.vessels.find((v) => v.role === 'lauter-tun') ?? day.restTun;
}

/** The kettle if it holds the wort, else the fewest heated vessels that do. */
export function boilersOf(day: BrewDay, work: Work, kettleFullL: number): Vessel[] {
  if (work.boilIn) return work.boilIn.map((id) => vesselOf(day.kit, id));
  const held = new Set([day.restTun.id, lauterOf(day).id]);
  const heated = day.kit.vessels
    .filter((v) => !held.has(v.id) && bestBurner(day.kit, v.id))
    .sort((a, b) => Number(b.role === 'kettle') - Number(a.role === 'kettle') || b.brimL - a.brimL);
  const chosen: Vessel[] = [];
  let room = 0;
  for (const v of heated) {
    if (room >= kettleFullL) break;
    chosen.push(v);
    room += v.brimL;
  }
  return chosen;
}

/** The pump or hose hot liquor goes through, where it keeps one busy. */
export function routeTool(day: BrewDay): string[] {
  const { how, id } = day.strikeRoute;
  return how === 'pump' || how === 'gravity' ? [`route ${id}`] : [];
}

/** Tank that takes the wort. */
export function fermenterOf(day: BrewDay, work: Work): Vessel | undefined {
  if (work.fermenter !== undefined) return vesselOf(day.kit, work.fermenter);
  return day.kit.vessels.find((v) => v.role === 'fermenter');
}

/** Vessels that pulls are boiled in. */
export function potsOf(day: BrewDay): string[] {
  return day.document.mash.raises.flatMap((r) => (r.by === 'decoction' ? r.pots : []));
}
