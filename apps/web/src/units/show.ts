/**
 * Numbers as the brewer reads them, in the pair chosen once. Every function reads the pair signal,
 * so a page drawn with them redraws when the pair changes.
 */
import { sgFromPlato } from '@ladlework/matter';
import {
  type Band,
  format,
  formatBand,
  formatClock,
  gravitiesIn,
  type Kind,
  sentenceIn,
} from '@ladlework/quantity';
import { pair } from '../shell/settings.ts';

/** A quantity with its unit; "70.4 °C". */
export function show(kind: Kind, value: number, digits?: number): string {
  return format(kind, value, pair.value, digits === undefined ? {} : { digits });
}

/** A quantity without its unit, where the unit stands in the heading. */
export function bare(kind: Kind, value: number, digits?: number): string {
  return format(kind, value, pair.value, {
    withUnit: false,
    ...(digits === undefined ? {} : { digits }),
  });
}

/** A quantity with its doubt; "70.4 ± 0.5 °C". */
export function showBand(kind: Kind, band: Band, digits?: number): string {
  return formatBand(kind, inOrder(band), pair.value, digits === undefined ? {} : { digits });
}

/** Extract, kept in °P, as the pair writes it: "12.3 °P", "1.050 SG". */
export function showExtract(plato: number): string {
  return pair.value.extract === 'sg'
    ? `${sgFromPlato(plato).toFixed(3)} SG`
    : `${plato.toFixed(1)} °P`;
}

/** A sentence of the engine in the pair chosen. */
export function inPair(sentence: string): string {
  return gravitiesIn(sentenceIn(sentence, pair.value), pair.value, sgFromPlato);
}

/** The unit of temperatures, "°C" or "°F". */
export function degree(): string {
  return pair.value.name === 'us' ? '°F' : '°C';
}

/**
 * Time of day of a minute of the plan.
 *
 * @param minute minutes after the start of the day
 * @param startMin clock time of minute 0, minutes after midnight
 */
export function clockAt(minute: number, startMin: number): string {
  return formatClock(startMin + minute);
}

/** Local time of day of an instant, "07:52". */
export function clockOf(ms: number): string {
  const d = new Date(ms);
  return formatClock(d.getHours() * 60 + d.getMinutes());
}

/** Quantiles of few draws may cross by rounding; the likely value holds. */
function inOrder(band: Band): Band {
  return {
    low: Math.min(band.low, band.likely),
    likely: band.likely,
    high: Math.max(band.high, band.likely),
  };
}
