/** What the log keeps of a plan, so that the record can set the day against it years later. */

/** Low, likely and high: 10 %, 50 % and 90 % of the kit's ensemble. */
export interface SummaryBand {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** One planned move. Minutes are counted from the start of the brew. */
export interface SummaryMove {
  readonly id: string;
  readonly kind: string;
  /** Vessel acted on. */
  readonly vessel: string;
  /** In trade words, as on the now-card. */
  readonly text: string;
  readonly hands: readonly string[];
  readonly startMin: SummaryBand;
  readonly endMin: SummaryBand;
  /** The vessel acted on, before and after [°C]. */
  readonly fromC: SummaryBand;
  readonly toC: SummaryBand;
  /** In the vessel acted on, after the move [L]. */
  readonly volumeL: number;
  /** Litres moved, where the move moves any. */
  readonly litres?: number;
}

/** One planned pull and return. */
export interface SummaryReturn {
  readonly pull: number;
  readonly moveIds: { readonly pull: readonly string[]; readonly return: readonly string[] };
  readonly restC: number;
  readonly targetC: number;
  readonly takeL: number;
  readonly portions: number;
  readonly tunBeforeC: SummaryBand;
  readonly arrivalC: SummaryBand;
  readonly landingC: SummaryBand;
}

/** What a point of the day after the mash was to read. */
export interface SummaryWort {
  readonly point: 'kettle-full' | 'cast-out' | 'tank';
  /** Strength [°P]. */
  readonly plato: SummaryBand;
}

export interface PlanSummary {
  readonly moves: readonly SummaryMove[];
  readonly returns: readonly SummaryReturn[];
  readonly strike: { readonly litres: number; readonly tempC: SummaryBand };
  readonly mashEndMin: SummaryBand;
  readonly addedMin: SummaryBand;
  /** Left out where nothing was foretold of the wort. */
  readonly wort?: readonly SummaryWort[];
}
