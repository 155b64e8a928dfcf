import { signal } from '@preact/signals';

/** Whether the screen stays on while a brew runs. */
export const awake = signal<'on' | 'off' | 'cannot'>('off');

let lock: WakeLockSentinel | undefined;
let wanted = false;

async function take(): Promise<void> {
  if (!wanted || document.visibilityState !== 'visible') return;
  if (!('wakeLock' in navigator)) {
    awake.value = 'cannot';
    return;
  }
  try {
    lock = await navigator.wakeLock.request('screen');
    awake.value = 'on';
    lock.addEventListener('release', () => {
      awake.value = 'off';
    });
  } catch {
    // Refused on low battery or an address that is not trusted; the page says so.
    awake.value = 'cannot';
  }
}

document.addEventListener('visibilitychange', () => void take());

/** Keeps the screen on from now, again after each return to the page. */
export function stayAwake(): () => void {
  wanted = true;
  void take();
  return () => {
    wanted = false;
    void lock?.release();
  };
}
