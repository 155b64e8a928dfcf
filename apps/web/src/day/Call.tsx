import type { BrewState, CallState } from '@ladlework/log';
import { useEffect, useRef } from 'preact/hooks';
import { deviceId, waiting } from '../data/house.ts';
import { attempt } from '../pages/trouble.tsx';
import { clockOf } from '../units/show.ts';
import { answerCall, callBrewer } from './actions.ts';
import { sound } from './alarm-sound.ts';
import { FirmButton } from './FirmButton.tsx';
import { summaryText } from './standing.ts';

/** A call that nobody answered is stale by then: somebody has walked over [ms]. */
const STALE_MS = 30 * 60_000;
const EVERY_MS = 4000;

interface Props {
  readonly brew: BrewState;
  readonly now: number;
}

/** The helper's button, and what became of the last call from this device. */
export function CallLine({ brew, now, moveId }: Props & { moveId: string | undefined }) {
  const last = brew.calls.findLast((c) => c.device === deviceId.value);
  const fresh = last !== undefined && now - last.atMs < STALE_MS ? last : undefined;
  const open = fresh !== undefined && fresh.answered === undefined;
  return (
    <section class="row callline" aria-label="Help">
      <FirmButton
        class="key"
        disabled={open}
        onFirm={() => attempt('call the brewer', () => callBrewer(brew, moveId))}
      >
        Call the brewer
      </FirmButton>
      {fresh !== undefined && <span role="status">{said(fresh)}</span>}
    </section>
  );
}

function said(call: CallState): string {
  if (call.answered !== undefined) {
    return `${call.answered.who} is coming, since ${clockOf(call.answered.atMs)}.`;
  }
  return waiting.value.has(call.eventId)
    ? `Called ${clockOf(call.atMs)}, but without network it reaches nobody: shout.`
    : `Called ${clockOf(call.atMs)}; waiting for an answer.`;
}

/** The newest call from another device that nobody has answered. */
export function openCall(brew: BrewState, now: number): CallState | undefined {
  return brew.calls.findLast(
    (c) => c.answered === undefined && c.device !== deviceId.value && now - c.atMs < STALE_MS,
  );
}

/** Flashes and sounds on every other device of the brew until somebody comes. */
export function CallSheet({
  brew,
  call,
  carrying,
}: {
  brew: BrewState;
  call: CallState;
  carrying: boolean;
}) {
  const sheet = useRef<HTMLDivElement>(null);
  useEffect(() => {
    sound();
    const timer = setInterval(sound, EVERY_MS);
    if (!carrying) sheet.current?.querySelector('button')?.focus();
    return () => clearInterval(timer);
  }, [call.eventId, carrying]);
  const move = brew.planSummary?.moves.find((m) => m.id === call.moveId);
  const where = move === undefined ? '' : `: ${summaryText(move, brew)}`;
  return (
    <div
      ref={sheet}
      class={`alarm now${carrying ? ' edge' : ''}`}
      role="alertdialog"
      aria-label={`${call.who} calls${where}`}
    >
      <p class="alarm-head">{call.who} calls</p>
      <p class="alarm-text">
        {clockOf(call.atMs)}
        {where}
      </p>
      <FirmButton
        class="key read alarm-seen"
        onFirm={() => void attempt('answer', () => answerCall(brew, call.eventId))}
      >
        Coming
      </FirmButton>
    </div>
  );
}
