/** The running day: what the planner answers from the latest readings. Types only. */
import type { Band } from './plan.ts';

/** A reading as the planner uses it, in SI, true clock. */
export interface Reading {
  readonly vessel: string;
  readonly what: 'temp' | 'volume' | 'gravity' | 'ph';
  readonly value: number;
  /** Minutes after day start. */
  readonly atMin: number;
  /** Standard error as the brewer took it: one place 1.0 K, three places stirred 0.3 K. */
  readonly sd: number;
}

/** Where the return lands if made now and later. */
export interface LandingForecast {
  readonly now: Band;
  readonly in10Min: Band;
  readonly targetC: number;
  readonly tunNowC: Band;
  readonly potNowC: Band;
  readonly arrivalC: Band;
  /** Litres that make the target from here, and in portions. */
  readonly needL: Band;
  readonly needPortions: Band;
  /** Litres there are in the pot. */
  readonly haveL: number;
  /** Chance that what is there reaches the target less 0.5 K. */
  readonly chance: number;
}

/** During the return: portions still to go. */
export interface ReturnGuide {
  readonly tunC: number;
  /** Whole portions to add before the next reading; 0 means stop. */
  readonly morePortions: number;
  readonly moreL: Band;
  readonly afterC: Band;
  readonly targetC: number;
  readonly keepBackL: number;
  readonly action: 'add' | 'stop' | 'read';
  readonly text: string;
}

/** A way out of a miss, simulated from what stands there. */
export interface Repair {
  readonly code:
    | 'wait-and-stir'
    | 'boiling-liquor'
    | 'cold-liquor'
    | 'small-pull'
    | 'direct-heat'
    | 'accept'
    | 'hold-back';
  readonly text: string;
  readonly amountL?: number;
  readonly minutes: number;
  readonly landingC: Band;
  /** Mash volume after it [L], and liquor per grist. */
  readonly mashL: number;
  readonly liquorLPerKg: number;
  readonly hands: number;
  readonly possible: boolean;
  readonly whyNot?: string;
}
