/** The mash as it is handed to the lauter tun: summed up with its doubt, and drawn again from that. */
import { type MashResults, type MashWort, mashWort } from '@ladlework/brewhouse';
import { drawMatrix, normalQuantile } from '@ladlework/numerics';
import type { Band, WortForecast } from '../plan.ts';
import type { MashOutcome } from './plan-types.ts';

const P90 = normalQuantile(0.9);
const FIGURES = 4;
/** Own stream of draws, so that the mash is not drawn with the lauter tun's numbers. */
const STREAM = 0x6d617368;

/** Half width of a band in standard deviations. */
const sdOf = (b: Band): number => (b.high - b.low) / 2 / P90;

/**
 * The outcome of a mash from its likely results and the doubt of the forecast.
 * @param likely results of the likely mash, all vessels together
 * @param forecast bands of the same plan, structural error included
 * @param endMin end of the mash [min after day start]
 * @param tempC bed when the run-off begins [°C]
 */
export function mashOutcome(
  likely: MashResults,
  forecast: WortForecast,
  endMin: number,
  tempC: number,
): MashOutcome {
  return {
    likely: mashWort(likely),
    sd: {
      extractKg: sdOf(forecast.extractKg),
      limitApparentPct: sdOf(forecast.limitApparentPct),
      colourEbc: sdOf(forecast.colourAddedEbc),
      precursorLeft: sdOf(forecast.smmLeftShare),
    },
    endMin,
    tempC,
  };
}

/**
 * Draws of the mash for the wort chain.
 * @param mash the outcome
 * @param n number of draws, 1-100 000
 * @param seed 32-bit integer
 * @returns normal about the likely; water as likely, figures kept to what can be
 */
export function mashDraws(mash: MashOutcome, n: number, seed: number): MashWort[] {
  const z = drawMatrix(n, FIGURES, (seed ^ STREAM) >>> 0);
  const { likely, sd } = mash;
  return Array.from({ length: n }, (_, i) => {
    const at = (j: number) => Math.max(-3, Math.min(3, z[i * FIGURES + j] as number));
    const limit = likely.limitApparentPct;
    return {
      extractKg: Math.max(0.2 * likely.extractKg, likely.extractKg + sd.extractKg * at(0)),
      waterKg: likely.waterKg,
      colourEbc: Math.max(0, likely.colourEbc + sd.colourEbc * at(2)),
      precursorLeft: Math.min(1, Math.max(0, likely.precursorLeft + sd.precursorLeft * at(3))),
      ...(limit === undefined
        ? {}
        : { limitApparentPct: Math.min(99, Math.max(20, limit + sd.limitApparentPct * at(1))) }),
    };
  });
}
