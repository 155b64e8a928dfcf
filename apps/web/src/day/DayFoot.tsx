import type { BrewState } from '@ladlework/log';
import type { DayOutlook } from '../engine/protocol.ts';
import { attempt } from '../pages/trouble.tsx';
import { clockOf, show } from '../units/show.ts';
import { lastTap, undo } from './actions.ts';
import { enzymeLeft } from './enzyme-left.ts';
import { FirmButton } from './FirmButton.tsx';
import type { RunMove } from './run.ts';
import { summaryText } from './standing.ts';

interface Props {
  readonly brew: BrewState;
  readonly next: RunMove | undefined;
  readonly outlook: DayOutlook | undefined;
}

/** What comes next and when, when the mash is over, and the way back from the last tap. */
export function DayFoot({ brew, next, outlook }: Props) {
  const start = brew.startedAtMs;
  const at = (min: number) => clockOf((start ?? 0) + min * 60_000);
  const forecast = outlook?.forecast;
  const begins = forecast?.moves.find((m) => m.moveId === next?.move.id)?.startMin.likely;
  const over = forecast?.mashEndMin;
  const left = enzymeLeft(outlook?.mash ?? []);
  const tap = lastTap(brew);
  return (
    <footer class="dayfoot">
      <p class="foot-next">
        {next !== undefined && (
          <>
            <span class="soft">next</span> <b>{summaryText(next.move, brew)}</b>
            {begins !== undefined && <span class="soft"> at {at(begins)}</span>}
          </>
        )}
      </p>
      {left !== undefined && (
        <p class="foot-enzyme">
          <span class="soft">enzyme left</span>{' '}
          <b>
            alpha {percent(left.alpha)} beta {percent(left.beta)}
          </b>
        </p>
      )}
      {over !== undefined && (
        <p class="foot-over">
          <span class="soft">mash over</span>{' '}
          <b>
            {at(over.likely)} ± {show('duration', (over.high - over.low) / 2)}
          </b>
        </p>
      )}
      <FirmButton
        class="key undo"
        writes="withdrawn"
        disabled={tap.length === 0}
        onFirm={() => attempt('take it back', () => undo(brew))}
      >
        Undo
      </FirmButton>
    </footer>
  );
}

const percent = (share: number): string => `${Math.round(100 * share)} %`;
