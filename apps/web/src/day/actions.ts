/** What a tap on the day page writes into the log. Events of one tap share their time. */
import type { BrewState, LogEvent } from '@ladlework/log';
import { nowMs } from '../data/clock.ts';
import { deviceId, events, record } from '../data/house.ts';
import { follows, type Run, type RunMove, restsEndedBy } from './run.ts';

/** Somebody took the move up. */
export async function begin(brew: BrewState, run: Run, move: RunMove): Promise<void> {
  const readAtMs = nowMs();
  for (const rest of restsEndedBy(run, move)) {
    await record({
      stream: brew.stream,
      type: 'move-done',
      data: { moveId: rest.move.id },
      readAtMs,
    });
  }
  await record({
    stream: brew.stream,
    type: 'move-begun',
    data: { moveId: move.move.id },
    readAtMs,
  });
}

/** The move is done; what follows at once by itself has begun. */
export async function finish(brew: BrewState, run: Run, move: RunMove): Promise<void> {
  const readAtMs = nowMs();
  await record({
    stream: brew.stream,
    type: 'move-done',
    data: { moveId: move.move.id },
    readAtMs,
  });
  for (const next of follows(run, move)) {
    await record({
      stream: brew.stream,
      type: 'move-begun',
      data: { moveId: next.move.id },
      readAtMs,
    });
  }
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
  'ladles-returned',
  'miss-mended',
  'caution-seen',
  'note',
  'brew-started',
  'brew-ended',
]);

/** Takes the last tap back; the log keeps both. */
export async function undo(brew: BrewState): Promise<void> {
  for (const event of lastTap(brew)) {
    await record({
      stream: brew.stream,
      type: 'withdrawn',
      corrects: event.id,
      data: { reason: 'undone' },
    });
  }
}
