/**
 * The timetable under doubt: the orders and the people stay as solved, the durations are those of
 * each draw of the kit, and everything starts as early as it then can.
 */
import { type Draw, NOMINAL, simulate } from '@ladlework/brewhouse';
import { band, drawMatrix } from '@ladlework/numerics';
import { brewDay, dayOptions } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { drawsFor } from '../ensemble.ts';
import type { Band } from '../plan.ts';
import { openingSituation, sizeStrike } from '../size.ts';
import { sizeMash } from '../stages.ts';
import type { DayActivity } from './day-builder.ts';
import type { DayProblem } from './day-problem.ts';
import type { Solved } from './solve.ts';
import { drawMinutes } from './work.ts';

export interface Robust {
  readonly finishMin: Band;
  /** Finish of each draw, in the order of the draws. */
  readonly finishesMin: readonly number[];
  /** Chance to be done by the wished hour, 0-1; left out when none was wished. */
  readonly chance?: number;
  readonly startMin: ReadonlyMap<string, Band>;
  /** Share of draws in which the activity was on the longest path to the finish, 0-1. */
  readonly critical: ReadonlyMap<string, number>;
  /** Activities to watch: most often on the longest path, and uncertain; first the worst. */
  readonly watch: readonly {
    readonly id: string;
    readonly critical: number;
    readonly spreadMin: number;
  }[];
  /** Draws in which something had to wait longer than it may, as a share, 0-1. */
  readonly brokenShare: number;
}

export interface RobustOptions {
  readonly draws?: number;
  readonly seed?: number;
  /** In place of `draws`, when they are shared with something else. */
  readonly drawn?: readonly Draw[];
  readonly wishFinishMin?: number;
}

const DEFAULT_DRAWS = 100;
const WATCH = 3;

/**
 * Doubt of a solved day.
 * @param documents its brews
 * @param day its problem
 * @param solved its schedule
 * @param options draws, 10-2000; seed; wished hour
 */
export function robustOf(
  documents: readonly PlanDocument[],
  day: DayProblem,
  solved: Solved,
  options: RobustOptions,
): Robust {
  const seed = options.seed ?? 1;
  const { kit } = documents[0] as PlanDocument;
  const draws = options.drawn ?? drawsFor(kit, options.draws ?? DEFAULT_DRAWS, seed);
  const count = draws.length;
  const minutes = sampleMinutes(documents, day.activities, draws, seed);
  const passes = passesOf(day, solved);
  const finishes: number[] = [];
  const starts = day.activities.map(() => [] as number[]);
  const onPath = day.activities.map(() => 0);
  let broken = 0;
  for (let i = 0; i < count; i++) {
    const run = forward(
      day,
      passes,
      minutes.map((m) => m[i] as number),
    );
    finishes.push(run.finishMin);
    if (run.broken) broken++;
    run.startMin.forEach((s, k) => {
      (starts[k] as number[]).push(s);
    });
    for (const k of run.path) onPath[k] = (onPath[k] as number) + 1;
  }
  const id = (k: number) => (day.activities[k] as DayActivity).id;
  const watch = day.activities
    .map((a, k) => {
      const b = band(minutes[k] as number[]);
      return { id: a.id, critical: (onPath[k] as number) / count, spreadMin: b.high - b.low };
    })
    .sort((a, b) => b.critical * b.spreadMin - a.critical * a.spreadMin)
    .slice(0, WATCH);
  const wish = options.wishFinishMin;
  return {
    finishMin: band(finishes),
    finishesMin: finishes,
    ...(wish === undefined
      ? {}
      : { chance: finishes.filter((f) => f <= wish).length / finishes.length }),
    startMin: new Map(starts.map((s, k) => [id(k), band(s)])),
    critical: new Map(onPath.map((p, k) => [id(k), p / count])),
    watch,
    brokenShare: broken / count,
  };
}

/** Minutes of every activity on every draw. */
function sampleMinutes(
  documents: readonly PlanDocument[],
  activities: readonly DayActivity[],
  draws: readonly Draw[],
  seed: number,
): number[][] {
  const moves = documents.map((document) => movesOn(document, draws));
  return activities.map((a) => {
    const own = a.moveId === undefined ? undefined : moves[a.brew - 1]?.get(a.moveId);
    const z = luckOf(a.id, draws.length, seed);
    return draws.map((draw, i) => {
      if (a.fixedEndMin !== undefined) return a.fixedEndMin - (a.fixedStartMin ?? a.fixedEndMin);
      if (a.minutesOf) return a.minutesOf(draw);
      // A draw's minutes relative to the likely kit: the plan's own likely ran with the kinetics.
      if (own)
        return own.likely > 0 ? (a.minutes.likely * (own.drawn[i] as number)) / own.likely : 0;
      return drawMinutes(a.minutes, z[i] as number);
    });
  });
}

/** Standard scores of one activity: the same in every day it is part of, so that days compare. */
function luckOf(id: string, count: number, seed: number): Float64Array {
  let hash = seed + 1;
  for (const letter of id) hash = (Math.imul(hash, 31) + letter.charCodeAt(0)) | 0;
  return drawMatrix(count, 1, hash);
}

/** Minutes of each move of a mash, on the likely kit and on every draw. */
function movesOn(document: PlanDocument, draws: readonly Draw[]) {
  const day = brewDay(document);
  const sized = sizeMash(day, sizeStrike(day), undefined);
  const times = new Map<string, { likely: number; drawn: number[] }>();
  const note = (draw: Draw, keep: (id: string, minutes: number) => void) => {
    for (const stage of playOnly(day, sized, draw))
      for (const m of stage.moves) keep(m.id, m.endMin - m.startMin);
  };
  note(NOMINAL, (id, likely) => times.set(id, { likely, drawn: [] }));
  for (const draw of draws) note(draw, (id, minutes) => times.get(id)?.drawn.push(minutes));
  return times;
}

/** The stages of a mash on one draw, without the open-loop runs that playMash adds for the landing. */
function playOnly(day: ReturnType<typeof brewDay>, sized: ReturnType<typeof sizeMash>, draw: Draw) {
  const options = dayOptions(day, draw);
  let situation = openingSituation(day);
  return [sized.first, ...sized.raises.map((r) => [...r.moves, ...r.after])].map((moves) => {
    const trace = simulate(day.kit, situation, moves, options);
    situation = trace.end;
    return trace;
  });
}

interface Arc {
  /** Edge index: 2k for the start, 2k + 1 for the end of activity k. */
  readonly from: number;
  readonly to: number;
  readonly least: number;
}

interface Passes {
  /** Least minutes between edges, and the mosts turned round as negative leasts. */
  readonly leasts: readonly Arc[];
  readonly mosts: readonly Arc[];
}

/** Every arc of the solved day but the durations, those that go forward in time first. */
function passesOf(day: DayProblem, solved: Solved): Passes {
  const { activities, lags } = day.problem;
  const index = new Map(activities.map((a, k) => [a.id, k]));
  const edge = (m: { activity: string; edge: 'start' | 'end' }) =>
    2 * (index.get(m.activity) as number) + (m.edge === 'end' ? 1 : 0);
  const leasts: Arc[] = [];
  const mosts: Arc[] = [];
  for (const lag of lags) {
    const [from, to] = [edge(lag.from), edge(lag.to)];
    if (lag.leastMin !== undefined) leasts.push({ from, to, least: lag.leastMin });
    if (lag.mostMin !== undefined) mosts.push({ from: to, to: from, least: -lag.mostMin });
  }
  for (const o of solved.orders)
    leasts.push({
      from: edge({ activity: o.before, edge: 'end' }),
      to: edge({ activity: o.after, edge: 'start' }),
      least: 0,
    });
  const at = new Map(solved.placed.map((p) => [p.id, p]));
  const minute = (e: number) => {
    const p = at.get((activities[e >> 1] as { id: string }).id);
    return p ? (e & 1 ? p.endMin : p.startMin) : 0;
  };
  leasts.sort((a, b) => minute(a.from) - minute(b.from));
  return { leasts, mosts };
}

/** Earliest times of one draw; limits on waiting are given up where the draw cannot keep them. */
function forward(day: DayProblem, { leasts, mosts }: Passes, minutes: readonly number[]) {
  const { activities } = day.problem;
  const inside: Arc[] = [];
  const stretch: Arc[] = [];
  activities.forEach((a, k) => {
    const least = minutes[k] as number;
    inside.push({ from: 2 * k, to: 2 * k + 1, least });
    const most = least + (a.stretchMin ?? 0);
    if (Number.isFinite(most)) stretch.push({ from: 2 * k + 1, to: 2 * k, least: -most });
  });
  const kept = longest(activities, [...inside, ...leasts, ...stretch, ...mosts]);
  const run = kept ?? longest(activities, [...inside, ...leasts]);
  if (!run) throw new Error('timetable: the solved orders go round in a circle');
  const { t, by } = run;
  let last = 0;
  for (let e = 0; e < t.length; e++) if ((t[e] as number) > (t[last] as number)) last = e;
  const seen = new Set<number>();
  for (let e = last; e >= 0 && !seen.has(e); e = by[e] as number) seen.add(e);
  return {
    finishMin: t[last] as number,
    startMin: activities.map((_, k) => t[2 * k] as number),
    path: new Set([...seen].map((e) => e >> 1)),
    broken: kept === undefined,
  };
}

/** Longest paths by repeated passes; undefined when they never come to rest. */
function longest(
  activities: readonly { fixedStartMin?: number; earliestMin?: number }[],
  arcs: readonly Arc[],
) {
  const n = 2 * activities.length;
  const t = new Float64Array(n);
  const by = new Int32Array(n).fill(-1);
  activities.forEach((a, k) => {
    t[2 * k] = a.fixedStartMin ?? a.earliestMin ?? 0;
  });
  for (let round = 0; round <= n; round++) {
    let moved = false;
    for (const arc of arcs) {
      const then = (t[arc.from] as number) + arc.least;
      if (then <= (t[arc.to] as number) + 1e-9) continue;
      t[arc.to] = then;
      by[arc.to] = arc.from;
      moved = true;
    }
    if (!moved) return { t, by };
  }
  return undefined;
}
