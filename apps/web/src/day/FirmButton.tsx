import type { LogEvent } from '@ladlework/log';
import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import { mayPress } from '../data/access.ts';
import { Fingers, isMeant } from './press-guard.ts';

interface Props {
  readonly class?: string;
  readonly label?: string;
  readonly pressed?: boolean;
  readonly disabled?: boolean;
  /** What a press writes; a device that may not write it does not show the button. */
  readonly writes?: LogEvent['type'];
  readonly onFirm: () => void;
  readonly children: ComponentChildren;
}

const fingers = new Fingers();
// Before any button hears of it, so that a button's own finger counts as the first.
const early = { capture: true, passive: true };
addEventListener(
  'pointerdown',
  (e: PointerEvent) => {
    if (e.pointerType === 'touch') fingers.touch(e.pointerId);
  },
  early,
);
for (const end of ['pointerup', 'pointercancel'] as const) {
  addEventListener(end, (e: PointerEvent) => fingers.lift(e.pointerId), early);
}
document.addEventListener('visibilitychange', () => fingers.liftAll());

/** A button that a falling drop does not press: one finger, at least 80 ms, and let go on it. */
export function FirmButton({ label, pressed, disabled, writes, onFirm, children, ...rest }: Props) {
  const down = useRef({ atMs: 0, alone: true, crowds: 0 });
  const meant = useRef<(() => void) | undefined>(undefined);
  if (writes !== undefined && !mayPress(writes)) return null;
  return (
    <button
      type="button"
      class={rest.class}
      aria-label={label}
      aria-pressed={pressed}
      disabled={disabled}
      onPointerDown={(e) => {
        down.current = { atMs: e.timeStamp, alone: fingers.count <= 1, crowds: fingers.crowds };
        meant.current = onFirm;
      }}
      onClick={(e) => {
        const { atMs, alone, crowds } = down.current;
        const press = {
          pointerType: 'pointerType' in e ? String(e.pointerType) : '',
          heldMs: e.timeStamp - atMs,
          crowded: !alone || fingers.crowds !== crowds,
        };
        if (!isMeant(press)) return;
        // The button may have changed its word under the finger; what was pressed is done. A
        // keyboard presses without a pointer.
        (meant.current ?? onFirm)();
        meant.current = undefined;
      }}
    >
      {children}
    </button>
  );
}
