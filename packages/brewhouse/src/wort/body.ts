import { inRange, sgFromPlato, wortDensity } from '@ladlework/matter';

/** Clear wort as what is in it. Everything between tun and tank is reckoned in these two. */
export interface WortBody {
  readonly extractKg: number;
  readonly waterKg: number;
}

/** Cold volumes are at 20 °C throughout. */
export const COLD_C = 20;

/**
 * Strength of wort.
 *
 * @param wort extractKg and waterKg [kg], 0 or more
 * @returns extract [°P]; 0 for nothing at all
 * @source definition
 * @example platoOf({ extractKg: 12, waterKg: 88 }) // 12
 */
export function platoOf(wort: WortBody): number {
  const mass = wort.extractKg + wort.waterKg;
  return mass > 0 ? (100 * wort.extractKg) / mass : 0;
}

/**
 * Volume of wort.
 *
 * @param wort extractKg and waterKg [kg], 0 or more, extract up to 60 %
 * @param tC temperature [°C], 0 to 110
 * @returns volume [L]
 * @throws OutOfRange outside the ranges
 * @source mass over the density of `wortDensity`
 * @example litresAt({ extractKg: 12.558, waterKg: 92.09 }, 20) // 100.0
 */
export function litresAt(wort: WortBody, tC: number): number {
  return ((wort.extractKg + wort.waterKg) / wortDensity(platoOf(wort) / 100, tC)) * 1000;
}

/**
 * What a dip and a gravity mean: the wort itself.
 *
 * @param reading litres as read [L], 0 to 1e6; tC of the content [°C], 0 to 110; plato of a cooled
 *   sample [°P], 0 to 40
 * @returns extract and water
 * @throws OutOfRange outside the ranges
 * @source volume times density, by weight
 */
export function wortOf(reading: {
  readonly litres: number;
  readonly tC: number;
  readonly plato: number;
}): WortBody {
  const w = inRange('extract', reading.plato, 0, 40, '°P') / 100;
  const litres = inRange('volume', reading.litres, 0, 1e6, 'L');
  const mass = (litres * wortDensity(w, reading.tC)) / 1000;
  return { extractKg: mass * w, waterKg: mass * (1 - w) };
}

/**
 * A share of wort, the rest being left behind.
 *
 * @param wort whole
 * @param share kept [-], 0 to 1
 * @returns the part, of the same strength
 * @source definition
 * @example shareOf({ extractKg: 12, waterKg: 88 }, 0.5) // { extractKg: 6, waterKg: 44 }
 */
export function shareOf(wort: WortBody, share: number): WortBody {
  return { extractKg: wort.extractKg * share, waterKg: wort.waterKg * share };
}

/**
 * Specific gravity of wort, for the hop formula.
 *
 * @param wort up to 40 °P
 * @returns SG 20/20 in air
 * @throws OutOfRange beyond the strength
 * @source `sgFromPlato` of matter
 * @example sgOf({ extractKg: 12, waterKg: 88 }) // 1.04837
 */
export function sgOf(wort: WortBody): number {
  return sgFromPlato(platoOf(wort));
}
