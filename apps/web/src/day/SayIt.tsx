import type { ReadingWhat } from '@ladlework/log';
import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { pair } from '../shell/settings.ts';
import { FirmButton } from './FirmButton.tsx';
import { ear, listen, speech } from './listen.ts';
import { spokenReading } from './spoken.ts';

interface Props {
  readonly what: Exclude<ReadingWhat, 'iodine'>;
  /** Expected value, SI. */
  readonly expected: number;
  /** Puts a value [SI] on the pad; a tap writes it down. */
  readonly onValue: (value: number) => void;
}

/** Says the number to the pad. Nothing is written until Read is tapped. */
export function SayIt({ what, expected, onValue }: Props) {
  const hearing = useSignal(false);
  const said = useSignal<string | undefined>(undefined);
  const stop = useRef<(() => void) | undefined>(undefined);
  useEffect(() => () => stop.current?.(), [what]);
  if (speech.value === 'off' || ear.value === 'none') return null;
  const end = (text: string | undefined) => {
    hearing.value = false;
    said.value = text;
    stop.current = undefined;
  };
  const press = () => {
    if (stop.current !== undefined) {
      stop.current();
      end(undefined);
      return;
    }
    hearing.value = true;
    said.value = undefined;
    stop.current = listen((phrases) => {
      const readings = phrases.map((p) => spokenReading(what, p, pair.value, expected));
      const first = readings.find((r) => r.ok);
      if (first?.ok) onValue(first.value);
      const refused = readings[0];
      end(
        first !== undefined
          ? `Heard “${phrases[readings.indexOf(first)]}”. Look, then tap Read.`
          : refused !== undefined && !refused.ok
            ? refused.error
            : 'Nothing was heard. Say it again, or type it.',
      );
    }, end);
  };
  return (
    <div class="sayit">
      <FirmButton class="key" pressed={hearing.value} onFirm={press}>
        {hearing.value ? 'Listening' : 'Say it'}
      </FirmButton>
      <p class="small" role="status">
        {said.value}
      </p>
    </div>
  );
}
