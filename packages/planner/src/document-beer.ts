/** What a beer is to become, and what goes into it beside the malt. All of it may be left out. */
import type { ExtractWanted, LiquorTarget } from '@ladlework/brewhouse';
import type { MaltBuffer } from '@ladlework/matter';

/** What the beer is to come out as. What is left out is not asked for. */
export interface BeerWanted {
  /** Wort in the tank, cold [L]. */
  readonly tankL?: number;
  readonly extract?: ExtractWanted;
  /** Colour of the beer [EBC], 2-90. */
  readonly colourEbc?: number;
  /** Bitterness of the wort at the end of the boil [mg/L], 0-150. */
  readonly ibu?: number;
  /** Apparent limit of attenuation [%], 50-95. */
  readonly attenuationPct?: number;
  /** Mash pH and pH at cast-out, both at 20 °C. */
  readonly mashPh?: number;
  readonly wortPh?: number;
  /** Ions of the brewing liquor [mg/L]. */
  readonly liquor?: LiquorTarget;
}

/** One weighing of hops, of one lot. */
export interface HopLot {
  readonly name: string;
  readonly lot?: string;
  readonly kg: number;
  /** Alpha acids on the day of the analysis [%], 0-30. */
  readonly alphaPct: number;
  /** Days since the analysis, 0-3650; left out: 0. */
  readonly ageDays?: number;
  /** Where it was kept [°C], -40 to 40; left out: 4. */
  readonly storedC?: number;
  /** In a barrier pack without air; left out: false. */
  readonly sealed?: boolean;
  /** Alpha lost in half a year at 20 °C [%], 0-90; left out: 35. */
  readonly lostIn6MonthsPct?: number;
  /** Minutes before the end of the boil, or `stand`: when the heat is off. */
  readonly boilMin: number | 'stand';
}

/** Sugar or malt extract that goes into the kettle. */
export interface KettleSugar {
  readonly name: string;
  readonly kg: number;
  /** Extract of it [kg/kg], 0.3-1; what is not extract is water. */
  readonly extractShare: number;
}

/** The yeast, and the wort it is to be pitched into. */
export interface Yeast {
  readonly name: string;
  readonly kind: 'ale' | 'lager';
  /** Living cells [million/(mL °P)], 0.1-5; left out: 1.5 for lager, 0.75 for ale. */
  readonly rate?: number;
  /** Times used before, 0-100; left out: 0. */
  readonly generation?: number;
  /** Of the slurry: cells [1/mL], 1e6-1e10, left out: 1e9; living share [-], 0.3-1, left out: 0.95. */
  readonly cellsPerML?: number;
  readonly viability?: number;
  /** Culture grown out that a starter begins from [L]; left out: slurry is at hand. */
  readonly cultureL?: number;
  /** Wort when it is pitched [°C], 2-30; left out: 8 for lager, 18 for ale. */
  readonly pitchC?: number;
  /** Oxygen wanted [mg/L], 0-40. */
  readonly oxygenMgL?: number;
}

/** Titration of a malt lot; left out, a default of its kind with a wider band. */
export type Titration = MaltBuffer;
