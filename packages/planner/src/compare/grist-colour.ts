/** Colour and extract of a grist by its sheets, compared in wort of one strength. */
import {
  ebcFromSrm,
  lovibondFromSheetEbc,
  maltColourUnits,
  srmFromColourUnits,
} from '@ladlework/matter';
import { findRoot } from '@ladlework/numerics';
import type { MaltLot, StockLot } from '../document.ts';

/** Colour is compared in wort of this strength [°P] and density [kg/L]; the usual lager's. */
const COMPARED_AT = { plato: 12, kgL: 1.048 } as const;
/** Extract and moisture of a lot whose sheet is silent [%], a usual pale malt's. Common practice, no source. */
const TYPICAL = { extractFinePct: 80, moisturePct: 4.5 } as const;

/** Colour the malts alone give at 12 °P [EBC]. */
export function gristColour(
  malts: readonly MaltLot[],
  kg: readonly number[],
  extractKg: number,
): number {
  const coloured = malts.map((m, i) => ({ kg: kg[i] as number, lovibond: lovibond(m) }));
  return ebcFromSrm(srmFromColourUnits(maltColourUnits(coloured, comparedL(extractKg))));
}

/** Malt colour units that give a colour, by the inverse of Morey's law. */
export function colourUnitsFor(ebc: number): number {
  const root = findRoot((units) => ebcFromSrm(srmFromColourUnits(units)) - ebc, 0, 160, {
    fTolerance: 1e-9,
  });
  if (!root.ok) throw new Error(`no malt colour gives ${ebc} EBC: ${root.reason}`);
  return root.x;
}

/** Litres the extract makes at 12 °P. */
export function comparedL(extractKg: number): number {
  return extractKg / (COMPARED_AT.plato / 100) / COMPARED_AT.kgL;
}

/** Degrees Lovibond of a lot whose sheet prints a colour. */
export const lovibond = (m: StockLot) => lovibondFromSheetEbc(m.certificate?.colourEbc as number);

/** Extract of a kilogram as it comes [kg/kg]; caramel and roast by their sheet likewise. */
export function potential({ certificate }: StockLot): number {
  const dry = 1 - (certificate?.moisturePct ?? TYPICAL.moisturePct) / 100;
  return (dry * (certificate?.extractFinePct ?? TYPICAL.extractFinePct)) / 100;
}
