/** What the planner gives back. Every figure with doubt is a band over the kit's ensemble. */
import type { Move, PullWay, Trace } from '@ladlework/brewhouse';
import type { PlanDocument } from './document.ts';
import type { MashBand } from './mash-bands.ts';
import type { WortPlan } from './wort/plan-types.ts';

/** 10 %, 50 % and 90 % of the ensemble. */
export interface Band {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** One pull and its return. Volumes are what the brewer measures at the pull's temperature. */
export interface PlannedReturn {
  /** Index of the pull, from 1. */
  readonly pull: number;
  readonly moveIds: { readonly pull: readonly string[]; readonly return: readonly string[] };
  readonly restC: number;
  readonly targetC: number;
  /** Needed to hit the target, reserve not included. */
  readonly pullL: Band;
  readonly pullKg: Band;
  /** Share of the mash volume that is. */
  readonly pullShare: Band;
  /** Pulled above the need. */
  readonly reserveL: Band;
  /** What to pull in all, and how that is measured. */
  readonly takeL: number;
  readonly portions: number;
  readonly potLoads: readonly { readonly vessel: string; readonly litres: number }[];
  readonly tunBeforeC: Band;
  readonly arrivalC: Band;
  /** Landing when the planned need goes back, unread. */
  readonly landingC: Band;
  /** Landing when the brewer reads and stops at the target. */
  readonly guidedLandingC: Band;
  /** Minutes from the pull's first portion to the return's last. */
  readonly awayMin: Band;
  /** Where the textbook sum says the same pull would land. */
  readonly textbookC: number;
}

/** Limits that clash, and single changes that free them, each simulated. */
export interface Clash {
  readonly code: string;
  /** For the brewer, in plain words. */
  readonly text: string;
  readonly vessel?: string;
  readonly wanted?: number;
  readonly possible?: number;
  readonly unit?: string;
}

export interface Change {
  readonly code:
    | 'boiling-liquor'
    | 'another-pull'
    | 'second-pot'
    | 'bigger-pot'
    | 'more-time'
    | 'thicker-mash'
    | 'lower-rest'
    | 'direct-heat';
  readonly text: string;
  readonly amount: number;
  readonly unit: string;
  /** Landing with this change, simulated. */
  readonly landingC: Band;
  readonly addedMin: number;
  /** The brew with this change made, to be planned as it stands. */
  readonly document: PlanDocument;
}

/** A caution at the move where it applies. */
export interface Caution {
  readonly moveId: string;
  readonly code: 'scald' | 'boil-over' | 'lifting' | 'burner-co' | 'scorch' | 'ph';
  readonly text: string;
  /** How bad, among cautions of one code: [°C] for scald, [kg] a time for lifting. */
  readonly severity?: number;
}

/** What the warmer mash does to run-off, against running off at the first rest. */
export interface RunOffEffect {
  readonly fromC: number;
  readonly toC: Band;
  readonly wortPlato: number;
  readonly viscosityFromMPas: number;
  readonly viscosityToMPas: Band;
  /** Flow at the same head against the cooler mash, 1 = same. */
  readonly flowFactor: Band;
}

/** What of a plan the timetable of its day is built from. */
export interface TimedMash {
  readonly strike: { readonly litres: number; readonly tempC: Pick<Band, 'likely'> };
  readonly moves: readonly PlannedMove[];
  /** Where it ends up is wanted only to draw the rest of the day. */
  readonly trace: Pick<Trace, 'moves'> & Partial<Pick<Trace, 'end'>>;
  readonly wortPlan?: WortPlan;
}

export interface PlannedMove {
  readonly move: Move;
  readonly startMin: Band;
  readonly endMin: Band;
  /** Vessel acted on, before and after. */
  readonly fromC: Band;
  readonly toC: Band;
  readonly volumeL: number;
  /** For a pull: what the brewer's hands do to get the thickness asked for. */
  readonly way?: PullWay;
}

export interface Plan {
  readonly feasible: boolean;
  readonly clashes: readonly Clash[];
  readonly changes: readonly Change[];
  readonly strike: { readonly litres: number; readonly tempC: Band; readonly mashL: number };
  /** Minutes the mash takes above the minutes its rests ask for. */
  readonly addedMin: Band;
  readonly mashEndMin: Band;
  readonly moves: readonly PlannedMove[];
  readonly returns: readonly PlannedReturn[];
  readonly runOff: RunOffEffect;
  readonly cautions: readonly Caution[];
  /** The likely day, for the score. */
  readonly trace: Trace;
  /** Low and high temperature of each vessel on the likely day's clock, for the band. */
  readonly curveBands: readonly {
    readonly vessel: string;
    readonly timeMin: readonly number[];
    readonly lowC: readonly number[];
    readonly highC: readonly number[];
  }[];
  /** Starch, extract, fermentables and enzymes per vessel, where the mash kinetics ran. */
  readonly mashBands: readonly MashBand[];
  /** When to test with iodine, and the chance that it shows starch then. */
  readonly iodine: readonly {
    /** Rest at whose end the test is made, from 1. */
    readonly rest: number;
    readonly atMin: number;
    readonly positiveChance: number;
    /** What clears it if it is blue, for the brewer; left out without a base malt to help with. */
    readonly ifBlue?: string;
  }[];
  /** What the mash takes from the burners, and what it steams away. */
  readonly energy: MashEnergy;
  /** Predicted wort, when the mash kinetics ran. */
  readonly wort?: WortForecast;
  /** From the mash to the pitched wort; left out where the mash kinetics did not run. */
  readonly wortPlan?: WortPlan;
  /** Why there is no way from this mash to the tank, where there is none. */
  readonly noWortPlan?: string;
}

/** From cold liquor to the end of the mash. */
export interface MashEnergy {
  /** Fuel or current as the meter counts it [kWh]. */
  readonly burntKWh: Band;
  /** Of that, heat that reached a vessel [kWh]. */
  readonly heatKWh: Band;
  /** Of the heat, what vapour carried off and what walls, surfaces and vessels lost [kWh]. */
  readonly vapourKWh: Band;
  readonly lostKWh: Band;
  /** Water steamed away, from the pulls' boils and from every open surface [kg]. */
  readonly evaporatedKg: Band;
  /** Of that, in heating, holding and boiling the pulls [kg]. */
  readonly boiledOffKg: Band;
}

/** Absolute values carry the structural error; differences between plans carry the narrow band. */
export interface WortForecast {
  readonly extractKg: Band;
  readonly wortPlato: Band;
  /** Fermentable share of extract, 0-1. */
  readonly fermentableShare: Band;
  /** Apparent limit of attenuation [%]: absolute band, and the narrow one for comparing plans. */
  readonly limitApparentPct: Band;
  readonly limitApparentNarrowPct: Band;
  readonly limitRealPct: Band;
  readonly alphaLeft: Band;
  readonly betaLeft: Band;
  readonly starchLeftShare: Band;
  /** Colour the decoction boils add [EBC]. */
  readonly colourAddedEbc: Band;
  readonly smmLeftShare: Band;
  /** What the boils drove out of the malt's SMM, 0-1. */
  readonly smmRemovedShare: Band;
  /** Why a figure does not hold here; empty when it does. */
  readonly outside: readonly string[];
}
