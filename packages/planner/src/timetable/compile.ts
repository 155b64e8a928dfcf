/**
 * From activities to time points, arcs, claims and needs. Every limit that could be lifted has a
 * key, so that the search for a clash can leave it out.
 */
import { addArc, emptyNetwork, MOST_POINTS } from './network.ts';
import {
  type Activity,
  type HandNeed,
  leastMinutes,
  type Moment,
  type TimetableProblem,
  UnknownActivity,
} from './problem.ts';

export const ORIGIN = 0;
export const FINISH = 1;

/** A stretch of one vessel or tool. */
export interface Claim {
  readonly room: string;
  readonly content: string;
  readonly start: number;
  readonly end: number;
  /** The activities at its two ends. */
  readonly from: string;
  readonly to: string;
  readonly key: string;
}

/** One pair of hands wanted over one activity. */
export interface Need {
  readonly activity: string;
  readonly kind: HandNeed['kind'];
  readonly start: number;
  readonly end: number;
  /** Bit p set: person p can. */
  readonly domain: number;
  /** Persons in the order they are asked. */
  readonly order: readonly number[];
  /** Which wish of the activity it belongs to. */
  readonly wish: number;
  readonly key: string;
}

/** Two things that cannot be at the same time. For needs: when one person does both. */
export interface Pair {
  readonly a: number;
  readonly b: number;
  /** Two hands of one activity: never one person, whatever else is lifted. */
  readonly apart: boolean;
  /** Two of one wish for several hands: which is which does not matter. */
  readonly twins: boolean;
}

/** Something that is minimised: minutes from one point to another, or heat. */
export type Level = SpanLevel | HeatLevel;

export interface SpanLevel {
  readonly unit: 'min';
  readonly name: string;
  readonly from: number;
  readonly to: number;
  /** Person whose presence it is. */
  readonly person?: number;
}

/** Heat for all the hot liquor that stands [Wh]. */
export interface HeatLevel {
  readonly unit: 'Wh';
  readonly name: string;
  readonly parts: readonly HeatPart[];
}

export interface HeatPart {
  readonly from: number;
  readonly to: number;
  readonly heatWh: readonly number[];
}

export interface Compiled {
  readonly problem: TimetableProblem;
  readonly points: number;
  /** Closed network of all arcs; undefined when they contradict each other. */
  readonly root: Int32Array | undefined;
  readonly claims: readonly Claim[];
  /** Indices of claims, by room and in it by content. */
  readonly rooms: readonly (readonly (readonly number[])[])[];
  readonly needs: readonly Need[];
  readonly claimPairs: readonly Pair[];
  readonly needPairs: readonly Pair[];
  readonly people: readonly string[];
  /** True for a person whose one pair of hands was lifted as a limit. */
  readonly manyHanded: readonly boolean[];
  readonly comes: readonly number[];
  readonly leaves: readonly number[];
  readonly fromMin: readonly number[];
  readonly untilMin: readonly number[];
  readonly levels: readonly Level[];
  readonly startOf: ReadonlyMap<string, number>;
}

export const FOREVER = Number.POSITIVE_INFINITY;

/** Keys of the limits, as the search for a clash lifts them. */
export const keyOf = {
  most: (lag: number) => `most:${lag}`,
  stretch: (activity: string) => `stretch:${activity}`,
  earliest: (activity: string) => `earliest:${activity}`,
  latest: (activity: string) => `latest:${activity}`,
  fixed: (activity: string) => `fixed:${activity}`,
  window: (person: string) => `window:${person}`,
  room: (room: string) => `room:${room}`,
  hands: (person: string) => `hands:${person}`,
  need: (activity: string) => `need:${activity}`,
  finishBy: 'finish-by',
};

/**
 * Compiles a problem.
 * @param problem the day
 * @param dropped keys of limits to leave out
 * @returns what the search works on
 * @throws UnknownActivity when a lag or hold names an activity that is not there, or there are more
 *   activities than the network has room for
 */
export function compile(
  problem: TimetableProblem,
  dropped: ReadonlySet<string> = new Set(),
): Compiled {
  const { activities, people } = problem;
  const n = 2 + 2 * activities.length + 2 * people.length;
  if (n > MOST_POINTS)
    throw new UnknownActivity(
      `${activities.length} activities; a day has room for ${MOST_POINTS / 2 - 8}`,
    );
  const startOf = new Map(activities.map((a, k) => [a.id, 2 + 2 * k]));
  const point = (m: Moment): number => {
    const start = startOf.get(m.activity);
    if (start === undefined) throw new UnknownActivity(`no activity ${m.activity}`);
    return m.edge === 'start' ? start : start + 1;
  };
  const firstPerson = 2 + 2 * activities.length;
  const comes = people.map((_, p) => firstPerson + 2 * p);
  const leaves = comes.map((c) => c + 1);
  const root = emptyNetwork(n);
  let sound = true;
  const arc = (i: number, j: number, w: number) => {
    if (sound) sound = addArc(root, n, i, j, w);
  };
  const stays = (key: string) => !dropped.has(key);

  for (let i = 1; i < n; i++) arc(ORIGIN, i, 0);
  for (const a of activities) activityArcs(a, startOf.get(a.id) as number, arc, stays);
  problem.lags.forEach((lag, k) => {
    const from = point(lag.from);
    const to = point(lag.to);
    if (lag.leastMin !== undefined) arc(from, to, Math.ceil(lag.leastMin - 1e-6));
    if (lag.mostMin !== undefined && Number.isFinite(lag.mostMin) && stays(keyOf.most(k)))
      arc(to, from, -Math.floor(lag.mostMin + 1e-6));
  });
  people.forEach((p, k) => {
    const come = comes[k] as number;
    const leave = leaves[k] as number;
    arc(come, leave, 0);
    if (!stays(keyOf.window(p.id))) return;
    if (p.fromMin !== undefined) arc(ORIGIN, come, Math.ceil(p.fromMin));
    if (p.untilMin !== undefined) arc(leave, ORIGIN, -Math.floor(p.untilMin));
  });
  if (problem.finishByMin !== undefined && stays(keyOf.finishBy))
    arc(FINISH, ORIGIN, -Math.floor(problem.finishByMin));

  const claims = claimsOf(problem, point).filter((c) => stays(keyOf.room(c.room)) && stays(c.key));
  const needs = needsOf(problem, startOf).filter((x) => stays(x.key));
  const manyHanded = people.map((p) => !stays(keyOf.hands(p.id)));
  const windowed = (p: (typeof people)[number]) => stays(keyOf.window(p.id));
  return {
    problem,
    points: n,
    root: sound ? root : undefined,
    claims,
    rooms: roomsOf(claims),
    needs,
    claimPairs: pairsOf(
      claims,
      (a, b) => a.room === b.room && a.content !== b.content,
      () => ({ apart: false, twins: false }),
    ),
    needPairs: pairsOf(
      needs,
      (a, b) => meet(a, b, manyHanded),
      (a, b) => ({
        apart: a.activity === b.activity,
        twins: a.activity === b.activity && a.wish === b.wish,
      }),
    ),
    people: people.map((p) => p.id),
    manyHanded,
    comes,
    leaves,
    fromMin: people.map((p) => (windowed(p) ? (p.fromMin ?? 0) : 0)),
    untilMin: people.map((p) => (windowed(p) ? (p.untilMin ?? FOREVER) : FOREVER)),
    levels: [
      { unit: 'min', name: 'finish', from: ORIGIN, to: FINISH },
      // The last named may leave first; the brewer, named first, is here for the day anyway.
      ...people
        .map((p, k) => ({
          unit: 'min' as const,
          name: `hours of ${p.name}`,
          from: comes[k] as number,
          to: leaves[k] as number,
          person: k,
        }))
        .reverse(),
      ...(problem.standings.length === 0
        ? []
        : [
            {
              unit: 'Wh' as const,
              name: 'heat for liquor that stands',
              parts: problem.standings.map((s) => ({
                from: point(s.from),
                to: point(s.to),
                heatWh: s.heatWh,
              })),
            },
          ]),
    ],
    startOf,
  };
}

function activityArcs(
  a: Activity,
  start: number,
  arc: (i: number, j: number, w: number) => void,
  stays: (key: string) => boolean,
): void {
  const end = start + 1;
  const least = leastMinutes(a);
  const stretch = a.stretchMin ?? 0;
  const pinned = a.fixedEndMin !== undefined && a.fixedStartMin !== undefined;
  if (pinned) {
    arc(start, end, 0);
  } else {
    arc(start, end, least);
    if (Number.isFinite(stretch) && stays(keyOf.stretch(a.id)))
      arc(end, start, -(least + Math.floor(stretch)));
  }
  arc(end, FINISH, 0);
  if (a.earliestMin !== undefined && stays(keyOf.earliest(a.id)))
    arc(ORIGIN, start, Math.ceil(a.earliestMin));
  if (a.latestEndMin !== undefined && stays(keyOf.latest(a.id)))
    arc(end, ORIGIN, -Math.floor(a.latestEndMin));
  if (!stays(keyOf.fixed(a.id))) return;
  if (a.fixedStartMin !== undefined) {
    arc(ORIGIN, start, a.fixedStartMin);
    arc(start, ORIGIN, -a.fixedStartMin);
  }
  if (a.fixedEndMin !== undefined) {
    arc(ORIGIN, end, a.fixedEndMin);
    arc(end, ORIGIN, -a.fixedEndMin);
  }
}

function claimsOf(problem: TimetableProblem, point: (m: Moment) => number): Claim[] {
  const claims: Claim[] = [];
  const add = (room: string, content: string, from: string, to: string) =>
    claims.push({
      room,
      content,
      from,
      to,
      start: point({ activity: from, edge: 'start' }),
      end: point({ activity: to, edge: 'end' }),
      key: `claim:${room}:${content}:${from}:${to}`,
    });
  for (const h of problem.holds) add(h.vessel, h.content, h.from, h.to);
  for (const a of problem.activities) {
    for (const use of a.vessels) add(use.vessel, use.content, a.id, a.id);
    for (const tool of a.tools) add(tool, a.id, a.id, a.id);
  }
  return claims;
}

function roomsOf(claims: readonly Claim[]): number[][][] {
  const rooms = new Map<string, Map<string, number[]>>();
  claims.forEach((claim, k) => {
    const contents = rooms.get(claim.room) ?? new Map<string, number[]>();
    contents.set(claim.content, [...(contents.get(claim.content) ?? []), k]);
    rooms.set(claim.room, contents);
  });
  return [...rooms.values()].map((contents) => [...contents.values()]);
}

function needsOf(problem: TimetableProblem, startOf: ReadonlyMap<string, number>): Need[] {
  const needs: Need[] = [];
  for (const a of problem.activities)
    for (const [wish, hand] of a.hands.entries()) {
      const order = hand.anyOf
        .map((id) => problem.people.findIndex((p) => p.id === id))
        .filter((p) => p >= 0);
      const start = startOf.get(a.id) as number;
      // Everybody is wanted: no choice is left, and none of the ways round needs to be tried.
      const all = hand.count === order.length;
      for (let k = 0; k < hand.count; k++) {
        const own = all ? [order[k] as number] : order;
        needs.push({
          activity: a.id,
          kind: hand.kind,
          start,
          end: start + 1,
          domain: own.reduce((mask, p) => mask | (1 << p), 0),
          order: own,
          wish,
          key: keyOf.need(a.id),
        });
      }
    }
  return needs;
}

/** Do two needs exclude each other when one person gets both? */
function meet(a: Need, b: Need, manyHanded: readonly boolean[]): boolean {
  const both = a.domain & b.domain;
  // Several hands for one activity are several people, even when they only stand by.
  if (a.activity === b.activity) return a.kind === b.kind && both !== 0;
  if (!manyHanded.some((many, p) => !many && both & (1 << p))) return false;
  if (a.kind === 'at-hand' || b.kind === 'at-hand') return a.kind === 'away' || b.kind === 'away';
  return true;
}

function pairsOf<T>(
  list: readonly T[],
  clash: (a: T, b: T) => boolean,
  bond: (a: T, b: T) => Pick<Pair, 'apart' | 'twins'>,
): Pair[] {
  const pairs: Pair[] = [];
  for (let a = 0; a < list.length; a++)
    for (let b = a + 1; b < list.length; b++)
      if (clash(list[a] as T, list[b] as T))
        pairs.push({ a, b, ...bond(list[a] as T, list[b] as T) });
  return pairs;
}
