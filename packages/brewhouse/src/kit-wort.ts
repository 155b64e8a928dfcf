/**
 * What a kit shows once the mash is through: bed, boil, cooler, and the house's liquor. All of it may
 * be left out; then the figures of the trade stand in, with their wider bands.
 */
import type { Acid, WaterReport } from '@ladlework/matter';
import type { ShelfSalt } from './wort/index.ts';

/** How the tun's bed runs, from its own run-offs. */
export interface LauterKit {
  /** Ideal stages of the flooded bed [-], 0.5-20; left out: 1.6, as 4 to 8 equal mixed run-offs lose. */
  readonly stages?: number;
  /** Liquid the drained bed keeps [L/kg], 0.5-2; left out: 1.1. */
  readonly retainedLPerKg?: number;
  /** Liquid in the bed while it stands under wort [L/kg], to 4; left out: 1.8. */
  readonly floodedLPerKg?: number;
  /** Space under the plates [L]; left out: the tun's dead volume. */
  readonly underL?: number;
  /** Permeability of a bed that ran well [m²], 1e-14 to 1e-9; left out: usual for the trade. */
  readonly permeabilityM2?: number;
}

/** The kettle at the boil. */
export interface BoilKit {
  /** Power into the wort at the boil, wall loss off [kW]; or the boil-off it makes. */
  readonly netKW?: number;
  readonly boilOffKgPerH?: number;
  /** Wort kept by hot trub, share of the cold wort [-], 0-0.2; left out: 0.02. */
  readonly trubShare?: number;
  /** Wort kept by hops after draining [L/kg], 0-15; left out: 6. */
  readonly hopKeepsLPerKg?: number;
  /** Bitterness measured over reckoned [-], 0.3-2, in the boil and in the hot stand; left out: 1. */
  readonly hopFactor?: { readonly kettle: number; readonly stand: number };
  /** Colour measured over reckoned [-], 0.5-2; left out: 1. */
  readonly colourFactor?: number;
}

/** One knock-out through a plate cooler as it was read; gives its heat transfer. */
export interface PlateLog {
  readonly wortLMin: number;
  readonly liquorLMin: number;
  readonly plato: number;
  readonly fromC: number;
  readonly toC: number;
  readonly liquorInC: number;
}

/** The cooler. */
export type CoolerKit = {
  /** Heat transfer [W/K], 10-1e6; left out: from the log, else from the litres of the wort. */
  readonly uaWK?: number;
  /** Flow of cold liquor [L/min], 0.1-1e4; left out: twice the flow of the wort. */
  readonly liquorLMin?: number;
  /** Left in hoses, cooler and cold trub, share of the wort [-], 0-0.3; left out: 0.02. */
  readonly lossShare?: number;
} & (
  | { readonly how: 'plate'; readonly mostWortLMin?: number; readonly log?: PlateLog }
  | { readonly how: 'coil' }
);

/** The house's liquor and what stands on the shelf to treat it. */
export interface LiquorKit {
  readonly report: WaterReport;
  /** A second liquor that may be mixed in, as from a softener or reverse osmosis. */
  readonly second?: WaterReport;
  readonly salts?: readonly ShelfSalt[];
  readonly acid?: Acid;
}
