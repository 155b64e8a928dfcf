/** Notices that this device's page was left, and when it is looked at again. */
import { signal } from '@preact/signals';
import { nowMs } from '../data/clock.ts';
import { readKept, writeKept } from '../shell/kept.ts';
import { type Away, awayBetween } from './interruption.ts';

const BEAT_MS = 15_000;

/** The interruption this device has come back from, until it is gone on from. */
export const away = signal<Away | undefined>(undefined);

const lookedAt = (brew: string) =>
  readKept<number | undefined>(`looked.${brew}`, undefined, (raw) =>
    typeof raw === 'number' && Number.isFinite(raw) ? raw : undefined,
  );

/**
 * Keeps when this brew's page was last on the screen, and notices a return to it: from another
 * page, another app, a locked screen or a reload.
 *
 * @returns ends it
 */
export function watchForReturns(brew: string): () => void {
  const look = () => writeKept(`looked.${brew}`, nowMs());
  const back = () => {
    const found = awayBetween(lookedAt(brew), nowMs());
    if (found !== undefined) away.value = found;
    look();
  };
  const turn = () => (document.visibilityState === 'visible' ? back() : look());
  away.value = undefined;
  if (document.visibilityState === 'visible') back();
  const beat = setInterval(() => {
    if (document.visibilityState === 'visible') look();
  }, BEAT_MS);
  document.addEventListener('visibilitychange', turn);
  return () => {
    clearInterval(beat);
    document.removeEventListener('visibilitychange', turn);
    look();
  };
}
