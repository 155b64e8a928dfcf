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

/** When a move of the mash is likely to begin and end, as forecast from what was read. Minutes after day start. */
export interface MoveAhead {
  readonly id: string;
  readonly startMin: number;
  readonly endMin: number;
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
 * @param ahead moves of the mash as the running day forecasts them, in place of the plan's minutes
 * @returns the new timetable; what is done or under way stands where it is
 */
export function replan(
  documents: PlanDocument | readonly PlanDocument[],
  plans: Plan | readonly Plan[],
  options: TimetableOptions,
  before: Timetable,
  progress: readonly Progress[],
  nowMin: number,
  ahead: readonly MoveAhead[] = [],
): Replan {
  const docs = Array.isArray(documents) ? documents : [documents as PlanDocument];
  const all = Array.isArray(plans) ? plans : [plans as Plan];
  let asked = { ...askOf(docs), ...options };
  const now = Math.ceil(nowMin);
  const letGo: TimetableClash[] = [];
  let cleared = false;
  const run = (): SolvedDay =>
    solveDay(
      docs,
      all,
      asked,
      (day) => around(day, before, { progress, now, letGo, cleared, ahead }),
      before.choices,
    );
  let solved = run();
  // Not every step is tapped: where the taps cannot all be true, what stood in a vessel is gone.
  if (solved.timetable.proven === 'infeasible') {
    cleared = true;
    solved = run();
  }
  // The mash does not stop because a limit was missed: what can only be waited out is let go.
  while (solved.timetable.proven === 'infeasible' && letGo.length < MOST_LET_GO) {
    const { clashes } = solved.timetable;
    const hour = clashes.filter((c) => c.code === 'finish-by');
    const soft = clashes.filter((c) => c.code === 'waits' || c.code === 'lasts');
    if (soft.length + hour.length === 0) break;
    // The hour that was to be kept goes last: it is the brewer's, not the mash's.
    if (soft.length === 0) {
      const { mustFinishByMin: _gone, ...free } = asked;
      asked = free;
      letGo.push(...hour);
    } else letGo.push(...soft);
    solved = run();
  }
  return { timetable: solved.timetable, moved: movedOf(before, solved, now), letGo };
}

/** What is known of the day so far. */
interface SoFar {
  readonly progress: readonly Progress[];
  readonly now: number;
  readonly letGo: readonly TimetableClash[];
  /** Whatever was planned in a vessel before what was begun there counts as done. */
  readonly cleared: boolean;
  readonly ahead: readonly MoveAhead[];
}

/** The problem with what has happened worked in. */
function around(day: DayProblem, before: Timetable, soFar: SoFar): DayProblem {
  const { now, letGo } = soFar;
  // Each end is rounded, not each length: what follows at once ends where the forecast has it.
  const ahead = new Map(
    soFar.ahead.map((m) => [m.id, [Math.round(m.startMin), Math.round(m.endMin)] as const]),
  );
  const was = new Map(before.activities.map((a) => [a.id, a]));
  const seen = impliedBy(day, was, soFar);
  const loose = new Set(letGo.filter((c) => c.code === 'lasts').flatMap((c) => c.activities));
  const activities = day.activities.map((planned): DayActivity => {
    const p = seen.get(planned.id);
    const [begins = 0, ends] = ahead.get(planned.id) ?? [];
    // Of what is under way the forecast has what is left of it; it lasts from when it was begun.
    const from = p === undefined ? begins : Math.round(p.startMin);
    const a = ends === undefined ? planned : lasting(planned, Math.max(0, ends - from));
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
    const minute = m.edge === 'start' ? p?.startMin : p?.endMin;
    return minute === undefined ? undefined : Math.round(minute);
  };
  const lags = day.problem.lags.flatMap((lag) => pastLag(lag, past, now, letGo));
  const isOver = (id: string) => seen.get(id)?.endMin !== undefined;
  const holds = day.problem.holds.filter((h) => !isOver(h.to));
  return { ...day, activities, problem: { ...day.problem, activities, lags, holds } };
}

/** An activity with its likely minutes known better than the plan had them. */
function lasting(a: DayActivity, likely: number): DayActivity {
  const { low, high } = a.minutes;
  return { ...a, minutes: { low: Math.min(low, likely), likely, high: Math.max(high, likely) } };
}

/**
 * What was tapped, with what follows from it: what must come before something begun is done, and
 * what nobody writes down is over when its time is over.
 */
function impliedBy(
  day: DayProblem,
  was: ReadonlyMap<string, { readonly startMin: number; readonly endMin: number }>,
  { progress, now, cleared }: SoFar,
): Map<string, Progress> {
  const seen = new Map(progress.map((p) => [p.id, p]));
  for (const a of day.activities) {
    const old = was.get(a.id);
    if (!a.passes || seen.has(a.id) || !old || old.startMin >= now) continue;
    const startMin = a.fixedStartMin ?? old.startMin;
    const endMin = startMin + old.endMin - old.startMin;
    seen.set(a.id, { id: a.id, startMin, ...(endMin <= now ? { endMin } : {}) });
  }
  const doneBefore = (id: string, nextMin: number): boolean => {
    const prior = seen.get(id);
    if (prior?.endMin !== undefined) return false;
    const old = was.get(id);
    const lasted = old ? old.endMin - old.startMin : 0;
    const startMin = prior?.startMin ?? Math.max(0, nextMin - lasted);
    seen.set(id, { id, startMin, endMin: Math.max(startMin, nextMin) });
    return true;
  };
  // What had its minute in something that is over, as hops in a boil, is over as well.
  const overWith = (from: Moment, to: Moment, mostMin: number | undefined): boolean => {
    const host = seen.get(from.activity);
    return (
      from.edge === 'start' &&
      to.edge === 'start' &&
      mostMin !== undefined &&
      host?.endMin !== undefined &&
      host.startMin + mostMin < Math.min(now, host.endMin)
    );
  };
  const wentIn = (host: string, id: string, leastMin = 0): boolean => {
    const prior = seen.get(id);
    if (prior?.endMin !== undefined) return false;
    const old = was.get(id);
    const startMin = prior?.startMin ?? (seen.get(host)?.startMin ?? 0) + leastMin;
    const endMin = Math.min(now, startMin + (old ? old.endMin - old.startMin : 0));
    seen.set(id, { id, startMin, endMin: Math.max(startMin, endMin) });
    return true;
  };
  for (let more = true; more; ) {
    more = false;
    for (const { from, to, leastMin, mostMin } of day.problem.lags) {
      if (overWith(from, to, mostMin) && wentIn(from.activity, to.activity, leastMin)) more = true;
      const next = seen.get(to.activity);
      const comesFirst = from.edge === 'end' && to.edge === 'start' && leastMin !== undefined;
      if (comesFirst && next && doneBefore(from.activity, next.startMin)) more = true;
    }
    if (!cleared) continue;
    for (const [before, after] of sharing(day.activities)) {
      const next = seen.get(after.id);
      const [first, second] = [was.get(before.id), was.get(after.id)];
      const stoodBefore = first && second && first.endMin <= second.startMin;
      if (next && stoodBefore && doneBefore(before.id, next.startMin)) more = true;
    }
  }
  return seen;
}

/** Every two activities that use one vessel for different content, both ways round. */
function sharing(activities: readonly DayActivity[]): [DayActivity, DayActivity][] {
  const excludes = (a: DayActivity, b: DayActivity) =>
    a.vessels.some((u) => b.vessels.some((w) => u.vessel === w.vessel && u.content !== w.content));
  return activities.flatMap((a) =>
    activities.filter((b) => excludes(a, b)).map((b): [DayActivity, DayActivity] => [a, b]),
  );
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
function movedOf(before: Timetable, { timetable, day, solved }: SolvedDay, now: number): Moved[] {
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
    if (!old || a.startMin < now || Math.abs(a.startMin - old.startMin) < MOVED_MIN) return [];
    const cause = holding(a.id, a.startMin);
    const why = cause
      ? `waits for "${nameOf(cause)}", now until ${clock(at.get(cause)?.endMin ?? 0)}`
      : a.startMin < old.startMin
        ? 'what it waited for is done sooner'
        : a.startMin === now
          ? 'it was due and has not begun'
          : 'moved with the steps it must stay close to';
    return [{ id: a.id, name: a.name, fromMin: old.startMin, toMin: a.startMin, why }];
  });
}
