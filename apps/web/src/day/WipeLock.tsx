import { signal, useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { FirmButton } from './FirmButton.tsx';

/** Long enough for a cloth, short enough that nobody waits for a page that is merely clean [ms]. */
const WIPE_MS = 30_000;
/** The second button waits this long for its tap [ms]. */
const SECOND_WITHIN_MS = 5_000;

/** Until when the page takes no touch and no key; by the browser's own steady clock [ms]. */
const until = signal<number | undefined>(undefined);

/** Whether somebody wipes the screen. */
export const isWiping = (): boolean => until.value !== undefined;

/** Shuts the page for a cloth. */
export const wipe = (): void => {
  until.value = performance.now() + WIPE_MS;
};

/** Over everything while the screen is wiped; opens by two buttons in two corners, or by itself. */
export function WipeLock({ alarm }: { alarm: string | undefined }) {
  if (until.value === undefined) return null;
  return <Lock untilMs={until.value} alarm={alarm} />;
}

function Lock({ untilMs, alarm }: { untilMs: number; alarm: string | undefined }) {
  const left = useSignal(Math.ceil(WIPE_MS / 1000));
  const first = useSignal<number | undefined>(undefined);
  const sheet = useRef<HTMLDivElement>(null);
  const open = () => {
    until.value = undefined;
  };
  useEffect(() => {
    sheet.current?.querySelector('button')?.focus();
    const tick = setInterval(() => {
      const now = performance.now();
      left.value = Math.max(0, Math.ceil((untilMs - now) / 1000));
      if (first.value !== undefined && now > first.value) first.value = undefined;
      if (now >= untilMs) open();
    }, 250);
    return () => clearInterval(tick);
  }, [untilMs]);
  return (
    <div ref={sheet} class="wipe" role="dialog" aria-modal="true" aria-label="Locked for wiping">
      <div class="wipe-second">
        {first.value !== undefined && (
          <FirmButton class="key read" onFirm={open}>
            And here: open
          </FirmButton>
        )}
      </div>
      <div class="wipe-said">
        <p class="wipe-head">Wipe now</p>
        <p>Nothing is pressed. Opens by itself in {left.value} s.</p>
        {alarm !== undefined && (
          <p class="wipe-alarm" role="alert">
            Waiting behind this: {alarm}
          </p>
        )}
      </div>
      <FirmButton
        class="key"
        onFirm={() => {
          first.value = performance.now() + SECOND_WITHIN_MS;
        }}
      >
        Open
      </FirmButton>
    </div>
  );
}
