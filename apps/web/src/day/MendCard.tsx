import type { ChosenMend } from '@ladlework/contract';
import type { VesselNow } from '@ladlework/planner';
import { clockOf, inPair } from '../units/show.ts';
import { cardSay } from './card-say.ts';
import { countdown } from './countdown.ts';
import { FirmButton } from './FirmButton.tsx';

interface Props {
  readonly mend: ChosenMend;
  readonly nowMs: number;
  /** Where the tun stands once it is done. */
  readonly after: VesselNow | undefined;
  readonly onDone: () => void;
  readonly onOther: () => void;
}

/** The repair that was picked, as the thing to do now. */
export function MendCard({ mend, nowMs, after, onDone, onOther }: Props) {
  const dueMs = mend.chosenAtMs + (mend.minutes ?? 0) * 60_000;
  return (
    <section class="do on" aria-label="Now">
      <p class="do-key">now · mending a miss · until {clockOf(dueMs)}</p>
      <p class="do-what">{inPair(mend.text)}</p>
      <p class="do-how">
        {after !== undefined && (
          <>
            → <b>{cardSay.band(after.tempC)}</b>{' '}
          </>
        )}
        {mend.targetC !== undefined && (
          <span class="soft">wanted {cardSay.target(mend.targetC)}; stir, then read</span>
        )}
      </p>
      <div class="do-act">
        <FirmButton class="key done" writes="move-done" onFirm={onDone}>
          Done
        </FirmButton>
        <FirmButton class="key" writes="miss-mended" onFirm={onOther}>
          Another way
        </FirmButton>
        <p class={dueMs < nowMs ? 'do-left over' : 'do-left'}>
          <span>{countdown(dueMs - nowMs)}</span>
          {dueMs < nowMs && <small> over</small>}
        </p>
      </div>
    </section>
  );
}
