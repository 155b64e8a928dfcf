/**
 * What the rest of a brew day is made of, from the sparge liquor to the last cleaning: rates and
 * minutes as the brewer knows them. Defaults are the typical day of the reference house.
 */
import type { Vessel } from '@ladlework/brewhouse';
import type { Band } from '../plan.ts';

export interface Work {
  /** Sparge liquor per grist, in place of `spargeL` [L/kg]. */
  readonly spargeLPerKg: number;
  /** Sparge liquor as wanted on the bed [°C], 70-80. */
  readonly spargeC: number;
  /** A running sparge, draining and refilling, or strike liquor alone; left out: a running sparge. */
  readonly spargeBy?: 'continuous' | 'batch' | 'none';
  /** Refills of a batch sparge, 1-4; left out: 1. */
  readonly batches?: number;
  /** Wort held above the bed while sparging [L]; left out: 0. */
  readonly holdL?: number;
  /** Run off no weaker [°P] and no higher [pH at 20 °C]; left out: 2 and 6.0, whichever comes first. */
  readonly stopPlato?: number;
  readonly stopPh?: number;
  /** pH the sparge liquor is treated to, 4.5-7; left out: 5.7. */
  readonly spargePh?: number;
  /** Vessel the hot sparge liquor is parked in; left out: the first that is free and holds it. */
  readonly parkIn?: string;
  /** Run-off into the kettle [L/min]; left out: 6 L/min per square metre of tun. */
  readonly runOffLPerMin?: number;
  readonly lauterRestMin: number;
  /** Vessels that boil the wort; left out: the kettle, or heated pots that hold it. */
  readonly boilIn?: readonly string[];
  readonly boilMin: number;
  /** Share of kettle-full that boils off in an hour, 0.02-0.2. */
  readonly boilOffPerHour: number;
  /** Hop additions, minutes before the end of the boil; where the beer lists its hops, theirs. */
  readonly hopsBeforeEndMin: readonly number[];
  /** Whirlpool, or stand for hops, end-of-boil reading included. */
  readonly standMin: number;
  readonly knockOutLPerMin: number;
  readonly pitchMin: number;
  /** Tank that takes the wort; left out: the kit's first fermenter. */
  readonly fermenter?: string;
  readonly grainOutKgPerMin: number;
  readonly rinseMin: number;
  readonly sanitiseMin: number;
  readonly cleanTunMin: number;
  readonly cleanKettleMin: number;
  readonly tidyMin: number;
}

/**
 * @source field.md 2 (whole table; typical, not measured): sparge and underlet 531 L on 149 kg at
 *   3.5 L/kg (section 7), lauter rest 10-20 min, boil 75 min with 8 % off in 70 min, stand 30 min,
 *   knock-out 50-120 min for 874 L, grain out 45-60 min for 149 kg, sanitising 20 min, cleaning
 *   15:45-17:30
 */
export const TYPICAL_WORK: Work = {
  spargeLPerKg: 3.56,
  spargeC: 76,
  lauterRestMin: 15,
  boilMin: 70,
  boilOffPerHour: 0.07,
  hopsBeforeEndMin: [60, 10],
  standMin: 30,
  knockOutLPerMin: 12,
  pitchMin: 10,
  grainOutKgPerMin: 3,
  rinseMin: 5,
  sanitiseMin: 20,
  cleanTunMin: 20,
  cleanKettleMin: 45,
  tidyMin: 30,
};

/** Run-off per area of tun [L/(min m2)]. @source field.md 6.24, 4-8 common practice */
const RUN_OFF_L_MIN_M2 = 6;
/** Liquor that grain keeps [L/kg]. @source field.md 7 */
const GRAIN_KEEPS_L_KG = 1.15;
/** Extract from grist, and litres a kilogram of it adds to wort. @source physics.md 2; 75 % typical yield (field.md 6.29) */
const EXTRACT_SHARE = 0.75;
const EXTRACT_L_KG = 0.62;

/** Litres of a brew on their way through the day. */
export interface WortLitres {
  readonly spargeL: number;
  readonly kettleFullL: number;
  readonly castOutL: number;
  readonly extractKg: number;
  readonly runOffLPerMin: number;
}

/**
 * Litres of wort by mass balance: liquor in, less what the grain keeps, plus what it gave.
 * @param gristKg grist [kg]
 * @param liquorKg strike liquor [kg]
 * @param lauter vessel the bed stands in
 * @param work rates
 * @source field.md 7: 520 + 531 - 1.15 x 149 + extract gives 950 L, the reference house's kettle-full
 */
export function wortLitres(
  gristKg: number,
  liquorKg: number,
  lauter: Vessel,
  work: Work,
): WortLitres {
  const spargeL = work.spargeLPerKg * gristKg;
  const extractKg = EXTRACT_SHARE * gristKg;
  const kettleFullL = liquorKg + spargeL - GRAIN_KEEPS_L_KG * gristKg + EXTRACT_L_KG * extractKg;
  const castOutL = kettleFullL * (1 - (work.boilOffPerHour * work.boilMin) / 60);
  const areaM2 = (Math.PI / 4) * lauter.diameterM ** 2;
  return {
    spargeL,
    kettleFullL,
    castOutL,
    extractKg,
    runOffLPerMin: work.runOffLPerMin ?? RUN_OFF_L_MIN_M2 * areaM2,
  };
}

/** Ranges of the work that no simulation gives, as factors on the likely minutes (10 % and 90 %). */
export type Doubt = 'exact' | 'hands' | 'run-off' | 'knock-out';
/** @source run-off: field.md 6.24, 4-8 about 6; knock-out: field.md 2, 50-120 min about 75; hands: our judgement */
const DOUBT: Readonly<Record<Doubt, { readonly low: number; readonly high: number }>> = {
  exact: { low: 1, high: 1 },
  hands: { low: 0.8, high: 1.3 },
  'run-off': { low: 0.75, high: 1.5 },
  'knock-out': { low: 0.7, high: 1.6 },
};

/** Standard normal of 90 %. */
const Z90 = 1.2815515655446004;

/** The band of minutes with this doubt. */
export function bandOf(likelyMin: number, doubt: Doubt): Band {
  const f = DOUBT[doubt];
  return { low: likelyMin * f.low, likely: likelyMin, high: likelyMin * f.high };
}

/**
 * A draw of minutes: lognormal on each side of the likely, through the 10 % and the 90 %.
 * @param band the minutes
 * @param z standard normal
 */
export function drawMinutes(band: Band, z: number): number {
  if (band.likely <= 0) return 0;
  const edge = z >= 0 ? band.high / band.likely : band.low / band.likely;
  return edge <= 0 ? 0 : band.likely * edge ** (Math.abs(z) / Z90);
}
