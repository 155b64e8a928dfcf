import type { Kit } from '@ladlework/brewhouse';
import { kits, record } from '../data/house.ts';
import { DraftTexts, useDraft } from '../form/draft.ts';
import { QuantityField, TextField, Tick } from '../form/fields.tsx';
import { ProbesSection } from '../probes/ProbesSection.tsx';
import { checkKit } from './checks.ts';
import { Gone } from './Gone.tsx';
import { BurnerFields } from './kit/BurnerFields.tsx';
import { HandFields } from './kit/HandFields.tsx';
import { LiquorFields } from './kit/LiquorFields.tsx';
import { RouteFields } from './kit/RouteFields.tsx';
import { VesselFields } from './kit/VesselFields.tsx';
import { WortFields } from './kit/WortFields.tsx';
import { newBurner, newHand, newRoute, newVessel } from './kit-defaults.ts';
import { SaveBar } from './SaveBar.tsx';
import { attempt, Trouble } from './trouble.tsx';

export function KitPage({ id }: { id: string }) {
  const found = kits.value.find((k) => k.id === id);
  if (found === undefined) return <Gone what="kit" back="#/kit" />;
  return <KitForm key={found.id} saved={found} />;
}

function KitForm({ saved }: { saved: Kit }) {
  const store = useDraft<Kit>(`kit.${saved.id}`, saved);
  const kit = store.draft.value.value;
  const set = (change: Partial<Kit>) => store.set({ ...kit, ...change });
  const problems = checkKit(kit);
  const save = () =>
    attempt('save the kit', async () => {
      await record({ stream: `kit:${kit.id}`, type: 'kit-saved', data: { kit } });
      store.reset(kit);
    });
  return (
    <DraftTexts.Provider value={store}>
      <header class="head">
        <div>
          <h1>{kit.name}</h1>
          <p>Type quantities in either unit: "152f", "62 °C", "3 bbl", "80 L".</p>
        </div>
      </header>
      <Trouble />
      <section class="block">
        <h2>House</h2>
        <div class="fields">
          <TextField
            label="Name of the kit"
            path="name"
            value={kit.name}
            onValue={(name) => set({ name })}
          />
          <QuantityField
            label="Height above the sea"
            path="altitudeM"
            kind="length"
            value={kit.altitudeM}
            min={-500}
            max={5000}
            digits={0}
            onValue={(altitudeM) => set({ altitudeM: altitudeM ?? 0 })}
          />
          <QuantityField
            label="Boiling point, measured"
            path="boilingPointC"
            kind="temperature"
            value={kit.boilingPointC}
            min={80}
            max={103}
            optional
            empty="from the height"
            onValue={(boilingPointC) => {
              const { boilingPointC: _old, ...rest } = kit;
              store.set(boilingPointC === undefined ? rest : { ...rest, boilingPointC });
            }}
          />
          <QuantityField
            label="Usual air in the brewhouse"
            path="airC"
            kind="temperature"
            value={kit.airC}
            min={-20}
            max={50}
            onValue={(airC) => set({ airC: airC ?? 18 })}
          />
          <Tick
            label="Burners stand indoors"
            value={kit.burnersIndoors}
            onValue={(burnersIndoors) => set({ burnersIndoors })}
          />
        </div>
      </section>
      <Group
        title="Vessels"
        add="Add a vessel"
        onAdd={() => set({ vessels: [...kit.vessels, newVessel(kit, 'pot')] })}
      >
        {kit.vessels.map((vessel, i) => (
          <VesselFields
            key={vessel.id}
            vessel={vessel}
            path={`vessels.${vessel.id}`}
            onVessel={(next) => set({ vessels: swap(kit.vessels, i, next) })}
            onRemove={() => set(withoutVessel(kit, vessel.id))}
          />
        ))}
      </Group>
      <Group
        title="Burners"
        add="Add a burner"
        onAdd={() => set({ burners: [...kit.burners, newBurner(kit)] })}
      >
        {kit.burners.map((burner, i) => (
          <BurnerFields
            key={burner.id}
            burner={burner}
            kit={kit}
            path={`burners.${burner.id}`}
            onBurner={(next) => set({ burners: swap(kit.burners, i, next) })}
            onRemove={() => set({ burners: kit.burners.filter((b) => b.id !== burner.id) })}
          />
        ))}
      </Group>
      <Group
        title="Ways to carry"
        add="Add a way"
        onAdd={() => set({ routes: [...kit.routes, newRoute(kit, 'bucket')] })}
      >
        {kit.routes.map((route, i) => (
          <RouteFields
            key={route.id}
            route={route}
            path={`routes.${route.id}`}
            onRoute={(next) => set({ routes: swap(kit.routes, i, next) })}
            onRemove={() => set({ routes: kit.routes.filter((r) => r.id !== route.id) })}
          />
        ))}
      </Group>
      <Group
        title="Hands"
        add="Add a hand"
        onAdd={() => set({ hands: [...kit.hands, newHand(kit)] })}
      >
        {kit.hands.map((hand, i) => (
          <HandFields
            key={hand.id}
            hand={hand}
            onHand={(next) => set({ hands: swap(kit.hands, i, next) })}
            onRemove={() => set({ hands: kit.hands.filter((h) => h.id !== hand.id) })}
          />
        ))}
      </Group>
      <WortFields kit={kit} onKit={(next) => store.set(next)} />
      <LiquorFields kit={kit} onKit={(next) => store.set(next)} />
      <ProbesSection kit={saved} />
      <SaveBar
        what="kit"
        touched={store.touched.value}
        unread={Object.keys(store.draft.value.texts).length}
        problems={problems}
        onSave={save}
        onDrop={() => store.reset(saved)}
        onRetire={() =>
          attempt('put the kit away', async () => {
            await record({ stream: `kit:${kit.id}`, type: 'kit-retired', data: {} });
            location.hash = '#/kit';
          })
        }
      />
    </DraftTexts.Provider>
  );
}

const swap = <T,>(list: readonly T[], at: number, next: T): T[] =>
  list.map((item, i) => (i === at ? next : item));

/** A vessel taken away takes its burner entries with it. */
function withoutVessel(kit: Kit, id: string): Partial<Kit> {
  return {
    vessels: kit.vessels.filter((v) => v.id !== id),
    burners: kit.burners.map((b) => ({ ...b, heats: b.heats.filter((h) => h !== id) })),
  };
}

interface GroupProps {
  readonly title: string;
  readonly add: string;
  readonly onAdd: () => void;
  readonly children: preact.ComponentChildren;
}

function Group({ title, add, onAdd, children }: GroupProps) {
  return (
    <section class="block">
      <h2>{title}</h2>
      {children}
      <button type="button" class="btn" onClick={onAdd}>
        {add}
      </button>
    </section>
  );
}
