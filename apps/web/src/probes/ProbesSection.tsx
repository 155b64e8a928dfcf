import type { Kit } from '@ladlework/brewhouse';
import type { Probe } from '@ladlework/log';
import { signal } from '@preact/signals';
import { record, waiting } from '../data/house.ts';
import { probes } from '../data/probes.ts';
import { attempt } from '../pages/trouble.tsx';
import { ProbeForm } from './ProbeForm.tsx';

/** A probe that was added and not saved yet. */
const fresh = signal<Probe | undefined>(undefined);

/** The probes that hang in a kit. Each is saved by itself: they are the house's, not the kit's. */
export function ProbesSection({ kit }: { kit: Kit }) {
  const own = probes.value.filter((p) => p.item.kit === kit.id);
  const added = fresh.value?.kit === kit.id ? fresh.value : undefined;
  const list = [...own.map((p) => p.item), ...(added ? [added] : [])];
  const headOf = (id: string) => own.find((p) => p.id === id)?.headId;
  return (
    <section class="block">
      <h2>Probes</h2>
      {list.length === 0 && (
        <p class="soft">Thermometers and gauges that send by themselves, over HTTP or MQTT.</p>
      )}
      {list.map((probe) => (
        <ProbeForm
          key={`${probe.id}.${headOf(probe.id) ?? 'new'}`}
          saved={probe}
          kit={kit}
          isNew={probe === added}
          known={!waiting.value.has(headOf(probe.id) ?? '')}
          onSaved={() => {
            fresh.value = undefined;
          }}
          onRemove={() =>
            attempt('take the probe away', async () => {
              if (probe !== added) {
                await record({ stream: `probe:${probe.id}`, type: 'probe-retired', data: {} });
              }
              fresh.value = undefined;
            })
          }
        />
      ))}
      {added === undefined && (
        <button
          type="button"
          class="btn"
          onClick={() => {
            fresh.value = newProbe(kit);
          }}
        >
          Add a probe
        </button>
      )}
    </section>
  );
}

/** A thermometer in the first vessel that has none. */
function newProbe(kit: Kit): Probe {
  const taken = probes
    .peek()
    .filter((p) => p.item.kit === kit.id)
    .map((p) => p.item.vessel);
  const vessel = kit.vessels.find((v) => !taken.includes(v.id)) ?? kit.vessels[0];
  const chance = crypto.getRandomValues(new Uint8Array(4));
  const id = `probe-${[...chance].map((b) => b.toString(16).padStart(2, '0')).join('')}`;
  return {
    id,
    name: `${vessel?.name ?? 'Vessel'} probe`,
    kit: kit.id,
    vessel: vessel?.id ?? '',
    what: 'temp',
    unit: '°C',
    sd: 1,
    points: [],
    offset: 0,
    token: 1,
  };
}
