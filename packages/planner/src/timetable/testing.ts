/** Helpers for the tests of the timetable: a day in a few words, and checks that trust nobody. */
import { type Activity, type Lag, leastMinutes, type TimetableProblem } from './problem.ts';
import type { Placed } from './solve.ts';

/** A day from a few activities. */
export function dayOf(
  activities: readonly (Partial<Activity> & { readonly id: string; readonly min: number })[],
  lags: readonly Lag[] = [],
  rest: Partial<TimetableProblem> = {},
): TimetableProblem {
  return {
    activities: activities.map(({ min, ...a }) => ({
      name: a.id,
      minutes: { low: min, likely: min, high: min },
      vessels: [],
      tools: [],
      hands: [],
      ...a,
    })),
    lags,
    holds: [],
    people: [{ id: 'B', name: 'Brewer' }],
    names: {},
    standings: [],
    ...rest,
  };
}

/** `b` starts after `a` has ended, at most so many minutes later. */
export const after = (a: string, b: string, mostMin?: number, leastMin = 0): Lag => ({
  from: { activity: a, edge: 'end' },
  to: { activity: b, edge: 'start' },
  leastMin,
  ...(mostMin === undefined ? {} : { mostMin, why: 'it cools' }),
});

/** Everything a timetable breaks, worked out from the problem alone; empty when it keeps all. */
export function faultsOf(problem: TimetableProblem, placed: readonly Placed[]): string[] {
  const faults: string[] = [];
  const at = new Map(placed.map((p) => [p.id, p]));
  const edge = (m: { activity: string; edge: 'start' | 'end' }) => {
    const p = at.get(m.activity) as Placed;
    return m.edge === 'start' ? p.startMin : p.endMin;
  };
  for (const a of problem.activities) {
    const p = at.get(a.id);
    if (!p) {
      faults.push(`${a.id} is missing`);
      continue;
    }
    const minutes = p.endMin - p.startMin;
    const done = a.fixedStartMin !== undefined && a.fixedEndMin !== undefined;
    if (!done && minutes < leastMinutes(a)) faults.push(`${a.id} too short`);
    if (!done && minutes > leastMinutes(a) + (a.stretchMin ?? 0)) faults.push(`${a.id} too long`);
    if (p.startMin < (a.earliestMin ?? 0)) faults.push(`${a.id} too early`);
    if (a.latestEndMin !== undefined && p.endMin > a.latestEndMin) faults.push(`${a.id} too late`);
    if (a.fixedStartMin !== undefined && p.startMin !== a.fixedStartMin)
      faults.push(`${a.id} moved from its hour`);
    for (const need of a.hands) {
      const own = p.hands.filter((h) => h.kind === need.kind && need.anyOf.includes(h.id));
      if (new Set(own.map((h) => h.id)).size < need.count) faults.push(`${a.id} lacks hands`);
    }
  }
  for (const lag of problem.lags) {
    const gap = edge(lag.to) - edge(lag.from);
    if (lag.leastMin !== undefined && gap < lag.leastMin)
      faults.push(`${lag.from.activity} to ${lag.to.activity}: ${gap} under ${lag.leastMin}`);
    if (lag.mostMin !== undefined && gap > lag.mostMin)
      faults.push(`${lag.from.activity} to ${lag.to.activity}: ${gap} over ${lag.mostMin}`);
  }
  const claims = [
    ...problem.holds.map((h) => ({
      room: h.vessel,
      content: h.content,
      from: edge({ activity: h.from, edge: 'start' }),
      to: edge({ activity: h.to, edge: 'end' }),
    })),
    ...problem.activities.flatMap((a) => {
      const p = at.get(a.id) as Placed;
      const span = { from: p.startMin, to: p.endMin };
      return [
        ...a.vessels.map((v) => ({ room: v.vessel, content: v.content, ...span })),
        ...a.tools.map((t) => ({ room: t, content: a.id, ...span })),
      ];
    }),
  ];
  claims.forEach((x, i) => {
    for (const y of claims.slice(i + 1))
      if (x.room === y.room && x.content !== y.content && x.from < y.to && y.from < x.to)
        faults.push(`${x.room}: ${x.content} and ${y.content} at once`);
  });
  for (const person of problem.people) {
    const own = placed.flatMap((p) =>
      p.hands.filter((h) => h.id === person.id).map((h) => ({ ...p, kind: h.kind })),
    );
    for (const p of own) {
      if (p.kind === 'away') continue;
      if (p.startMin < (person.fromMin ?? 0)) faults.push(`${person.id} not yet here for ${p.id}`);
      if (p.endMin > (person.untilMin ?? Number.POSITIVE_INFINITY))
        faults.push(`${person.id} gone before ${p.id}`);
    }
    own.forEach((x, i) => {
      for (const y of own.slice(i + 1)) {
        const overlap = x.startMin < y.endMin && y.startMin < x.endMin;
        const kinds = [x.kind, y.kind];
        const exclude = !kinds.includes('at-hand') || kinds.includes('away');
        if (overlap && exclude) faults.push(`${person.id}: ${x.id} and ${y.id} at once`);
      }
    });
  }
  return faults;
}

/**
 * The best day by trying every minute of every activity, for days of very few of them: finish,
 * then the hours of each person, the last named first. Knows nothing of networks or bounds.
 * @returns the aims in their order; undefined when nothing fits
 */
export function bruteBest(problem: TimetableProblem, horizonMin: number): number[] | undefined {
  const { activities } = problem;
  let best: number[] | undefined;
  const placed: Placed[] = [];
  const partial = (): boolean => {
    const ids = new Set(placed.map((p) => p.id));
    const part: TimetableProblem = {
      ...problem,
      activities: activities.filter((a) => ids.has(a.id)),
      lags: problem.lags.filter((l) => ids.has(l.from.activity) && ids.has(l.to.activity)),
      holds: problem.holds.filter((h) => ids.has(h.from) && ids.has(h.to)),
    };
    return faultsOf(part, placed).length === 0;
  };
  const go = (k: number): void => {
    if (k === activities.length) {
      const aims = aimsOf(problem, placed);
      if ((aims[0] as number) > (problem.finishByMin ?? horizonMin)) return;
      if (best === undefined || before(aims, best)) best = aims;
      return;
    }
    const a = activities[k] as Activity;
    const least = leastMinutes(a);
    const from = a.fixedStartMin ?? a.earliestMin ?? 0;
    const to = a.fixedStartMin ?? horizonMin;
    for (let startMin = from; startMin <= to; startMin++)
      for (let more = 0; more <= (a.stretchMin ?? 0); more++) {
        const endMin = startMin + least + more;
        if (endMin > (best?.[0] ?? horizonMin)) continue;
        for (const hands of handsFor(a)) {
          placed.push({ id: a.id, startMin, endMin, hands, slackMin: 0 });
          if (partial()) go(k + 1);
          placed.pop();
        }
      }
  };
  go(0);
  return best;
}

function aimsOf(problem: TimetableProblem, placed: readonly Placed[]): number[] {
  const hours = problem.people.map((person) => {
    const own = placed.filter((p) => p.hands.some((h) => h.id === person.id && h.kind !== 'away'));
    if (own.length === 0) return 0;
    return Math.max(...own.map((p) => p.endMin)) - Math.min(...own.map((p) => p.startMin));
  });
  return [Math.max(0, ...placed.map((p) => p.endMin)), ...hours.reverse()];
}

function before(a: readonly number[], b: readonly number[]): boolean {
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return (a[k] as number) < (b[k] as number);
  return false;
}

/** Every way to give an activity its people. */
function handsFor(a: Activity): Placed['hands'][] {
  return a.hands.reduce<Placed['hands'][]>(
    (ways, need) =>
      ways.flatMap((way) =>
        choose(need.anyOf, need.count).map((ids) => [
          ...way,
          ...ids.map((id) => ({ id, kind: need.kind })),
        ]),
      ),
    [[]],
  );
}

function choose(ids: readonly string[], count: number): string[][] {
  if (count === 0) return [[]];
  return ids.flatMap((id, k) => choose(ids.slice(k + 1), count - 1).map((rest) => [id, ...rest]));
}
