/** Hops, sugars, malts and yeast of a beer as the wort engine wants them, with what stands in for gaps. */
import type { HopAddition, WortBody, YeastLot } from '@ladlework/brewhouse';
import {
  alphaToday,
  type ColouredMalt,
  lovibondFromSheetEbc,
  PITCH_RATES,
} from '@ladlework/matter';
import type { Beer, MaltLot } from '../document.ts';
import type { HopLot, Yeast } from '../document-beer.ts';

/** Colour of a malt whose sheet gives none [EBC]. From memory. */
const USUAL_EBC: Readonly<Record<MaltLot['type'], number>> = {
  base: 3.5,
  wheat: 4,
  caramel: 120,
  roast: 1100,
};
/** Up to this colour a base malt counts as pale [EBC]; what a darker one keeps was driven off on the kiln. */
const PALE_EBC = 5;
/** DMS precursor of base malts, as DMS [mg/kg]: lager malt 3 to 7, kilned darker little. From memory. */
const PRECURSOR_MG_KG = { pale: 5, kilned: 1.5 } as const;
/** Cold store, and a grown-out slurry (common practice, no source). */
const HOP_STORE_C = 4;
const SLURRY = { cellsPerML: 1e9, viability: 0.95 } as const;
/** Usual pitching temperature [°C] (common practice, no source). */
const PITCH_C = { lager: 8, ale: 18 } as const;

/** Colour on the sheet of a lot, or the usual of its kind [EBC]. */
export const colourOf = (lot: MaltLot): number => lot.certificate?.colourEbc ?? USUAL_EBC[lot.type];

/** The malts with their colour, for the beer's. */
export function colouredMalts(beer: Beer): ColouredMalt[] {
  return beer.malts.map((lot) => ({
    kg: lot.kg,
    lovibond: lovibondFromSheetEbc(Math.min(1600, Math.max(1.2, colourOf(lot)))),
  }));
}

/** DMS precursor of the grist, as DMS [mg/kg]: stated, or by the colour of the base malts. */
export function precursorOf(beer: Beer): number {
  if (beer.precursorMgKg !== undefined) return beer.precursorMgKg;
  const kg = beer.malts.reduce((sum, m) => sum + m.kg, 0);
  const of = (lot: MaltLot) =>
    lot.type === 'caramel' || lot.type === 'roast'
      ? 0
      : colourOf(lot) <= PALE_EBC
        ? PRECURSOR_MG_KG.pale
        : PRECURSOR_MG_KG.kilned;
  return beer.malts.reduce((sum, lot) => sum + lot.kg * of(lot), 0) / kg;
}

/** Alpha acids of a lot today [%]. */
function alphaNow(lot: HopLot): number {
  return alphaToday({
    alphaPct: lot.alphaPct,
    days: lot.ageDays ?? 0,
    storedC: lot.storedC ?? HOP_STORE_C,
    ...(lot.lostIn6MonthsPct === undefined ? {} : { lostIn6MonthsPct: lot.lostIn6MonthsPct }),
    ...(lot.sealed === undefined ? {} : { sealed: lot.sealed }),
  });
}

/** The hops as the boil takes them, aged to today. */
export function hopAdditions(beer: Beer): HopAddition[] {
  return (beer.hops ?? []).map((lot) => ({
    name: lot.name,
    grams: 1000 * lot.kg,
    alphaPct: alphaNow(lot),
    boilMin: lot.boilMin,
  }));
}

/** Extract and water that the kettle sugars bring. */
export function sugarsOf(beer: Beer): WortBody {
  let extractKg = 0;
  let waterKg = 0;
  for (const sugar of beer.sugars ?? []) {
    extractKg += sugar.kg * sugar.extractShare;
    waterKg += sugar.kg * (1 - sugar.extractShare);
  }
  return { extractKg, waterKg };
}

/** The yeast as pitching takes it. */
export function yeastLot(yeast: Yeast): YeastLot {
  return {
    kind: yeast.kind,
    rate: yeast.rate ?? PITCH_RATES[yeast.kind],
    cellsPerML: yeast.cellsPerML ?? SLURRY.cellsPerML,
    viability: yeast.viability ?? SLURRY.viability,
    generation: yeast.generation ?? 0,
  };
}

/** Wort when it is pitched [°C]; ale temperature when no yeast is named. */
export function pitchC(beer: Beer): number {
  return beer.yeast?.pitchC ?? PITCH_C[beer.yeast?.kind ?? 'ale'];
}
