/** The sparge liquor of one brew: heated, parked where there is room, and run on the bed. */
import { type Draw, NOMINAL, type Vessel } from '@ladlework/brewhouse';
import { waterDensity } from '@ladlework/matter';
import { type BrewDay, vesselOf } from '../day.ts';
import type { DayBuilder } from './day-builder.ts';
import { bestBurner, heatUpMin, longestStand, parkTemperature } from './heat-time.ts';
import type { MashPart } from './mash-part.ts';
import { lauterOf, routeTool } from './stations.ts';
import type { Work, WortLitres } from './work.ts';

/** Run-off before sparging begins, and its own length, as shares of the run-off. @source field.md 2, 10:35-12:20 with first wort read before water reaches the tap */
const SPARGE_FROM = 0.25;
const SPARGE_SHARE = 0.6;
/** Strike liquor is out of the kettle when this much of mash-in is over [min]; our judgement. */
const STRIKE_DRAWN_MIN = 5;
/** Stand assumed before the first timetable is there [min]. @source field.md 2, parked 07:25, wanted 11:00 */
export const FIRST_STAND_MIN = 200;
/** Longest stand and longest heat-up that are looked at [min]. */
export const LONGEST_PARK_MIN = 720;

export interface WortOptions {
  readonly work: Work;
  /** Heat the sparge liquor in one go with the strike liquor. */
  readonly withStrike: boolean;
  /** Minutes the liquor is expected to stand parked. */
  readonly standMin: number;
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
  /** Where it is parked; left out: it stays in the vessel that heated it. */
  readonly to?: Vessel;
  readonly parkId?: string;
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
  boilers: readonly Vessel[],
  options: WortOptions,
): Sparge {
  const { work, withStrike } = options;
  const from = day.liquorVessel;
  const busy = new Set([...boilers.map((v) => v.id), ...mash.lastInPot.keys(), day.tun.id]);
  const park = busy.has(from.id)
    ? parkVessel(day, work, litres.spargeL, busy, options.filled)
    : undefined;
  if (busy.has(from.id) && !park)
    build.notes.push(
      `No vessel of the kit can park ${litres.spargeL.toFixed(0)} L of sparge liquor; it is taken to stand outside the kit. Add the header tank or the fermenter to the kit to get its park temperature.`,
    );
  const content = withStrike ? mash.strikeContent : build.own('sparge');
  const useMin = SPARGE_SHARE * runOffMin;
  const wanted = park
    ? parkTemperature(day.kit, parkWish(day, park, litres.spargeL, useMin, options), day.airC)
    : undefined;
  const toC = park ? (wanted?.heatToC ?? day.boilC - 0.5) : work.spargeC;
  const burner = bestBurner(day.kit, from.id);
  const startC = withStrike ? strike.tempC : (day.document.day.kettleC ?? day.document.day.liquorC);
  const fromC = Math.min(startC, toC);
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
    build.lag(mash.mashInId, 'start', heat, 'start', STRIKE_DRAWN_MIN);
    const total = strike.litres + (day.document.day.preheatTunL ?? 0) + litres.spargeL + from.deadL;
    heatAllAtOnce(build, day, total, strike.tempC);
  } else {
    const fill = build.work('sparge-in', `Sparge liquor into ${from.name}`, 0, {
      vessels: [{ vessel: from.id, content }],
      hands: build.hands('busy', 1),
    });
    build.follow(fill, heat);
    build.hold(from.id, content, fill, heat);
  }
  const sparge = build.work(
    'sparge',
    'Sparge',
    useMin,
    {
      vessels: [
        { vessel: (park ?? from).id, content: park ? build.own('sparge') : content },
      ].filter(() => park !== undefined || !busy.has(from.id)),
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
  if (!busy.has(from.id)) {
    build.hold(from.id, content, first, sparge);
    build.follow(heat, sparge);
    return { litres: litres.spargeL, useMin, from, spargeId: sparge };
  }
  const route = day.strikeRoute;
  const pourMin = (draw: Draw) =>
    Math.ceil(litres.spargeL / route.portionL) * route.minutesPerPortion * draw.hands;
  const to = park ? park.name : 'the header tank';
  const parkId = build.timed('park', `Park the sparge liquor in ${to}`, pourMin(NOMINAL), pourMin, {
    vessels: [
      { vessel: from.id, content },
      ...(park ? [{ vessel: park.id, content: build.own('sparge') }] : []),
    ],
    tools: routeTool(day),
    hands: build.hands('busy', 1, day.hands.slice(1)),
  });
  build.follow(heat, parkId, 10, 'hot liquor cools in an open kettle');
  build.hold(from.id, content, first, parkId);
  const longest = park
    ? Math.floor(
        longestStand(
          day.kit,
          parkWish(day, park, litres.spargeL, useMin, options),
          day.airC,
          LONGEST_PARK_MIN,
        ),
      )
    : undefined;
  build.lag(
    parkId,
    'end',
    sparge,
    'start',
    0,
    longest !== undefined && longest < LONGEST_PARK_MIN ? longest : undefined,
    park &&
      `parked longer in ${park.name}, even boiling liquor would be under ${work.spargeC} °C when it is wanted`,
  );
  if (!park) return { litres: litres.spargeL, useMin, from, parkId, spargeId: sparge };
  build.hold(park.id, build.own('sparge'), parkId, sparge);
  return { litres: litres.spargeL, useMin, from, to: park, parkId, spargeId: sparge };
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
  const likely = minutesOf(NOMINAL);
  build.change(id, {
    minutes: { low: likely / 1.26, likely, high: likely * 1.26 },
    minutesOf,
  });
}

function parkWish(day: BrewDay, park: Vessel, litres: number, useMin: number, o: WortOptions) {
  return {
    from: day.liquorVessel.id,
    to: park.id,
    route: day.strikeRoute,
    litres,
    standMin: o.standMin,
    useMin,
    wantedC: o.work.spargeC,
  };
}

const PARK_ORDER = ['liquor-tank', 'fermenter', 'pot', 'lauter-tun', 'mash-tun', 'kettle'];

function parkVessel(
  day: BrewDay,
  work: Work,
  litres: number,
  busy: ReadonlySet<string>,
  filled: ReadonlySet<string>,
): Vessel | undefined {
  if (work.parkIn !== undefined) return vesselOf(day.kit, work.parkIn);
  const bed = new Set([day.restTun.id, day.tun.id, lauterOf(day).id, day.liquorVessel.id]);
  return day.kit.vessels
    .filter((v) => !bed.has(v.id) && !filled.has(v.id) && v.brimL >= litres)
    .sort(
      (a, b) =>
        Number(busy.has(a.id)) - Number(busy.has(b.id)) ||
        PARK_ORDER.indexOf(a.role) - PARK_ORDER.indexOf(b.role),
    )[0];
}
