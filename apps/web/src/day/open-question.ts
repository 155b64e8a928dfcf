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
