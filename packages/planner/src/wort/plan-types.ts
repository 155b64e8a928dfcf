/** What the plan says of the way from the mash to the pitched wort. Plain data: it goes over a worker's door and into JSON. */
import type {
  ExtractLine,
  KettleWay,
  MashWort,
  Pitching,
  SaltPlan,
  WortStage,
} from '@ladlework/brewhouse';
import type { Band } from '../plan.ts';

/** The mash as it is handed to the lauter tun, with its doubt: enough to draw it again anywhere. */
export interface MashOutcome {
  readonly likely: MashWort;
  /** One standard deviation of each, structural error included. */
  readonly sd: {
    readonly extractKg: number;
    readonly limitApparentPct: number;
    readonly colourEbc: number;
    readonly precursorLeft: number;
  };
  /** End of the mash [min after day start], and the bed then [°C]. */
  readonly endMin: number;
  readonly tempC: number;
}

/** One wish of the brewer against what comes. */
export interface WishLine {
  readonly what:
    | 'tank-litres'
    | 'extract'
    | 'colour'
    | 'bitterness'
    | 'attenuation'
    | 'mash-ph'
    | 'liquor';
  /** Of both figures: L, °P, EBC, mg/L, %, pH, mg/L. */
  readonly unit: string;
  readonly wanted: number;
  readonly got: Band;
  /** True when the wish lies in the band. */
  readonly met: boolean;
  /** What would bring it there; left out when it is met or nothing here does. */
  readonly mend?: string;
}

/** The grist against the beer wanted. */
export interface GristPlan {
  readonly gristKg: number;
  /** Extract at every stage, likely. */
  readonly account: readonly ExtractLine[];
  /** Kilograms for the extract and the volume wanted, in the order of the malts; in whole bags too. */
  readonly wanted?: {
    readonly kg: readonly number[];
    readonly bagsKg: readonly number[];
    /** In whole bags: strength against the wish [°P], or litres at the strength wished. */
    readonly bagsPlatoChange: number;
    readonly bagsTankL: number;
  };
}

/** Liquor for the brew. */
export interface LiquorPlan {
  readonly mashL: number;
  readonly spargeL: number;
  /** Why the report cannot be true; left out when it can. */
  readonly doubt?: string;
  readonly residualAlkalinityMgLCaCO3: { readonly before: number; readonly after: number };
  /** Salts for mash and sparge liquor together. */
  readonly salts: SaltPlan;
  readonly mashPh: {
    readonly withoutAcid: Band;
    readonly wanted?: number;
    readonly acidMEq: number;
    readonly acidML: number;
    /** With the acid in, and once the boiled parts are back. */
    readonly ph: Band;
    readonly afterDecoctions: Band;
  };
  readonly sparge: { readonly toPh: number; readonly acidMEq: number; readonly acidML: number };
}

/** Run-off. Litres as the kettle is read, at `readC`. */
export interface LauterPlan {
  readonly by: 'continuous' | 'batch' | 'none';
  readonly readC: number;
  readonly fromMin: Band;
  readonly flowLMin: number;
  readonly minutes: Band;
  readonly kettleL: number;
  readonly targetPlato: number;
  readonly firstPlato: Band;
  readonly lastPlato: Band;
  readonly spargeL: Band;
  readonly shutAtL: Band;
  readonly stopPlato: number;
  readonly stopPh: number;
  /** Litres at which the runnings come down to the stop strength; left out: they never do. */
  readonly stopAtL?: Band;
  /** Litres of each refill of a batch sparge. */
  readonly fillsL?: readonly number[];
  /** Depth of the bed [m], and the flow its permeability lets through at a usual head [L/min]. */
  readonly bedDepthM: number;
  readonly bedFlowLMin: number;
  /** The gravity there should be, along the run-off. */
  readonly course: readonly {
    readonly collectedL: number;
    readonly tapPlato: Band;
    readonly kettlePlato: Band;
  }[];
}

export interface HopLine {
  readonly name: string;
  readonly kg: number;
  /** Alpha acids today [%]. */
  readonly alphaPct: number;
  readonly boilMin: number | 'stand';
  readonly ibu: number;
  /** Reckoned the other way: kinetics for the kettle, the slowed formula for the stand. */
  readonly otherIbu: number;
}

export interface BoilPlanned {
  readonly vessel: string;
  readonly boilC: number;
  readonly netKW: number;
  readonly minutes: number;
  readonly heatUpMin: Band;
  readonly evaporationKgH: Band;
  readonly headspace: Band;
  readonly foam: 'room' | 'watch' | 'will-boil-over';
  readonly boilOverShare: number;
  readonly hops: readonly HopLine[];
  /** Kilograms in the same proportions for the bitterness wanted. */
  readonly hopsForWishKg?: readonly number[];
  /** Free DMS over what is tasted: shorten the stand or boil on. */
  readonly dmsCaution?: string;
}

export interface KnockOutPlan {
  readonly how: 'plate' | 'coil';
  readonly liquorInC: number;
  readonly toC: number;
  readonly wortLMin: Band;
  readonly minutes: Band;
  readonly outC: Band;
  readonly liquorL: Band;
  readonly reachedShare: number;
  /** Heat still to be taken out in the tank [kWh]. */
  readonly leftKWh: Band;
}

export interface PitchPlan extends Pitching {
  readonly tC: number;
  readonly rate: number;
  readonly starter?: readonly {
    readonly volumeL: number;
    readonly hours: number;
    readonly cells: number;
    readonly endsAfterH: number;
  }[];
}

/** From the mash to the pitched wort. */
export interface WortPlan {
  readonly mash: MashOutcome;
  readonly stages: readonly WortStage[];
  readonly wishes: readonly WishLine[];
  readonly grist: GristPlan;
  /** Left out when the kit has no water report. */
  readonly liquor?: LiquorPlan;
  readonly lauter: LauterPlan;
  readonly boil: BoilPlanned;
  readonly knockOut: KnockOutPlan;
  /** Left out when the beer names no yeast. */
  readonly pitch?: PitchPlan;
  readonly beer?: { readonly endPlato: Band; readonly abvPct: Band };
  /** Figures of the trade that stand in for what kit and beer do not say. */
  readonly assumed: readonly string[];
  /** What could not be reckoned, and cautions, in words for the brewer. */
  readonly notes: readonly string[];
}

/** Where in the day wort is read. */
export type WortPoint = 'run-off' | 'kettle-full' | 'cast-out' | 'knock-out' | 'tank';

/** One reading on the way, as taken. Litres at `tempC`; °P of a cooled sample; pH at `phC`. */
export interface WortRead {
  readonly point: WortPoint;
  readonly litres?: number;
  readonly tempC?: number;
  readonly plato?: number;
  readonly ph?: number;
  readonly phC?: number;
  /** Runnings at the tap. */
  readonly tapPlato?: number;
  readonly tapPh?: number;
  readonly flowLMin?: number;
  /** Liquid above the bed [m]. */
  readonly headM?: number;
  /** Cold liquor into the cooler, and wort out of it. */
  readonly liquorInC?: number;
  readonly wortOutC?: number;
}

/** Moves of the day after the mash, as the timetable names its activities. */
export type WortMove = 'run-off' | 'sparge-shut' | 'boil-wort' | 'stand' | 'knock-out' | 'pitch';

/** What happened after the mash, in the order of time. Minutes after day start. */
export type WortEntry =
  | { readonly kind: 'begun' | 'done'; readonly move: WortMove; readonly atMin: number }
  | { readonly kind: 'read'; readonly read: WortRead; readonly atMin: number; readonly id?: string }
  | {
      readonly kind: 'chosen';
      readonly way: KettleWay;
      readonly minutes: number;
      readonly liquorL: number;
      readonly extractKg: number;
      readonly atMin: number;
    };
