import type { Probe } from '@ladlework/log';
import { useSignal } from '@preact/signals';
import { askAccess } from '../data/probes.ts';
import { attempt } from '../pages/trouble.tsx';

interface Props {
  readonly probe: Probe;
  readonly renewed: boolean;
  /** The server knows the probe as it was saved here. */
  readonly known: boolean;
  readonly onNewToken: () => void;
}

type Told = Extract<Awaited<ReturnType<typeof askAccess>>, { ok: true }>['value'];

/** What is typed into the device. Asked of the server, which alone knows the token. */
export function Access({ probe, renewed, known, onNewToken }: Props) {
  const told = useSignal<Told | undefined>(undefined);
  const ask = () =>
    attempt('ask where it sends to', async () => {
      const answer = await askAccess(probe.id);
      if (!answer.ok) throw new Error(answer.error.message);
      told.value = answer.value;
    });
  if (told.value === undefined)
    return (
      <div class="row">
        <button type="button" class="btn" disabled={!known} onClick={ask}>
          Where it sends to, and its token
        </button>
        {!known && <span class="soft">Its token is made when the server has it.</span>}
      </div>
    );
  const { http, mqtt } = told.value;
  const broker = [
    ...(mqtt.port === undefined ? [] : [`${location.hostname}, port ${mqtt.port}`]),
    ...(mqtt.house === undefined
      ? []
      : [`${mqtt.house.url}${mqtt.house.connected ? '' : ' (not connected)'}`]),
  ];
  const facts: readonly (readonly [string, string])[] = [
    ['HTTP POST to', `${location.origin}${http.path}`],
    ['Token (Authorization: Bearer)', http.token],
    [
      'MQTT broker',
      broker.length === 0 ? 'off; docs/probes.md says how to switch it on' : broker.join('; '),
    ],
    ['Topic', mqtt.topic],
    ['User and password', `${mqtt.user}, the token`],
  ];
  return (
    <div class="access">
      <dl>
        {facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>
              <code>{value}</code>
            </dd>
          </div>
        ))}
      </dl>
      <div class="row">
        <button
          type="button"
          class="btn"
          onClick={() => {
            told.value = undefined;
          }}
        >
          Hide
        </button>
        <button type="button" class="btn plain" disabled={renewed} onClick={onNewToken}>
          {renewed ? 'New token when saved' : 'Make a new token; the old one stops'}
        </button>
      </div>
    </div>
  );
}
