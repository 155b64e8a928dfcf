/** A plan document with its ids looked up: what every part of the planner works from. */
import {
  type Burner,
  burnerPowerKW,
  type Draw,
  type Kit,
  kitBoilingPoint,
  type Route,
  type SimulateOptions,
  type Vessel,
} from '@ladlework/brewhouse';
import type { MashRest, PlanDocument, Raise } from './document.ts';

/** Freeboard a boiling mash is planned with. @source physics.md 4.4, 15-30 % (Metzger 1996); 30 % our choice for pulls, which foam */
export const PLANNED_HEADSPACE = 0.3;
/** Reserve above the need. @source physics.md 3.3, 10-20 % common practice */
export const DEFAULT_RESERVE = 0.15;
/** Minutes into a rest at which a pull begins. Common practice, no source. */
export const DEFAULT_PULL_AFTER_MIN = 20;
/** Slow heating of a thick pull until its starch has thinned, and the fastest after it [K/min]. @source field.md 6.7 */
export const SLOW_K_PER_MIN = 1.5;
export const FAST_K_PER_MIN = 2.8;
/** Grist one pair of hands mashes in [kg/min]. @source field.md 2 (06:20), typical */
const MASH_IN_KG_PER_MIN = 6;

export type Decoction = Extract<Raise, { by: 'decoction' }>;

/** One load of one pot. */
export interface PotLoad {
  readonly pot: Vessel;
  readonly burner: Burner;
  /** Most it takes for a boil with the planned freeboard [L]. */
  readonly capacityL: number;
  /** Its part of the pull against the other loads', as far as it holds that. */
  readonly part: number;
}

export interface BrewDay {
  readonly document: PlanDocument;
  readonly kit: Kit;
  readonly gristKg: number;
  readonly moisture: number;
  readonly liquorKg: number;
  readonly airC: number;
  readonly boilC: number;
  /** Vessel that mashes in. */
  readonly tun: Vessel;
  /** Vessel that holds the mash after the first raise: the tun, or where it was parked. */
  readonly restTun: Vessel;
  readonly liquorVessel: Vessel;
  readonly liquorBurner: Burner | undefined;
  readonly pullRoute: Route;
  readonly strikeRoute: Route;
  readonly hands: readonly string[];
  readonly mashInMin: number;
  /** Groups the portions of a transfer are carried in; left out: each by itself. For screening. */
  readonly groups?: number;
}

/** A document that names what the kit does not have; the contract room checks the same with paths. */
export class UnknownName extends Error {}

/**
 * Looks up every id of a plan document.
 * @param document a document that passed the contract's checks
 * @returns the day
 * @throws UnknownName when an id is not in the kit
 */
export function brewDay(document: PlanDocument): BrewDay {
  const { kit, beer, mash, day } = document;
  const gristKg = beer.malts.reduce((sum, m) => sum + m.kg, 0);
  const waterKg = beer.malts.reduce(
    (sum, m) => sum + (m.kg * (m.certificate?.moisturePct ?? 4.5)) / 100,
    0,
  );
  const tun = vesselOf(kit, mash.tun);
  const liquorVessel = vesselOf(kit, mash.liquorVessel);
  const hands = day.hands ?? kit.hands.map((h) => h.id);
  return {
    document,
    kit,
    gristKg,
    moisture: waterKg / gristKg,
    liquorKg: mash.liquorLPerKg * gristKg,
    airC: day.airC ?? kit.airC,
    boilC: kitBoilingPoint(kit),
    tun,
    restTun: mash.layout === 'kettle-mash' && mash.park ? vesselOf(kit, mash.park) : tun,
    liquorVessel,
    liquorBurner: burnerFor(kit, liquorVessel.id),
    pullRoute: routeOf(kit, mash.pullRoute),
    strikeRoute: routeOf(kit, mash.strikeRoute),
    hands,
    mashInMin: Math.max(5, Math.ceil(gristKg / MASH_IN_KG_PER_MIN)),
  };
}

/** The vessel of this id. @throws UnknownName */
export function vesselOf(kit: Kit, id: string): Vessel {
  const vessel = kit.vessels.find((v) => v.id === id);
  if (!vessel) throw new UnknownName(`kit ${kit.name} has no vessel ${id}`);
  return vessel;
}

function routeOf(kit: Kit, id: string | undefined): Route {
  const route = id === undefined ? kit.routes[0] : kit.routes.find((r) => r.id === id);
  if (!route) throw new UnknownName(`kit ${kit.name} has no route ${id ?? 'at all'}`);
  return route;
}

/** First burner that heats this vessel, passing over those already taken. */
export function burnerFor(kit: Kit, vessel: string, taken: ReadonlySet<string> = new Set()) {
  const fit = kit.burners.filter((b) => b.heats.includes(vessel));
  return fit.find((b) => !taken.has(b.id)) ?? fit[0];
}

/**
 * The pot loads a decoction asks for, each on its own burner where there is one.
 * @throws UnknownName when a pot has no burner
 */
export function potLoads(day: BrewDay, raise: Decoction): PotLoad[] {
  const taken = new Set<string>();
  return raise.pots.map((id) => {
    const pot = vesselOf(day.kit, id);
    const burner = burnerFor(day.kit, id, taken);
    if (!burner) throw new UnknownName(`no burner of kit ${day.kit.name} heats ${pot.name}`);
    taken.add(burner.id);
    const capacityL = pot.brimL * (1 - PLANNED_HEADSPACE);
    const part = raise.split === 'by-power' ? burnerPowerKW(burner, day.kit) : capacityL;
    return { pot, burner, capacityL, part };
  });
}

/** Minutes of a rest before its pull begins. */
export function pullAfterMin(rest: MashRest): number {
  return Math.min(rest.minutes, rest.pullAfterMin ?? DEFAULT_PULL_AFTER_MIN);
}

/** Brewer, and whoever else can stir: the helper if there is one. */
export function stirrer(day: BrewDay, index = 0): string {
  const others = day.hands.slice(1);
  return others[index] ?? (day.hands[0] as string);
}

/** Hands a route takes, as far as there are any. */
export function routeHands(day: BrewDay, route: Route): string[] {
  return day.hands.slice(0, Math.min(route.hands, day.hands.length));
}

/** Options every simulation of this day shares. */
export function dayOptions(day: BrewDay, draw?: Draw): SimulateOptions {
  return {
    airC: day.airC,
    moisture: day.moisture,
    ...(draw ? { draw } : {}),
    ...(day.groups === undefined ? {} : { groups: day.groups }),
  };
}
