/** Which reading still has to be asked about. Pure. */
import type { BrewState, ReadingState } from '@ladlework/log';
import type { Questioned } from '@ladlework/planner';

export interface OpenQuestion {
  readonly reading: ReadingState;
  readonly expected: Questioned['expected'];
}

/**
 * The newest reading the forecast did not take, unless its box has been read again since.
 *
 * @param questioned as the engine has them
 */
export function openQuestion(
  brew: BrewState,
  questioned: readonly Questioned[],
): OpenQuestion | undefined {
  for (const { entry, expected } of [...questioned].reverse()) {
    if (entry.kind !== 'reading') continue;
    const reading = brew.readings.find((r) => r.eventId === entry.id);
    if (reading === undefined || reading.standing !== 'holds') continue;
    const again = brew.readings.some(
      (r) =>
        r.standing === 'holds' &&
        r.vessel === reading.vessel &&
        r.what === reading.what &&
        r.atMs > reading.atMs,
    );
    if (!again) return { reading, expected };
  }
  return undefined;
}

/** A heat-up that was tapped done when no burner of this kit could have been so quick or slow. */
export interface OddDone {
  readonly moveId: string;
  readonly vessel: string;
  /** When it was to be done [min after day start]. */
  readonly expected: Questioned['expected'];
}

/** After this long the day has gone on and the reading is no longer what matters [min]. */
const ASKED_FOR_MIN = 30;

/**
 * The newest such heat-up whose vessel has not been read since.
 *
 * @param nowMin [min after day start]
 */
export function oddDone(
  brew: BrewState,
  questioned: readonly Questioned[],
  nowMin: number,
): OddDone | undefined {
  for (const { entry, expected } of [...questioned].reverse()) {
    if (entry.kind !== 'done' || nowMin - entry.atMin > ASKED_FOR_MIN) continue;
    const move = brew.planSummary?.moves.find((m) => m.id === entry.moveId);
    const doneAtMs = brew.moves.find((m) => m.moveId === entry.moveId)?.doneAtMs;
    if (move === undefined || doneAtMs === undefined) continue;
    const read = brew.readings.some(
      (r) =>
        r.standing === 'holds' &&
        r.what === 'temp' &&
        r.vessel === move.vessel &&
        r.atMs >= doneAtMs,
    );
    if (!read) return { moveId: move.id, vessel: move.vessel, expected };
  }
  return undefined;
}
