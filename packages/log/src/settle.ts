/**
 * Corrections applied. Every fold works on settled events: the original, what it says now, and what
 * it said before.
 */
import type { CorrectableType, EventData, LogEvent } from './event.ts';
import { groupBy } from './group.ts';
import { compareEvents, mergeEvents } from './order.ts';

/** What an event said before a correction, or what a passed-over correction says. */
export interface Past<T extends CorrectableType> {
  readonly eventId: string;
  readonly data: EventData[T];
  readonly readAtMs: number;
  readonly who: string;
  /** Why it was replaced; absent for a correction that lost to a later one. */
  readonly reason?: string;
}

/** An event with its corrections applied. */
export type SettledEvent<T extends CorrectableType = CorrectableType> = {
  [K in T]: {
    readonly type: K;
    readonly event: LogEvent<K>;
    /** What it says now; for a withdrawn event, what it said last. */
    readonly data: EventData[K];
    readonly readAtMs: number;
    readonly standing: 'holds' | 'withdrawn';
    /** Why it was withdrawn or last corrected. */
    readonly reason?: string;
    /**
     * The event to name next: the last correction that holds, the withdrawal, or the original.
     * Naming it undoes or replaces only that last step.
     */
    readonly headId: string;
    readonly past: readonly Past<K>[];
  };
}[T];

/** A correction that could not be applied, and why. */
export interface Unapplied {
  readonly eventId: string;
  readonly why: 'target-missing' | 'wrong-kind' | 'circle' | 'too-long';
}

export interface Settled {
  /** Originals in order of when they were true, withdrawn ones included. */
  readonly events: readonly SettledEvent[];
  readonly unapplied: readonly Unapplied[];
}

/** Nobody corrects one reading a hundred times; a longer chain is a fault or an attack. */
const LONGEST_CHAIN = 100;

type Original = LogEvent<CorrectableType>;
type Mend = LogEvent<'corrected' | 'withdrawn'>;

const isMend = (e: LogEvent): e is Mend => e.type === 'corrected' || e.type === 'withdrawn';

/**
 * Applies the corrections of a log.
 *
 * The result depends on the set of events only, not on the order they are handed in.
 *
 * @param log events of any streams, in any order, repeats allowed
 */
export function settle(log: readonly LogEvent[]): Settled {
  const events = mergeEvents(log);
  const byId = new Map(events.map((e) => [e.id, e]));
  const applied: Mend[] = [];
  const unapplied: Unapplied[] = [];
  for (const event of events.filter(isMend)) {
    const why = whyNot(event, byId);
    if (why === undefined) applied.push(event);
    else unapplied.push({ eventId: event.id, why });
  }
  const mends = groupBy(applied, (m) => m.corrects ?? '');
  const settled = events
    .filter((e): e is Original => !isMend(e))
    .map((e) => settleOne(e, mends))
    .sort((a, b) => a.readAtMs - b.readAtMs || compareEvents(a.event, b.event));
  return { events: settled, unapplied };
}

/** Follows the chain of names to the original; a correction hangs on nothing else. */
function whyNot(mend: Mend, byId: ReadonlyMap<string, LogEvent>): Unapplied['why'] | undefined {
  const seen = new Set([mend.id]);
  let at: LogEvent = mend;
  while (isMend(at)) {
    const target = byId.get(at.corrects ?? '');
    if (target === undefined) return 'target-missing';
    if (seen.has(target.id)) return 'circle';
    if (seen.size > LONGEST_CHAIN) return 'too-long';
    if (target.stream !== at.stream) return 'wrong-kind';
    // A withdrawal can only be withdrawn: there is nothing in it to say otherwise.
    if (at.type === 'corrected' && target.type === 'withdrawn') return 'wrong-kind';
    if (at.type === 'corrected' && at.data.of !== kindOf(target)) return 'wrong-kind';
    seen.add(target.id);
    at = target;
  }
  return undefined;
}

function kindOf(event: LogEvent): string {
  return event.type === 'corrected' ? event.data.of : event.type;
}

/** Whether a correction stands: it does unless a withdrawal that stands names it. */
function stands(mend: Mend, mends: ReadonlyMap<string, readonly Mend[]>): boolean {
  return withdrawalOf(mend.id, mends) === undefined;
}

function withdrawalOf(id: string, mends: ReadonlyMap<string, readonly Mend[]>): Mend | undefined {
  return mends.get(id)?.findLast((m) => m.type === 'withdrawn' && stands(m, mends));
}

function settleOne(event: Original, mends: ReadonlyMap<string, readonly Mend[]>): SettledEvent {
  const past: Past<CorrectableType>[] = [];
  let head: Original | LogEvent<'corrected'> = event;
  let data: EventData[CorrectableType] = event.data;
  let readAtMs = event.readAtMs;
  let reason: string | undefined;
  for (;;) {
    const standing: LogEvent<'corrected'>[] = (mends.get(head.id) ?? []).filter(
      (m): m is LogEvent<'corrected'> => m.type === 'corrected' && stands(m, mends),
    );
    const next = standing.at(-1);
    if (next === undefined) break;
    for (const lost of standing.slice(0, -1)) {
      past.push({
        eventId: lost.id,
        data: lost.data.data,
        readAtMs: lost.data.readAtMs ?? readAtMs,
        who: lost.who,
      });
    }
    past.push({ eventId: head.id, data, readAtMs, who: head.who, reason: next.data.reason });
    data = next.data.data;
    readAtMs = next.data.readAtMs ?? readAtMs;
    reason = next.data.reason;
    head = next;
  }
  // Withdrawing the original removes the reading however often it was corrected.
  const withdrawal = withdrawalOf(event.id, mends);
  const settled = {
    type: event.type,
    event,
    data,
    readAtMs,
    standing: withdrawal === undefined ? 'holds' : 'withdrawn',
    headId: withdrawal?.id ?? head.id,
    past,
  };
  const why = withdrawal?.type === 'withdrawn' ? withdrawal.data.reason : reason;
  // `of` was checked against the type above, so data and type agree; the compiler cannot see it.
  return (why === undefined ? settled : { ...settled, reason: why }) as SettledEvent;
}
