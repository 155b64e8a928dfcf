/** From the sparge liquor to the last cleaning of one brew. */
import { type Draw, NOMINAL, type Vessel } from '@ladlework/brewhouse';
import { type BrewDay, vesselOf } from '../day.ts';
import type { DayBuilder } from './day-builder.ts';
import { bestBurner, heatUpMin } from './heat-time.ts';
import { LONGEST_PARK_MIN } from './liquor-stand.ts';
import type { MashPart } from './mash-part.ts';
import { addSparge, type Sparge, type WortOptions } from './sparge-part.ts';
import { boilersOf, fermenterOf, lauterOf, routeTool } from './stations.ts';
import { type Work, type WortLitres, wortLitres } from './work.ts';

/** Share of the run-off that covers the kettle's bottom, so that it may be heated. @source field.md 2, "heat once bottom covered" */
const BOTTOM_COVERED = 0.25;
/** Wort as it leaves the bed and on the way to the kettle [°C]; our judgement. */
export const WORT_C = 70;
const HOP_MIN = 3;
/** Somebody stands by the kettle while it comes over [min]; our judgement. */
const FOAM_MIN = 10;

export interface WortPart {
  readonly litres: WortLitres;
  readonly sparge: Sparge;
  readonly lastIds: readonly string[];
  /** Tank the wort goes into, and the knock-outs that fill it. */
  readonly tank?: string;
  readonly knockOutIds: readonly string[];
  /** Vessels that boil the wort, with what their activities carry behind their ids. */
  readonly boilers: readonly { readonly vessel: string; readonly tag: string }[];
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
  const sparge = addSparge(build, day, mash, strike, litres, runOff, runOffMin, options);
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
    return { litres, sparge, lastIds: [cleanTun, ...rinses], knockOutIds: [], boilers: [] };
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
    boilers: boilers.map((v) => ({ vessel: v.id, tag: tagOf(v, boilers) })),
  };
}

/** Behind the ids of what is done in one of several boiling vessels. */
const tagOf = (v: Vessel, boilers: readonly Vessel[]): string =>
  boilers.length > 1 ? `-${v.id}` : '';

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
  const tag = tagOf(kettle, boilers);
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
      passes: true,
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
