/** What a tap on the day page writes into the log. Events of one tap share their time. */
import {
  type BrewState,
  callGate,
  type LogEvent,
  mendMoveId,
  PROBE_KIND,
  type Probe,
  readingGate,
} from '@ladlework/log';
import type { Repair } from '@ladlework/planner';
import { entryUnit } from '@ladlework/quantity';
import { nowMs } from '../data/clock.ts';
import { deviceId, type EventFacts, events, record } from '../data/house.ts';
import { pair } from '../shell/settings.ts';
import { show } from '../units/show.ts';
import { workAfter } from './progress.ts';
import { follows, type Run, type RunMove, restsEndedBy } from './run.ts';

/** Somebody took the move up. */
export async function begin(brew: BrewState, run: Run, move: RunMove): Promise<void> {
  const readAtMs = nowMs();
  const { stream } = brew;
  await record(
    ...restsEndedBy(run, move).map(
      (rest): EventFacts => ({
        stream,
        type: 'move-done',
        data: { moveId: rest.move.id },
        readAtMs,
      }),
    ),
    { stream, type: 'move-begun', data: { moveId: move.move.id }, readAtMs },
  );
}

/** The move is done; what follows at once by itself has begun. */
export async function finish(brew: BrewState, run: Run, move: RunMove): Promise<void> {
  const readAtMs = nowMs();
  const { stream } = brew;
  await record(
    { stream, type: 'move-done', data: { moveId: move.move.id }, readAtMs },
    ...follows(run, move).map(
      (next): EventFacts => ({
        stream,
        type: 'move-begun',
        data: { moveId: next.move.id },
        readAtMs,
      }),
    ),
  );
}

/** Work beside or after the mash was begun. */
export async function beginWork(brew: BrewState, moveId: string): Promise<void> {
  await record({ stream: brew.stream, type: 'move-begun', data: { moveId } });
}

/** Work was done; what goes on by itself has begun. */
export async function finishWork(brew: BrewState, moveId: string): Promise<void> {
  const readAtMs = nowMs();
  const { stream } = brew;
  const next = workAfter(moveId);
  await record(
    { stream, type: 'move-done', data: { moveId }, readAtMs },
    ...(next === undefined
      ? []
      : [{ stream, type: 'move-begun', data: { moveId: next }, readAtMs } satisfies EventFacts]),
  );
}

/** Portions that were carried since the last tap: out of the mash by a pull, else into it. */
export async function portionsIn(brew: BrewState, moveId: string, portions: number): Promise<void> {
  await record({ stream: brew.stream, type: 'ladles-returned', data: { moveId, portions } });
}

/** What a probe shows is true: somebody looked at it and says so. */
export async function takeFromProbe(
  brew: BrewState,
  probe: Probe,
  value: number,
  moveId: string | undefined,
): Promise<void> {
  const kind = PROBE_KIND[probe.what];
  const shown = Number(value.toFixed(2));
  const [event] = await record({
    stream: brew.stream,
    type: 'reading',
    data: {
      vessel: probe.vessel,
      what: probe.what,
      value: shown,
      unit: entryUnit(kind, pair.value, value),
      text: `${show(kind, value, 1)}, ${probe.name}`.slice(0, 60),
      places: 1,
      settled: true,
      sdK: probe.sd,
      probe: probe.id,
      ...(moveId !== undefined && { moveId }),
    },
  });
  if (event === undefined) return;
  // One tap: undo takes both back.
  await record({
    stream: brew.stream,
    type: 'gate-confirmed',
    data: { code: readingGate(event.id) },
    readAtMs: event.readAtMs,
  });
}

/** An iodine test of a vessel. */
export async function iodineTested(brew: BrewState, vessel: string, blue: boolean): Promise<void> {
  await record({
    stream: brew.stream,
    type: 'reading',
    data: {
      vessel,
      what: 'iodine',
      value: blue ? 1 : 0,
      unit: 'iodine',
      text: blue ? 'positive' : 'negative',
      places: 1,
      settled: true,
    },
  });
}

/** A repair was picked; `moveId` is the landing it mends. */
export async function chooseRepair(
  brew: BrewState,
  repair: Repair,
  moveId: string | undefined,
): Promise<void> {
  const { code, text, amountL, minutes } = repair;
  await record({
    stream: brew.stream,
    type: 'miss-mended',
    data: {
      code,
      text,
      minutes,
      ...(amountL !== undefined && { amountL }),
      ...(moveId !== undefined && { moveId }),
    },
  });
}

/** The repair that was picked has been carried out. */
export async function repairDone(brew: BrewState, eventId: string): Promise<void> {
  await record({
    stream: brew.stream,
    type: 'move-done',
    data: { moveId: mendMoveId(eventId) },
  });
}

/** The brewer says a far-out reading is true. */
export async function keepReading(brew: BrewState, eventId: string): Promise<void> {
  await record({
    stream: brew.stream,
    type: 'gate-confirmed',
    data: { code: readingGate(eventId) },
  });
}

/** A helper wants the brewer at the vessel. */
export async function callBrewer(brew: BrewState, moveId: string | undefined): Promise<void> {
  const data = moveId === undefined ? {} : { moveId };
  await record({ stream: brew.stream, type: 'brewer-called', data });
}

/** Somebody comes. */
export async function answerCall(brew: BrewState, eventId: string): Promise<void> {
  await record({
    stream: brew.stream,
    type: 'gate-confirmed',
    data: { code: callGate(eventId) },
  });
}

/** Takes an entry back by name; the log keeps both. */
export async function withdraw(brew: BrewState, eventId: string, reason: string): Promise<void> {
  await record({ stream: brew.stream, type: 'withdrawn', corrects: eventId, data: { reason } });
}

export async function writeNote(brew: BrewState, text: string): Promise<void> {
  await record({ stream: brew.stream, type: 'note', data: { text } });
}

export async function endBrew(
  brew: BrewState,
  reason: 'finished' | 'abandoned',
  text: string,
): Promise<void> {
  await record({
    stream: brew.stream,
    type: 'brew-ended',
    data: { reason, ...(text !== '' && { text }) },
  });
}

/** The events of this device's last tap on this brew that still stand. */
export function lastTap(brew: BrewState): LogEvent[] {
  const own = events.value.filter((e) => e.stream === brew.stream && e.device === deviceId.value);
  const gone = new Set(own.flatMap((e) => (e.type === 'withdrawn' ? [e.corrects ?? ''] : [])));
  const standing = own.filter(
    (e) => e.type !== 'withdrawn' && !gone.has(e.id) && UNDOABLE.has(e.type),
  );
  const last = standing.reduce<LogEvent | undefined>(
    (best, e) => (best === undefined || e.counter > best.counter ? e : best),
    undefined,
  );
  return last === undefined
    ? []
    : standing.filter((e) =>
        e.enteredAtMs - e.readAtMs < 5000 ? e.readAtMs === last.readAtMs : e.id === last.id,
      );
}

const UNDOABLE: ReadonlySet<string> = new Set([
  'move-begun',
  'move-done',
  'reading',
  'wort-read',
  'kettle-chosen',
  'ladles-returned',
  'miss-told',
  'miss-over',
  'plan-changed',
  'miss-mended',
  'gate-confirmed',
  'brewer-called',
  'caution-seen',
  'note',
  'brew-started',
  'brew-ended',
]);

/** Takes the last tap back; the log keeps both. */
export async function undo(brew: BrewState): Promise<void> {
  const tapped = lastTap(brew);
  if (tapped.length === 0) return;
  await record(
    ...tapped.map(
      (event): EventFacts => ({
        stream: brew.stream,
        type: 'withdrawn',
        corrects: event.id,
        data: { reason: 'undone' },
      }),
    ),
  );
}
