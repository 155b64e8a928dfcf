/**
 * The plan document: one kit, one beer, one mash, one day. Quantities are SI numbers here; the
 * contract room parses the brewer's text ("62 °C", "3 bbl") into this.
 */
import type { Kit, Thickness } from '@ladlework/brewhouse';
import type { BeerWanted, HopLot, KettleSugar, Titration, Yeast } from './document-beer.ts';
import type { Work } from './timetable/work.ts';

/** One malt of the grist, with what its certificate says. Percentages as printed. */
export interface MaltLot {
  readonly name: string;
  readonly lot?: string;
  readonly kg: number;
  /** base: has enzymes and raw starch; caramel and roast have neither. */
  readonly type: 'base' | 'wheat' | 'caramel' | 'roast';
  readonly certificate?: MaltCertificate;
  /** Price [currency of the price list per kg], 0-1000. */
  readonly pricePerKg?: number;
  /** What a bag holds [kg], 0.5-1000. */
  readonly bagKg?: number;
  /** In store before this brew [kg], 0-1e6. */
  readonly inStoreKg?: number;
  /** Most of the grist this lot may be, 0-1; left out: the usual for its kind. */
  readonly mostShare?: number;
  /** How this lot stands against acid, where it was titrated. */
  readonly titration?: Titration;
}

/** A lot in store, to choose from; how much of it a grist takes is what is asked. */
export type StockLot = Omit<MaltLot, 'kg'>;

export interface MaltCertificate {
  /** Moisture [% as received]. */
  readonly moisturePct?: number;
  /** Extract, fine and coarse grind [% dry]. */
  readonly extractFinePct?: number;
  readonly extractCoarsePct?: number;
  readonly colourEbc?: number;
  readonly proteinPct?: number;
  readonly kolbachPct?: number;
  /** Diastatic power [°WK]. */
  readonly diastaticWk?: number;
  /** Alpha-amylase [DU, dry]. */
  readonly alphaDu?: number;
  /** Congress wort viscosity, 8.6 % [mPa s]. */
  readonly viscosityMPas?: number;
  readonly friabilityPct?: number;
  readonly betaGlucanMgL?: number;
  /** Hartong extract at 45 °C [%]. */
  readonly vz45Pct?: number;
  readonly fanMgL?: number;
}

export interface Beer {
  readonly id: string;
  readonly name: string;
  readonly malts: readonly MaltLot[];
  /** Mash pH, read or expected, 4.8-6.5. */
  readonly mashPh?: number;
  /** Enzymes from a bottle go into the mash; the kinetics know those of malt only. */
  readonly addedEnzymes?: boolean;
  /** Raw cereal cooked apart, without malt, and added as porridge [kg as weighed], 0.001-10 000. */
  readonly cookedAdjunctKg?: number;
  readonly kinetics?: KineticChoices;
  readonly target?: BeerWanted;
  readonly hops?: readonly HopLot[];
  readonly sugars?: readonly KettleSugar[];
  readonly yeast?: Yeast;
  /** DMS precursor of the grist, as DMS [mg/kg], 0-30; left out: by the colour of the base malts. */
  readonly precursorMgKg?: number;
}

/** What of the mash kinetics a malt lot or the brewer calls for; left out: a standard lot. */
export interface KineticChoices {
  /** Named parameter set; recommended unless a comparison wants the plain one. */
  readonly parameters?: 'recommended' | 'plain';
  /** Share of the grist in coarse or poorly modified pieces, 0-0.5. */
  readonly coarseShare?: number;
  /** Count part of the limit dextrinase as bound and slowly freed. */
  readonly boundLimitDextrinase?: boolean;
  /** Let alpha-glucosidase make glucose from maltose, for a glucose figure. */
  readonly glucosidase?: boolean;
  /** Share of the starch that only the boil opens, 0-0.2. */
  readonly resistantShare?: number;
}

/** One rest of the mash. */
export interface MashRest {
  readonly tempC: number;
  /** Minutes wanted at this rest, whatever happens beside it [min]. */
  readonly minutes: number;
  /** Minutes into the rest at which a pull begins, default 20 or the whole rest if shorter. */
  readonly pullAfterMin?: number;
}

/** How the mash gets from one rest to the next. */
export type Raise =
  | {
      readonly by: 'decoction';
      readonly thickness: Thickness;
      /** Vessels that boil the pull; more than one shares it. */
      readonly pots: readonly string[];
      /** One pot after another, or all at once where there are burners for it. */
      readonly order: 'in-turn' | 'side-by-side';
      /** How several pots share the pull: by what each holds, or by its burner so that all boil together; default by-room. */
      readonly split?: 'by-room' | 'by-power';
      /** Rest inside the pull on the way up. */
      readonly pullRest?: { readonly tempC: number; readonly minutes: number };
      readonly boilMinutes: number;
      /** Boiling liquor poured in beside it [L]. */
      readonly boilingLiquorL?: number;
    }
  | { readonly by: 'liquor'; readonly tempC?: number }
  | { readonly by: 'direct-heat'; readonly maxKPerMin?: number };

export interface Mash {
  /**
   * carry: mash in the tun, take the pull to the pot or kettle.
   * kettle-mash: mash in the kettle, park the rest in the tun, boil what stays, bring it back.
   */
  readonly layout: 'carry' | 'kettle-mash';
  /** Vessel that mashes in and holds the rests; the tun, or the kettle for kettle-mash. */
  readonly tun: string;
  /** Vessel that holds the parked mash in kettle-mash. */
  readonly park?: string;
  /** Vessel that heats the liquor. */
  readonly liquorVessel: string;
  readonly liquorLPerKg: number;
  readonly rests: readonly MashRest[];
  /** One fewer than the rests. */
  readonly raises: readonly Raise[];
  /** Routes by id; left out: the kit's first. */
  readonly pullRoute?: string;
  readonly strikeRoute?: string;
  /** Reserve pulled above the need, as a share of it, 0-0.5; default 0.15. */
  readonly reserve?: number;
}

export interface Day {
  /** Clock time of minute 0, minutes after midnight. */
  readonly startMin: number;
  readonly liquorC: number;
  readonly gristC: number;
  readonly airC?: number;
  /** Strike liquor already hot at minute 0 [°C], when the kettle was heated the evening before. */
  readonly kettleC?: number;
  /** Tun wall at minute 0 [°C]; default the air. */
  readonly tunC?: number;
  readonly preheatTunL?: number;
  /** Letters of the hands at work; default all of the kit's. */
  readonly hands?: readonly string[];
  /** The work after the mash; what is left out is as on a typical day. */
  readonly work?: Partial<Work>;
  /** What comes at its own hour. */
  readonly events?: readonly DayEvent[];
  readonly breaks?: readonly Break[];
  /** The day must end by then [min after day start]. */
  readonly finishByMin?: number;
  /** The brewer would like to be done by then [min after day start]. */
  readonly wishFinishMin?: number;
}

/** Something that comes at its own hour, as a delivery. */
export interface DayEvent {
  readonly name: string;
  /** Minutes after day start. */
  readonly atMin: number;
  readonly minutes: number;
  /** Pairs of hands it takes, of anybody or of those named. */
  readonly hands: number;
  readonly anyOf?: readonly string[];
}

/** A break of one person, somewhere in its window. */
export interface Break {
  readonly hand: string;
  readonly minutes: number;
  readonly fromMin: number;
  readonly untilMin: number;
  readonly name?: string;
}

/** What a burner burns or draws. */
export const FUELS = ['gas', 'propane', 'electricity', 'steam'] as const;
export type Fuel = (typeof FUELS)[number];

/** The brewer's own prices; what is left out takes the default of `pricesOf`. */
export interface PriceList {
  /** Name or sign of the money, printed beside every price. */
  readonly currency?: string;
  /** One pair of hands for an hour, 0-1000. */
  readonly labourPerHour?: number;
  /** Fuel or current as the meter counts it [per kWh], 0-100. */
  readonly energyPerKWh?: { readonly [F in Fuel]?: number };
  /** A malt lot without a price of its own [per kg], 0-1000. */
  readonly maltPerKg?: number;
}

export interface PlanDocument {
  readonly kit: Kit;
  readonly beer: Beer;
  readonly mash: Mash;
  readonly day: Day;
  readonly prices?: PriceList;
  /** Malt lots in store beside those of the grist. */
  readonly stock?: readonly StockLot[];
}
