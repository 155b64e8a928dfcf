/** The state of one brew: a fold over its events. */
import { type Conflict, findConflicts } from './conflict.ts';
import {
  type BreweryClock,
  type ClockNote,
  type KettleChoiceData,
  type LogEvent,
  type LoggedDocument,
  type LoggedMove,
  type MissData,
  type ReadingData,
  streamName,
  streamParts,
  type WortReadData,
} from './event.ts';
import { groupBy } from './group.ts';
import { callGate } from './names.ts';
import { type SettledEvent, settle, type Unapplied } from './settle.ts';
import type { PlanSummary } from './summary.ts';

/** Who wrote an event, when, and what to name to undo it. */
export interface Mark {
  readonly eventId: string;
  readonly headId: string;
  readonly atMs: number;
  readonly enteredAtMs: number;
  readonly who: string;
  readonly device: string;
  /** How the clock that timed it stood. */
  readonly clock?: ClockNote;
}

/** A reading with its standing in the brew. */
export interface ReadingState extends ReadingData, Mark {
  /** `passed-over`: somebody else's value for the same box was chosen. */
  readonly standing: 'holds' | 'withdrawn' | 'passed-over';
  readonly reason?: string;
  /** What it said before it was corrected, oldest first. */
  readonly before: readonly {
    readonly value: number;
    readonly text: string;
    readonly who: string;
    readonly reason?: string;
  }[];
}

/** How far a move has come. */
export interface MoveState {
  readonly moveId: string;
  readonly planned: boolean;
  readonly begunAtMs?: number;
  readonly doneAtMs?: number;
  /** Every mark that stands; undoing means withdrawing them all. */
  readonly begun: readonly Mark[];
  readonly done: readonly Mark[];
  /** Portions landed so far, for a return or a pour. */
  readonly ladles: number;
  readonly ladleMarks: readonly (Mark & { readonly portions: number })[];
}

export interface MendState extends Mark {
  readonly code: string;
  readonly text: string;
  readonly amountL?: number;
  readonly minutes?: number;
  readonly moveId?: string;
}

/** Something that went wrong, and when it was put right. */
export interface MissState extends MissData, Mark {
  readonly over?: Mark;
}

/** A reading of wort; a correction has taken its place already. */
export interface WortReadState extends WortReadData, Mark {
  readonly standing: 'holds' | 'withdrawn';
  readonly reason?: string;
}

/** A call for the brewer. */
export interface CallState extends Mark {
  readonly moveId?: string;
  /** The first answer. */
  readonly answered?: Mark;
}

export interface NoteState extends Mark {
  readonly text: string;
  readonly moveId?: string;
}

export interface BrewState {
  readonly brew: string;
  readonly stream: string;
  readonly document?: LoggedDocument;
  readonly planSummary?: PlanSummary;
  /** The moves as they now go, where a way out of a miss changed them. */
  readonly changedMoves?: readonly LoggedMove[];
  /** The brew whose day this one shares. */
  readonly dayOf?: string;
  /** Every plan there was, oldest first; the last one holds. */
  readonly plans: readonly (Mark & { readonly reason?: string })[];
  readonly startedAtMs?: number;
  readonly clock?: BreweryClock;
  readonly started?: Mark;
  readonly ended?: Mark & { readonly reason: 'finished' | 'abandoned'; readonly text?: string };
  /** In the order of the plan, then what was done beside it. */
  readonly moves: readonly MoveState[];
  /** The move begun last and not done. */
  readonly current?: string;
  readonly underway: readonly string[];
  /** The first move of the plan neither begun nor done. */
  readonly next?: string;
  readonly readings: readonly ReadingState[];
  readonly mends: readonly MendState[];
  readonly misses: readonly MissState[];
  readonly wortReads: readonly WortReadState[];
  /** Ways taken from the full kettle; the last one holds. */
  readonly kettleChoices: readonly (KettleChoiceData & Mark)[];
  readonly notes: readonly NoteState[];
  readonly calls: readonly CallState[];
  readonly cautionsSeen: readonly (Mark & { readonly moveId: string; readonly code: string })[];
  readonly gates: readonly (Mark & { readonly code: string })[];
  readonly conflicts: readonly Conflict[];
  readonly unapplied: readonly Unapplied[];
  /** Newest time anything was true in this brew. */
  readonly lastAtMs?: number;
}

/**
 * The state of one brew.
 *
 * Depends only on which events there are: any order, any repeats, any other streams beside it.
 *
 * @param log events of any streams
 * @param brew id of the brew
 */
export function foldBrew(log: readonly LogEvent[], brew: string): BrewState {
  const stream = streamName('brew', brew);
  const { events, unapplied } = settle(log.filter((e) => e.stream === stream));
  const holds = events.filter((e) => e.standing === 'holds');
  const conflicts = findConflicts(holds);
  const passedOver = new Set(conflicts.flatMap((c) => (c.what === 'reading' ? c.others : [])));

  const plans = [...pick(holds, 'brew-planned'), ...pick(holds, 'plan-changed')].sort(
    (a, b) => holds.indexOf(a) - holds.indexOf(b),
  );
  const newest = plans.at(-1);
  const plan = newest?.data;
  const changedMoves = newest?.type === 'plan-changed' ? newest.data.moves : undefined;
  const dayOf = pick(holds, 'brew-planned').at(-1)?.data.dayOf;
  // Two tablets may both start the day; the first start counts.
  const started = pick(holds, 'brew-started')[0];
  const ended = pick(holds, 'brew-ended').at(-1);
  const moves = foldMoves(holds, plan?.planSummary);
  const underway = moves.filter((m) => m.begunAtMs !== undefined && m.doneAtMs === undefined);
  const current = underway.reduce<MoveState | undefined>(
    (a, b) => (a === undefined || (b.begunAtMs ?? 0) >= (a.begunAtMs ?? 0) ? b : a),
    undefined,
  );
  const next = moves.find(
    (m) => m.planned && m.begunAtMs === undefined && m.doneAtMs === undefined,
  );
  const last = holds.at(-1);

  return {
    brew,
    stream,
    ...(plan && { document: plan.document, planSummary: plan.planSummary }),
    ...(changedMoves !== undefined && { changedMoves }),
    ...(dayOf !== undefined && { dayOf }),
    plans: plans.map((p) => ({
      ...mark(p),
      ...(p.type === 'plan-changed' && { reason: p.data.reason }),
    })),
    ...(started && {
      startedAtMs: started.data.startAtMs,
      clock: started.data.clock,
      started: mark(started),
    }),
    ...(ended && { ended: { ...ended.data, ...mark(ended) } }),
    moves,
    ...(current && { current: current.moveId }),
    underway: underway.map((m) => m.moveId),
    ...(next && { next: next.moveId }),
    readings: pick(events, 'reading').map((r) => readingState(r, passedOver)),
    mends: pick(holds, 'miss-mended').map((e) => ({ ...e.data, ...mark(e) })),
    misses: foldMisses(holds),
    wortReads: pick(events, 'wort-read').map((e) => ({
      ...e.data,
      ...mark(e),
      standing: e.standing,
      ...(e.reason !== undefined && { reason: e.reason }),
    })),
    kettleChoices: pick(holds, 'kettle-chosen').map((e) => ({ ...e.data, ...mark(e) })),
    notes: pick(holds, 'note').map((e) => ({ ...e.data, ...mark(e) })),
    calls: callsOf(holds),
    cautionsSeen: pick(holds, 'caution-seen').map((e) => ({ ...e.data, ...mark(e) })),
    gates: pick(holds, 'gate-confirmed').map((e) => ({ ...e.data, ...mark(e) })),
    conflicts,
    unapplied,
    ...(last && { lastAtMs: last.readAtMs }),
  };
}

function callsOf(holds: readonly SettledEvent[]): CallState[] {
  const gates = pick(holds, 'gate-confirmed');
  return pick(holds, 'brewer-called').map((e) => {
    const answer = gates.find((g) => g.data.code === callGate(e.event.id));
    return { ...e.data, ...mark(e), ...(answer && { answered: mark(answer) }) };
  });
}

/** Every brew in the log, newest first: by start, else by the last thing that was written. */
export function foldBrews(log: readonly LogEvent[]): BrewState[] {
  const byStream = groupBy(log, (e) => e.stream);
  const states: BrewState[] = [];
  for (const [stream, events] of byStream) {
    const parts = streamParts(stream);
    if (parts?.kind === 'brew') states.push(foldBrew(events, parts.id));
  }
  const when = (s: BrewState) => s.startedAtMs ?? s.lastAtMs ?? 0;
  return states.sort((a, b) => when(b) - when(a) || (a.brew < b.brew ? -1 : 1));
}

type Settled<T extends SettledEvent['type']> = Extract<SettledEvent, { readonly type: T }>;

function pick<T extends SettledEvent['type']>(
  events: readonly SettledEvent[],
  type: T,
): Settled<T>[] {
  return events.filter((e): e is Settled<T> => e.type === type);
}

function mark(e: SettledEvent): Mark {
  return {
    eventId: e.event.id,
    headId: e.headId,
    atMs: e.readAtMs,
    enteredAtMs: e.event.enteredAtMs,
    who: e.event.who,
    device: e.event.device,
    ...(e.event.clock && { clock: e.event.clock }),
  };
}

function foldMisses(holds: readonly SettledEvent[]): MissState[] {
  const over = new Map<string, Mark>();
  // The first word that it is over is the nearest to the truth.
  for (const e of pick(holds, 'miss-over'))
    if (!over.has(e.data.miss)) over.set(e.data.miss, mark(e));
  return pick(holds, 'miss-told').map((e) => {
    const ended = over.get(e.event.id);
    return { ...e.data, ...mark(e), ...(ended && { over: ended }) };
  });
}

/** Field by field: a brew has hundreds of readings, and spreading two objects each costs 20 times as much. */
function readingState(r: SettledEvent<'reading'>, passedOver: ReadonlySet<string>): ReadingState {
  const { data, event } = r;
  const chosenAgainst = r.standing === 'holds' && passedOver.has(event.id);
  const state: { -readonly [K in keyof ReadingState]: ReadingState[K] } = {
    vessel: data.vessel,
    what: data.what,
    value: data.value,
    unit: data.unit,
    text: data.text,
    places: data.places,
    settled: data.settled,
    eventId: event.id,
    headId: r.headId,
    atMs: r.readAtMs,
    enteredAtMs: event.enteredAtMs,
    who: event.who,
    device: event.device,
    standing: chosenAgainst ? 'passed-over' : r.standing,
    before: r.past.map((p) => ({
      value: p.data.value,
      text: p.data.text,
      who: p.who,
      ...(p.reason !== undefined && { reason: p.reason }),
    })),
  };
  if (event.clock !== undefined) state.clock = event.clock;
  if (data.sdK !== undefined) state.sdK = data.sdK;
  if (data.moveId !== undefined) state.moveId = data.moveId;
  if (data.probe !== undefined) state.probe = data.probe;
  if (r.reason !== undefined) state.reason = r.reason;
  return state;
}

function foldMoves(holds: readonly SettledEvent[], summary: PlanSummary | undefined): MoveState[] {
  const begun = groupBy(pick(holds, 'move-begun'), (e) => e.data.moveId);
  const done = groupBy(pick(holds, 'move-done'), (e) => e.data.moveId);
  const ladles = groupBy(pick(holds, 'ladles-returned'), (e) => e.data.moveId);
  const planned = new Set(summary?.moves.map((m) => m.id));
  const ids = new Set([...planned, ...begun.keys(), ...done.keys(), ...ladles.keys()]);
  return [...ids].map((moveId) => {
    const begunMarks = (begun.get(moveId) ?? []).map(mark);
    const doneMarks = (done.get(moveId) ?? []).map(mark);
    const ladleMarks = (ladles.get(moveId) ?? []).map((e) => ({
      ...mark(e),
      portions: e.data.portions,
    }));
    return {
      moveId,
      planned: planned.has(moveId),
      // The marks are in order: the first tap is the nearest to the truth.
      ...(begunMarks[0] && { begunAtMs: begunMarks[0].atMs }),
      ...(doneMarks[0] && { doneAtMs: doneMarks[0].atMs }),
      begun: begunMarks,
      done: doneMarks,
      ladles: ladleMarks.reduce((sum, l) => sum + l.portions, 0),
      ladleMarks,
    };
  });
}
