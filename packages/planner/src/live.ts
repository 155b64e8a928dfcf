/** The running day: what the planner is told and what it answers. Types only. */
import type { MissEntry } from './miss/miss-types.ts';
import type { Band } from './plan.ts';

/** A reading as the planner uses it, in SI, true clock. */
export interface Reading {
  readonly vessel: string;
  /** Gravity and pH are kept without effect: they say nothing about heat or mass here. */
  readonly what: 'temp' | 'volume' | 'gravity' | 'ph';
  readonly value: number;
  /** Minutes after day start. */
  readonly atMin: number;
  /** Standard error as the brewer took it: one place 1.0 K, three places stirred 0.3 K. */
  readonly sd: number;
  /**
   * Sent by a probe: what it is off is the same all day, so it is carried along as one more unknown
   * of the ensemble instead of being averaged away. `sd`: how far off it may be, one standard
   * error [K; for a volume a share].
   */
  readonly probe?: { readonly id: string; readonly sd: number };
}

/** One thing that happened, in the order of time. Minutes after day start. */
export type DayEntry =
  | MissEntry
  | { readonly kind: 'begun'; readonly moveId: string; readonly atMin: number }
  | { readonly kind: 'done'; readonly moveId: string; readonly atMin: number }
  | {
      readonly kind: 'portions';
      readonly moveId: string;
      readonly atMin: number;
      /** Portions since the last such entry; they add up. */
      readonly portions: number;
    }
  | {
      readonly kind: 'reading';
      readonly reading: Reading;
      /** Taken although it lies far outside what was expected. */
      readonly confirmed?: boolean;
      /** Of the event it came from, so that the page can point at it. */
      readonly id?: string;
    }
  | {
      /** A repair that was carried out. */
      readonly kind: 'mend';
      readonly code: Repair['code'];
      readonly atMin: number;
      readonly amountL?: number;
      readonly minutes?: number;
      readonly targetC?: number;
    };

/** An entry that does not fit what stands there; it had no effect. */
export interface Questioned {
  readonly entry: DayEntry;
  /** What was expected, in the unit of the reading. */
  readonly expected: Band;
  readonly text: string;
  /** The probe has stood still while what it hangs in must have moved. */
  readonly stuck?: true;
}

/** Where the return lands if made now and later. */
export interface LandingForecast {
  /** Which return of the day this is, from 1, and the last move that belongs to it. */
  readonly pull: number;
  readonly returnId: string;
  /** Pull not begun, in the pot, or on its way back. */
  readonly stage: 'before' | 'out' | 'returning';
  /**
   * Landing when the planned need goes back unread, from now and from in ten minutes. Before the
   * pull: when the pull begins now and in ten minutes, boiled as planned.
   */
  readonly now: Band;
  readonly in10Min: Band;
  /** The same when everything that is there goes back. */
  readonly withAllNow: Band;
  readonly withAllIn10Min: Band;
  /** When the day goes on as planned from here and the brewer reads and stops at the target. */
  readonly asPlanned: Band;
  /** When that return ends [min after day start]. */
  readonly returnAtMin: Band;
  readonly targetC: number;
  readonly tunNowC: Band;
  readonly potNowC: Band;
  readonly arrivalC: Band;
  /** Litres that make the target from here, and in portions; at most what is there. */
  readonly needL: Band;
  readonly needPortions: Band;
  /** Litres there are in the pot. */
  readonly haveL: number;
  /** Chance that what is there reaches the target less 0.5 K. */
  readonly chance: number;
}

/** One move of the rest of the day, re-timed. */
export interface MoveForecast {
  readonly moveId: string;
  readonly startMin: Band;
  readonly endMin: Band;
  /** Vessel acted on, before and after. */
  readonly fromC: Band;
  readonly toC: Band;
}

/** The rest of the day from what stands there now. */
export interface DayForecast {
  readonly moves: readonly MoveForecast[];
  readonly mashEndMin: Band;
}

/** During the return: portions still to go. */
export interface ReturnGuide {
  readonly tunC: number;
  readonly portionsDone: number;
  /** Portions to add before the next reading, whole ones where they are carried; 0: stop or read. */
  readonly morePortions: number;
  /** The same of what flows by itself [s]. */
  readonly moreSeconds?: number;
  /** Nothing was counted yet: the portions are all of them, from the first. */
  readonly fromStart: boolean;
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
    | 'last-of-reserve'
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
  /** Likely landing minus the target [K]. */
  readonly missK: number;
  /** Mash volume after it [L], and liquor per grist. */
  readonly mashL: number;
  readonly liquorLPerKg: number;
  readonly hands: number;
  readonly possible: boolean;
  readonly whyNot?: string;
}

/** What one more reading would be worth for the landing. */
export interface ReadingWorth {
  readonly vessel: string;
  readonly what: 'temp' | 'volume';
  /** Share by which the landing band is expected to shrink, 0-1. */
  readonly narrowing: number;
  /** Width of the landing band without and with it [K]. */
  readonly bandNowK: number;
  readonly bandAfterK: number;
  readonly text: string;
}
