/** From the sparge liquor to the last cleaning of one brew. */
import { type Draw, NOMINAL, type Vessel } from '@ladlework/brewhouse';
import { waterDensity } from '@ladlework/matter';
import { type BrewDay, vesselOf } from '../day.ts';
import type { DayBuilder } from './day-builder.ts';
import { bestBurner, heatUpMin, parkTemperature } from './heat-time.ts';
import type { MashPart } from './mash-part.ts';
import { type Work, type WortLitres, wortLitres } from './work.ts';

/** Run-off before sparging begins, and its own length, as shares of the run-off. @source field.md 2, 10:35-12:20 with first wort read before water reaches the tap */
const SPARGE_FROM = 0.25;
const SPARGE_SHARE = 0.6;
/** Share of the run-off that covers the kettle's bottom, so that it may be heated. @source field.md 2, "heat once bottom covered" */
const BOTTOM_COVERED = 0.25;
/** Wort as it leaves the bed and on the way to the kettle [°C]; our judgement. */
const WORT_C = 70;
/** Strike liquor is out of the kettle when this much of mash-in is over [min]; our judgement. */
const STRIKE_DRAWN_MIN = 5;
const HOP_MIN = 3;
/** Somebody stands by the kettle while it comes over [min]; our judgement. */
const FOAM_MIN = 10;
/** Longest stand for which a park temperature is sought [min]. */
const LONGEST_PARK_MIN = 720;
/** Stand assumed before the first timetable is there [min]. @source field.md 2, parked 07:25, wanted 11:00 */
export const FIRST_STAND_MIN = 200;

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

export interface WortPart {
  readonly litres: WortLitres;
  readonly sparge: Sparge;
  readonly lastIds: readonly string[];
  /** Tank the wort goes into, and the knock-outs that fill it. */
  readonly tank?: string;
  readonly knockOutIds: readonly string[];
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

/**
 * Adds everything after the mash, and the sparge liquor beside it.
 * @param build the day
 * @param day the plan's document, looked up
 * @param mash what the mash part left
 * @param strike strike liquor of the plan
 * @param options rates and choices
 */
export function addWort(
  build: DayBuilder,
  day: BrewDay,
  mash: MashPart,
  strike: { readonly litres: number; readonly tempC: number },
  options: WortOptions,
): WortPart {
  const { work } = options;
  const lauter = lauterOf(day);
  const litres = wortLitres(day.gristKg, day.liquorKg, lauter, work);
  const boilers = boilersOf(day, work, litres.kettleFullL);
  const own = (id: string) => build.own(id);
  const mashIn = { vessel: lauter.id, content: mash.mashContent };

  let bed = mash.lastId;
  if (lauter.id !== day.restTun.id) {
    const minutes = Math.max(5, day.gristKg / work.grainOutKgPerMin / 4);
    bed = build.work('to-lauter', `Mash over to ${lauter.name}`, minutes, {
      vessels: [mashIn, { vessel: day.restTun.id, content: mash.mashContent }],
      tools: routeTool(day),
      hands: build.hands('busy', 1),
    });
    build.follow(mash.lastId, bed);
    const rinse = build.work('rinse-tun', `Rinse ${day.restTun.name}`, work.rinseMin, {
      vessels: [{ vessel: day.restTun.id, content: mash.mashContent }],
      hands: build.hands('busy', 1),
    });
    build.follow(bed, rinse);
    build.hold(day.restTun.id, mash.mashContent, mash.mashInId, rinse);
  }
  const lauterRest = build.work(
    'lauter-rest',
    'Lauter rest, recirculate until bright',
    work.lauterRestMin,
    {
      vessels: [mashIn],
      hands: build.hands('at-hand', 1),
      stretchMin: 30,
    },
  );
  build.follow(bed, lauterRest);
  const runOffMin = litres.kettleFullL / litres.runOffLPerMin;
  const wort = own('wort');
  const runOff = build.work(
    'run-off',
    'Run off',
    runOffMin,
    {
      vessels: [mashIn, ...boilers.map((v) => ({ vessel: v.id, content: wort }))],
      hands: build.hands('at-hand', 1),
    },
    'run-off',
  );
  build.follow(lauterRest, runOff, 0, 'a bed that waits after recirculating sets hard');
  const sparge = addSparge(build, day, mash, strike, litres, runOff, runOffMin, boilers, options);
  const grainOut = build.work('grain-out', 'Grain out', day.gristKg / work.grainOutKgPerMin, {
    vessels: [mashIn],
    hands: build.hands('busy', 1, day.hands.slice(1)),
  });
  build.follow(runOff, grainOut);
  const cleanTun = build.work('clean-tun', `Clean ${lauter.name}`, work.cleanTunMin, {
    vessels: [mashIn],
    hands: build.hands('busy', 1, day.hands.slice(1)),
  });
  build.follow(grainOut, cleanTun);
  build.hold(
    lauter.id,
    mash.mashContent,
    lauter.id === day.restTun.id ? mash.mashInId : bed,
    cleanTun,
  );
  const rinses = rinsePots(build, day, mash, work);
  if (boilers.length === 0) {
    build.notes.push(
      'The kit has no vessel that could boil the wort: the day ends with the run-off.',
    );
    return { litres, sparge, lastIds: [cleanTun, ...rinses], knockOutIds: [] };
  }
  const ends = boilers.map((v) =>
    addBoil(build, day, v, boilers, litres, runOff, runOffMin, sparge, options),
  );
  const tank = fermenterOf(day, work)?.id;
  return {
    litres,
    sparge,
    lastIds: [cleanTun, ...rinses, ...ends.map((e) => e.clean)],
    ...(tank === undefined ? {} : { tank }),
    knockOutIds: ends.map((e) => e.knockOut),
  };
}

/** Vessel the bed stands in: a lauter tun of its own, or where the mash rested. */
function lauterOf(day: BrewDay): Vessel {
  return day.kit.vessels.find((v) => v.role === 'lauter-tun') ?? day.restTun;
}

/** The kettle if it holds the wort, else the fewest heated vessels that do. */
function boilersOf(day: BrewDay, work: Work, kettleFullL: number): Vessel[] {
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

function routeTool(day: BrewDay): string[] {
  const { how, id } = day.strikeRoute;
  return how === 'pump' || how === 'gravity' ? [`route ${id}`] : [];
}

function rinsePots(build: DayBuilder, day: BrewDay, mash: MashPart, work: Work): string[] {
  return [...mash.lastInPot].map(([vessel, last]) => {
    const rinse = build.work(
      `rinse-${vessel}`,
      `Rinse ${vesselOf(day.kit, vessel).name}`,
      work.rinseMin,
      {
        vessels: [{ vessel, content: last.content }],
        hands: build.hands('busy', 1, day.hands.slice(1)),
      },
    );
    build.follow(last.id, rinse);
    build.hold(vessel, last.content, last.id, rinse);
    return rinse;
  });
}

function addSparge(
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
  const longest = park ? longestStand(day, park, litres.spargeL, useMin, options) : undefined;
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

/** Longest stand after which liquor parked at the boil is still as hot as wanted [min]. */
function longestStand(day: BrewDay, park: Vessel, litres: number, useMin: number, o: WortOptions) {
  const can = (standMin: number) =>
    parkTemperature(day.kit, parkWish(day, park, litres, useMin, { ...o, standMin }), day.airC) !==
    undefined;
  if (can(LONGEST_PARK_MIN)) return LONGEST_PARK_MIN;
  if (!can(0)) return 0;
  let low = 0;
  let high = LONGEST_PARK_MIN;
  while (high - low > 2) {
    const mid = (low + high) / 2;
    if (can(mid)) low = mid;
    else high = mid;
  }
  return Math.floor(low);
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

/** Boil, hops, stand, knock-out and cleaning of one boiling vessel; gives back knock-out and cleaning. */
function addBoil(
  build: DayBuilder,
  day: BrewDay,
  kettle: Vessel,
  boilers: readonly Vessel[],
  litres: WortLitres,
  runOff: string,
  runOffMin: number,
  sparge: Sparge,
  options: WortOptions,
): { readonly clean: string; readonly knockOut: string } {
  const { work } = options;
  const tag = boilers.length > 1 ? `-${kettle.id}` : '';
  const of = boilers.length > 1 ? ` in ${kettle.name}` : '';
  const share = kettle.brimL / boilers.reduce((s, v) => s + v.brimL, 0);
  const content = build.own('wort');
  const uses = [{ vessel: kettle.id, content }];
  const burner = bestBurner(day.kit, kettle.id);
  const extractKg = litres.extractKg * share;
  const load = {
    vessel: kettle.id,
    burner: burner?.id ?? '',
    waterKg: litres.kettleFullL * share - 0.62 * extractKg,
    extractKg,
    fromC: WORT_C,
  };
  const minutesOf = (draw: Draw) =>
    burner ? (heatUpMin(day.kit, load, 'boil', day.airC, draw) ?? LONGEST_PARK_MIN) : 0;
  const tools = burner ? [burner.id] : [];
  const heat = build.timed(
    `heat-wort${tag}`,
    `Bring the wort to the boil${of}`,
    minutesOf(NOMINAL),
    minutesOf,
    {
      vessels: uses,
      tools,
      hands: build.hands('at-hand', 1),
      stretchMin: Number.POSITIVE_INFINITY,
    },
  );
  build.lag(runOff, 'start', heat, 'start', Math.round(BOTTOM_COVERED * runOffMin));
  build.lag(runOff, 'end', heat, 'end', 0);
  const boil = build.work(
    `boil-wort${tag}`,
    `Boil the wort${of}`,
    work.boilMin,
    {
      vessels: uses,
      tools,
      hands: build.hands('at-hand', 1),
    },
    'exact',
  );
  build.follow(heat, boil, 0, 'wort at the boil is kept boiling');
  const foam = build.work(
    `foam${tag}`,
    `Watch the foam${of}`,
    Math.min(FOAM_MIN, work.boilMin),
    {
      hands: build.hands('busy', 1),
    },
    'exact',
  );
  build.lag(boil, 'start', foam, 'start', 0, 0, 'wort foams when it comes to the boil');
  for (const beforeEnd of work.hopsBeforeEndMin) {
    if (beforeEnd > work.boilMin) continue;
    const hop = build.work(
      `hops-${beforeEnd}${tag}`,
      `Hops, ${beforeEnd} min before the end${of}`,
      HOP_MIN,
      {
        hands: build.hands('busy', 1),
      },
      'exact',
    );
    const at = Math.round(work.boilMin - beforeEnd);
    build.lag(boil, 'start', hop, 'start', at, at + 2, 'hops go in on their minute');
  }
  const stand = build.work(`stand${tag}`, `Whirlpool and stand${of}`, work.standMin, {
    vessels: uses,
    hands: build.hands('at-hand', 1),
    stretchMin: 20,
  });
  build.follow(boil, stand, 0, 'hot wort goes on from the boil at once');
  const tank = fermenterOf(day, work);
  const inTank = tank ? [{ vessel: tank.id, content: 'beer' }] : [];
  const knockOut = build.work(
    `knock-out${tag}`,
    `Knock out${of}${tank ? ` into ${tank.name}` : ''}`,
    (litres.castOutL * share) / work.knockOutLPerMin,
    { vessels: [...uses, ...inTank], tools: ['cooler'], hands: build.hands('busy', 1) },
    'knock-out',
  );
  build.follow(stand, knockOut, 0, 'hot wort that stands makes DMS and colour');
  if (tank && !options.filled.has(tank.id)) sanitise(build, day, tank, sparge, knockOut, tag, work);
  const pitch = build.work(`pitch${tag}`, 'Oxygen and pitch', work.pitchMin, {
    vessels: inTank,
    hands: build.hands('busy', 1),
  });
  build.follow(knockOut, pitch, 30, 'cold wort without yeast is open to infection');
  const clean = build.work(
    `clean-${kettle.id}`,
    options.last ? `Clean ${kettle.name}, cooler and hoses` : `Rinse ${kettle.name}`,
    options.last ? work.cleanKettleMin : 2 * work.rinseMin,
    { vessels: uses, tools: ['cooler'], hands: build.hands('busy', 1) },
  );
  build.follow(knockOut, clean);
  build.hold(kettle.id, content, runOff, clean);
  build.lag(pitch, 'end', clean, 'end', 0);
  return { clean, knockOut };
}

function fermenterOf(day: BrewDay, work: Work): Vessel | undefined {
  if (work.fermenter !== undefined) return vesselOf(day.kit, work.fermenter);
  return day.kit.vessels.find((v) => v.role === 'fermenter');
}

/** The tank is sanitised before the first wort of the day goes in, after liquor was parked in it. */
function sanitise(
  build: DayBuilder,
  day: BrewDay,
  tank: Vessel,
  sparge: Sparge,
  knockOut: string,
  tag: string,
  work: Work,
): void {
  const clean = build.work(`sanitise${tag}`, `Rinse and sanitise ${tank.name}`, work.sanitiseMin, {
    vessels: [{ vessel: tank.id, content: build.own('sanitiser') }],
    hands: build.hands('busy', 1, day.hands.slice(1)),
  });
  build.follow(clean, knockOut, 240, 'a sanitised tank is used the same half day');
  if (sparge.to?.id === tank.id) build.follow(sparge.spargeId, clean);
}
