/** From a malt lot's certificate to what the mash kinetics start with. */
import { DEXTRIN_MALT, type GristPart, type Malt, STANDARD_MALT } from '@ladlework/brewhouse';
import type { Beer, MaltLot } from './document.ts';

/** Gain of starch on full conversion, for extract sheets. @source mash.md 5, 1.037-1.0395 at 62-65 °C */
const STARCH_GAIN = 1.039;
/** Enzymes of standard malt. @source mash.md 5 */
const STANDARD_DU = 50;
const STANDARD_WK = 300;
const ENZYME_LOW = 0.3;
const ENZYME_HIGH = 2;
/** Roast malt: extract and what of it ferments; our judgement, after dextrin malt's 0.72 and 0.35. */
const ROAST = { extract: 0.65, fermentableShare: 0.3 };

/**
 * What one lot brings to the mash.
 * @param lot the lot; certificate figures that are missing take the standard malt's
 * @returns the malt for the kinetics
 * @source mash.md 5
 */
export function maltOf(lot: MaltLot): Malt {
  const c = lot.certificate ?? {};
  const moisture = (c.moisturePct ?? STANDARD_MALT.moisture * 100) / 100;
  if (lot.type === 'caramel') return { ...DEXTRIN_MALT, moisture };
  if (lot.type === 'roast') return { kind: 'added', moisture, ...ROAST };
  const { preformed, other } = STANDARD_MALT;
  const starch =
    c.extractFinePct === undefined
      ? STANDARD_MALT.starch
      : (c.extractFinePct / 100 - preformed - other) / STARCH_GAIN;
  const beta = c.diastaticWk === undefined ? 1 : clamp(c.diastaticWk / STANDARD_WK);
  const alpha =
    c.alphaDu !== undefined
      ? clamp(c.alphaDu / STANDARD_DU)
      : c.diastaticWk !== undefined
        ? beta
        : 1;
  return { ...STANDARD_MALT, moisture, starch, alpha, beta };
}

/** The grist of a beer. */
export function gristOf(beer: Beer): GristPart[] {
  return beer.malts.map((lot) => ({ malt: maltOf(lot), massKg: lot.kg }));
}

function clamp(value: number): number {
  return Math.max(ENZYME_LOW, Math.min(ENZYME_HIGH, value));
}
