import { type Kit, nameIn } from '@ladlework/brewhouse';
import type { BrewState } from '@ladlework/log';
import { useEffect } from 'preact/hooks';
import { deviceId, events } from '../data/house.ts';
import { clockOf, show } from '../units/show.ts';
import { whatText } from './boxes.ts';
import { FirmButton } from './FirmButton.tsx';
import { halfTyped } from './half-typed.ts';
import { meanwhile } from './interruption.ts';
import { away, watchForReturns } from './reentry.ts';
import type { Run, RunMove } from './run.ts';
import { summaryText } from './standing.ts';

interface Props {
  readonly brew: BrewState;
  readonly kit: Kit | undefined;
  readonly run: Run;
  readonly focus: RunMove | undefined;
  readonly next: RunMove | undefined;
}

/** You are here: for somebody who comes back from the door, the bar or the phone. */
export function ReEntry({ brew, kit, run, focus, next }: Props) {
  useEffect(() => watchForReturns(brew.brew), [brew.brew]);
  const was = away.value;
  if (was === undefined) return null;
  const others = meanwhile(events.value, brew.stream, deviceId.value, was);
  const by = [...new Set(others.map((e) => e.who))].join(' and ');
  const open = halfTyped(brew, kit);
  return (
    <section class="reentry" aria-label="Where you are">
      <div>
        <p class="do-key">
          away {show('duration', (was.backMs - was.sinceMs) / 60_000)}, since {clockOf(was.sinceMs)}
        </p>
        <p class="reentry-here">
          You are here:{' '}
          <b>{focus === undefined ? 'nothing waits' : summaryText(focus.move, brew)}</b>
          {focus !== undefined && run.focus === focus && run.overdueMin >= 1 && (
            <b class="over">, overdue by {show('duration', run.overdueMin)}</b>
          )}
        </p>
        {next !== undefined && <p>Next: {summaryText(next.move, brew)}</p>}
        {others.length > 0 && (
          <p>
            Meanwhile {others.length === 1 ? 'one entry' : `${others.length} entries`} by {by}; the
            log has {others.length === 1 ? 'it' : 'them'}.
          </p>
        )}
        {open.map((half) => (
          <p key={half.key}>
            Half typed: {half.text} {half.unit} for{' '}
            {kit === undefined ? half.vessel : nameIn(kit, half.vessel)} {whatText(half.what)}. It
            stands on the pad.
          </p>
        ))}
      </div>
      <FirmButton
        class="key"
        onFirm={() => {
          away.value = undefined;
        }}
      >
        Go on
      </FirmButton>
    </section>
  );
}
