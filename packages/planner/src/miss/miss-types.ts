/** What can go wrong on a brew day, and what the running day is told of it. Types only. */

/** As the brewer tells it. The log keeps the same codes. */
export type MissCode =
  | 'landed-low'
  | 'landed-high'
  | 'tun-slipped'
  | 'pot-late'
  | 'spilled'
  | 'stuck'
  | 'scorched'
  | 'boiled-over'
  | 'iodine-blue'
  | 'pump-dead'
  | 'burner-out'
  | 'helper-gone';

/** Something that went wrong. */
export interface Miss {
  readonly code: MissCode;
  /** Vessel it happened to. */
  readonly vessel?: string;
  /** Lost, or left where it cannot be got at [L as it stands there]. */
  readonly litres?: number;
  /** How much longer it will take [min]. */
  readonly minutes?: number;
  /** Burner, route or pair of hands that is out. */
  readonly thing?: string;
}

/** It happened, and it was put right. Minutes after day start. */
export type MissEntry =
  | ({ readonly kind: 'miss'; readonly id: string; readonly atMin: number } & Miss)
  | { readonly kind: 'miss-over'; readonly id: string; readonly atMin: number };
