import { signal } from '@preact/signals';

/** What is added to this device's clock [ms]; 0 until the server was asked. */
export const offsetMs = signal(0);

/** The brewhouse's time, epoch ms. */
export function nowMs(): number {
  return Math.round(Date.now() + offsetMs.value);
}

/** Ticks each second while the page is open; pages that show time read it. */
const tick = signal(Date.now());
setInterval(() => {
  tick.value = Date.now();
}, 1000);

/** The brewhouse's time as a reading that moves, epoch ms. */
export function movingNowMs(): number {
  return tick.value + offsetMs.value;
}
