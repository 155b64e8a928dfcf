import { plato as asPlato, type Plato } from '@ladlework/quantity';
import { inRange, OutOfRange } from './errors.ts';
import { ethanolDensity, ethanolSg } from './ethanol.ts';
import { platoFromSg, sgFromPlato } from './plato.ts';

/** Balling: extract [g], carbon dioxide [g] and dry yeast [g] that go with a gram of alcohol. */
export const BALLING = { extract: 2.0665, carbonDioxide: 0.9565, yeast: 0.11 } as const;

const RDF_FACTOR = 0.005161;

/** Density of water at 20 °C [kg/L]. */
const WATER_20_KG_L = 0.9982;

/**
 * Extract the wort had, from what the beer holds.
 *
 * @param abwPct alcohol [% by weight], 0 to 15
 * @param rePlato real extract [°P], 0 to 30
 * @returns original extract [°P]
 * @throws OutOfRange outside the ranges
 * @source Balling (Nielsen, Kristiansen, Lassen & Erikstrøm, Scandinavian School of Brewing)
 * @example originalExtract(4.72, 5.28) // 14.31
 */
export function originalExtract(abwPct: number, rePlato: number): Plato {
  const a = inRange('alcohol', abwPct, 0, 15, '% by weight');
  const re = inRange('real extract', rePlato, 0, 30, '°P');
  return asPlato((100 * (BALLING.extract * a + re)) / (100 + (BALLING.extract - 1) * a));
}

/**
 * Alcohol made from the extract that is gone: the exact inverse of {@link originalExtract}.
 *
 * @param oePlato original extract [°P], 0 to 40
 * @param rePlato real extract [°P], 0 up to the original extract
 * @returns alcohol [% by weight]
 * @throws OutOfRange outside the ranges
 * @source Balling, inverted
 * @example alcoholByWeight(12, 4.2) // 4.02
 */
export function alcoholByWeight(oePlato: number, rePlato: number): number {
  const oe = inRange('original extract', oePlato, 0, 40, '°P');
  // An original extract that was itself computed may miss the real one by its last bits.
  const re = inRange('real extract', rePlato, 0, oe + 1e-9, '°P');
  return (oe - re) / (BALLING.extract - ((BALLING.extract - 1) / 100) * oe);
}

/**
 * Real extract by the short form. A cross-check only: it runs 0.15 to 0.19 °P low.
 *
 * @param oePlato original extract [°P], 0 to 40
 * @param aePlato apparent extract [°P], -5 up to the original extract
 * @returns real extract [°P]
 * @throws OutOfRange outside the ranges
 * @source 0.1808 OE + 0.8192 AE, from memory
 */
export function realExtractShort(oePlato: number, aePlato: number): Plato {
  const oe = inRange('original extract', oePlato, 0, 40, '°P');
  return asPlato(0.1808 * oe + 0.8192 * inRange('apparent extract', aePlato, -5, oe, '°P'));
}

/** What fermentation left. Planned figures: a label wants a measurement. */
export interface Beer {
  /** Alcohol [% by weight]. */
  readonly abwPct: number;
  /** Alcohol [% by volume at 20 °C]. */
  readonly abvPct: number;
  /** Real extract [°P]. */
  readonly rePlato: Plato;
  /** Real degree of fermentation [%]. */
  readonly rdfPct: number;
  /** Apparent degree of fermentation [%]. */
  readonly adfPct: number;
  /** Specific gravity 20/20 °C of the beer. */
  readonly sg: number;
}

/**
 * The beer that a wort and its apparent extract make: Balling and the sum of densities
 * SG(beer) = SG(extract) + SG(alcohol) - 1 solved together.
 *
 * @param oePlato original extract [°P], 1 to 40
 * @param aePlato apparent extract [°P], -5 up to the original extract
 * @returns alcohol, real extract, degrees of fermentation
 * @throws OutOfRange outside the ranges, or when no beer has the two extracts
 * @source Balling; Tabarié's additive densities; ethanol by OIML R22; RDF by Speers, citing ASBC Beer-6
 * @example beerFromExtracts(16, 4).abvPct // 6.60
 */
export function beerFromExtracts(oePlato: number, aePlato: number): Beer {
  const oe = inRange('original extract', oePlato, 1, 40, '°P');
  const ae = inRange('apparent extract', aePlato, -5, oe, '°P');
  const sg = sgFromPlato(ae);
  // Rising in the real extract: more extract left, heavier beer; so the root lies in [ae, oe].
  const excess = (re: number): number =>
    sgFromPlato(re) + ethanolSg(alcoholByWeight(oe, re) / 100) - 1 - sg;
  let low = Math.max(0, ae);
  let high: number = oe;
  if (excess(low) > 1e-12) {
    // Not even with every gram of extract gone would the beer be so light.
    const lightest = platoFromSg(sgFromPlato(low) + ethanolSg(alcoholByWeight(oe, low) / 100) - 1);
    throw new OutOfRange('apparent extract', ae, lightest, oe, '°P');
  }
  for (let n = 0; n < 60; n++) {
    const mid = (low + high) / 2;
    if (excess(mid) > 0) high = mid;
    else low = mid;
  }
  const re = (low + high) / 2;
  const abw = alcoholByWeight(oe, re);
  return {
    abwPct: abw,
    abvPct: (abw * sg * WATER_20_KG_L * 1000) / ethanolDensity(1, 20),
    rePlato: asPlato(re),
    rdfPct: realDegreeOfFermentation(oe, re),
    adfPct: (100 * (oe - ae)) / oe,
    sg,
  };
}

/**
 * Share of the extract that was fermented, real extract corrected for the mass that left as gas.
 *
 * @param oePlato original extract [°P], above 0 to 40
 * @param rePlato real extract [°P], 0 up to the original extract
 * @returns real degree of fermentation [%]
 * @throws OutOfRange outside the ranges
 * @source Speers, citing ASBC Beer-6
 */
export function realDegreeOfFermentation(oePlato: number, rePlato: number): number {
  const oe = inRange('original extract', oePlato, 1e-6, 40, '°P');
  const re = inRange('real extract', rePlato, 0, oe, '°P');
  return (100 * (oe - re)) / oe / (1 - RDF_FACTOR * re);
}
