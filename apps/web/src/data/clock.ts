/** The brewhouse's time on this device: device-clock.ts fed by the browser. */
import type { ClockNote } from '@ladlework/log';
import { signal } from '@preact/signals';
import { readKept, writeKept } from '../shell/kept.ts';
import {
  answered,
  type ClockSample,
  type DeviceClock,
  type KeptClock,
  type Look,
  lookedAt,
  noteOf,
  openedClock,
  wantsAnswer,
} from './device-clock.ts';

/** Tablets leave a page before they sleep; a computer whose lid is shut goes on showing it. */
const leavesBeforeSleep = matchMedia('(pointer: coarse)').matches;
let wasHidden = false;

function look(): Look {
  const watched = leavesBeforeSleep && !wasHidden && document.visibilityState === 'visible';
  return { dateMs: Date.now(), perfMs: performance.now(), watched };
}

function readClock(raw: unknown): KeptClock | undefined {
  if (typeof raw !== 'object' || raw === null) return undefined;
  const { offsetMs, dateMs } = raw as Partial<Record<keyof KeptClock, unknown>>;
  const numbers = Number.isFinite(offsetMs) && Number.isFinite(dateMs);
  return numbers ? { offsetMs: Number(offsetMs), dateMs: Number(dateMs) } : undefined;
}

/** How this device's clock stands. */
export const deviceClock = signal<DeviceClock>(
  openedClock(
    look(),
    readKept<KeptClock | undefined>('clock', undefined, (raw) => readClock(raw)),
  ),
);

function become(clock: DeviceClock): void {
  deviceClock.value = clock;
  wasHidden = document.visibilityState === 'hidden';
}

/** The brewhouse's time, epoch ms. */
export function nowMs(): number {
  const now = look();
  // A jump since the last tick is seen here as well, before anything is timed by it.
  return Math.round(now.dateMs + lookedAt(deviceClock.value, now).offsetMs);
}

/** The time an entry is made, and what there is to say of the clock that tells it. */
export function stamp(): { readonly atMs: number; readonly clock: ClockNote } {
  become(lookedAt(deviceClock.peek(), look()));
  const clock = deviceClock.peek();
  return { atMs: Math.round(clock.look.dateMs + clock.offsetMs), clock: noteOf(clock) };
}

/** Takes an answer of the server. */
export function serverSaid(sample: ClockSample): void {
  become(answered(lookedAt(deviceClock.peek(), look()), sample));
  keep();
}

function keep(): void {
  const { offsetMs, look: at } = deviceClock.peek();
  writeKept('clock', { offsetMs, dateMs: at.dateMs } satisfies KeptClock);
}

let onDoubt: () => void = () => {};

/** Called once a second while the server should be asked for its time. */
export function whenClockDoubtful(run: () => void): void {
  onDoubt = run;
}

const KEEP_EVERY_MS = 30_000;
let keptAtMs = 0;

/** Ticks each second while the page is open; pages that show time read it. */
const tick = signal(Date.now());
setInterval(() => {
  const before = deviceClock.peek();
  become(lookedAt(before, look()));
  const { jumpMs, doubtMs, look: at } = deviceClock.peek();
  if (at.perfMs - keptAtMs > KEEP_EVERY_MS || jumpMs !== before.jumpMs) {
    keptAtMs = at.perfMs;
    keep();
  }
  if (jumpMs !== before.jumpMs || doubtMs > before.doubtMs) onDoubt();
  tick.value = at.dateMs;
}, 1000);

document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'hidden') {
    wasHidden = true;
    keep();
  }
});

/** The brewhouse's time as a reading that moves, epoch ms. */
export function movingNowMs(): number {
  return tick.value + deviceClock.value.offsetMs;
}

/** Whether the server should be asked for its time. */
export const clockWantsAnswer = (): boolean => wantsAnswer(deviceClock.peek());
