/** The boil: power into steam, what stays behind, bitterness, DMS and colour, and the hot stand after. */
import {
  boilingPoint,
  boilOffRate,
  dmsAfter,
  heatingTime,
  inRange,
  volumeAt20,
  wortCp,
} from '@ladlework/matter';
import { COLD_C, litresAt, platoOf, sgOf, shareOf, type WortBody, wortOf } from './body.ts';
import {
  type HopAddition,
  type HopResult,
  type HopWort,
  type HotStay,
  hopResult,
  hopsInTime,
} from './hops.ts';

/** The kettle as the boil needs it. */
export interface BoilKettle {
  /** Power into the wort at the boil, wall loss taken off [kW], 0.1 to 1e3. */
  readonly netKW: number;
  /** Height [m], -500 to 5000; or the boiling point of water measured today [°C], 80 to 102. */
  readonly site: { readonly altitudeM: number } | { readonly waterBoilsC: number };
  /** Heat capacity of the kettle [kJ/K], 0 to 1e5. */
  readonly wallKJK: number;
  readonly brimL: number;
  /** Never comes out [L]. */
  readonly deadL: number;
  /** Wort kept by hot trub, as share of the cold wort [-], 0 to 0.2. */
  readonly trubShare: number;
  /** Wort kept by hops after draining [L/kg], 0 to 15. */
  readonly hopKeepsLPerKg: number;
}

/** Figures of the trade for a kettle not yet measured. */
export const KETTLE_DEFAULTS = {
  /** Our judgement. */
  trubShare: { low: 0.01, likely: 0.02, high: 0.035 },
  /** Common practice, no source. */
  hopKeepsLPerKg: { low: 4, likely: 6, high: 8 },
  /** Colour gained in the boil [EBC/h]: 1 to 3 EBC a boil of pale wort (from memory), about 1 by Hug 1992. */
  pickUpEbcH: { low: 0.6, likely: 1.2, high: 2.2 },
} as const;

/** A boil to come. */
export interface BoilPlan {
  readonly wort: WortBody;
  /** Temperature of the wort when the heat goes full on [°C], 0 to 105, and that minute of the day. */
  readonly startC: number;
  readonly startMin: number;
  /** Minutes from there to the boil, where the kit's own simulation gave them; else by the net power. */
  readonly heatUpMin?: number;
  readonly minutes: number;
  readonly hops: readonly HopAddition[];
  readonly hopFactor?: { readonly kettle: number; readonly stand: number };
  /** From the end of the boil to the cooler; segments may be as fine as wished. */
  readonly stand: readonly HotStay[];
  /** pH of the wort at 20 °C, when known. */
  readonly ph?: number;
  /** DMS precursor, as DMS, and free DMS in the cold volume [µg/L]. */
  readonly precursorUgL?: number;
  readonly freeDmsUgL?: number;
  /** Colour of the wort in the kettle [EBC], and its gain [EBC/h]. */
  readonly colourEbc?: number;
  readonly pickUpEbcH?: number;
}

/** What stayed in the kettle [cold L], by cause. */
export interface LeftBehind {
  readonly hopsL: number;
  readonly trubL: number;
  readonly deadL: number;
}

export interface BoilRun {
  readonly boilC: number;
  readonly heatUpMin: number;
  readonly endMin: number;
  readonly evaporationKgH: number;
  readonly evaporatedKg: number;
  /** All wort at the end of the boil. */
  readonly castOut: WortBody;
  readonly hotL: number;
  readonly coldL: number;
  readonly plato: number;
  /** What runs to the cooler, and what does not. */
  readonly toCooler: WortBody;
  readonly leftBehind: LeftBehind;
  readonly hops: HopResult;
  /** After the stand, in the cold volume [µg/L]; undefined when no precursor was given. */
  readonly dms: { readonly precursorUgL: number; readonly freeUgL: number } | undefined;
  readonly colourEbc: number | undefined;
  /** Free share of the kettle when it comes to the boil [-]. */
  readonly headspace: number;
  readonly foam: 'room' | 'watch' | 'will-boil-over';
  readonly energyKWh: number;
}

/** Published need for the boil: 15 to 30 % (Metzger 1996); under a tenth it goes over the brim (judgement). */
const HEADSPACE = { room: 0.15, least: 0.1 } as const;
/** Free DMS that is tasted in beer [µg/L] (common practice, no source). */
export const DMS_TASTED_UG_L = { low: 30, high: 50 } as const;
const DMS_SLICES = 12;
const PRECURSOR_FROM_C = 70;

/**
 * Temperature at which this wort boils here.
 *
 * @param site height [m], -500 to 5000, or the boiling point of water measured today [°C], 80 to 102
 * @param plato extract [°P], 0 to 40
 * @returns [°C]
 * @throws OutOfRange outside the ranges
 * @source matter's `boilingPoint`; the rise is that at sea level, which differs by less than 0.01 K
 */
export function wortBoilsAt(site: BoilKettle['site'], plato: number): number {
  const w = inRange('extract', plato, 0, 40, '°P') / 100;
  if ('altitudeM' in site) return boilingPoint(site.altitudeM, w);
  const water = inRange('boiling point of water', site.waterBoilsC, 80, 102, '°C');
  return water + boilingPoint(0, w) - boilingPoint(0);
}

/**
 * Boils wort.
 *
 * @param kettle ranges at its fields
 * @param plan startC 0 to 105; heatUpMin 0 to 1e4; minutes 0 to 300; stand below the boil; DMS 0 to 1e5 [µg/L]; colour 0 to
 *   500 [EBC]; pick-up 0 to 10 [EBC/h]
 * @returns what is cast out and what comes of it
 * @throws OutOfRange outside the ranges, or when the kettle would boil dry
 * @source water by net power over the latent heat (kg/h, never %/h); extract conserved; hops, DMS and
 *   colour as in matter; stripping only while it boils
 */
export function boil(kettle: BoilKettle, plan: BoilPlan): BoilRun {
  const net = inRange('net power', kettle.netKW, 0.1, 1e3, 'kW');
  const minutes = inRange('time of the boil', plan.minutes, 0, 300, 'min');
  const start = inRange('temperature of the wort', plan.startC, 0, 105, '°C');
  const boilC = wortBoilsAt(kettle.site, platoOf(plan.wort));
  const mass = plan.wort.extractKg + plan.wort.waterKg;
  const w = plan.wort.extractKg / mass;
  const heatKJK =
    mass * wortCp(w, (start + boilC) / 2) +
    inRange('heat capacity of the kettle', kettle.wallKJK, 0, 1e5, 'kJ/K');
  const byPower =
    start < boilC ? heatingTime({ heatKJK, fromC: start, toC: boilC, netKW: net }) : 0;
  const heatUpMin = inRange('time to the boil', plan.heatUpMin ?? byPower, 0, 1e4, 'min');
  const evaporationKgH = boilOffRate(net, boilC);
  const evaporatedKg = (evaporationKgH * minutes) / 60;
  inRange('water boiled off', evaporatedKg, 0, 0.7 * plan.wort.waterKg, 'kg');
  const castOut = { extractKg: plan.wort.extractKg, waterKg: plan.wort.waterKg - evaporatedKg };
  const coldL = litresAt(castOut, COLD_C);
  const fullL = litresAt(plan.wort, Math.min(110, boilC));
  const headspace = 1 - fullL / inRange('kettle to the brim', kettle.brimL, 1, 1e5, 'L');
  const leftBehind = keptBack(kettle, plan.hops, coldL, platoOf(castOut));
  const left = leftBehind.hopsL + leftBehind.trubL + leftBehind.deadL;
  inRange('wort that stays in the kettle', left, 0, coldL, 'L');
  return {
    boilC,
    heatUpMin,
    endMin: plan.startMin + heatUpMin + minutes,
    evaporationKgH,
    evaporatedKg,
    castOut,
    hotL: litresAt(castOut, boilC),
    coldL,
    plato: platoOf(castOut),
    toCooler: shareOf(castOut, 1 - left / coldL),
    leftBehind,
    hops: hopResult(hopsInTime(plan.hops, minutes), hopWortOf(plan, boilC, castOut, coldL)),
    dms: dmsOf(plan, { boilC, heatUpMin, minutes, start, evaporationKgH, mass, coldL }),
    colourEbc: colourOf(plan, minutes, coldL),
    headspace,
    foam:
      headspace >= HEADSPACE.room
        ? 'room'
        : headspace >= HEADSPACE.least
          ? 'watch'
          : 'will-boil-over',
    energyKWh: (net * (heatUpMin + minutes)) / 60,
  };
}

/**
 * Surroundings of the hops in a boil that ends with this wort.
 *
 * @param plan wort at the start, stand and kit factors
 * @param boilC temperature of the boil [°C]
 * @param castOut wort at the end
 * @param coldL its cold volume [L]
 * @returns what `hopResult` needs; gravity is the mean of start and end
 * @source the hop formula wants the mean gravity of the boil
 */
export function hopWortOf(
  plan: Pick<BoilPlan, 'wort' | 'stand' | 'hopFactor'>,
  boilC: number,
  castOut: WortBody,
  coldL: number,
): HopWort {
  return {
    sg: (sgOf(plan.wort) + sgOf(castOut)) / 2,
    boilC,
    stand: plan.stand,
    coldL,
    ...(plan.hopFactor === undefined ? {} : { factor: plan.hopFactor }),
  };
}

function keptBack(
  kettle: BoilKettle,
  hops: readonly HopAddition[],
  coldL: number,
  plato: number,
): LeftBehind {
  const kg =
    hops.reduce((sum, hop) => sum + inRange(`weight of ${hop.name}`, hop.grams, 0, 1e6, 'g'), 0) /
    1000;
  return {
    hopsL: kg * inRange('wort kept by hops', kettle.hopKeepsLPerKg, 0, 15, 'L/kg'),
    trubL: coldL * inRange('share kept by trub', kettle.trubShare, 0, 0.2, ''),
    deadL: volumeAt20(
      inRange('dead volume of the kettle', kettle.deadL, 0, 1e4, 'L'),
      90,
      plato / 100,
    ),
  };
}

function dmsOf(
  plan: BoilPlan,
  run: {
    readonly boilC: number;
    readonly heatUpMin: number;
    readonly minutes: number;
    readonly start: number;
    readonly evaporationKgH: number;
    readonly mass: number;
    readonly coldL: number;
  },
): BoilRun['dms'] {
  if (plan.precursorUgL === undefined) return undefined;
  // Rates are of first order: reckoned in the volume at the start, and concentrated at the end.
  let state = { precursor: plan.precursorUgL, free: plan.freeDmsUgL ?? 0 };
  const pH = plan.ph === undefined ? {} : { ph: plan.ph };
  const stay = (minutes: number, tC: number, evaporationPctH: number) => {
    if (minutes > 0 && tC >= PRECURSOR_FROM_C)
      state = dmsAfter({ ...state, minutes, tC: Math.min(105, tC), evaporationPctH, ...pH });
  };
  for (let n = 0; n < DMS_SLICES; n++) {
    const tC = run.start + ((run.boilC - run.start) * (n + 0.5)) / DMS_SLICES;
    stay(run.heatUpMin / DMS_SLICES, tC, 0);
  }
  for (let n = 0; n < DMS_SLICES; n++) {
    const gone = (run.evaporationKgH * run.minutes * (n + 0.5)) / DMS_SLICES / 60;
    stay(
      run.minutes / DMS_SLICES,
      run.boilC,
      Math.min(40, (100 * run.evaporationKgH) / (run.mass - gone)),
    );
  }
  for (const { minutes, tC } of plan.stand) stay(minutes, tC, 0);
  const stronger = litresAt(plan.wort, COLD_C) / run.coldL;
  return { precursorUgL: state.precursor * stronger, freeUgL: state.free * stronger };
}

function colourOf(plan: BoilPlan, minutes: number, coldL: number): number | undefined {
  if (plan.colourEbc === undefined) return undefined;
  const colour = inRange('colour of the wort', plan.colourEbc, 0, 500, 'EBC');
  const pickUp = inRange(
    'pick-up',
    plan.pickUpEbcH ?? KETTLE_DEFAULTS.pickUpEbcH.likely,
    0,
    10,
    'EBC/h',
  );
  const hot = minutes + plan.stand.reduce((sum, s) => sum + (s.tC > 90 ? s.minutes : 0), 0);
  return (colour * litresAt(plan.wort, COLD_C)) / coldL + (pickUp * hot) / 60;
}

/**
 * Minutes of boil until a strength is reached.
 *
 * @param kettle netKW 0.1 to 1e3 and site
 * @param wort at the boil
 * @param plato wanted [°P], 1 to 40
 * @returns [min]; 0 when it is that strong already
 * @throws OutOfRange outside the ranges
 * @source extract conserved, water by net power
 */
export function minutesToPlato(
  kettle: Pick<BoilKettle, 'netKW' | 'site'>,
  wort: WortBody,
  plato: number,
): number {
  const excess = wort.waterKg - waterFor(wort.extractKg, plato);
  const rate = boilOffRate(kettle.netKW, wortBoilsAt(kettle.site, platoOf(wort)));
  return Math.max(0, (60 * excess) / rate);
}

/**
 * Water that goes with so much extract at a strength.
 *
 * @param extractKg extract [kg], 0 or more
 * @param plato strength [°P], 1 to 40
 * @returns water [kg]
 * @throws OutOfRange outside the range
 * @source definition of °P
 * @example waterFor(12, 12) // 88
 */
export function waterFor(extractKg: number, plato: number): number {
  const p = inRange('strength wanted', plato, 1, 40, '°P');
  return (extractKg * (100 - p)) / p;
}

/**
 * Extract to add so that a strength comes out of so much wort.
 *
 * @param wort as it will be without it
 * @param plato wanted [°P], 1 to 40
 * @param extractShare of the sugar or malt extract [kg/kg], 0.3 to 1; what is not extract is water
 * @returns weight to add [kg]; 0 when it is that strong already
 * @throws OutOfRange outside the ranges, or when the addition is no stronger than the wort wanted
 * @source mass balance
 */
export function extractToAdd(wort: WortBody, plato: number, extractShare: number): number {
  const p = inRange('strength wanted', plato, 1, 40, '°P') / 100;
  const share = inRange(
    'extract of the addition',
    extractShare,
    Math.max(0.3, p + 0.01),
    1,
    'kg/kg',
  );
  const mass = wort.extractKg + wort.waterKg;
  return Math.max(0, (p * mass - wort.extractKg) / (share - p));
}

/** A boil as it was read before and after. */
export interface BoilLog {
  readonly before: { readonly litres: number; readonly tC: number; readonly plato: number };
  readonly after: { readonly litres: number; readonly tC: number; readonly plato: number };
  /** Minutes of rolling boil between the two. */
  readonly minutes: number;
}

/**
 * Net power of a kettle from one boil, and whether its readings can be believed.
 *
 * @param site of the kettle
 * @param log volumes 1 to 1e6 [L], temperatures 0 to 110 [°C], strengths of mixed, cooled samples [°P];
 *   minutes 5 to 600
 * @returns net power [kW], boil-off [kg/h], and the extract gained or lost between the readings [%],
 *   which should be nothing: beyond 3 % a dip or a sample is wrong
 * @throws OutOfRange outside the ranges, or when the volume did not fall
 * @source weight of water before and after; latent heat by `boilOffRate`
 */
export function netPowerFromBoil(
  site: BoilKettle['site'],
  log: BoilLog,
): { readonly netKW: number; readonly kgPerH: number; readonly extractDriftPct: number } {
  const before = wortOf(log.before);
  const after = wortOf(log.after);
  const minutes = inRange('time of the boil', log.minutes, 5, 600, 'min');
  const lost = before.waterKg + before.extractKg - after.waterKg - after.extractKg;
  const kgPerH = (60 * inRange('weight boiled off', lost, 1e-6, 1e6, 'kg')) / minutes;
  return {
    netKW: kgPerH / boilOffRate(1, wortBoilsAt(site, log.after.plato)),
    kgPerH,
    extractDriftPct: 100 * (after.extractKg / before.extractKg - 1),
  };
}
