/** What is known of the wort while the day runs. Plain data. */
import type {
  BedJudgement,
  EndCorrection,
  FlowReading,
  KettleWay,
  PhReading,
  Remedy,
  WortStage,
} from '@ladlework/brewhouse';
import type { PlanDocument } from '../document.ts';
import type { Band } from '../plan.ts';
import type {
  HopLine,
  LiquorPlan,
  MashOutcome,
  PitchPlan,
  WishLine,
  WortEntry,
  WortMove,
} from './plan-types.ts';

/** The brewer's prices, for the options of the full kettle; left out: the usual ones of the trade. */
export interface KettlePriceList {
  readonly perKWh: number;
  readonly perHL: number;
  readonly perKgExtract: number;
  readonly perKgHops: number;
  readonly perLabourHour: number;
  readonly perLWort: number;
}

export interface WortDayAsk {
  readonly document: PlanDocument;
  /** From the plan (`plan.wortPlan.mash`), or from the running mash (`mashAhead`). */
  readonly mash: MashOutcome;
  readonly entries: readonly WortEntry[];
  /** Minutes after day start. */
  readonly nowMin: number;
  readonly prices?: KettlePriceList;
  /** pH of the mash as read, with the temperature of the sample: it overrules the proton balance. */
  readonly mashPh?: PhReading;
  /** Draws behind the bands, 20-1000; default 200. */
  readonly draws?: number;
  readonly seed?: number;
}

/** Where the wort is. */
export type WortAt =
  | 'mash'
  | 'run-off'
  | 'kettle-full'
  | 'boil'
  | 'stand'
  | 'knock-out'
  | 'tank'
  | 'pitched';

/** The run-off now. Litres as the kettle is read. */
export interface LauterNow {
  readonly collectedL: number;
  readonly readC: number;
  readonly kettleL: number;
  /** What the model expects at the last litres read [°P]. */
  readonly nowKettlePlato: Band;
  readonly nowTapPlato: Band;
  /** The kettle must show this now for the beer wanted [°P]. */
  readonly neededNowPlato?: number;
  /** What was read there, and how far it lies from what is needed [°P]. */
  readonly readPlato?: number;
  readonly missPlato?: number;
  readonly fullColdL: Band;
  readonly fullPlato: Band;
  readonly fullExtractKg: Band;
  readonly lastPlato: Band;
  readonly shutAtL: Band;
  readonly spargeLeftL: Band;
  readonly stopAtL?: Band;
  /** Litres at which the runnings reach the pH to stop at, from those read; `now`: past it. */
  readonly stopByPhL?: number | 'now';
  readonly endMin: Band;
  /** Flow against bed and history; left out until a flow was read. */
  readonly watch?: BedJudgement & { readonly readings: readonly FlowReading[] };
  /** In the order to try them, when the bed is closing. */
  readonly remedies: readonly Remedy[];
  /** Set when the readings do not fit what the tun can do. */
  readonly doubt?: string;
  /** What to do now, in one sentence. */
  readonly advice: string;
}

/** One way on from the full kettle. Volumes cold unless they say hot. */
export interface KettleWayLine {
  readonly way: KettleWay;
  readonly possible: boolean;
  readonly whyNot?: string;
  readonly minutes: number;
  readonly liquorL: number;
  readonly extractKg: number;
  readonly castOutL: number;
  readonly plato: number;
  readonly extractInKettleKg: number;
  /** With the hops re-timed, and if nobody touches them. */
  readonly ibu: number;
  readonly ibuHopsKept: number;
  readonly hopChange?: string;
  readonly hops: readonly HopLine[];
  readonly colourEbc?: number;
  readonly freeDmsUgL?: number;
  /** End of the boil, and wort in the tank [min after day start]. */
  readonly boilEndMin: number;
  readonly finishMin: number;
  readonly costChange: number;
  readonly foam: 'room' | 'watch' | 'will-boil-over';
}

export interface KettleNow {
  readonly coldL: number;
  readonly plato: number;
  readonly extractKg: number;
  readonly ph20?: number;
  readonly wantedPlato: number;
  readonly wantedIbu: number;
  readonly options: readonly KettleWayLine[];
  readonly chosen?: KettleWay;
}

export interface BoilNow {
  readonly begunMin?: number;
  readonly endMin: Band;
  readonly minutes: number;
  readonly boilC: number;
  readonly headspace: Band;
  readonly foam: 'room' | 'watch' | 'will-boil-over';
  /** Hops as they now go in [min after day start]. */
  readonly hops: readonly (HopLine & { readonly atMin: number })[];
  /** What a reading at the end of the boil asks for; left out before one. */
  readonly correction?: EndCorrection;
}

export interface KnockOutNow {
  readonly fromMin: Band;
  readonly endMin: Band;
  readonly wortLMin: Band;
  readonly outC: Band;
  readonly liquorL: Band;
  readonly liquorInC: number;
  readonly toC: number;
  readonly reachedShare: number;
  readonly leftKWh: Band;
  readonly advice: string;
}

/** Extract at a stage, planned and as it now stands [kg]. */
export interface AccountLine {
  readonly stage: 'mash' | WortStage['stage'];
  readonly planned: Band;
  readonly now: Band;
  readonly measured: boolean;
  readonly lostKg: Band;
}

export interface WortDay {
  readonly at: WortAt;
  /** What comes next. */
  readonly next: { readonly move?: WortMove; readonly text: string };
  readonly stages: readonly WortStage[];
  /** The same as planned from this mash before any reading of wort. */
  readonly planned: readonly WortStage[];
  readonly lauter: LauterNow;
  /** Once the full kettle was read. */
  readonly kettle?: KettleNow;
  readonly boil: BoilNow;
  readonly knockOut: KnockOutNow;
  /** Salts, acid and sparge, from the mash pH as read where it was; left out without a water report. */
  readonly liquor?: LiquorPlan;
  readonly pitch?: PitchPlan;
  readonly beer?: { readonly endPlato: Band; readonly abvPct: Band };
  readonly wishes: readonly WishLine[];
  readonly account: readonly AccountLine[];
  readonly notes: readonly string[];
}

/** What a mash comes to at the end of the boil and in the tank. */
export interface CastOut {
  readonly coldL: Band;
  readonly plato: Band;
  readonly extractKg: Band;
  readonly ibu: Band;
  readonly colourEbc?: Band;
  readonly limitApparentPct?: Band;
  readonly tankL: Band;
  /** Wort in the tank [min after day start]. */
  readonly finishMin: Band;
}
