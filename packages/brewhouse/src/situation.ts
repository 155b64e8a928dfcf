/** What stands where right now. */

/** Content and clock of one vessel. Masses in two phases; the wall shares the temperature. */
export interface VesselState {
  readonly vessel: string;
  /** Up to when this vessel's history is known [min after day start]. */
  clockMin: number;
  /** Temperature of content and wall [°C]. */
  tempC: number;
  /** Water, malt moisture included [kg]. */
  waterKg: number;
  /** Undissolved grist, dry [kg]. */
  solidsKg: number;
  /** Dissolved extract by the dry malt it came from [kg]. */
  extractKg: number;
  /** Mash species of this vessel (mash/), when the kinetics run; absent for liquor and wort. */
  mash?: Float64Array;
}

export interface Situation {
  readonly vessels: readonly VesselState[];
  /** Minute each burner and each pair of hands is free again. */
  readonly freeAtMin: Readonly<Record<string, number>>;
}
