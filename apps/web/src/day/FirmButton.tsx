import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';

interface Props {
  readonly class?: string;
  readonly label?: string;
  readonly pressed?: boolean;
  readonly disabled?: boolean;
  readonly onFirm: () => void;
  readonly children: ComponentChildren;
}

/** Shorter touches are drops and sleeves [ms]. @source field.md section 5, from memory there */
const SHORTEST_MS = 80;
let fingers = 0;

addEventListener('pointerdown', (e: PointerEvent) => {
  if (e.pointerType === 'touch') fingers += 1;
});
for (const end of ['pointerup', 'pointercancel'] as const) {
  addEventListener(end, (e: PointerEvent) => {
    if (e.pointerType === 'touch') fingers = Math.max(0, fingers - 1);
  });
}

/** A button that a falling drop does not press: one finger, at least 80 ms, and let go on it. */
export function FirmButton({ label, pressed, disabled, onFirm, children, ...rest }: Props) {
  const down = useRef(0);
  const alone = useRef(true);
  const meant = useRef<(() => void) | undefined>(undefined);
  return (
    <button
      type="button"
      class={rest.class}
      aria-label={label}
      aria-pressed={pressed}
      disabled={disabled}
      onPointerDown={(e) => {
        down.current = e.timeStamp;
        alone.current = fingers <= 1;
        meant.current = onFirm;
      }}
      onClick={(e) => {
        const touch = 'pointerType' in e && e.pointerType === 'touch';
        if (touch && (e.timeStamp - down.current < SHORTEST_MS || !alone.current)) return;
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
