/** The timetable of a brew day: solved, with hands, park temperatures, slack and doubt. */
import type { PlanDocument } from '../document.ts';
import type { Plan } from '../plan.ts';
import type { TimetableClash } from './clash.ts';
import {
  askOf,
  type BrewChoice,
  canHeatWithStrike,
  type DayAsk,
  type DayProblem,
  dayProblem,
  workOf,
} from './day-problem.ts';
import { type ParkTemperature, parkTemperature } from './heat-time.ts';
import type { NeedKind } from './problem.ts';
import { type Robust, robustOf } from './robust.ts';
import type { Budget, LevelResult } from './search.ts';
import { type Placed, type Solved, solve } from './solve.ts';
import { FIRST_STAND_MIN } from './sparge-part.ts';

export interface TimetableOptions extends DayAsk {
  /** The brewer would like to be done by then: how likely is it? [min after day start] */
  readonly wishFinishMin?: number;
  /** Draws behind the chance, the bands and what to watch; 0 leaves them out; default 100. */
  readonly draws?: number;
  readonly seed?: number;
  readonly budget?: Budget;
}

export interface TimetableActivity {
  readonly id: string;
  readonly name: string;
  /** Brew it belongs to, from 1; 0 for the whole day. */
  readonly brew: number;
  readonly moveId?: string;
  readonly startMin: number;
  readonly endMin: number;
  readonly vessels: readonly string[];
  readonly tools: readonly string[];
  readonly hands: readonly { readonly id: string; readonly kind: NeedKind }[];
  readonly slackMin: number;
}

/** Sparge liquor parked hot. */
export interface Park extends ParkTemperature {
  readonly brew: number;
  readonly vessel: string;
  readonly litres: number;
  /** Minutes it stands before it is wanted. */
  readonly standMin: number;
  /** Within 74-78 °C from the first to the last of its use. */
  readonly withinWindow: boolean;
}

export interface VesselHold {
  readonly vessel: string;
  readonly content: string;
  readonly startMin: number;
  readonly endMin: number;
}

/** One pair of hands over the day. */
export interface HandDay {
  readonly id: string;
  readonly name: string;
  /** First and last minute wanted; from then on this person may leave. */
  readonly firstMin: number;
  readonly lastMin: number;
  readonly busyMin: number;
}

export interface Timetable {
  readonly proven: 'optimal' | 'infeasible' | 'bounded';
  /** Minutes after day start; not a number when there is no timetable. */
  readonly finishMin: number;
  readonly gapMin: number;
  readonly levels: readonly LevelResult[];
  readonly activities: readonly TimetableActivity[];
  readonly clashes: readonly TimetableClash[];
  readonly parks: readonly Park[];
  /** What stands in a vessel from when to when, its cleaning included. */
  readonly holds: readonly VesselHold[];
  readonly hands: readonly HandDay[];
  readonly notes: readonly string[];
  /** Clock time of minute 0, minutes after midnight. */
  readonly dayStartMin: number;
  /** How each brew's sparge liquor is heated and how long it was taken to stand. */
  readonly choices: readonly BrewChoice[];
  readonly robust?: Robust;
}

/** Park temperatures and the timetable depend on each other; this many rounds at most. */
const ROUNDS = 4;
/** A stand that changes by less than this does not change the temperature worth a new round [min]. */
const SAME_STAND_MIN = 3;

/**
 * The timetable of a day.
 * @param documents the brew, or the brews in the order they are begun, on one kit
 * @param plans of the same, from planDay
 * @param options doubt and budget; rates, events, breaks and limits in place of the documents' own
 * @returns the timetable, proven optimal, or what clashes
 * @throws UnknownName when something is named that the kit does not have
 */
export function timetableOf(
  documents: PlanDocument | readonly PlanDocument[],
  plans: Plan | readonly Plan[],
  options: TimetableOptions = {},
): Timetable {
  const docs = listOf(documents);
  return solveDay(docs, listOf(plans), { ...askOf(docs), ...options }).timetable;
}

const listOf = <T>(one: T | readonly T[]): readonly T[] => (Array.isArray(one) ? one : [one as T]);

/** A problem with its solution. */
interface Settled {
  readonly day: DayProblem;
  readonly solved: Solved;
  readonly choices: readonly BrewChoice[];
}

/** A timetable with the problem behind it. */
export interface SolvedDay {
  readonly timetable: Timetable;
  readonly day: DayProblem;
  readonly solved: Solved;
}

/** Liquor as wanted on the bed [°C]. @source issue of the day: 74-78; field.md 1.7, 76-78 */
const SPARGE_WINDOW = { low: 74, high: 78 };

/**
 * Solves every way of heating the sparge liquor and keeps the best.
 * @param change what has happened since, worked into the problem
 * @param fixed choices that were already made, when the day is under way
 */
export function solveDay(
  documents: readonly PlanDocument[],
  plans: readonly Plan[],
  options: TimetableOptions,
  change: (day: DayProblem) => DayProblem = (day) => day,
  fixed?: readonly BrewChoice[],
): SolvedDay {
  const dayStartMin = documents[0]?.day.startMin ?? 0;
  const clock = (minute: number) => clockOf(dayStartMin + minute);
  const ways = fixed
    ? [fixed]
    : waysToHeat(documents, plans, options).map((way) =>
        way.map((withStrike) => ({ withStrike, standMin: FIRST_STAND_MIN })),
      );
  const endMs =
    options.budget?.ms !== undefined && options.budget.nowMs
      ? options.budget.nowMs() + options.budget.ms
      : undefined;
  let best: Settled | undefined;
  let allProven = true;
  ways.forEach((way, k) => {
    const tried = settle(
      documents,
      plans,
      options,
      way,
      clock,
      change,
      shareOf(options.budget, endMs, ways.length - k),
    );
    allProven &&= tried.solved.proven !== 'bounded';
    if (!best || better(tried.solved, best.solved)) best = tried;
  });
  const { mustFinishByMin, ...free } = options;
  if (best?.solved.proven === 'infeasible' && mustFinishByMin !== undefined && !fixed) {
    // Which way is nearest to the hour asked for? Its clash is the one worth telling.
    const nearest = solveDay(documents, plans, { ...free, draws: 0 }, change).timetable;
    if (nearest.activities.length > 0)
      return solveDay(documents, plans, options, change, nearest.choices);
  }
  const { day, solved, choices } = best as Settled;
  const parks = parksOf(day, solved.placed);
  const proven = solved.proven === 'optimal' && !allProven ? 'bounded' : solved.proven;
  const robust =
    solved.placed.length > 0 && options.draws !== 0
      ? robustOf(documents, day, solved, options)
      : undefined;
  const timetable: Timetable = {
    proven,
    finishMin: solved.finishMin,
    gapMin: solved.gapMin,
    levels: solved.levels,
    activities: activitiesOf(day, solved.placed),
    clashes: solved.clash.clashes,
    parks,
    holds: holdsOf(day, solved.placed),
    hands: handsOf(day, solved.placed),
    notes: [...day.notes, ...parkNotes(day, parks)],
    dayStartMin,
    choices,
    ...(robust ? { robust } : {}),
  };
  return { timetable, day, solved };
}

/** What is left of the time for the ways not yet tried, in equal parts. */
function shareOf(budget: Budget | undefined, endMs: number | undefined, left: number): Budget {
  if (!budget) return {};
  if (endMs === undefined || !budget.nowMs) return budget;
  return { ...budget, ms: Math.max(0, endMs - budget.nowMs()) / left };
}

/** Each brew's sparge liquor with its strike liquor or apart, as far as it fits. */
function waysToHeat(
  documents: readonly PlanDocument[],
  plans: readonly Plan[],
  options: TimetableOptions,
): boolean[][] {
  return documents.reduce<boolean[][]>(
    (ways, document, k) => {
      const fits = canHeatWithStrike(document, plans[k] as Plan, workOf(options, k));
      return ways.flatMap((way) =>
        fits
          ? [
              [...way, true],
              [...way, false],
            ]
          : [[...way, false]],
      );
    },
    [[]],
  );
}

/** Solves until the park temperatures agree with the minutes the liquor stands. */
function settle(
  documents: readonly PlanDocument[],
  plans: readonly Plan[],
  options: TimetableOptions,
  first: readonly BrewChoice[],
  clock: (minute: number) => string,
  change: (day: DayProblem) => DayProblem,
  budget: Budget,
): Settled {
  let choices = first;
  for (let round = 1; ; round++) {
    const day = change(dayProblem(documents, plans, options, choices));
    const solved = solve(day.problem, clock, budget);
    const stands = day.brews.map((_, k) => standOf(day, solved.placed, k));
    const same = stands.every(
      (s, k) =>
        s === undefined || Math.abs(s - (choices[k] as BrewChoice).standMin) < SAME_STAND_MIN,
    );
    if (same || solved.placed.length === 0 || round === ROUNDS) return { day, solved, choices };
    choices = choices.map((c, k) => ({ ...c, standMin: stands[k] ?? c.standMin }));
  }
}

/** Minutes from the end of parking to the first use, when anything was parked in the kit. */
function standOf(day: DayProblem, placed: readonly Placed[], brew: number): number | undefined {
  const sparge = day.brews[brew]?.wort.sparge;
  if (!sparge?.to) return undefined;
  const parked = placed.find((p) => p.id === sparge.parkId);
  const used = placed.find((p) => p.id === sparge.spargeId);
  return parked && used ? used.startMin - parked.endMin : undefined;
}

/** Earlier finish, then fewer minutes on each later aim. */
function better(a: Solved, b: Solved): boolean {
  if (a.placed.length === 0 || b.placed.length === 0) return a.placed.length > b.placed.length;
  for (let k = 0; k < Math.min(a.levels.length, b.levels.length); k++) {
    const gap = (a.levels[k] as LevelResult).minutes - (b.levels[k] as LevelResult).minutes;
    if (gap !== 0) return gap < 0;
  }
  return false;
}

function activitiesOf(day: DayProblem, placed: readonly Placed[]): TimetableActivity[] {
  const byId = new Map(day.activities.map((a) => [a.id, a]));
  return placed
    .flatMap((p) => {
      const a = byId.get(p.id);
      if (!a) return [];
      return [
        {
          ...p,
          name: a.name,
          brew: a.brew,
          ...(a.moveId === undefined ? {} : { moveId: a.moveId }),
          vessels: a.vessels.map((u) => u.vessel),
          tools: a.tools,
        },
      ];
    })
    .sort((a, b) => a.startMin - b.startMin || a.endMin - b.endMin);
}

function parksOf(day: DayProblem, placed: readonly Placed[]): Park[] {
  return day.brews.flatMap(({ day: brew, wort: { sparge }, work }, k) => {
    const standMin = standOf(day, placed, k);
    if (standMin === undefined || !sparge.to) return [];
    const wish = {
      from: sparge.from.id,
      to: sparge.to.id,
      route: brew.strikeRoute,
      litres: sparge.litres,
      standMin,
      useMin: sparge.useMin,
      wantedC: work.spargeC,
    };
    const found = parkTemperature(brew.kit, wish, brew.airC);
    if (!found) return [];
    const withinWindow = found.firstC <= SPARGE_WINDOW.high && found.lastC >= SPARGE_WINDOW.low;
    const { to, litres } = sparge;
    return [{ ...found, brew: k + 1, vessel: to.id, litres, standMin, withinWindow }];
  });
}

function parkNotes(day: DayProblem, parks: readonly Park[]): string[] {
  return parks
    .filter((p) => !p.withinWindow)
    .map(
      (p) =>
        `Sparge liquor parked in ${day.problem.names[p.vessel] ?? p.vessel} falls from ${p.firstC.toFixed(0)} to ${p.lastC.toFixed(0)} °C while it is used, outside ${SPARGE_WINDOW.low}-${SPARGE_WINDOW.high} °C: cover or insulate it, or heat part of it again.`,
    );
}

function holdsOf(day: DayProblem, placed: readonly Placed[]): VesselHold[] {
  const at = new Map(placed.map((p) => [p.id, p]));
  return day.problem.holds.flatMap(({ vessel, content, from, to }) => {
    const [first, last] = [at.get(from), at.get(to)];
    return first && last
      ? [{ vessel, content, startMin: first.startMin, endMin: last.endMin }]
      : [];
  });
}

function handsOf(day: DayProblem, placed: readonly Placed[]): HandDay[] {
  return day.problem.people.map(({ id, name }) => {
    const here = placed.flatMap((p) =>
      p.hands.filter((h) => h.id === id && h.kind !== 'away').map((h) => ({ ...p, kind: h.kind })),
    );
    const sum = here
      .filter((p) => p.kind === 'busy')
      .reduce((minutes, p) => minutes + p.endMin - p.startMin, 0);
    return {
      id,
      name,
      firstMin: here.length > 0 ? Math.min(...here.map((p) => p.startMin)) : 0,
      lastMin: here.length > 0 ? Math.max(...here.map((p) => p.endMin)) : 0,
      busyMin: sum,
    };
  });
}

/** Clock time of a minute after midnight, as 05:30; over midnight it says so. */
export function clockOf(minuteOfDay: number): string {
  const whole = Math.round(minuteOfDay);
  const days = Math.floor(whole / 1440);
  const m = whole - days * 1440;
  const text = `${String(Math.floor(m / 60)).padStart(2, '0')}:${String(m % 60).padStart(2, '0')}`;
  return days === 0 ? text : `${text} (${days > 0 ? `day ${days + 1}` : 'the day before'})`;
}
