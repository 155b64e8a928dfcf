/**
 * A brew day as a scheduling problem: activities with durations, lags between their edges, vessels
 * and tools that serve one content at a time, and named hands. Whole minutes after day start.
 */
import type { Band } from '../plan.ts';

/** A vessel an activity works on, and whose content stands in it; the same content shares it. */
export interface Use {
  readonly vessel: string;
  readonly content: string;
}

/**
 * busy: the hands do this and nothing else. at-hand: somebody of these is in the house and may do
 * other work beside it. away: the person is not there at all, as in a break.
 */
export type NeedKind = 'busy' | 'at-hand' | 'away';

export interface HandNeed {
  readonly kind: NeedKind;
  /** Letters of the hands that can do it, the one asked first in front. */
  readonly anyOf: readonly string[];
  /** How many of them, 1 or more. */
  readonly count: number;
}

export interface Activity {
  readonly id: string;
  /** What the brewer reads, in trade words. */
  readonly name: string;
  /** Duration [min]; the timetable is solved with the likely one, rounded up to whole minutes. */
  readonly minutes: Band;
  /** How much longer than that it may take where that helps [min]; left out: not at all. */
  readonly stretchMin?: number;
  readonly vessels: readonly Use[];
  /** Burners, pump, hoses, cooler: one activity at a time. */
  readonly tools: readonly string[];
  readonly hands: readonly HandNeed[];
  readonly earliestMin?: number;
  readonly latestEndMin?: number;
  /** Starts exactly then: a delivery, or a move that is under way. */
  readonly fixedStartMin?: number;
  /** Ended exactly then: a move that is done. */
  readonly fixedEndMin?: number;
  /** Nobody writes down that it was done: on the day it is over when its time is over. */
  readonly passes?: boolean;
}

export interface Moment {
  readonly activity: string;
  readonly edge: 'start' | 'end';
}

/** Minutes that must, and that may at most, lie between two edges. */
export interface Lag {
  readonly from: Moment;
  readonly to: Moment;
  readonly leastMin?: number;
  readonly mostMin?: number;
  /** Why there is a most, for the brewer. */
  readonly why?: string;
}

/** Content that stands in a vessel from the start of one activity to the end of another. */
export interface Hold {
  readonly vessel: string;
  readonly content: string;
  readonly from: string;
  readonly to: string;
}

/** Hot liquor that stands between two moments: what it must be given beforehand, or again. */
export interface Standing {
  readonly from: Moment;
  readonly to: Moment;
  /** Heat for so many whole minutes of standing, from 0 on, never falling [Wh]; longer: the last. */
  readonly heatWh: readonly number[];
}

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly fromMin?: number;
  readonly untilMin?: number;
}

export interface TimetableProblem {
  readonly activities: readonly Activity[];
  readonly lags: readonly Lag[];
  readonly holds: readonly Hold[];
  /** The brewer first. */
  readonly people: readonly Person[];
  /** Names of vessels and tools by id. */
  readonly names: Readonly<Record<string, string>>;
  /** The day must end by then, when that is asked as a limit. */
  readonly finishByMin?: number;
  /** Hot liquor that stands, and what that costs. */
  readonly standings: readonly Standing[];
}

/** Whole minutes an activity takes at least. */
export function leastMinutes(activity: Activity): number {
  return Math.max(0, Math.ceil(activity.minutes.likely - 1e-6));
}

/** A problem that names what it does not have; a bug of whoever built it. */
export class UnknownActivity extends Error {}
