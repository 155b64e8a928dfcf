import type { BrewState } from '@ladlework/log';
import type { DayForecast } from '@ladlework/planner';
import { attempt } from '../pages/trouble.tsx';
import { clockOf, show } from '../units/show.ts';
import { lastTap, undo } from './actions.ts';
import { FirmButton } from './FirmButton.tsx';
import type { RunMove } from './run.ts';
import { summaryText } from './standing.ts';

interface Props {
  readonly brew: BrewState;
  readonly next: RunMove | undefined;
  readonly forecast: DayForecast | undefined;
}

/** What comes next and when, when the mash is over, and the way back from the last tap. */
export function DayFoot({ brew, next, forecast }: Props) {
  const start = brew.startedAtMs;
  const at = (min: number) => clockOf((start ?? 0) + min * 60_000);
  const begins = forecast?.moves.find((m) => m.moveId === next?.move.id)?.startMin.likely;
  const over = forecast?.mashEndMin;
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
        disabled={tap.length === 0}
        onFirm={() => attempt('take it back', () => undo(brew))}
      >
        Undo
      </FirmButton>
    </footer>
  );
}
