/** The day under way: solved again around what is done, and what moved and why. */
import type { PlanDocument } from '../document.ts';
import type { Plan } from '../plan.ts';
import type { TimetableClash } from './clash.ts';
import type { DayActivity } from './day-builder.ts';
import { askOf, type DayProblem } from './day-problem.ts';
import type { Lag, Moment } from './problem.ts';
import {
  clockOf,
  type SolvedDay,
  solveDay,
  type Timetable,
  type TimetableOptions,
} from './timetable-of.ts';

/** What was tapped: an activity begun, and ended when it is. Minutes after day start. */
export interface Progress {
  readonly id: string;
  readonly startMin: number;
  readonly endMin?: number;
}

export interface Moved {
  readonly id: string;
  readonly name: string;
  readonly fromMin: number;
  readonly toMin: number;
  /** In plain words: what it now waits for. */
  readonly why: string;
}

export interface Replan {
  readonly timetable: Timetable;
  readonly moved: readonly Moved[];
  /** Limits on waiting that what has happened already broke; they were let go. */
  readonly letGo: readonly TimetableClash[];
}

/** Moves of less than this are not worth telling [min]. */
const MOVED_MIN = 1;
/** Limits let go one after the other before we give up. */
const MOST_LET_GO = 12;

/**
 * Solves the rest of a day.
 * @param documents as for timetableOf
 * @param plans as for timetableOf
 * @param options as for timetableOf
 * @param before the timetable the day went by so far
 * @param progress everything begun or done
 * @param nowMin now [min after day start]; nothing else starts earlier
 * @returns the new timetable; what is done or under way stands where it is
 */
export function replan(
  documents: PlanDocument | readonly PlanDocument[],
  plans: Plan | readonly Plan[],
  options: TimetableOptions,
  before: Timetable,
  progress: readonly Progress[],
  nowMin: number,
): Replan {
  const docs = Array.isArray(documents) ? documents : [documents as PlanDocument];
  const all = Array.isArray(plans) ? plans : [plans as Plan];
  const asked = { ...askOf(docs), ...options };
  const now = Math.ceil(nowMin);
  const letGo: TimetableClash[] = [];
  const run = (): SolvedDay =>
    solveDay(docs, all, asked, (day) => around(day, before, progress, now, letGo), before.choices);
  let solved = run();
  // The mash does not stop because a limit was missed: what can only be waited out is let go.
  while (solved.timetable.proven === 'infeasible' && letGo.length < MOST_LET_GO) {
    const soft = solved.timetable.clashes.filter((c) => c.code === 'waits' || c.code === 'lasts');
    if (soft.length === 0) break;
    letGo.push(...soft);
    solved = run();
  }
  return { timetable: solved.timetable, moved: movedOf(before, solved, progress, now), letGo };
}

/** The problem with what has happened worked in. */
function around(
  day: DayProblem,
  before: Timetable,
  progress: readonly Progress[],
  now: number,
  letGo: readonly TimetableClash[],
): DayProblem {
  const seen = new Map(progress.map((p) => [p.id, p]));
  const was = new Map(before.activities.map((a) => [a.id, a]));
  const loose = new Set(letGo.filter((c) => c.code === 'lasts').flatMap((c) => c.activities));
  const activities = day.activities.map((a): DayActivity => {
    const p = seen.get(a.id);
    const free: DayActivity = loose.has(a.id) ? { ...a, stretchMin: Number.POSITIVE_INFINITY } : a;
    if (!p) {
      const fixed = a.fixedStartMin !== undefined;
      return fixed ? free : { ...free, earliestMin: Math.max(now, a.earliestMin ?? 0) };
    }
    const startMin = Math.round(p.startMin);
    const { earliestMin: _e, latestEndMin: _l, ...rest } = free;
    if (p.endMin !== undefined)
      return {
        ...rest,
        fixedStartMin: startMin,
        fixedEndMin: Math.max(startMin, Math.round(p.endMin)),
        // It is over: it stands in nobody's way any more.
        vessels: [],
        tools: [],
        hands: [],
      };
    const likely = Math.max(a.minutes.likely, now - startMin);
    return {
      ...rest,
      fixedStartMin: startMin,
      minutes: {
        low: Math.min(a.minutes.low, likely),
        likely,
        high: Math.max(a.minutes.high, likely),
      },
      // Whoever is at it stays at it.
      hands: (was.get(a.id)?.hands ?? []).map((h) => ({ kind: h.kind, anyOf: [h.id], count: 1 })),
    };
  });
  const past = (m: Moment): number | undefined => {
    const p = seen.get(m.activity);
    return m.edge === 'start' ? p?.startMin : p?.endMin;
  };
  const lags = day.problem.lags.flatMap((lag) => pastLag(lag, past, now, letGo));
  const isOver = (id: string) => seen.get(id)?.endMin !== undefined;
  const holds = day.problem.holds.filter((h) => !isOver(h.to));
  return { ...day, activities, problem: { ...day.problem, activities, lags, holds } };
}

/** A lag as far as the future can still keep it. */
function pastLag(
  lag: Lag,
  past: (m: Moment) => number | undefined,
  now: number,
  letGo: readonly TimetableClash[],
): Lag[] {
  const from = past(lag.from);
  const to = past(lag.to);
  if (from !== undefined && to !== undefined) return [];
  if (lag.mostMin === undefined) return to === undefined ? [lag] : [];
  const gone = letGo.some(
    (c) =>
      c.code === 'waits' &&
      c.activities[0] === lag.from.activity &&
      c.activities[1] === lag.to.activity,
  );
  const { mostMin, ...least } = lag;
  if (gone || to !== undefined) return [least];
  // Already waited longer than it should: then as soon as it can.
  if (from !== undefined && now - from > mostMin) return [{ ...least, mostMin: now - from }];
  return [lag];
}

/** Every activity ahead whose start moved, with the thing it now waits for. */
function movedOf(
  before: Timetable,
  { timetable, day, solved }: SolvedDay,
  progress: readonly Progress[],
  now: number,
): Moved[] {
  const touched = new Set(progress.map((p) => p.id));
  const was = new Map(before.activities.map((a) => [a.id, a]));
  const at = new Map(solved.placed.map((p) => [p.id, p]));
  const nameOf = (id: string) => timetable.activities.find((a) => a.id === id)?.name ?? id;
  const clock = (minute: number) => clockOf(timetable.dayStartMin + minute);
  const holding = (id: string, startMin: number): string | undefined => {
    for (const lag of day.problem.lags) {
      if (lag.to.activity !== id || lag.to.edge !== 'start' || lag.leastMin === undefined) continue;
      const p = at.get(lag.from.activity);
      const edge = lag.from.edge === 'start' ? p?.startMin : p?.endMin;
      if (edge !== undefined && edge + lag.leastMin === startMin && changed(lag.from.activity))
        return lag.from.activity;
    }
    for (const o of solved.orders)
      if (o.after === id && at.get(o.before)?.endMin === startMin && changed(o.before))
        return o.before;
    return undefined;
  };
  const changed = (id: string): boolean => {
    const [old, p] = [was.get(id), at.get(id)];
    return !old || !p || old.endMin !== p.endMin || old.startMin !== p.startMin;
  };
  return timetable.activities.flatMap((a) => {
    const old = was.get(a.id);
    if (!old || touched.has(a.id) || Math.abs(a.startMin - old.startMin) < MOVED_MIN) return [];
    const cause = holding(a.id, a.startMin);
    const why = cause
      ? `waits for "${nameOf(cause)}", now until ${clock(at.get(cause)?.endMin ?? 0)}`
      : a.startMin === now
        ? 'it was due and has not begun'
        : a.startMin < old.startMin
          ? 'what it waited for is done sooner'
          : 'moved with the steps it must stay close to';
    return [{ id: a.id, name: a.name, fromMin: old.startMin, toMin: a.startMin, why }];
  });
}
