import { useEffect, useRef } from 'preact/hooks';
import { canSound, sound } from './alarm-sound.ts';
import { FirmButton } from './FirmButton.tsx';
import type { Alarm } from './run.ts';

interface Props {
  readonly alarm: Pick<Alarm, 'key' | 'stage' | 'dueAtMs'>;
  readonly text: string;
  readonly nowMs: number;
  /** Somebody is carrying: flash the edge, put nothing over the guidance. */
  readonly carrying: boolean;
  readonly onSeen: () => void;
}

/** How often it calls until somebody answers [ms]. */
const EVERY_MS = 4000;

/** Flashes, buzzes and sounds until acknowledged. */
export function AlarmSheet({ alarm, text, nowMs, carrying, onSeen }: Props) {
  const sheet = useRef<HTMLDivElement>(null);
  useEffect(() => {
    sound();
    const timer = setInterval(sound, EVERY_MS);
    if (!carrying) sheet.current?.querySelector('button')?.focus();
    return () => clearInterval(timer);
  }, [alarm.key, carrying]);
  const left = Math.round((alarm.dueAtMs - nowMs) / 60_000);
  const head =
    alarm.stage === 'soon'
      ? `in ${Math.max(1, left)} min`
      : left <= -1
        ? `over by ${-left} min`
        : 'now';
  return (
    <div
      ref={sheet}
      class={`alarm ${alarm.stage}${carrying ? ' edge' : ''}`}
      role="alertdialog"
      aria-label={`Alarm: ${text}, ${head}`}
    >
      <p class="alarm-head">{head}</p>
      <p class="alarm-text">{text}</p>
      {!canSound() && <p class="alarm-mute">no sound until the page was touched once</p>}
      <FirmButton class="key read alarm-seen" onFirm={onSeen}>
        Seen
      </FirmButton>
    </div>
  );
}
