/** What the page asks of the engine, and how the answer comes back over the worker's door. */
import type { Kit, Move, VesselCurve } from '@ladlework/brewhouse';
import type { Paper, PaperFacts } from '@ladlework/paper';
import type {
  AttenuationAdvice,
  DayAhead,
  DayEntry,
  DayForecast,
  FaultName,
  FieldWorth,
  HelpTable,
  KettlePriceList,
  KitChange,
  LandingForecast,
  LateReturn,
  MashBand,
  MashNow,
  MashOutcome,
  Menu,
  Miss,
  MoveAhead,
  PairedWays,
  Plan,
  PlanDocument,
  Progress,
  Proof,
  Questioned,
  ReadingWorth,
  Rehearsal,
  Repair,
  Replan,
  ReturnGuide,
  ScaleOptions,
  Scaling,
  SearchProgress,
  StarchRescue,
  SubstituteOptions,
  Substitution,
  Targets,
  Timetable,
  VesselNow,
  WayChoice,
  WayCode,
  WayOut,
  WhatIfPlan,
  WideLanding,
  WortDay,
  WortEntry,
  WortForecast,
} from '@ladlework/planner';
import type { Result } from '@ladlework/quantity';

/** A running day, as the log has it. */
export interface DayAsk {
  /** Names brew and plan; the engine keeps one day at a time. */
  readonly key: string;
  readonly document: PlanDocument;
  readonly moves: readonly Move[];
  readonly entries: readonly DayEntry[];
  /** Minutes after the day began. */
  readonly nowMin: number;
}

/** A running day after a miss; `planned` is `plan.wortPlan.mash`. */
export interface MissAsk extends DayAsk {
  readonly miss: Miss;
  readonly planned?: MashOutcome;
}

/** What stands there now. */
export interface DayHere {
  readonly vessels: readonly VesselNow[];
  readonly landing: LandingForecast | undefined;
  readonly guide: ReturnGuide | undefined;
  readonly questioned: readonly Questioned[];
}

/** What is behind and what is to come. */
export interface DayOutlook {
  readonly history: readonly VesselCurve[];
  readonly ahead: DayAhead;
  /** Starch, extract and enzymes of each vessel, behind and ahead. */
  readonly mashBands: readonly MashBand[];
  readonly forecast: DayForecast;
  /** Where the vessels stand once the repairs still to do are done; left out when there are none. */
  readonly mended: readonly VesselNow[] | undefined;
  readonly worth: readonly ReadingWorth[];
  /** What makes the next landing wide; left out when no return is left. */
  readonly wide: WideLanding | undefined;
  /** What the mash of each vessel is like on the likely day. */
  readonly mash: readonly MashNow[];
}

/** The brews of one day on one kit, in the order they are begun, with the plan of each. */
export interface DayPlans {
  readonly documents: readonly PlanDocument[];
  readonly plans: readonly Plan[];
}

/** Each kind of question with its answer; one question of a kind is under way at a time. */
export interface EngineCalls {
  plan: { ask: PlanDocument; answer: Plan };
  /** The whole day around plans that are feasible; the wish is in minutes after day start. */
  timetable: {
    ask: DayPlans & { readonly wishFinishMin: number | undefined };
    answer: Timetable;
  };
  /** The rest of a day under way; `before` is left out when no timetable is known yet. */
  replan: {
    ask: DayPlans & {
      readonly before: Timetable | undefined;
      readonly progress: readonly Progress[];
      readonly nowMin: number;
      /** The mash as it is forecast now. */
      readonly ahead: readonly MoveAhead[];
    };
    answer: Replan & { readonly before: Timetable };
  };
  /** The brew sheet and the ruler charts of a plan. */
  paper: {
    ask: { readonly document: PlanDocument; readonly plan: Plan; readonly facts: PaperFacts };
    answer: Paper;
  };
  /** What a return costs that comes so many minutes late. */
  late: {
    ask: { readonly document: PlanDocument; readonly lateMin: number };
    answer: readonly LateReturn[];
  };
  /** The day on a kit nobody knows, played by the tool's own advice. */
  rehearse: {
    ask: {
      readonly document: PlanDocument;
      readonly moves: readonly Move[];
      readonly seed: number;
      readonly faults: readonly FaultName[];
    };
    answer: Rehearsal;
  };
  /** Which missing certificate figure would narrow the wort most. */
  worth: {
    ask: { readonly document: PlanDocument; readonly wort: WortForecast };
    answer: readonly FieldWorth[];
  };
  /** `returning`: the return or pour under way, to be guided. */
  here: { ask: DayAsk & { readonly returning?: string }; answer: DayHere };
  /** `mends`: repairs chosen and not yet carried out. */
  outlook: { ask: DayAsk & { readonly mends: readonly DayEntry[] }; answer: DayOutlook };
  /**
   * The wort of the running day: the mash carried on from what was read of it until the tap opens, and
   * everything after it from what was read there. `planned` is `plan.wortPlan.mash`.
   */
  wort: {
    ask: DayAsk & {
      readonly wort: readonly WortEntry[];
      readonly planned: MashOutcome;
      readonly prices?: KettlePriceList;
    };
    answer: WortDay;
  };
  /** The saccharification rest for a wanted apparent limit [%]. */
  attenuation: {
    ask: { readonly document: PlanDocument; readonly wantedPct: number };
    answer: AttenuationAdvice;
  };
  /** How long the mash is safe after a miss, and which ways there are to ask about. */
  waysOut: { ask: MissAsk; answer: WayChoice };
  /** One of them, carried to cast-out. */
  wayOut: { ask: MissAsk & { readonly way: WayCode }; answer: WayOut };
  repairs: { ask: DayAsk & { readonly targetC: number }; answer: readonly Repair[] };
  /** What clears a vessel whose iodine test was blue; nothing when the engine knows no mash there. */
  rescue: { ask: DayAsk & { readonly vessel: string }; answer: StarchRescue | undefined };
  /** The ways to brew a beer on its kit, each against each. */
  ways: { ask: PlanDocument; answer: PairedWays };
  whatIf: {
    ask: { readonly document: PlanDocument; readonly changes: readonly KitChange[] };
    answer: WhatIfPlan;
  };
  /** The menu of plans; tells how far it has come on the way. */
  search: { ask: { readonly document: PlanDocument; readonly targets: Targets }; answer: Menu };
  /** The grist without a pull; the lots to choose from are the document's. */
  instead: {
    ask: { readonly document: PlanDocument; readonly options: SubstituteOptions };
    answer: Substitution;
  };
  /** The brew on another kit. */
  scale: {
    ask: { readonly document: PlanDocument; readonly kit: Kit; readonly options: ScaleOptions };
    answer: Scaling;
  };
  /** Why a plan cannot be done as asked; nothing when it can. */
  no: {
    ask: { readonly document: PlanDocument; readonly targets: Targets };
    answer: Proof | undefined;
  };
  /** What would help most; prices are put in on the page. */
  help: { ask: PlanDocument; answer: HelpTable };
}
export type CallKind = keyof EngineCalls;

/** Why there is no answer. `superseded`: a newer question of the kind was asked. */
export interface EngineError {
  readonly code: 'superseded' | 'cancelled' | 'broken';
  /** For the brewer. */
  readonly message: string;
}

export type Answer<K extends CallKind> = Result<EngineCalls[K]['answer'], EngineError>;

export type Question = {
  [K in CallKind]: {
    readonly serial: number;
    readonly kind: K;
    readonly ask: EngineCalls[K]['ask'];
  };
}[CallKind];

export type Reply =
  | { readonly serial: number; readonly result: Result<unknown, EngineError> }
  /** The search is under way; its result follows. */
  | { readonly serial: number; readonly progress: SearchProgress };
