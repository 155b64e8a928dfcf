/** A brew put onto another kit: each vessel by what it is for, each route by how it carries. */
import type { Kit, Route, Vessel, VesselRole } from '@ladlework/brewhouse';
import { burnerFor, vesselOf } from '../day.ts';
import type { Day, Mash, PlanDocument, Raise } from '../document.ts';
import type { Work } from '../timetable/work.ts';
import { resized } from './kit-change.ts';

export type Onto =
  | { readonly ok: true; readonly document: PlanDocument; readonly moved: readonly string[] }
  | { readonly ok: false; readonly whyNot: string };

/** Roles that stand in for one another, nearest first. */
const STANDS_IN: Readonly<Record<VesselRole, readonly VesselRole[]>> = {
  'mash-tun': ['mash-tun', 'lauter-tun'],
  'lauter-tun': ['lauter-tun', 'mash-tun'],
  kettle: ['kettle'],
  pot: ['pot', 'kettle'],
  'liquor-tank': ['liquor-tank', 'kettle'],
  fermenter: ['fermenter'],
};

/**
 * The brew on another kit: same rests and raises, malt and preheat times the factor.
 * @param document the brew on its own kit
 * @param kit the other
 * @param factor kilograms of malt there against here, above 0
 * @returns the document, with what stands in for what; or which vessel the kit lacks
 * @throws UnknownName when the document names what its own kit does not have
 */
export function ontoKit(document: PlanDocument, kit: Kit, factor: number): Onto {
  const { mash } = document;
  const moved: string[] = [];
  const lacking = new Set<string>();
  const at = (id: string, heated: boolean): string => {
    const own = vesselOf(document.kit, id);
    const there = counterpart(document.kit, own, kit, heated);
    if (!there) {
      lacking.add(own.name);
      return id;
    }
    if (there.role !== own.role) moved.push(`${there.name} does what ${own.name} does.`);
    return there.id;
  };
  const raises = resized(document, factor).mash.raises.map((raise): Raise => {
    if (raise.by !== 'decoction') return raise;
    const pots = raise.pots.map((pot) => at(pot, true));
    const unlike = new Set(raise.pots).size;
    // Several pots that one vessel stands in for are one load of it.
    if (new Set(pots).size === unlike) return { ...raise, pots };
    return { ...raise, pots: [...new Set(pots)], order: 'in-turn' };
  });
  const { pullRoute, strikeRoute, park, ...rest } = mash;
  const needsHeat = document.day.kettleC === undefined;
  const onto: Mash = {
    ...rest,
    tun: at(mash.tun, mash.layout === 'kettle-mash'),
    liquorVessel: tankOnlyThere(document.kit, kit) ?? at(mash.liquorVessel, needsHeat),
    ...(park === undefined ? {} : { park: at(park, false) }),
    ...routeAs('pullRoute', pullRoute, document.kit, kit),
    ...routeAs('strikeRoute', strikeRoute, document.kit, kit),
    raises,
  };
  if (lacking.size > 0)
    return {
      ok: false,
      whyNot: `${kit.name} has nothing that does what ${[...lacking].join(' and ')} ${lacking.size > 1 ? 'do' : 'does'}.`,
    };
  const holds = vesselOf(kit, onto.layout === 'kettle-mash' ? (onto.park ?? onto.tun) : onto.tun);
  if (raises.some((r) => r.by === 'direct-heat') && !burnerFor(kit, holds.id))
    return {
      ok: false,
      whyNot: `No burner of ${kit.name} heats ${holds.name}, and a raise is made by heat there.`,
    };
  const { beer } = resized(document, factor);
  const own = { ...document, kit, beer, mash: onto, day: dayThere(document.day, factor) };
  return { ok: true, document: own, moved: [...new Set(moved)] };
}

/** A heated liquor tank, where only the other kit has one: its kettle is then free for pulls and wort. */
function tankOnlyThere(from: Kit, to: Kit): string | undefined {
  const tank = (kit: Kit) =>
    kit.vessels.find((v) => v.role === 'liquor-tank' && burnerFor(kit, v.id));
  return tank(from) ? undefined : tank(to)?.id;
}

/** The vessel that does there what this one does here: of its role, in the same place in the row. */
function counterpart(from: Kit, own: Vessel, to: Kit, heated: boolean): Vessel | undefined {
  const place = from.vessels.filter((v) => v.role === own.role).findIndex((v) => v.id === own.id);
  for (const role of STANDS_IN[own.role]) {
    const row = to.vessels.filter((v) => v.role === role && (!heated || burnerFor(to, v.id)));
    const there = row[Math.min(place, row.length - 1)];
    if (there) return there;
  }
  return undefined;
}

/** A named route stays named where the other kit carries the same way; else its first is taken. */
function routeAs(key: 'pullRoute' | 'strikeRoute', id: string | undefined, from: Kit, to: Kit) {
  const own: Route | undefined = from.routes.find((r) => r.id === id);
  const there = own && to.routes.find((r) => r.how === own.how);
  return there ? { [key]: there.id } : {};
}

/** What of a day belongs to the brew; hands, events and rates belong to the house it is brewed in. */
function dayThere(day: Day, factor: number): Day {
  const { startMin, liquorC, gristC, airC, kettleC, preheatTunL, work } = day;
  const kept: Partial<Work> = Object.fromEntries(
    OF_THE_BEER.flatMap((key) => (work?.[key] === undefined ? [] : [[key, work[key]]])),
  );
  return {
    startMin,
    liquorC,
    gristC,
    ...(airC === undefined ? {} : { airC }),
    ...(kettleC === undefined ? {} : { kettleC }),
    ...(preheatTunL === undefined ? {} : { preheatTunL: preheatTunL * factor }),
    ...(work === undefined ? {} : { work: kept }),
  };
}

const OF_THE_BEER = [
  'spargeLPerKg',
  'spargeC',
  'lauterRestMin',
  'boilMin',
  'boilOffPerHour',
  'hopsBeforeEndMin',
  'standMin',
] as const satisfies readonly (keyof Work)[];
