/** Where the hot liquor of each brew may be heated and may wait: the ways the timetable chooses from. */
import type { Vessel } from '@ladlework/brewhouse';
import { type BrewDay, brewDay } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import type { TimedMash } from '../plan.ts';
import { parkTemperature } from './heat-time.ts';
import { FIRST_STAND_MIN, fitsWithStrike } from './sparge-part.ts';
import { boilersOf, fermenterOf, lauterOf, potsOf } from './stations.ts';
import { type Work, wortLitres } from './work.ts';

/** Choices the timetable makes for each brew before it is solved. */
export interface BrewChoice {
  /** The sparge liquor is heated in one go with the strike liquor. */
  readonly withStrike: boolean;
  /** Where the sparge liquor waits, which may be where it was heated; left out: outside the kit. */
  readonly parkIn?: string;
  /** Minutes it is expected to stand there. */
  readonly standMin: number;
  /** Minutes liquor heated with the strike liquor stands before it is heated on. */
  readonly coolMin?: number;
  /** A later brew's strike liquor is heated early and waits elsewhere, so that its vessel is free. */
  readonly strike?: { readonly parkIn: string; readonly standMin: number };
}

/**
 * Every way worth trying for one brew.
 * @param documents the brews of the day in their order
 * @param plans of the same
 * @param work rates of this brew
 * @param tanks tanks that earlier brews fill
 * @param k the brew, from 0
 */
export function waysOf(
  documents: readonly PlanDocument[],
  plans: readonly TimedMash[],
  work: Work,
  tanks: ReadonlySet<string>,
  k: number,
): BrewChoice[] {
  const day = brewDay(documents[k] as PlanDocument);
  const { strike } = plans[k] as TimedMash;
  const litres = wortLitres(day.gristKg, day.liquorKg, lauterOf(day), work);
  const boilers = boilersOf(day, work, litres.kettleFullL);
  const busy = new Set([...boilers.map((v) => v.id), ...potsOf(day), day.tun.id]);
  const more = k < documents.length - 1;
  const parks = parksFor(day, work, litres.spargeL, { busy, tanks, more });
  const both = fitsWithStrike(day, strike.litres, work) ? [true, false] : [false];
  const early = k > 0 ? strikePark(day, strike, busy, tanks) : undefined;
  return parks.flatMap((parkIn) =>
    both.flatMap((withStrike): BrewChoice[] => {
      const stays = parkIn === day.liquorVessel.id;
      const choice: BrewChoice = {
        withStrike,
        standMin: stays ? 0 : FIRST_STAND_MIN,
        ...(parkIn === undefined ? {} : { parkIn }),
      };
      return early === undefined || withStrike
        ? [choice]
        : [choice, { ...choice, strike: { parkIn: early, standMin: 0 } }];
    }),
  );
}

interface Around {
  /** Vessels the mash and the wort of this brew pass through. */
  readonly busy: ReadonlySet<string>;
  readonly tanks: ReadonlySet<string>;
  /** Another brew follows and may want the liquor vessel. */
  readonly more: boolean;
}

/** Vessels the sparge liquor may wait in; nothing in the list when it must leave the kit. */
function parksFor(
  day: BrewDay,
  work: Work,
  litres: number,
  { busy, tanks, more }: Around,
): (string | undefined)[] {
  if (work.parkIn !== undefined) return [work.parkIn];
  const from = day.liquorVessel.id;
  const stays = !busy.has(from);
  const room = roomFor(day, litres, tanks);
  const free = room.filter((v) => !busy.has(v.id));
  const tank = fermenterOf(day, work)?.id;
  const own = bestOf(
    day,
    free.filter((v) => v.id !== tank),
    litres,
    work.spargeC,
  );
  const elsewhere = [
    ...(own ? [own.id] : []),
    ...free.map((v) => v.id).filter((id) => id === tank),
  ];
  if (stays) return more ? [from, ...elsewhere] : [from];
  if (elsewhere.length > 0) return elsewhere;
  const taken = room.filter((v) => busy.has(v.id)).map((v) => v.id);
  return taken.length > 0 ? taken.slice(0, MOST_TAKEN) : [undefined];
}

/** Vessels with a task of their own that are tried as a place to park. */
const MOST_TAKEN = 2;

/** Where a later brew's strike liquor could wait, when its own vessel has other work today. */
function strikePark(
  day: BrewDay,
  strike: TimedMash['strike'],
  busy: ReadonlySet<string>,
  tanks: ReadonlySet<string>,
): string | undefined {
  if (!busy.has(day.liquorVessel.id) || day.liquorVessel.id === day.tun.id) return undefined;
  const litres = strike.litres + (day.document.day.preheatTunL ?? 0);
  const free = roomFor(day, litres, tanks).filter((v) => !busy.has(v.id));
  return bestOf(day, free, litres, strike.tempC.likely)?.id;
}

function roomFor(day: BrewDay, litres: number, tanks: ReadonlySet<string>): Vessel[] {
  const bed = new Set([day.restTun.id, day.tun.id, lauterOf(day).id, day.liquorVessel.id]);
  return day.kit.vessels.filter((v) => !bed.has(v.id) && !tanks.has(v.id) && v.brimL >= litres);
}

/**
 * Of vessels nothing else is done in, the one that keeps liquor hottest: it is heated least and
 * soonest, so none of the others can make a better day.
 */
function bestOf(
  day: BrewDay,
  vessels: readonly Vessel[],
  litres: number,
  wantedC: number,
): Vessel | undefined {
  if (vessels.length < 2) return vessels[0];
  const heat = (v: Vessel) =>
    parkTemperature(
      day.kit,
      {
        from: day.liquorVessel.id,
        to: v.id,
        route: day.strikeRoute,
        litres,
        standMin: FIRST_STAND_MIN,
        useMin: 0,
        wantedC,
      },
      day.airC,
    )?.extraKWh ?? Number.POSITIVE_INFINITY;
  return vessels.reduce((a, b) => (heat(b) < heat(a) ? b : a));
}

/** Every combination, one choice for each brew. */
export function combinations(each: readonly (readonly BrewChoice[])[]): BrewChoice[][] {
  return each.reduce<BrewChoice[][]>(
    (ways, choices) => ways.flatMap((way) => choices.map((choice) => [...way, choice])),
    [[]],
  );
}

/** The tanks the brews before each one fill. */
export function tanksBefore(
  documents: readonly PlanDocument[],
  workOf: (k: number) => Work,
): ReadonlySet<string>[] {
  const filled = new Set<string>();
  return documents.map((document, k) => {
    const before = new Set(filled);
    const day = brewDay(document);
    const tank = fermenterOf(day, workOf(k));
    if (tank) filled.add(tank.id);
    return before;
  });
}
