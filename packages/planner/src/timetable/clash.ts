/**
 * Why a day cannot be done: a smallest set of limits that already contradict each other, found by
 * leaving limits out and proving again. Each is tried alone: does the day work without it?
 */
import { compile, keyOf } from './compile.ts';
import type { Activity, TimetableProblem } from './problem.ts';
import { type Budget, search } from './search.ts';

/** One limit of a clash. */
export interface TimetableClash {
  readonly code:
    | 'window'
    | 'event'
    | 'finish-by'
    | 'not-before'
    | 'not-after'
    | 'one-pair-of-hands'
    | 'vessel'
    | 'waits'
    | 'lasts'
    | 'needs-hands';
  /** For the brewer, in plain words. */
  readonly text: string;
  /** Activities it names. */
  readonly activities: readonly string[];
  /** True when the whole day works with this one limit lifted; proven by solving it. */
  readonly freesAlone: boolean;
}

export interface ClashProof {
  readonly clashes: readonly TimetableClash[];
  /** True when no limit of the set can be left out; false when a proof ran out of its budget. */
  readonly minimal: boolean;
}

interface Limit {
  readonly key: string;
  readonly code: TimetableClash['code'];
  readonly text: string;
  readonly activities: readonly string[];
}

/** Nodes for each of the small proofs. */
const PROOF_NODES = 4000;

/**
 * The clash of an infeasible day.
 * @param problem a day proven infeasible
 * @param clock minutes after day start as clock time
 * @param budget of each proof
 * @returns limits that contradict each other
 * @source minimal conflicts by divide and conquer (U. Junker, AAAI 2004)
 */
export function clashOf(
  problem: TimetableProblem,
  clock: (minute: number) => string,
  budget: Budget = { nodes: PROOF_NODES },
): ClashProof {
  const limits = limitsOf(problem, clock);
  const all = new Set(limits.map((l) => l.key));
  let minimal = true;
  const state = (dropped: ReadonlySet<string>) =>
    search(compile(problem, dropped), budget, 'any').state;
  const infeasible = (kept: readonly Limit[]): boolean => {
    const dropped = new Set(all);
    for (const l of kept) dropped.delete(l.key);
    const answer = state(dropped);
    if (answer === 'unknown') minimal = false;
    return answer === 'infeasible';
  };
  const conflict = (ground: readonly Limit[], fresh: boolean, rest: readonly Limit[]): Limit[] => {
    if (fresh && infeasible(ground)) return [];
    if (rest.length <= 1) return [...rest];
    const half = Math.ceil(rest.length / 2);
    const head = rest.slice(0, half);
    const tail = rest.slice(half);
    const inTail = conflict([...ground, ...head], true, tail);
    const inHead = conflict([...ground, ...inTail], inTail.length > 0, head);
    return [...inHead, ...inTail];
  };
  const named = infeasible([]) ? [] : conflict([], false, limits);
  return {
    clashes: named.map(({ key, code, text, activities }) => {
      const without = search(
        compile(problem, new Set([key])),
        budget,
        code === 'finish-by' ? 'finish' : 'any',
      );
      const finish = without.state === 'solved' ? without.levels[0] : undefined;
      const least =
        code === 'finish-by' && finish ? ` It cannot end before ${clock(finish.bound)}.` : '';
      return { code, text: text + least, activities, freesAlone: without.state === 'solved' };
    }),
    minimal,
  };
}

/** Every limit, those a brewer can most easily lift first: they are named where there is a choice. */
function limitsOf(problem: TimetableProblem, clock: (minute: number) => string): Limit[] {
  const { activities, people } = problem;
  const name = (id: string) => activities.find((a) => a.id === id)?.name ?? id;
  const limits: Limit[] = [];
  const add = (key: string, code: Limit['code'], text: string, acts: readonly string[] = []) =>
    limits.push({ key, code, text, activities: acts });
  if (problem.finishByMin !== undefined)
    add(keyOf.finishBy, 'finish-by', `The day is to end by ${clock(problem.finishByMin)}.`);
  for (const p of people) {
    const from = p.fromMin === undefined ? '' : ` comes at ${clock(p.fromMin)}`;
    const until = p.untilMin === undefined ? '' : ` leaves at ${clock(p.untilMin)}`;
    if (from || until)
      add(keyOf.window(p.id), 'window', `${p.name}${from}${from && until ? ' and' : ''}${until}.`);
  }
  for (const a of activities)
    if (a.fixedStartMin !== undefined || a.fixedEndMin !== undefined)
      add(
        keyOf.fixed(a.id),
        'event',
        `${a.name} is at ${clock(a.fixedStartMin ?? a.fixedEndMin ?? 0)}.`,
        [a.id],
      );
  for (const a of activities) {
    if (a.earliestMin !== undefined)
      add(
        keyOf.earliest(a.id),
        'not-before',
        `${a.name} does not start before ${clock(a.earliestMin)}.`,
        [a.id],
      );
    if (a.latestEndMin !== undefined)
      add(keyOf.latest(a.id), 'not-after', `${a.name} is to be over by ${clock(a.latestEndMin)}.`, [
        a.id,
      ]);
  }
  for (const p of people)
    add(keyOf.hands(p.id), 'one-pair-of-hands', `${p.name} has one pair of hands.`);
  for (const claim of compile(problem).claims) {
    const acts = [...new Set([claim.from, claim.to])];
    add(claim.key, 'vessel', claimText(problem, claim, name), acts);
  }
  problem.lags.forEach((lag, k) => {
    if (lag.mostMin === undefined || !Number.isFinite(lag.mostMin)) return;
    const from = `${lag.from.edge === 'start' ? 'the start' : 'the end'} of "${name(lag.from.activity)}"`;
    const to = lag.to.edge === 'start' ? 'starts' : 'ends';
    const why = lag.why ? `: ${lag.why}` : '';
    add(
      keyOf.most(k),
      'waits',
      `"${name(lag.to.activity)}" ${to} at most ${lag.mostMin} min after ${from}${why}.`,
      [lag.from.activity, lag.to.activity],
    );
  });
  for (const a of activities)
    if (hasMost(a)) add(keyOf.stretch(a.id), 'lasts', lastsText(a), [a.id]);
  for (const a of activities)
    if (a.hands.length > 0) add(keyOf.need(a.id), 'needs-hands', needText(problem, a), [a.id]);
  return limits;
}

const hasMost = (a: Activity) => a.stretchMin === undefined || Number.isFinite(a.stretchMin);

function lastsText(a: Activity): string {
  const most = Math.ceil(a.minutes.likely - 1e-6) + (a.stretchMin ?? 0);
  return `${a.name} lasts ${most} min${a.stretchMin ? ' at most' : ''}.`;
}

function claimText(
  problem: TimetableProblem,
  claim: { room: string; from: string; to: string },
  name: (id: string) => string,
): string {
  const room = problem.names[claim.room] ?? claim.room;
  return claim.from === claim.to
    ? `${room} is wanted for "${name(claim.from)}".`
    : `${room} is taken from "${name(claim.from)}" to the end of "${name(claim.to)}".`;
}

function needText(problem: TimetableProblem, a: Activity): string {
  const who = (ids: readonly string[]) =>
    ids.map((id) => problem.people.find((p) => p.id === id)?.name ?? id).join(' or ');
  return a.hands
    .map((h) => {
      if (h.kind === 'away') return `${who(h.anyOf)} is away for "${a.name}".`;
      const doing = h.kind === 'busy' ? 'takes' : 'wants somebody at hand:';
      return `"${a.name}" ${doing} ${h.count > 1 ? `${h.count} of ` : ''}${who(h.anyOf)}.`;
    })
    .join(' ');
}
