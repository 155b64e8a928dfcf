import type { BrewState } from '@ladlework/log';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { show } from '../units/show.ts';
import { FirmButton } from './FirmButton.tsx';
import { reasonOf } from './reason.ts';
import type { RunMove } from './run.ts';

/** The reason of the move on the card, for who asks. */
export function Why({ brew, focus }: { brew: BrewState; focus: RunMove }) {
  const asked = useSignal(false);
  useEffect(() => {
    asked.value = false;
  }, [focus.move.id, asked]);
  const reason = reasonOf(focus.move, brew.planSummary, (c) => show('temperature', c, 0));
  if (reason === undefined) return null;
  return (
    <div class="why">
      <FirmButton
        class="key"
        pressed={asked.value}
        onFirm={() => {
          asked.value = !asked.value;
        }}
      >
        Why?
      </FirmButton>
      {asked.value && (
        <p class="do-more" role="status">
          {reason}
        </p>
      )}
    </div>
  );
}
