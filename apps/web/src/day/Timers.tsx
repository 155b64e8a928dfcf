import type { BrewState } from '@ladlework/log';
import { clockOf } from '../units/show.ts';
import { countdown } from './countdown.ts';
import { FirmButton } from './FirmButton.tsx';
import { isPassive, type Run, type RunMove } from './run.ts';
import { summaryText } from './standing.ts';

interface Props {
  readonly brew: BrewState;
  readonly run: Run;
  readonly nowMs: number;
  readonly onDone: (move: RunMove) => void;
}

/** Everything that runs by itself, with the time it has left. Read from the log, so a reload keeps it. */
export function Timers({ brew, run, nowMs, onDone }: Props) {
  const list = run.underway.filter((m) => isPassive(m.move) && m !== run.focus);
  if (list.length === 0) return null;
  return (
    <ul class="timers" aria-label="Running beside it">
      {list.map((m) => {
        const begun = m.begunAtMs ?? nowMs;
        const due = m.dueAtMs ?? nowMs;
        const share = due > begun ? Math.min(1, (nowMs - begun) / (due - begun)) : 1;
        return (
          <li key={m.move.id}>
            <span class="timer-what">{summaryText(m.move, brew)}</span>
            <span class={due < nowMs ? 'timer-left over' : 'timer-left'}>
              {countdown(due - nowMs)}
            </span>
            <span class="soft">until {clockOf(due)}</span>
            <FirmButton
              class="key"
              writes="move-done"
              label={`${summaryText(m.move, brew)}: done`}
              onFirm={() => onDone(m)}
            >
              Done
            </FirmButton>
            <span class="timer-bar" aria-hidden="true">
              <i style={{ width: `${share * 100}%` }} />
            </span>
          </li>
        );
      })}
    </ul>
  );
}
