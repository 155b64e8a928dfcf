import { isomerisationRate } from './bitterness.ts';
import { inRange } from './errors.ts';

/** Loss of iso-alpha acids in hot wort, first order: k = a exp(-b/T) per minute. */
const DEGRADATION = { a: 4.1e12, b: 12994 } as const;
/** Below this the published law is not trusted, and the rate is small. */
export const ISOMERISATION_FROM_C = 80;

/**
 * Rate at which the bitter iso-alpha acids are lost again.
 *
 * @param tC wort temperature [°C], 80 to 130; measured from 90 up
 * @returns first-order rate [1/min]
 * @throws OutOfRange outside the range
 * @source Malowicki & Shellhammer, J. Agric. Food Chem. 53:4434 (2005)
 * @example isoAlphaLossRate(100) // 0.00309
 */
export function isoAlphaLossRate(tC: number): number {
  const t = inRange('wort temperature', tC, 80, 130, '°C') + 273.15;
  return DEGRADATION.a * Math.exp(-DEGRADATION.b / t);
}

/** Where the alpha acids of an addition stand, as shares of what was added. */
export interface AlphaState {
  readonly alpha: number;
  readonly iso: number;
}

/**
 * Alpha and iso-alpha acids after a stay in hot wort: made and lost again, both first order.
 *
 * @param stay minutes [min], 0 to 1000; tC [°C], 80 to 130; alpha and iso at the start [share], 0 to
 *   1, all alpha unless given
 * @returns shares left as alpha and as iso-alpha
 * @throws OutOfRange outside the ranges
 * @source Malowicki & Shellhammer 2005, pH 5.2 buffer, dissolved alpha acids; losses to trub and
 *   yeast are not in it
 * @example isoAlphaAfter({ minutes: 60, tC: 100 }).iso // 0.476
 */
export function isoAlphaAfter(stay: {
  readonly minutes: number;
  readonly tC: number;
  readonly alpha?: number;
  readonly iso?: number;
}): AlphaState {
  const minutes = inRange('time in hot wort', stay.minutes, 0, 1000, 'min');
  const alpha = inRange('alpha acids', stay.alpha ?? 1, 0, 1, '');
  const iso = inRange('iso-alpha acids', stay.iso ?? 0, 0, 1, '');
  const make = isomerisationRate(stay.tC);
  const lose = isoAlphaLossRate(stay.tC);
  const left = alpha * Math.exp(-make * minutes);
  // make exceeds lose by three to five times over the whole range, so the gap never vanishes.
  const made =
    ((alpha * make) / (make - lose)) * (Math.exp(-lose * minutes) - Math.exp(-make * minutes));
  return { alpha: left, iso: made + iso * Math.exp(-lose * minutes) };
}

/**
 * Time at which iso-alpha acids in hot wort reach their peak.
 *
 * @param tC wort temperature [°C], 80 to 130
 * @returns [min]
 * @throws OutOfRange outside the range
 * @source Malowicki & Shellhammer 2005
 * @example isoAlphaPeakTime(100) // 149
 */
export function isoAlphaPeakTime(tC: number): number {
  const make = isomerisationRate(tC);
  const lose = isoAlphaLossRate(tC);
  return Math.log(make / lose) / (make - lose);
}

/**
 * Alpha acids left in hops that have been stored.
 *
 * @param hops alphaPct on the day of analysis [%], 0 to 30; days since, 0 to 3650; storedC [°C], -40
 *   to 40; lostIn6MonthsPct of the variety at 20 °C [%], 0 to 90, 35 unless given; sealed in a barrier
 *   pack without air or not
 * @returns alpha acids today [%]
 * @throws OutOfRange outside the ranges
 * @source first-order loss, half the rate for 15 K less and half again in a barrier pack (trade rule,
 *   from memory; common practice, no source): an analysis of the lot is better
 * @example alphaToday({ alphaPct: 5, days: 182.5, storedC: 20, lostIn6MonthsPct: 35 }) // 3.25
 */
export function alphaToday(hops: {
  readonly alphaPct: number;
  readonly days: number;
  readonly storedC: number;
  readonly lostIn6MonthsPct?: number;
  readonly sealed?: boolean;
}): number {
  const alpha = inRange('alpha acids', hops.alphaPct, 0, 30, '%');
  const days = inRange('age of the hops', hops.days, 0, 3650, 'days');
  const lost = inRange('loss in six months', hops.lostIn6MonthsPct ?? 35, 0, 90, '%') / 100;
  const stored = inRange('storage temperature', hops.storedC, -40, 40, '°C');
  const rate = (-Math.log(1 - lost) / 182.5) * 2 ** ((stored - 20) / 15);
  return alpha * Math.exp(-rate * (hops.sealed === true ? 0.5 : 1) * days);
}
