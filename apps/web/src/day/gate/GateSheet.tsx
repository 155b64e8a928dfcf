import type { BrewState } from '@ladlework/log';
import { signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { record } from '../../data/house.ts';
import { attempt } from '../../pages/trouble.tsx';
import { FirmButton } from '../FirmButton.tsx';
import type { Gate } from './gates.ts';

interface Asked {
  readonly gate: Gate;
  readonly brew: BrewState;
  readonly then: () => Promise<void>;
}

const asked = signal<Asked | undefined>(undefined);

/** Does it, after the gate before it has been answered; at once when there is none. */
export function through(brew: BrewState, gate: Gate | undefined, then: () => Promise<void>): void {
  if (gate === undefined) void attempt('write it down', then);
  else asked.value = { gate, brew, then };
}

/** The question, with its one answer in another place than the button that led here. */
export function GateSheet({ brew }: { brew: BrewState }) {
  const sheet = useRef<HTMLElement>(null);
  const open = asked.value?.brew.brew === brew.brew ? asked.value : undefined;
  const code = open?.gate.code;
  useEffect(() => {
    if (code !== undefined) sheet.current?.scrollIntoView({ block: 'nearest' });
  }, [code]);
  if (open === undefined) return null;
  const { gate, then } = open;
  return (
    <section ref={sheet} class="gate" aria-label="Before you begin">
      <p class="gate-ask">{gate.question}</p>
      <div class="gate-keys">
        <FirmButton class="key" onFirm={() => (asked.value = undefined)}>
          Not yet
        </FirmButton>
        <FirmButton
          class="key read"
          onFirm={() => {
            asked.value = undefined;
            void attempt('write it down', async () => {
              await record({
                stream: brew.stream,
                type: 'gate-confirmed',
                data: { code: gate.code },
              });
              await then();
            });
          }}
        >
          {gate.yes}
        </FirmButton>
      </div>
    </section>
  );
}
