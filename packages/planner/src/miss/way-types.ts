/** Ways out of a miss: what there is to choose from, and what each comes to. Types only; plain data. */
import type { Move } from '@ladlework/brewhouse';
import type { PlanDocument } from '../document.ts';
import type { Band, PlannedMove, PlannedReturn } from '../plan.ts';
import type { CastOut } from '../wort/day-types.ts';
import type { Miss } from './miss-types.ts';

export type WayCode =
  | 'go-on'
  | 'last-of-reserve'
  | 'boiling-liquor'
  | 'cold-liquor'
  | 'small-pull'
  | 'direct-heat'
  | 'longer-rest'
  | 'shorter-rest'
  | 'side-mash'
  | 'return-now'
  | 'infusion'
  | 'heat-on'
  | 'by-hand'
  | 'other-burner'
  | 'wait'
  | 'smaller-brew';

/** How long the mash may stand as it is, lid on and nothing done. */
export interface SafeTime {
  /** Left out: more than two hours [min]. */
  readonly minutes?: number;
  /** What ends it: the tun under its rest, enzyme for the starch that is left, or the attenuation. */
  readonly limit: 'rest' | 'starch' | 'attenuation' | 'none';
  /** Alpha-amylase left then, share of what the grist brought; left out without kinetics. */
  readonly alphaLeft?: number;
  readonly text: string;
}

/** What can be asked about after a miss, in the order it is offered. */
export interface WayChoice {
  readonly safe: SafeTime;
  readonly codes: readonly WayCode[];
}

/** One landing still to come. */
export interface WayLanding {
  readonly moveId: string;
  readonly targetC: number;
  readonly tempC: Band;
}

/** A way carried through the rest of the day to cast-out. */
export interface WayOut {
  readonly code: WayCode;
  readonly miss: Miss;
  readonly text: string;
  readonly possible: boolean;
  /** Why it cannot be done; the figures below are then left out. */
  readonly whyNot?: string;
  readonly cautions: readonly string[];
  readonly played?: WayPlayed;
}

export interface WayPlayed {
  /** Landings to come, in order; the first is that of the repair itself when there is one. */
  readonly landings: readonly WayLanding[];
  readonly mashEndMin: Band;
  /** Minutes the mash ends later than it would by going on [min]. */
  readonly laterMin: number;
  /** Minutes of hands in all, against going on as planned [min]. */
  readonly handsMin: number;
  readonly mashL: Band;
  /** At the end of the mash, shares of what the grist brought; left out without kinetics. */
  readonly alphaLeft?: Band;
  readonly betaLeft?: Band;
  readonly iodineNormal?: boolean;
  readonly castOut?: CastOut;
  /** The day's moves when this way is taken, what is over included, and the document they belong to. */
  readonly moves: readonly Move[];
  readonly document: PlanDocument;
  /** Moves still to come with their times. */
  readonly ahead: readonly PlannedMove[];
  readonly mended: readonly Pick<PlannedReturn, 'pull' | 'moveIds' | 'targetC' | 'takeL'>[];
  /** Moves under way that this way breaks off. */
  readonly ends: readonly string[];
}
