/**
 * The kit: vessels, burners, routes and hands, as the brewer describes them. Everything here is
 * nominal; what is uncertain about it is a `Draw` (draw.ts).
 */
import type { BoilKit, CoolerKit, LauterKit, LiquorKit } from './kit-wort.ts';

/** What a vessel is for. A kettle that also heats the liquor is a `kettle`. */
export type VesselRole = 'mash-tun' | 'lauter-tun' | 'kettle' | 'pot' | 'liquor-tank' | 'fermenter';

/** One upright round vessel. */
export interface Vessel {
  readonly id: string;
  readonly name: string;
  readonly role: VesselRole;
  /** Volume to the brim [L], 1-20 000. */
  readonly brimL: number;
  /** Inner diameter [m], 0.1-4. Gives the open surface and the dip. */
  readonly diameterM: number;
  /** Heat capacity of the parts that follow the content's temperature [kJ/K], 0-5000. */
  readonly wallKJK: number;
  /** Heat loss to the room when full, lid on [W/K], 0-500. */
  readonly lossWK: number;
  /** True when a lid covers the vessel while nobody works in it. */
  readonly lid: boolean;
  /** Content that stays behind when the vessel is emptied [L]. */
  readonly deadL: number;
}

export type BurnerKind =
  | 'gas-hob'
  | 'outdoor-propane'
  | 'gas-burner'
  | 'resistance'
  | 'induction'
  | 'element'
  | 'steam-jacket';

/** A timed water test: the honest way to know a burner. */
export interface WaterTest {
  readonly waterL: number;
  readonly fromC: number;
  readonly toC: number;
  readonly minutes: number;
  /** Vessel the water stood in. */
  readonly vessel: string;
}

/** A source of heat under, in or around one of several vessels, one at a time. */
export interface Burner {
  readonly id: string;
  readonly name: string;
  readonly kind: BurnerKind;
  /** Vessels it can heat. */
  readonly heats: readonly string[];
  /** Rated input, fuel on the lower heating value or electric [kW], 0.2-500. */
  readonly ratedKW: number;
  /** Share of the rated input that reaches the content, 0.05-1; left out: the kind's default. */
  readonly efficiency?: number;
  /** When present, replaces rating times efficiency. */
  readonly waterTest?: WaterTest;
}

/** How content travels between two vessels. */
export type RouteHow = 'ladle' | 'bucket' | 'pump' | 'gravity';

export interface Route {
  readonly id: string;
  readonly name: string;
  readonly how: RouteHow;
  /** Litres that travel at once: a ladle, a bucket, or what the pump moves in a minute [L]. */
  readonly portionL: number;
  /** Minutes from scooping one portion to scooping the next [min]. */
  readonly minutesPerPortion: number;
  /** Hot surface that a portion shows to the air on its way, splash included [m2]. */
  readonly openAreaM2: number;
  /** Heat capacity of bucket, ladle or hose, cold at the first portion [kJ/K]. */
  readonly carrierKJK: number;
  /** Content lost to the hose or line at the end [L]. */
  readonly lineL: number;
  /** Pairs of hands it takes. */
  readonly hands: 1 | 2;
}

/** One person at work. */
export interface Hand {
  /** Letter on the score: B brewer, H helper. */
  readonly id: string;
  readonly name: string;
  /** Minute of the day from which and until which this person is here [min after day start]. */
  readonly fromMin?: number;
  readonly untilMin?: number;
}

export interface Kit {
  readonly id: string;
  readonly name: string;
  /** Height above sea level [m]; ignored when `boilingPointC` was measured. */
  readonly altitudeM: number;
  readonly boilingPointC?: number;
  /** Usual temperature of the brewhouse air [°C]. */
  readonly airC: number;
  readonly vessels: readonly Vessel[];
  readonly burners: readonly Burner[];
  readonly routes: readonly Route[];
  readonly hands: readonly Hand[];
  /** True when the brewery burns gas indoors: shows the carbon-monoxide caution. */
  readonly burnersIndoors: boolean;
  readonly lauter?: LauterKit;
  readonly boil?: BoilKit;
  readonly cooler?: CoolerKit;
  readonly liquor?: LiquorKit;
}
