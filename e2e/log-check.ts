import type { LogEvent } from '@ladlework/log';
import type { Tap } from './brew-day.ts';

/** One event in the place the server gave it. */
interface Placed {
  readonly seq: number;
  readonly event: LogEvent;
}

/**
 * The whole log as the server hands it out.
 *
 * @param url  of the server
 */
export async function serverLog(url: string): Promise<Placed[]> {
  const all: Placed[] = [];
  for (;;) {
    const answer = await fetch(`${url}/api/events?after=${all.at(-1)?.seq ?? 0}`);
    if (!answer.ok) throw new Error(`the server answered ${answer.status} when asked for its log`);
    const { events } = (await answer.json()) as { events: Placed[] };
    if (events.length === 0) return all;
    all.push(...events);
  }
}

type Button = Record<string, readonly [begin: string, finish: string]>;

/** What stands on the large button for each kind of move. */
const BUTTONS: Button = {
  fill: ['Fill', 'Filled'],
  heat: ['Heat', 'Done'],
  hold: ['Hold', 'Done'],
  boil: ['Boil', 'Done'],
  preheat: ['Warm', 'Done'],
  'mash-in': ['Mash in', 'Mashed in'],
  rest: ['Rest', 'Done'],
  pull: ['Pull', 'Pulled'],
  return: ['Return', 'Returned'],
  pour: ['Pour', 'Poured'],
  rinse: ['Rinse', 'Done'],
  wait: ['Stir', 'Done'],
};

/** Kinds that begin by themselves when the move before them is done. */
const BY_THEMSELVES = new Set(['rest', 'heat', 'hold', 'boil', 'wait']);

/** A move of the plan, with the words it had on the plan page. */
export interface PlannedMove {
  readonly id: string;
  readonly kind: string;
  readonly what: string;
}

/**
 * Reads from the log of one device what was tapped there. Every event must belong to a tap: those
 * that a tap writes on the side share its time.
 *
 * @param events  of one brew after it was started, in the order of the log
 * @throws {Error} for an event no tap of the day page writes
 */
export function tapsIn(events: readonly LogEvent[], moves: readonly PlannedMove[]): Tap[] {
  const taps: Tap[] = [];
  for (let i = 0; i < events.length; ) {
    const event = events[i] as LogEvent;
    const together = events
      .slice(i)
      .findIndex((e) => !isMark(e) || e.readAtMs !== event.readAtMs || isMendDone(e));
    const marks = events.slice(i, together === -1 ? events.length : i + together);
    if (marks.length > 0) {
      taps.push(markTap(marks as Mark[], moves));
      i += marks.length;
    } else {
      taps.push(otherTap(event));
      i += 1;
    }
  }
  return taps;
}

type Mark = Extract<LogEvent, { type: 'move-begun' | 'move-done' }>;

const isMark = (e: LogEvent): e is Mark => e.type === 'move-begun' || e.type === 'move-done';
const isMendDone = (e: LogEvent): boolean =>
  e.type === 'move-done' && e.data.moveId.startsWith('mend.');

/** One tap: a move taken up, with the rests it ends; or a move done, with what it sets going. */
function markTap(marks: readonly Mark[], moves: readonly PlannedMove[]): Tap {
  const named = marks.map((mark) => {
    const move = moves.find((m) => m.id === mark.data.moveId);
    if (move === undefined) throw new Error(`the log marks ${mark.data.moveId}, not in the plan`);
    return { done: mark.type === 'move-done', move };
  });
  const last = named.at(-1);
  const first = named[0];
  if (first === undefined || last === undefined) throw new Error('a tap without a mark');
  const began = !last.done && (named.length === 1 || !BY_THEMSELVES.has(last.move.kind));
  const [own, beside] = began ? [last, named.slice(0, -1)] : [first, named.slice(1)];
  for (const { done, move } of beside) {
    const fits = began ? done && move.kind === 'rest' : !done && BY_THEMSELVES.has(move.kind);
    if (!fits) throw new Error(`one tap on ${own.move.id} also marked ${move.id}`);
  }
  const [begin, finish] = BUTTONS[own.move.kind] ?? ['?', '?'];
  const button = began ? begin : finish;
  return { did: began ? 'begin' : 'finish', button, what: own.move.what };
}

function otherTap(event: LogEvent): Tap {
  switch (event.type) {
    case 'reading':
      return { did: 'read', text: event.data.text, unit: event.data.unit };
    case 'ladles-returned':
      return { did: 'portions', count: event.data.portions };
    case 'miss-mended':
      return { did: 'pick', text: event.data.text };
    case 'move-done':
      return { did: 'mend' };
    case 'gate-confirmed':
      return { did: 'gate', code: 'confirmed' };
    case 'note':
      return { did: 'note', text: event.data.text };
    case 'brew-ended':
      return { did: 'end' };
    default:
      throw new Error(`the log holds a ${event.type} that nobody tapped`);
  }
}
