import type { Kit } from '@ladlework/brewhouse';
import { probeContradictions } from '@ladlework/contract';
import { calibrated, PROBE_KIND, type Probe } from '@ladlework/log';
import { movingNowMs } from '../data/clock.ts';
import { record } from '../data/house.ts';
import { rawOf } from '../data/probes.ts';
import { DraftTexts, useDraft } from '../form/draft.ts';
import { NumberField, Pick, TextField } from '../form/fields.tsx';
import { Remove } from '../pages/kit/Remove.tsx';
import { Complaints } from '../pages/SaveBar.tsx';
import { attempt } from '../pages/trouble.tsx';
import { clockOf, show } from '../units/show.ts';
import { Access } from './Access.tsx';
import { Calibration } from './Calibration.tsx';

interface Props {
  readonly saved: Probe;
  readonly kit: Kit;
  readonly isNew: boolean;
  /** The server has it as it was saved here. */
  readonly known: boolean;
  readonly onSaved: () => void;
  readonly onRemove: () => void;
}

const WHATS = [
  { value: 'temp', text: 'temperature' },
  { value: 'volume', text: 'volume' },
  { value: 'level', text: 'level' },
] as const;

const UNITS: Readonly<Record<Probe['what'], readonly string[]>> = {
  temp: ['°C', '°F', 'K'],
  volume: ['L', 'hL', 'gal', 'bbl'],
  level: ['m', 'cm', 'in'],
};

/** Silent for so long, and the page no longer shows its number as of now [ms]. */
const FRESH_MS = 60_000;

/** One probe: where it hangs, what it sends, its calibration, and what its device must know. */
export function ProbeForm({ saved, kit, isNew, known, onSaved, onRemove }: Props) {
  const store = useDraft<Probe>(`probe.${saved.id}`, saved);
  const probe = store.draft.value.value;
  const set = (change: Partial<Probe>) => store.set({ ...probe, ...change });
  const problems = probeContradictions(probe);
  const unread = Object.keys(store.draft.value.texts).length;
  const share = probe.what !== 'temp';
  const save = () =>
    attempt('save the probe', async () => {
      await record({ stream: `probe:${probe.id}`, type: 'probe-saved', data: { probe } });
      store.reset(probe);
      onSaved();
    });
  const remove = () => {
    store.reset(saved);
    onRemove();
  };
  const path = `probes.${saved.id}`;
  return (
    <DraftTexts.Provider value={store}>
      <div class="thing">
        <header>
          <h3>{probe.name}</h3>
          <Newest probe={probe} />
          <Remove name={probe.name} onRemove={remove} />
        </header>
        <div class="fields">
          <TextField
            label="Name"
            path={`${path}.name`}
            value={probe.name}
            onValue={(name) => set({ name })}
          />
          <Pick
            label="Hangs in"
            value={probe.vessel}
            options={kit.vessels.map((v) => ({ value: v.id, text: v.name }))}
            onValue={(vessel) => set({ vessel })}
          />
          <Pick
            label="Measures"
            value={probe.what}
            options={WHATS}
            onValue={(what) =>
              set({
                what,
                unit: UNITS[what][0] ?? '',
                points: [],
                offset: 0,
                sd: what === 'temp' ? 1 : 0.05,
              })
            }
          />
          <Pick
            label="Unit of a bare number"
            value={probe.unit}
            options={UNITS[probe.what].map((unit) => ({ value: unit, text: unit }))}
            onValue={(unit) => set({ unit })}
          />
          <NumberField
            label="May be off by, one standard error"
            path={`${path}.sd`}
            unit={share ? 'share' : 'K'}
            value={probe.sd}
            min={0.01}
            max={5}
            onValue={(sd) => sd !== undefined && set({ sd })}
            hint={share ? undefined : '1 as bought, 0.3 after ice and boiling'}
          />
          <TextField
            label="Own MQTT topic"
            path={`${path}.topic`}
            value={probe.topic ?? ''}
            optional
            onValue={(topic) => {
              const { topic: _old, ...rest } = probe;
              store.set(topic.trim() === '' ? rest : { ...rest, topic: topic.trim() });
            }}
            hint="at the house’s own broker, beside the usual one"
          />
        </div>
        {probe.what === 'temp' && <Calibration probe={probe} kit={kit} onChange={set} />}
        {!isNew && (
          <Access
            probe={saved}
            known={known}
            onNewToken={() => set({ token: probe.token + 1 })}
            renewed={probe.token !== saved.token}
          />
        )}
        <Complaints list={problems} head="This probe cannot be:" />
        <div class="row">
          <button
            type="button"
            class="btn solid"
            disabled={!(store.touched.value || isNew) || unread > 0 || problems.length > 0}
            onClick={save}
          >
            Save the probe
          </button>
          {store.touched.value && !isNew && (
            <button type="button" class="btn" onClick={() => store.reset(saved)}>
              Undo changes
            </button>
          )}
          <span class="soft" role="status">
            {isNew
              ? 'Not saved; its token is made when it is'
              : store.touched.value
                ? 'Not saved; kept on this device'
                : 'Saved'}
          </span>
        </div>
      </div>
    </DraftTexts.Provider>
  );
}

/** What it shows now, by the calibration as it stands in the form. */
function Newest({ probe }: { probe: Probe }) {
  const newest = rawOf(probe.id).at(-1);
  const now = movingNowMs();
  if (newest === undefined) return <span class="soft">nothing heard on this page yet</span>;
  if (now - newest.atMs > FRESH_MS)
    return <span class="soft">silent since {clockOf(newest.atMs)}</span>;
  return (
    <output class="probe-value">
      {show(PROBE_KIND[probe.what], calibrated(probe, newest.value), 1)}
    </output>
  );
}
