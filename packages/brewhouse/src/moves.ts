/**
 * Moves: what hands or a burner do to content. A plan is a list of moves in the order they are
 * begun; a move starts as soon as every vessel, burner and pair of hands it needs is free and its
 * `earliestMin` has come, so a pot can boil while the tun rests.
 */

/** How much grist a pull takes with its liquor: settled and scooped, stirred up, or strained. */
export type Thickness = 'thick' | 'as-it-comes' | 'thin' | { readonly liquorLPerKg: number };

interface MoveBase {
  /** Unique within the plan. */
  readonly id: string;
  /** Letters of the hands it occupies the whole time. */
  readonly hands: readonly string[];
  /** Not before this minute of the day [min after day start]. */
  readonly earliestMin?: number;
  /** What the brewer reads, in trade words. */
  readonly note?: string;
}

/** Liquor from the mains or a store into a vessel. */
export interface Fill extends MoveBase {
  readonly kind: 'fill';
  readonly vessel: string;
  readonly litres: number;
  readonly tempC: number;
  readonly minutes: number;
}

/** Heat until the content reads `toC`, or boils if that comes first. */
export interface Heat extends MoveBase {
  readonly kind: 'heat';
  readonly vessel: string;
  readonly burner: string;
  /** Target [°C], or `boil`. */
  readonly to: number | 'boil';
  /** Slowest of the burner and this rate is used [K/min]; for mash that scorches. */
  readonly maxKPerMin?: number;
  /** Stop after this long even when it is not there yet [min]; left out: until it is. */
  readonly maxMinutes?: number;
  readonly lidOn: boolean;
}

/** Hold at the temperature it has, the burner just making up the losses. */
export interface Hold extends MoveBase {
  readonly kind: 'hold';
  readonly vessel: string;
  readonly burner: string;
  readonly minutes: number;
  readonly lidOn: boolean;
}

/** Keep at the boil with the burner's full power, or with the share given. */
export interface Boil extends MoveBase {
  readonly kind: 'boil';
  readonly vessel: string;
  readonly burner: string;
  readonly minutes: number;
  /** Share of full power, 0.05-1. */
  readonly power: number;
}

/** Warm the wall of an empty vessel with hot liquor that is then drained. */
export interface Preheat extends MoveBase {
  readonly kind: 'preheat';
  readonly vessel: string;
  readonly from: string;
  readonly litres: number;
  readonly minutes: number;
}

/** Grist and strike liquor together into a vessel. */
export interface MashIn extends MoveBase {
  readonly kind: 'mash-in';
  readonly vessel: string;
  /** Vessel the strike liquor stands in; the same as `vessel` when the grist goes to the liquor. */
  readonly from: string;
  readonly litres: number;
  readonly grist: GristLoad;
  readonly minutes: number;
}

/** Grist as milled. */
export interface GristLoad {
  readonly kg: number;
  readonly tempC: number;
  /** Water in the malt as a share of its mass, 0-0.15. */
  readonly moisture: number;
}

/** Let stand; lid on if there is one. */
export interface Rest extends MoveBase {
  readonly kind: 'rest';
  readonly vessel: string;
  readonly minutes: number;
  /** Left alone so that the grain settles for the pull that follows. */
  readonly unstirred?: true;
  /**
   * Stand until this long after that move began, however long it took; `minutes` is then the
   * length on paper, used when that move is not among those run.
   */
  readonly until?: { readonly move: string; readonly minutes: number };
}

/** Take part of a mash to another vessel, portion by portion. */
export interface Pull extends MoveBase {
  readonly kind: 'pull';
  readonly from: string;
  readonly to: string;
  readonly route: string;
  /** As the brewer measures it [L]. */
  readonly litres: number;
  readonly thickness: Thickness;
}

/** Put it back, portion by portion. */
export interface Return extends MoveBase {
  readonly kind: 'return';
  readonly from: string;
  readonly to: string;
  readonly route: string;
  /** Stop when the receiving vessel reads this [°C]; left out: everything goes back. */
  readonly stopAtC?: number;
  /** At most this much goes back [L], the rest is kept; left out: everything. */
  readonly litres?: number;
}

/** Liquor from one vessel into the content of another. */
export interface Pour extends MoveBase {
  readonly kind: 'pour';
  readonly from: string;
  readonly to: string;
  readonly route: string;
  readonly litres: number;
  readonly stopAtC?: number;
}

/** Throw away or drain to the floor what stands in a vessel, and rinse it. */
export interface Rinse extends MoveBase {
  readonly kind: 'rinse';
  readonly vessel: string;
  readonly minutes: number;
}

/** Hands only: stir, read, wait for the bed. Vessels go on by themselves. */
export interface Wait extends MoveBase {
  readonly kind: 'wait';
  readonly vessel: string;
  readonly minutes: number;
  readonly lidOn: boolean;
}

export type Move =
  | Fill
  | Heat
  | Hold
  | Boil
  | Preheat
  | MashIn
  | Rest
  | Pull
  | Return
  | Pour
  | Rinse
  | Wait;

export type MoveKind = Move['kind'];
