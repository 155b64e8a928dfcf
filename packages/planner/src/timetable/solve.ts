/** One problem solved: times, hands, slack, or the clash. */
import { type ClashProof, clashOf } from './clash.ts';
import { type Compiled, compile, FINISH, ORIGIN } from './compile.ts';
import { addArc } from './network.ts';
import type { NeedKind, TimetableProblem } from './problem.ts';
import { type Budget, type LevelResult, type Schedule, search } from './search.ts';

export interface Placed {
  readonly id: string;
  readonly startMin: number;
  readonly endMin: number;
  readonly hands: readonly { readonly id: string; readonly kind: NeedKind }[];
  /** How much later it may start without moving the finish, all orders kept [min]. */
  readonly slackMin: number;
}

export interface Solved {
  /** optimal: every aim proven. bounded: a schedule with a gap, or none yet, when time ran out. */
  readonly proven: 'optimal' | 'infeasible' | 'bounded';
  readonly finishMin: number;
  /** Most that the finish could still come forward [min]; 0 when it is proven. */
  readonly gapMin: number;
  readonly levels: readonly LevelResult[];
  readonly placed: readonly Placed[];
  readonly clash: ClashProof;
  readonly nodes: number;
  /** Orders and persons of the schedule, for asking the same day of other durations. */
  readonly orders: readonly Order[];
}

/** One thing comes before another: edges of two activities. */
export interface Order {
  readonly before: string;
  readonly after: string;
}

const NO_CLASH: ClashProof = { clashes: [], minimal: true };

/**
 * Solves a day.
 * @param problem the day
 * @param clock minutes after day start as clock time, for the words of a clash
 * @param budget when to stop
 * @param ask the earliest finish only, or every aim; and whether a clash is to be named
 */
export function solve(
  problem: TimetableProblem,
  clock: (minute: number) => string,
  budget: Budget = {},
  ask: { readonly aim?: 'finish' | 'all'; readonly clash?: boolean } = {},
): Solved {
  const c = compile(problem);
  const result = search(c, budget, ask.aim);
  const none = { levels: [], placed: [], orders: [], nodes: result.nodes };
  if (result.state === 'infeasible')
    return {
      ...none,
      proven: 'infeasible',
      finishMin: Number.NaN,
      gapMin: 0,
      clash: ask.clash === false ? NO_CLASH : clashOf(problem, clock),
    };
  if (result.state === 'unknown')
    return {
      ...none,
      proven: 'bounded',
      finishMin: Number.NaN,
      gapMin: Number.NaN,
      clash: NO_CLASH,
    };
  const { schedule, levels } = result;
  const [finish] = levels as [LevelResult];
  const asked = ask.aim === 'finish' ? 1 : c.levels.length;
  const proven = levels.length === asked && levels.every((l) => l.proven);
  const orders = ordersOf(c, schedule);
  return {
    proven: proven ? 'optimal' : 'bounded',
    finishMin: finish.value,
    gapMin: finish.value - finish.bound,
    levels,
    placed: place(c, schedule, orders),
    clash: NO_CLASH,
    nodes: result.nodes,
    orders: orders.map(({ before, after }) => ({ before, after })),
  };
}

interface OrderArc extends Order {
  readonly end: number;
  readonly start: number;
}

/** Every order the schedule chose between things that exclude each other. */
function ordersOf(c: Compiled, { t, persons }: Schedule): OrderArc[] {
  const arcs: OrderArc[] = [];
  for (const pair of c.claimPairs) {
    const a = c.claims[pair.a] as Compiled['claims'][number];
    const b = c.claims[pair.b] as Compiled['claims'][number];
    const [x, y] = (t[a.end] as number) <= (t[b.start] as number) ? [a, b] : [b, a];
    arcs.push({ before: x.to, after: y.from, end: x.end, start: y.start });
  }
  for (const pair of c.needPairs) {
    if (persons[pair.a] !== persons[pair.b]) continue;
    const a = c.needs[pair.a] as Compiled['needs'][number];
    const b = c.needs[pair.b] as Compiled['needs'][number];
    const [x, y] = (t[a.end] as number) <= (t[b.start] as number) ? [a, b] : [b, a];
    arcs.push({ before: x.activity, after: y.activity, end: x.end, start: y.start });
  }
  // The nearest first: most of the others then follow and cost nothing.
  return arcs.sort((a, b) => gapOf(t, a) - gapOf(t, b));
}

const gapOf = (t: Int32Array, a: OrderArc) => (t[a.start] as number) - (t[a.end] as number);

function place(c: Compiled, schedule: Schedule, arcs: readonly OrderArc[]): Placed[] {
  const n = c.points;
  const d = (c.root as Int32Array).slice();
  let sound = addArc(d, n, FINISH, ORIGIN, -(schedule.t[FINISH] as number));
  for (const arc of arcs) sound = sound && addArc(d, n, arc.end, arc.start, 0);
  if (!sound) throw new Error('timetable: the schedule contradicts its own orders');
  return c.problem.activities.map((a) => {
    const start = c.startOf.get(a.id) as number;
    const startMin = schedule.t[start] as number;
    return {
      id: a.id,
      startMin,
      endMin: schedule.t[start + 1] as number,
      hands: c.needs.flatMap((need, k) =>
        need.activity === a.id
          ? [{ id: c.people[schedule.persons[k] as number] as string, kind: need.kind }]
          : [],
      ),
      slackMin: Math.max(0, -(d[start * n + ORIGIN] as number) - startMin),
    };
  });
}
