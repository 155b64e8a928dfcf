/** The timetable of a brew day: solved, with hands, park temperatures, slack and doubt. */
import type { Draw } from '@ladlework/brewhouse';
import type { PlanDocument } from '../document.ts';
import type { TimedMash } from '../plan.ts';
import type { TimetableClash } from './clash.ts';
import { type Course, courseOf } from './course.ts';
import { askOf, type DayAsk, type DayProblem, dayProblem, workOf } from './day-problem.ts';
import { type ParkTemperature, type ParkWish, parkTemperature } from './heat-time.ts';
import { StandTables } from './liquor-stand.ts';
import { type BrewChoice, combinations, tanksBefore, waysOf } from './liquor-ways.ts';
import type { NeedKind } from './problem.ts';
import { type Robust, robustOf } from './robust.ts';
import type { Budget, LevelResult } from './search.ts';
import { type Placed, type Solved, solve } from './solve.ts';

export interface TimetableOptions extends DayAsk {
  /** The brewer would like to be done by then: how likely is it? [min after day start] */
  readonly wishFinishMin?: number;
  /** Draws behind the chance, the bands and what to watch; 0 leaves them out; default 100. */
  readonly draws?: number;
  readonly seed?: number;
  /** The draws themselves, when they are shared with something else; in place of `draws`. */
  readonly drawn?: readonly Draw[];
  readonly budget?: Budget;
  /** The finish only, with liquor heated and parked in the first way there is: for what compares many days. */
  readonly quick?: boolean;
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

/** Liquor that waits hot. */
export interface Park extends ParkTemperature {
  readonly brew: number;
  readonly what: 'sparge' | 'strike';
  readonly vessel: string;
  /** False when it stays where it was heated. */
  readonly moved: boolean;
  readonly litres: number;
  /** Minutes it stands before it is wanted. */
  readonly standMin: number;
  /** Sparge liquor within 74-78 °C from the first to the last of its use; strike liquor always. */
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
  /** Temperatures and transfers beside and after the mash; left out where nothing is drawn. */
  readonly course?: Course;
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
  plans: TimedMash | readonly TimedMash[],
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
  plans: readonly TimedMash[],
  options: TimetableOptions,
  change: (day: DayProblem) => DayProblem = (day) => day,
  fixed?: readonly BrewChoice[],
): SolvedDay {
  const dayStartMin = documents[0]?.day.startMin ?? 0;
  const clock = (minute: number) => clockOf(dayStartMin + minute);
  const tables = new StandTables();
  const tries: Tries = { documents, plans, options, clock, change, tables };
  const ways = fixed ? [{ way: fixed, leastMin: 0 }] : rankedWays(tries);
  const endMs =
    options.budget?.ms !== undefined && options.budget.nowMs
      ? options.budget.nowMs() + options.budget.ms
      : undefined;
  let best: Settled | undefined;
  let allProven = true;
  ways.forEach(({ way, leastMin }, k) => {
    // Ranked by a finish that no settling of its temperatures can undercut.
    if (best && best.solved.placed.length > 0 && leastMin > best.solved.finishMin) return;
    const budget = shareOf(options.budget, endMs, ways.length - k);
    const tried = settle(tries, way, budget, best?.solved);
    allProven &&= tried.solved.proven !== 'bounded';
    if (!best || better(tried.solved, best.solved)) best = tried;
  });
  const { mustFinishByMin, ...free } = options;
  if (best?.solved.proven === 'infeasible' && !fixed) {
    // Which way is nearest to the hour asked for? Its clash is the one worth telling.
    const nearest =
      mustFinishByMin === undefined
        ? undefined
        : solveDay(documents, plans, { ...free, draws: 0 }, change).timetable;
    const choices = nearest?.activities.length ? nearest.choices : best.choices;
    return solveDay(documents, plans, options, change, choices);
  }
  const { day, solved, choices } = best as Settled;
  const parks = parksOf(day, solved.placed);
  const proven = solved.proven === 'optimal' && !allProven ? 'bounded' : solved.proven;
  const robust =
    solved.placed.length > 0 && (options.drawn ?? (options.draws !== 0 && !options.quick))
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
    ...(robust ? { course: courseOf(day, plans, solved.placed) } : {}),
  };
  return { timetable, day, solved };
}

/** What is left of the time for the ways not yet tried, in equal parts. */
function shareOf(budget: Budget | undefined, endMs: number | undefined, left: number): Budget {
  if (!budget) return {};
  if (endMs === undefined || !budget.nowMs) return budget;
  return { ...budget, ms: Math.max(0, endMs - budget.nowMs()) / left };
}

/** What every way is tried on. */
interface Tries {
  readonly documents: readonly PlanDocument[];
  readonly plans: readonly TimedMash[];
  readonly options: TimetableOptions;
  readonly clock: (minute: number) => string;
  readonly change: (day: DayProblem) => DayProblem;
  readonly tables: StandTables;
}

interface RankedWay {
  readonly way: readonly BrewChoice[];
  /** No timetable of this way ends earlier. */
  readonly leastMin: number;
}

/** Nodes for the earliest finish of one way before it is settled. */
const RANK_NODES = 2000;

/**
 * Every way of heating and parking the liquor, the most promising first: each solved for its finish
 * with liquor that need not stand, which is heated soonest.
 */
function rankedWays({ documents, plans, options, clock, change, tables }: Tries): RankedWay[] {
  const work = (k: number) =>
    workOf(options, k, documents[k] as PlanDocument, plans[k] as TimedMash);
  const tanks = tanksBefore(documents, work);
  const all = combinations(
    documents.map((_, k) => waysOf(documents, plans, work(k), tanks[k] as ReadonlySet<string>, k)),
  );
  if (all.length === 1) return all.map((way) => ({ way, leastMin: 0 }));
  const { mustFinishByMin: _limit, ...free } = options;
  return all
    .map((way): RankedWay => {
      const soonest = way.map((c) => ({ ...c, standMin: 0 }));
      const { problem } = change(dayProblem(documents, plans, free, soonest, tables));
      const budget = { nodes: Math.min(RANK_NODES, quickNodes(options)) };
      const solved = solve(problem, clock, budget, { aim: 'finish', clash: false });
      if (solved.proven === 'infeasible') return { way, leastMin: Number.POSITIVE_INFINITY };
      // Nothing found in so few nodes: behind those of which something is known.
      const unknown = options.quick ? Number.MAX_VALUE : 0;
      return { way, leastMin: solved.levels[0]?.bound ?? unknown };
    })
    .sort((a, b) => a.leastMin - b.leastMin)
    .slice(0, options.quick ? 1 : all.length);
}

/** A quick answer spends no more on the order of the ways than on the timetable itself. */
function quickNodes({ quick, budget }: TimetableOptions): number {
  return quick ? (budget?.nodes ?? RANK_NODES) : RANK_NODES;
}

/** Solves until the temperatures of the liquor agree with the minutes it stands. */
function settle(
  tries: Tries,
  first: readonly BrewChoice[],
  budget: Budget,
  rival?: Solved,
): Settled {
  const { documents, plans, clock, change, tables } = tries;
  // A way that ends later than one that is known need not be looked at to its end.
  const byMin = Math.min(
    tries.options.mustFinishByMin ?? Number.POSITIVE_INFINITY,
    rival && rival.placed.length > 0 ? rival.finishMin : Number.POSITIVE_INFINITY,
  );
  const options = Number.isFinite(byMin)
    ? { ...tries.options, mustFinishByMin: byMin }
    : tries.options;
  const ask = { aim: options.quick ? 'finish' : 'all', clash: rival === undefined } as const;
  let choices = first;
  for (let round = 1; ; round++) {
    const day = change(dayProblem(documents, plans, options, choices, tables));
    const solved = solve(day.problem, clock, budget, ask);
    const after = choices.map((c, k) => settled(day, solved.placed, k, c));
    const same = after.every((c, k) => sameStands(c, choices[k] as BrewChoice));
    if (same || solved.placed.length === 0 || round === ROUNDS || options.quick)
      return { day, solved, choices };
    choices = after;
  }
}

/** The choice with the stands the timetable gave. */
function settled(
  day: DayProblem,
  placed: readonly Placed[],
  k: number,
  choice: BrewChoice,
): BrewChoice {
  const brew = day.brews[k];
  const { sparge } = brew?.wort ?? {};
  const strike = brew?.mash.strikePark;
  const standMin = sparge && standOf(placed, sparge.standsAfterId, sparge.spargeId);
  const coolMin = sparge?.drawnFrom && standOf(placed, sparge.drawnFrom, sparge.heatId);
  const waits = strike && standOf(placed, strike.standsAfterId, strike.usedId);
  return {
    ...choice,
    ...(standMin === undefined ? {} : { standMin }),
    ...(typeof coolMin === 'number' ? { coolMin: Math.max(0, coolMin) } : {}),
    ...(choice.strike && waits !== undefined
      ? { strike: { ...choice.strike, standMin: waits } }
      : {}),
  };
}

function sameStands(a: BrewChoice, b: BrewChoice): boolean {
  const near = (x = 0, y = 0) => Math.abs(x - y) < SAME_STAND_MIN;
  return (
    near(a.standMin, b.standMin) &&
    near(a.coolMin, b.coolMin) &&
    near(a.strike?.standMin, b.strike?.standMin)
  );
}

/** Minutes between the end of one and the start of the other. */
function standOf(placed: readonly Placed[], after: string, until: string): number | undefined {
  const stands = placed.find((p) => p.id === after);
  const used = placed.find((p) => p.id === until);
  return stands && used ? used.startMin - stands.endMin : undefined;
}

/** Earlier finish, then less on each later aim. */
function better(a: Solved, b: Solved): boolean {
  if (a.placed.length === 0 || b.placed.length === 0) return a.placed.length > b.placed.length;
  for (let k = 0; k < Math.max(a.levels.length, b.levels.length); k++) {
    // A way in which nothing stands has no heat to count.
    const gap = (a.levels[k]?.value ?? 0) - (b.levels[k]?.value ?? 0);
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
  return day.brews.flatMap(({ day: brew, mash: { strikePark }, wort: { sparge } }, k) => {
    const parkOf = (what: Park['what'], wish: ParkWish, after: string, until: string): Park[] => {
      const standMin = standOf(placed, after, until);
      const found =
        standMin !== undefined && parkTemperature(brew.kit, { ...wish, standMin }, brew.airC);
      if (standMin === undefined || !found) return [];
      const inside = found.firstC <= SPARGE_WINDOW.high && found.lastC >= SPARGE_WINDOW.low;
      const { to: vessel, litres } = wish;
      const moved = wish.from !== wish.to;
      const withinWindow = what === 'strike' || inside;
      return [{ ...found, brew: k + 1, what, vessel, moved, litres, standMin, withinWindow }];
    };
    const { wish, standsAfterId, spargeId } = sparge;
    return [
      ...(strikePark
        ? parkOf('strike', strikePark.wish, strikePark.standsAfterId, strikePark.usedId)
        : []),
      ...(wish ? parkOf('sparge', wish, standsAfterId, spargeId) : []),
    ];
  });
}

function parkNotes(day: DayProblem, parks: readonly Park[]): string[] {
  return parks
    .filter((p) => !p.withinWindow)
    .map(
      (p) =>
        `Sparge liquor in ${day.problem.names[p.vessel] ?? p.vessel} falls from ${p.firstC.toFixed(0)} to ${p.lastC.toFixed(0)} °C while it is used, outside ${SPARGE_WINDOW.low}-${SPARGE_WINDOW.high} °C: cover or insulate it, or heat part of it again.`,
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
