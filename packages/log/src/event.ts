/**
 * What can be written in the brew log. An event is never changed or removed; what was wrong in one
 * is said by a later event that names it.
 */
import type { Probe } from './probe.ts';
import type { PlanSummary } from './summary.ts';

/** Anything kept with an id and a name: a kit or a beer, as the rooms above describe them. */
export interface Named {
  readonly id: string;
  readonly name: string;
}

/** A plan document as far as the log looks into it. */
export interface LoggedDocument {
  readonly kit: Named;
  readonly beer: Named;
}

/** What a reading measures. SI: °C, L, °P, pH, 0 (iodine-negative) to 1 (positive), m of level. */
export type ReadingWhat = 'temp' | 'volume' | 'gravity' | 'ph' | 'iodine' | 'level';

/** One reading, as typed and as meant. */
export interface ReadingData {
  readonly vessel: string;
  readonly what: ReadingWhat;
  /** In the unit of `what`. */
  readonly value: number;
  /** The brewer's unit, and the entry as it was typed. */
  readonly unit: string;
  readonly text: string;
  /** Read in one place, or stirred and read in three. */
  readonly places: 1 | 3;
  /** True when the places agreed within 1 K, or the brewer said it had settled. */
  readonly settled: boolean;
  /** Standard error when the places gave one [unit of `what`]. */
  readonly sdK?: number;
  readonly moveId?: string;
  /**
   * Probe whose number the brewer took for true; `sdK` is then how far off it may be all day
   * [K; for a volume a share].
   */
  readonly probe?: string;
}

/** Where in the day wort is read. */
export type WortPoint = 'run-off' | 'kettle-full' | 'cast-out' | 'knock-out' | 'tank';

/** One reading of wort: what one dip, one sample and one look gave together. At least one figure. */
export interface WortReadData {
  readonly point: WortPoint;
  /** Litres as read, at `tempC` [°C]. */
  readonly litres?: number;
  readonly tempC?: number;
  /** Cooled sample of all of it [°P], and pH at `phC` [°C]. */
  readonly plato?: number;
  readonly ph?: number;
  readonly phC?: number;
  /** Runnings at the tap [°P], pH at 20 °C, flow [L/min], liquid above the bed [m]. */
  readonly tapPlato?: number;
  readonly tapPh?: number;
  readonly flowLMin?: number;
  readonly headM?: number;
  /** Cold liquor into the cooler and wort out of it [°C]. */
  readonly liquorInC?: number;
  readonly wortOutC?: number;
  /** As it was typed. */
  readonly text: string;
}

/** The way taken from a full kettle. */
export interface KettleChoiceData {
  readonly way: 'accept' | 'boil-longer' | 'boil-shorter' | 'add-liquor' | 'add-extract';
  /** Boil in all [min]. */
  readonly minutes: number;
  readonly liquorL: number;
  readonly extractKg: number;
  readonly text: string;
}

/** What can go wrong on the day. */
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

/** Something that went wrong, as somebody told it. */
export interface MissData {
  readonly code: MissCode;
  /** In plain words, for the record. */
  readonly text: string;
  /** Vessel it happened to. */
  readonly vessel?: string;
  /** Lost, or left where it cannot be got at [L as it stands there]. */
  readonly litres?: number;
  /** How much longer it takes [min]. */
  readonly minutes?: number;
  /** Burner, route or pair of hands that is out. */
  readonly thing?: string;
  readonly moveId?: string;
}

/** Clock of the brewery, for writing times of day from epoch times. */
export interface BreweryClock {
  /** Local time minus UTC [min], -840 to 840. */
  readonly utcOffsetMin: number;
  /** IANA zone when known. */
  readonly zone?: string;
}

/** A move as far as the log looks into it; the rooms above describe it whole. */
export interface LoggedMove {
  readonly id: string;
  readonly kind: string;
}

/** The data each type of event carries. */
export interface EventData {
  'kit-saved': { readonly kit: Named };
  'kit-retired': Record<string, never>;
  /** The mash it is brewed with, the usual day, and the kit they are meant for, where known. */
  'beer-saved': {
    readonly beer: Named;
    readonly mash?: object;
    readonly day?: object;
    readonly kitId?: string;
  };
  'beer-retired': Record<string, never>;
  /** A probe of the house; what it sends is kept apart from the log. */
  'probe-saved': { readonly probe: Probe };
  'probe-retired': Record<string, never>;
  'brew-planned': {
    readonly document: LoggedDocument;
    readonly planSummary: PlanSummary;
    /** The brew whose day this one shares, on the same kit and after it. */
    readonly dayOf?: string;
  };
  'plan-changed': {
    readonly document: LoggedDocument;
    readonly planSummary: PlanSummary;
    readonly reason: string;
    /** Every move of the day as it now goes; left out: those of the document's own plan. */
    readonly moves?: readonly LoggedMove[];
  };
  'brew-started': { readonly startAtMs: number; readonly clock: BreweryClock };
  'move-begun': { readonly moveId: string };
  'move-done': { readonly moveId: string };
  reading: ReadingData;
  'ladles-returned': { readonly moveId: string; readonly portions: number };
  'miss-mended': {
    readonly code: string;
    readonly text: string;
    readonly amountL?: number;
    readonly minutes?: number;
    readonly moveId?: string;
  };
  'miss-told': MissData;
  /** The burner burns again, the pump runs, the helper is back; `miss` is the event that told it. */
  'miss-over': { readonly miss: string };
  'wort-read': WortReadData;
  'kettle-chosen': KettleChoiceData;
  'caution-seen': { readonly moveId: string; readonly code: string };
  'gate-confirmed': { readonly code: string };
  /** A helper wants the brewer at the vessel; answered by a gate of its own. */
  'brewer-called': { readonly moveId?: string };
  note: { readonly text: string; readonly moveId?: string };
  'brew-ended': { readonly reason: 'finished' | 'abandoned'; readonly text?: string };
  corrected: Correction;
  withdrawn: { readonly reason: string };
}

export type EventType = keyof EventData;

/** Types a correction may give new data for. */
export type CorrectableType = Exclude<EventType, 'corrected' | 'withdrawn'>;

/** New data for the event named in `corrects`, whole, not a difference. */
export type Correction = {
  [K in CorrectableType]: {
    readonly of: K;
    readonly data: EventData[K];
    /** When it was true at the vessel, if that was wrong too. */
    readonly readAtMs?: number;
    readonly reason: string;
  };
}[CorrectableType];

/**
 * How the device's clock stood when an event was entered. Both times of the event are mended by it:
 * take the offset off again, and there is what the device itself showed.
 */
export interface ClockNote {
  /** What was added to the device's clock [ms]. */
  readonly offsetMs: number;
  /** The most that is wrong [ms]; absent when no server had answered since the page was opened. */
  readonly errorMs?: number;
  /** Jumps of the clock that may have been sleep or may have been a hand [ms]. */
  readonly doubtMs?: number;
}

/** What every event carries. */
export interface Envelope {
  /** Made on the device: 128 random bits, 32 lower-case hex digits. */
  readonly id: string;
  /** `kit:<id>`, `beer:<id>`, `probe:<id>` or `brew:<id>`. */
  readonly stream: string;
  /** When it was true at the vessel [ms since 1970]. */
  readonly readAtMs: number;
  /** When it was typed [ms since 1970]. */
  readonly enteredAtMs: number;
  /** Letter or name of the person. */
  readonly who: string;
  /** Made once per tablet, never shared. */
  readonly device: string;
  /** Counts the device's events, up by one. */
  readonly counter: number;
  /** Absent where the clock is the brewhouse's own. */
  readonly clock?: ClockNote;
  /** The event this one corrects or withdraws. */
  readonly corrects?: string;
}

/** One event of the log. */
export type LogEvent<T extends EventType = EventType> = {
  [K in T]: Envelope & { readonly type: K; readonly data: EventData[K] };
}[T];

export type StreamKind = 'kit' | 'beer' | 'probe' | 'brew';

const KINDS: readonly string[] = ['kit', 'beer', 'probe', 'brew'] satisfies StreamKind[];

/** Name of a stream from its kind and id. */
export function streamName(kind: StreamKind, id: string): string {
  return `${kind}:${id}`;
}

/**
 * Kind and id of a stream.
 *
 * @returns undefined when the text names no stream
 */
export function streamParts(stream: string): { kind: StreamKind; id: string } | undefined {
  const colon = stream.indexOf(':');
  const kind = stream.slice(0, Math.max(0, colon));
  const id = stream.slice(colon + 1);
  if (!KINDS.includes(kind) || id === '') return undefined;
  return { kind: kind as StreamKind, id };
}
