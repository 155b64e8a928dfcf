/** The sparge liquor of one brew: heated, parked where there is room, and run on the bed. */
import { type Draw, NOMINAL, type Vessel } from '@ladlework/brewhouse';
import { waterDensity } from '@ladlework/matter';
import { type BrewDay, vesselOf } from '../day.ts';
import type { DayBuilder } from './day-builder.ts';
import { bestBurner, cooledC, heatUpMin, type ParkWish, parkTemperature } from './heat-time.ts';
import { LONGEST_PARK_MIN, pourMinutes, type StandTables } from './liquor-stand.ts';
import type { BrewChoice } from './liquor-ways.ts';
import type { MashPart } from './mash-part.ts';
import { routeTool } from './stations.ts';
import type { Work, WortLitres } from './work.ts';

/** Run-off before sparging begins, and its own length, as shares of the run-off. @source field.md 2, 10:35-12:20 with first wort read before water reaches the tap */
const SPARGE_FROM = 0.25;
const SPARGE_SHARE = 0.6;
/** Stand of parked liquor assumed before the first timetable is there [min]. @source field.md 2, parked 07:25, wanted 11:00 */
export const FIRST_STAND_MIN = 200;

export interface WortOptions {
  readonly work: Work;
  readonly choice: BrewChoice;
  readonly tables: StandTables;
  /** The last brew of the day is followed by the full cleaning. */
  readonly last: boolean;
  /** Tanks that already took wort of an earlier brew today. */
  readonly filled: ReadonlySet<string>;
}

/** Sparge liquor of one brew and where it waits. */
export interface Sparge {
  readonly litres: number;
  readonly useMin: number;
  readonly from: Vessel;
  /** Where it waits: parked, or where it was heated; left out: outside the kit. */
  readonly to?: Vessel;
  readonly wish?: ParkWish;
  readonly heatId: string;
  /** Mash-in whose strike liquor it was heated with. */
  readonly drawnFrom?: string;
  /** What is over when it begins to stand. */
  readonly standsAfterId: string;
  readonly parked: boolean;
  readonly spargeId: string;
}

/** Can strike, warming and sparge liquor stand in the liquor vessel together? */
export function fitsWithStrike(day: BrewDay, strikeL: number, work: Work): boolean {
  if (day.liquorVessel.id === day.tun.id) return false;
  const litres =
    strikeL +
    (day.document.day.preheatTunL ?? 0) +
    work.spargeLPerKg * day.gristKg +
    day.liquorVessel.deadL;
  return litres <= day.liquorVessel.brimL;
}

/** Adds the sparge liquor to a day. */
export function addSparge(
  build: DayBuilder,
  day: BrewDay,
  mash: MashPart,
  strike: { readonly litres: number; readonly tempC: number },
  litres: WortLitres,
  runOff: string,
  runOffMin: number,
  options: WortOptions,
): Sparge {
  const { work, choice } = options;
  const { withStrike } = choice;
  const from = day.liquorVessel;
  const to = choice.parkIn === undefined ? undefined : vesselOf(day.kit, choice.parkIn);
  const stays = to?.id === from.id;
  if (!to)
    build.notes.push(
      `No vessel of the kit can park ${litres.spargeL.toFixed(0)} L of sparge liquor; it is taken to stand outside the kit. Add the header tank or the fermenter to the kit to get its park temperature.`,
    );
  const content = withStrike ? mash.strikeContent : build.own('sparge');
  const useMin = SPARGE_SHARE * runOffMin;
  const wish: ParkWish | undefined = to && {
    from: from.id,
    to: to.id,
    route: day.strikeRoute,
    litres: litres.spargeL,
    standMin: choice.standMin,
    useMin,
    wantedC: work.spargeC,
  };
  const wanted = wish && parkTemperature(day.kit, wish, day.airC);
  const toC = wanted?.heatToC ?? day.boilC - 0.5;
  const burner = bestBurner(day.kit, from.id);
  const startC = withStrike ? strike.tempC : (day.document.day.kettleC ?? day.document.day.liquorC);
  const cooled = cooledC(
    day.kit,
    { vessel: from.id, waterKg: (litres.spargeL * waterDensity(startC)) / 1000, fromC: startC },
    withStrike ? (choice.coolMin ?? 0) : 0,
    day.airC,
  );
  const fromC = Math.min(cooled, toC);
  const waterKg = ((litres.spargeL + from.deadL) * waterDensity(fromC)) / 1000;
  const load = { vessel: from.id, burner: burner?.id ?? '', waterKg, fromC };
  const minutesOf = (draw: Draw) =>
    burner ? (heatUpMin(day.kit, load, toC, day.airC, draw) ?? LONGEST_PARK_MIN) : 0;
  const heat = build.timed('heat-sparge', 'Heat the sparge liquor', minutesOf(NOMINAL), minutesOf, {
    vessels: [{ vessel: from.id, content }],
    tools: burner ? [burner.id] : [],
    hands: build.hands('at-hand', 1),
  });
  if (withStrike) {
    // What is still to be drawn as strike liquor must not be warmed on the way.
    const drawn = Math.min(day.mashInMin, pourMinutes(day.strikeRoute, strike.litres));
    build.lag(mash.mashInId, 'start', heat, 'start', drawn);
    const total = strike.litres + (day.document.day.preheatTunL ?? 0) + litres.spargeL + from.deadL;
    heatAllAtOnce(build, day, total, strike.tempC);
    const waits: ParkWish = {
      from: from.id,
      to: from.id,
      route: day.strikeRoute,
      litres: litres.spargeL,
      standMin: 0,
      useMin: 0,
      wantedC: strike.tempC,
    };
    const cools = options.tables.of(day.kit, waits, day.airC);
    build.stands(mash.mashInId, heat, cools.heatWh);
  } else {
    const fill = build.work('sparge-in', `Sparge liquor into ${from.name}`, 0, {
      vessels: [{ vessel: from.id, content }],
      hands: build.hands('busy', 1),
    });
    build.follow(fill, heat);
    build.hold(from.id, content, fill, heat);
  }
  const spargeIn = stays ? content : build.own('sparge');
  const sparge = build.work(
    'sparge',
    'Sparge',
    useMin,
    {
      vessels: to ? [{ vessel: to.id, content: spargeIn }] : [],
      hands: build.hands('at-hand', 1),
    },
    'run-off',
  );
  const startsAt = Math.round(SPARGE_FROM * runOffMin);
  build.lag(
    runOff,
    'start',
    sparge,
    'start',
    startsAt,
    startsAt + 5,
    'a bed that runs dry sets hard',
  );
  const first = withStrike ? (mash.strikeIds[0] ?? mash.firstId) : heat;
  const table = wish && options.tables.of(day.kit, wish, day.airC);
  const wait = (after: string) => {
    const most = table && table.longestMin < LONGEST_PARK_MIN ? table.longestMin : undefined;
    const why =
      to &&
      `standing longer in ${to.name}, even boiling liquor would be under ${work.spargeC} °C when it is wanted`;
    build.lag(after, 'end', sparge, 'start', 0, most, why);
    if (table) build.stands(after, sparge, table.heatWh);
  };
  const made = {
    litres: litres.spargeL,
    useMin,
    from,
    heatId: heat,
    spargeId: sparge,
    ...(withStrike ? { drawnFrom: mash.mashInId } : {}),
  };
  if (to && wish && stays) {
    build.hold(from.id, content, first, sparge);
    wait(heat);
    return { ...made, to, wish, standsAfterId: heat, parked: false };
  }
  const parkMin = (draw: Draw) => pourMinutes(day.strikeRoute, litres.spargeL) * draw.hands;
  const parkId = build.timed(
    'park',
    `Park the sparge liquor in ${to ? to.name : 'the header tank'}`,
    parkMin(NOMINAL),
    parkMin,
    {
      vessels: [
        { vessel: from.id, content },
        ...(to ? [{ vessel: to.id, content: spargeIn }] : []),
      ],
      tools: routeTool(day),
      hands: build.hands('busy', 1, day.hands.slice(1)),
    },
  );
  build.follow(heat, parkId, 10, 'hot liquor cools in an open kettle');
  build.hold(from.id, content, first, parkId);
  wait(parkId);
  if (!to || !wish) return { ...made, standsAfterId: parkId, parked: true };
  build.hold(to.id, spargeIn, parkId, sparge);
  return { ...made, to, wish, standsAfterId: parkId, parked: true };
}

/** The strike liquor is heated with the sparge liquor in the same vessel, which takes longer. */
function heatAllAtOnce(build: DayBuilder, day: BrewDay, litresHot: number, toC: number): void {
  const id = build.own('heat-liquor');
  const burner = day.liquorBurner;
  if (!build.find(id) || !burner) return;
  const fromC = day.document.day.kettleC ?? day.document.day.liquorC;
  const waterKg = (litresHot * waterDensity(toC)) / 1000;
  const load = { vessel: day.liquorVessel.id, burner: burner.id, waterKg, fromC };
  const minutesOf = (draw: Draw) =>
    heatUpMin(day.kit, load, toC, day.airC, draw) ?? LONGEST_PARK_MIN;
  build.retime(id, minutesOf(NOMINAL), minutesOf);
}
