/** A key, a foot switch or a presenter presses what is large on the page. */
import { useEffect } from 'preact/hooks';
import { kept, oneOf } from '../shell/kept.ts';
import { pressesLarge } from './large-key.ts';
import { isWiping } from './WipeLock.tsx';

/** Whether keys that scroll elsewhere, as foot switches send them, press as well. */
export const footSwitch = kept<'on' | 'off'>('foot-switch', 'off', oneOf('on', 'off'));

/** A bouncing switch, or a key held by a sleeve [ms]. */
const APART_MS = 1_000;

/**
 * What is safe to press without looking: an alarm's answer; while somebody carries, one portion
 * more and never the end of the return; else the large button of the card. All can be undone.
 */
function safeButton(): HTMLButtonElement | undefined {
  const find = (selector: string) =>
    document.querySelector<HTMLButtonElement>(`${selector}:not(:disabled)`) ?? undefined;
  if (document.querySelector('[role="alertdialog"]') !== null) return find('.alarm-seen');
  const card = 'section[aria-label="Now"]';
  return find(`${card} .key.portion`) ?? find(`${card} .key.done`);
}

const focusOf = (target: EventTarget | null): 'field' | 'control' | 'page' => {
  if (!(target instanceof Element)) return 'page';
  if (target.closest('input, select, textarea, [contenteditable="true"]')) return 'field';
  return target.closest('button, a[href], summary') ? 'control' : 'page';
};

/** Lets keys press while the day is on the screen. */
export function useHardwareKeys(): void {
  useEffect(() => {
    let lastMs = Number.NEGATIVE_INFINITY;
    const press = (e: KeyboardEvent) => {
      if (e.repeat || e.ctrlKey || e.altKey || e.metaKey || e.defaultPrevented) return;
      if (!pressesLarge(e.key, focusOf(e.target), footSwitch.value === 'on') || isWiping()) return;
      e.preventDefault();
      if (e.timeStamp - lastMs < APART_MS) return;
      lastMs = e.timeStamp;
      safeButton()?.click();
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  }, []);
}
