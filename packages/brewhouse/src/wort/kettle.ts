/** Kettle-full: what stands there, and the ways on from it side by side; the same at the end of the boil. */
import { inRange, phAt20, waterDensity, wortCp } from '@ladlework/matter';
import { COLD_C, litresAt, platoOf, type WortBody, wortOf } from './body.ts';
import {
  type BoilKettle,
  type BoilPlan,
  type BoilRun,
  boil,
  extractToAdd,
  hopWortOf,
  minutesToPlato,
  waterFor,
} from './boil.ts';
import { hopsInTime, type MendedHops, retimeHops } from './hops.ts';

/** A full kettle as read. */
export interface KettleReading {
  readonly litres: number;
  readonly tC: number;
  readonly plato: number;
  readonly ph?: { readonly ph: number; readonly tC: number };
}

/** What stands in the kettle. */
export interface KettleStanding {
  readonly wort: WortBody;
  readonly coldL: number;
  readonly ph20?: number;
}

/**
 * What a reading of the kettle means.
 *
 * @param reading litres 0 to 1e6 [L]; tC 0 to 110; plato of a cooled sample 0 to 40; pH 3 to 9 with its
 *   own temperature
 * @returns extract and water, cold volume, pH at 20 °C
 * @throws OutOfRange outside the ranges
 * @source densities of matter; -0.0078 pH/K
 */
export function whatStands(reading: KettleReading): KettleStanding {
  const wort = wortOf(reading);
  return {
    wort,
    coldL: litresAt(wort, COLD_C),
    ...(reading.ph === undefined ? {} : { ph20: phAt20(reading.ph.ph, reading.ph.tC) }),
  };
}

/** The brewer's prices, in any one currency. */
export interface KettlePrices {
  /** Of a kilowatt-hour that reaches the wort. */
  readonly perKWh: number;
  readonly perHL: number;
  readonly perKgExtract: number;
  readonly perKgHops: number;
  readonly perLabourHour: number;
  /** What a litre of cast-out wort is worth, so that lost volume shows; 0 to leave it out. */
  readonly perLWort: number;
}

/** What the boil is to end with. */
export interface CastOutTarget {
  readonly plato: number;
  readonly ibu: number;
}

/** What can be put into the kettle. */
export interface AtHand {
  readonly liquorC: number;
  /** Extract of the sugar or malt extract [kg/kg]. */
  readonly extractShare: number;
}

export type KettleWay = 'accept' | 'boil-longer' | 'boil-shorter' | 'add-liquor' | 'add-extract';

/** One way on from here. */
export interface KettleOption {
  readonly way: KettleWay;
  /** False with a reason when this kettle cannot go that way. */
  readonly possible: boolean;
  readonly whyNot?: string;
  readonly minutes: number;
  readonly liquorL: number;
  readonly extractKg: number;
  readonly run: BoilRun;
  /** Bitterness if nobody touches the hops. */
  readonly ibuHopsKept: number;
  readonly hops: MendedHops;
  /** Against accepting, in the currency of the prices; lost or gained wort counted in. */
  readonly costChange: number;
}

/** A boil may not be cut below this for the sake of DMS and hot break (judgement). */
const SHORTEST_BOIL_MIN = 45;
const LONGEST_BOIL_MIN = 180;

/**
 * The ways on from a full kettle, each carried through to cast-out with the hops re-timed.
 *
 * @param kettle as for `boil`
 * @param plan the boil as planned, with the wort that stands in the kettle
 * @param target plato 1 to 40 [°P]; ibu 0 to 150 at the end of the boil
 * @param atHand liquorC 0 to 100 [°C]; extractShare 0.3 to 1
 * @param prices each 0 to 1e6
 * @returns accept first, then every way that leads to the strength wanted, possible or not
 * @throws OutOfRange outside the ranges
 * @source `boil`; mass balance
 */
export function kettleOptions(
  kettle: BoilKettle,
  plan: BoilPlan,
  target: CastOutTarget,
  atHand: AtHand,
  prices: KettlePrices,
): readonly KettleOption[] {
  for (const [name, price] of Object.entries(prices)) inRange(`price ${name}`, price, 0, 1e6, '');
  const accepted = boil(kettle, plan);
  const build = (
    way: KettleWay,
    change: { minutes?: number; liquorL?: number; extractKg?: number },
    whyNot?: string,
  ): KettleOption => {
    const { minutes = plan.minutes, liquorL = 0, extractKg = 0 } = change;
    const next = {
      ...plan,
      minutes: Math.min(300, minutes),
      ...added(kettle.netKW, plan, atHand, liquorL, extractKg),
    };
    const kept = boil(kettle, next);
    const hopWort = hopWortOf(next, kept.boilC, kept.castOut, kept.coldL);
    const hops = retimeHops(hopsInTime(plan.hops, next.minutes), target.ibu, hopWort, next.minutes);
    const run = boil(kettle, { ...next, hops: hops.hops });
    const tooFull = run.foam === 'will-boil-over' ? 'The kettle would boil over.' : undefined;
    const reason = whyNot ?? tooFull;
    return {
      way,
      possible: reason === undefined,
      ...(reason === undefined ? {} : { whyNot: reason }),
      minutes: next.minutes,
      liquorL,
      extractKg,
      run,
      ibuHopsKept: kept.hops.ibu,
      hops,
      costChange: costOf(run, accepted, hops, plan, liquorL, extractKg, prices),
    };
  };
  const options = [build('accept', {})];
  const now = accepted.plato;
  if (Math.abs(now - target.plato) < 0.02) return options;
  const minutes = minutesToPlato(kettle, plan.wort, target.plato);
  if (now < target.plato) {
    const tooLong =
      minutes > LONGEST_BOIL_MIN ? `${minutes.toFixed(0)} min is no boil any more.` : undefined;
    options.push(build('boil-longer', { minutes: Math.min(minutes, LONGEST_BOIL_MIN) }, tooLong));
    const kg = extractToAdd(accepted.castOut, target.plato, atHand.extractShare);
    options.push(build('add-extract', { extractKg: kg }));
    return options;
  }
  const tooShort =
    minutes < SHORTEST_BOIL_MIN
      ? `${minutes.toFixed(0)} min drives off too little DMS; ${SHORTEST_BOIL_MIN} min is the least.`
      : undefined;
  options.push(build('boil-shorter', { minutes }, tooShort));
  const water = waterFor(accepted.castOut.extractKg, target.plato) - accepted.castOut.waterKg;
  options.push(build('add-liquor', { liquorL: (1000 * water) / waterDensity(atHand.liquorC) }));
  return options;
}

/** The wort after an addition, the temperature it then has, and the minutes to the boil where they were given. */
function added(
  netKW: number,
  plan: BoilPlan,
  atHand: AtHand,
  liquorL: number,
  extractKg: number,
): Pick<BoilPlan, 'wort' | 'startC' | 'heatUpMin'> {
  const liquorC = inRange('liquor at hand', atHand.liquorC, 0, 100, '°C');
  const water = (liquorL * waterDensity(liquorC)) / 1000;
  const share = extractKg === 0 ? 1 : atHand.extractShare;
  const wort = {
    extractKg: plan.wort.extractKg + extractKg * share,
    waterKg: plan.wort.waterKg + extractKg * (1 - share) + water,
  };
  const mass = plan.wort.extractKg + plan.wort.waterKg;
  const hot = mass * wortCp(plan.wort.extractKg / mass, plan.startC);
  const cold = water * wortCp(0, liquorC);
  const startC = (hot * plan.startC + cold * liquorC) / (hot + cold);
  if (plan.heatUpMin === undefined) return { wort, startC };
  const moreMin = (cold * Math.max(0, plan.startC - liquorC)) / netKW / 60;
  return { wort, startC, heatUpMin: plan.heatUpMin + moreMin };
}

function costOf(
  run: BoilRun,
  accepted: BoilRun,
  hops: MendedHops,
  plan: BoilPlan,
  liquorL: number,
  extractKg: number,
  prices: KettlePrices,
): number {
  const grams = (all: readonly { grams: number }[]) => all.reduce((sum, hop) => sum + hop.grams, 0);
  return (
    (run.energyKWh - accepted.energyKWh) * prices.perKWh +
    ((run.endMin - accepted.endMin) / 60) * prices.perLabourHour +
    (liquorL / 100) * prices.perHL +
    extractKg * prices.perKgExtract +
    ((grams(hops.hops) - grams(plan.hops)) / 1000) * prices.perKgHops -
    (run.coldL - accepted.coldL) * prices.perLWort
  );
}

/** What mends the wort at the end of the boil. */
export interface EndCorrection {
  readonly platoMiss: number;
  /** Liquor to add when it is too strong [L at its own temperature]; the cold volume then. */
  readonly liquorL: number;
  /** Minutes on, or extract, when it is too weak. */
  readonly minutes: number;
  readonly extractKg: number;
  readonly coldL: number;
  /** Bitterness by dilution or concentration alone, against before [-]. */
  readonly bitternessFactor: number;
}

/**
 * Correction at the end of the boil.
 *
 * @param kettle netKW and site
 * @param reading as for {@link whatStands}
 * @param targetPlato strength wanted [°P], 1 to 40
 * @param atHand liquorC, extractShare
 * @returns what to add or how long to go on; all zero when it is within 0.05 °P
 * @throws OutOfRange outside the ranges
 * @source mass balance
 */
export function endCorrection(
  kettle: Pick<BoilKettle, 'netKW' | 'site'>,
  reading: KettleReading,
  targetPlato: number,
  atHand: AtHand,
): EndCorrection {
  const { wort, coldL } = whatStands(reading);
  const platoMiss = platoOf(wort) - inRange('strength wanted', targetPlato, 1, 40, '°P');
  if (Math.abs(platoMiss) < 0.05)
    return { platoMiss, liquorL: 0, minutes: 0, extractKg: 0, coldL, bitternessFactor: 1 };
  const water = waterFor(wort.extractKg, targetPlato);
  const then = litresAt({ extractKg: wort.extractKg, waterKg: water }, COLD_C);
  const strong = platoMiss > 0;
  const liquorC = inRange('liquor at hand', atHand.liquorC, 0, 100, '°C');
  return {
    platoMiss,
    liquorL: strong ? (1000 * (water - wort.waterKg)) / waterDensity(liquorC) : 0,
    minutes: strong ? 0 : minutesToPlato(kettle, wort, targetPlato),
    extractKg: strong ? 0 : extractToAdd(wort, targetPlato, atHand.extractShare),
    coldL: then,
    bitternessFactor: coldL / then,
  };
}
