/** Bands of figures that have one unit everywhere, and of extract. */
import { sgFromPlato } from '@ladlework/matter';
import type { Band } from '@ladlework/quantity';
import { pair } from '../shell/settings.ts';

/** "12.7–13.0–13.4": low, likely, high; one figure where they are the same as printed. */
export function threeText(band: Band, digits: number): string {
  const [low, likely, high] = [band.low, band.likely, band.high].map((x) => x.toFixed(digits));
  return low === likely && likely === high ? `${likely}` : `${low}–${likely}–${high}`;
}

/** Extract by weight with its doubt, kept in °P: "12.7–13.0–13.4 °P", "1.051–1.053–1.054 SG". */
export function extractBand(plato: Band): string {
  if (pair.value.extract !== 'sg') return `${threeText(plato, 1)} °P`;
  const sg = {
    low: sgFromPlato(plato.low),
    likely: sgFromPlato(plato.likely),
    high: sgFromPlato(plato.high),
  };
  return `${threeText(sg, 3)} SG`;
}
