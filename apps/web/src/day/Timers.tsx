import type { BrewState } from '@ladlework/log';
import { clockOf } from '../units/show.ts';
import { isPassive, type Run, type RunMove } from './run.ts';
import { summaryText } from './standing.ts';

/** "12:05" left, "+0:40" over. */
export function countdown(ms: number): string {
  const over = ms < 0;
  const total = Math.floor(Math.abs(ms) / 1000);
  const h = Math.floor(total / 3600);
  const m = Math.floor((total % 3600) / 60);
  const s = String(total % 60).padStart(2, '0');
  const text = h > 0 ? `${h}:${String(m).padStart(2, '0')}:${s}` : `${m}:${s}`;
  return over ? `+${text}` : text;
}

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
            <span class={due < nowMs ? 'timer-left over' : 'timer-left'}>{countdown(due - nowMs)}</span>
            <span class="soft">until {clockOf(due)}</span>
            <button type="button" class="btn" onClick={() => onDone(m)}>
              Done
            </button>
            <span class="timer-bar" aria-hidden="true">
              <i style={{ width: `${share * 100}%` }} />
            </span>
          </li>
        );
      })}
    </ul>
  );
}
