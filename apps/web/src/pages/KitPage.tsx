import type {
  Burner,
  BurnerKind,
  Hand,
  Kit,
  Route,
  RouteHow,
  Vessel,
  VesselRole,
} from '@ladlework/brewhouse';
import { useSignal } from '@preact/signals';
import { kits, record } from '../data/house.ts';
import { DraftTexts, useDraft } from '../form/draft.ts';
import {
  Choice,
  NumberField,
  Pick,
  QuantityField,
  TextField,
  Tick,
  Ticks,
} from '../form/fields.tsx';
import { checkKit } from './checks.ts';
import { Gone } from './Gone.tsx';
import { estimateVessel, newBurner, newHand, newRoute, newVessel } from './kit-defaults.ts';
import { SaveBar } from './SaveBar.tsx';
import { attempt, Trouble } from './trouble.tsx';

const ROLES: readonly { value: VesselRole; text: string }[] = [
  { value: 'mash-tun', text: 'mash tun' },
  { value: 'lauter-tun', text: 'lauter tun' },
  { value: 'kettle', text: 'kettle' },
  { value: 'pot', text: 'pot' },
  { value: 'liquor-tank', text: 'liquor tank' },
  { value: 'fermenter', text: 'fermenter' },
];
const BURNERS: readonly { value: BurnerKind; text: string }[] = [
  { value: 'gas-hob', text: 'gas hob' },
  { value: 'outdoor-propane', text: 'outdoor propane' },
  { value: 'gas-burner', text: 'gas burner' },
  { value: 'resistance', text: 'hot plate' },
  { value: 'induction', text: 'induction' },
  { value: 'element', text: 'element in the liquor' },
  { value: 'steam-jacket', text: 'steam jacket' },
];
const HOWS: readonly { value: RouteHow; text: string }[] = [
  { value: 'ladle', text: 'ladle' },
  { value: 'bucket', text: 'bucket' },
  { value: 'pump', text: 'pump' },
  { value: 'gravity', text: 'gravity' },
];

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

function Remove({ name, onRemove }: { name: string; onRemove: () => void }) {
  return (
    <button type="button" class="btn plain" aria-label={`Take ${name} away`} onClick={onRemove}>
      Take away
    </button>
  );
}

interface VesselProps {
  readonly vessel: Vessel;
  readonly path: string;
  readonly onVessel: (next: Vessel) => void;
  readonly onRemove: () => void;
}

function VesselFields({ vessel, path, onVessel, onRemove }: VesselProps) {
  const set = (change: Partial<Vessel>) => onVessel({ ...vessel, ...change });
  const build = useSignal<'bare' | '1 in' | '2 in' | '3 in'>(
    vessel.role === 'kettle' || vessel.role === 'pot' ? 'bare' : '2 in',
  );
  return (
    <div class="thing">
      <header>
        <h3>{vessel.name}</h3>
        <Remove name={vessel.name} onRemove={onRemove} />
      </header>
      <div class="fields">
        <TextField
          label="Name"
          path={`${path}.name`}
          value={vessel.name}
          onValue={(name) => set({ name })}
        />
        <Pick
          label="What it is for"
          value={vessel.role}
          options={ROLES}
          onValue={(role) => set({ role })}
        />
        <QuantityField
          label="Volume to the brim"
          path={`${path}.brimL`}
          kind="volume"
          value={vessel.brimL}
          min={1}
          max={20000}
          onValue={(brimL) => brimL !== undefined && set({ brimL })}
        />
        <QuantityField
          label="Inner diameter"
          path={`${path}.diameterM`}
          kind="length"
          value={vessel.diameterM}
          min={0.1}
          max={4}
          onValue={(diameterM) => diameterM !== undefined && set({ diameterM })}
        />
        <QuantityField
          label="Stays behind when emptied"
          path={`${path}.deadL`}
          kind="volume"
          value={vessel.deadL}
          min={0}
          max={vessel.brimL}
          onValue={(deadL) => deadL !== undefined && set({ deadL })}
        />
        <NumberField
          label="Heat the wall takes up"
          path={`${path}.wallKJK`}
          unit="kJ/K"
          value={vessel.wallKJK}
          min={0}
          max={5000}
          onValue={(wallKJK) => wallKJK !== undefined && set({ wallKJK })}
        />
        <NumberField
          label="Loss when full, lid on"
          path={`${path}.lossWK`}
          unit="W/K"
          value={vessel.lossWK}
          min={0}
          max={500}
          onValue={(lossWK) => lossWK !== undefined && set({ lossWK })}
        />
        <Tick label="Has a lid" value={vessel.lid} onValue={(lid) => set({ lid })} />
      </div>
      <div class="row estimate">
        <Choice
          label="Heat and loss not known? Estimate them from the wall"
          value={build.value}
          options={[
            { value: 'bare', text: 'bare steel' },
            { value: '1 in', text: 'insulated 25 mm / 1 in' },
            { value: '2 in', text: '50 mm / 2 in' },
            { value: '3 in', text: '75 mm / 3 in' },
          ]}
          onValue={(value) => {
            build.value = value;
          }}
        />
        <button
          type="button"
          class="btn"
          onClick={() =>
            set(
              estimateVessel(vessel.brimL, vessel.diameterM, {
                sheetMm: 2,
                insulation: build.value,
              }),
            )
          }
        >
          Estimate
        </button>
      </div>
    </div>
  );
}

interface BurnerProps {
  readonly burner: Burner;
  readonly kit: Kit;
  readonly path: string;
  readonly onBurner: (next: Burner) => void;
  readonly onRemove: () => void;
}

function BurnerFields({ burner, kit, path, onBurner, onRemove }: BurnerProps) {
  const set = (change: Partial<Burner>) => onBurner({ ...burner, ...change });
  const test = burner.waterTest;
  return (
    <div class="thing">
      <header>
        <h3>{burner.name}</h3>
        <Remove name={burner.name} onRemove={onRemove} />
      </header>
      <div class="fields">
        <TextField
          label="Name"
          path={`${path}.name`}
          value={burner.name}
          onValue={(name) => set({ name })}
        />
        <Pick
          label="Kind"
          value={burner.kind}
          options={BURNERS}
          onValue={(kind) => set({ kind })}
        />
        <QuantityField
          label="Rating"
          path={`${path}.ratedKW`}
          kind="power"
          value={burner.ratedKW}
          min={0.2}
          max={500}
          onValue={(ratedKW) => ratedKW !== undefined && set({ ratedKW })}
        />
        <NumberField
          label="Share that reaches the pot"
          path={`${path}.efficiency`}
          unit="%"
          value={
            burner.efficiency === undefined ? undefined : Math.round(burner.efficiency * 1000) / 10
          }
          min={5}
          max={100}
          optional
          empty="usual for its kind"
          onValue={(pct) => {
            const { efficiency: _old, ...rest } = burner;
            onBurner(pct === undefined ? rest : { ...rest, efficiency: pct / 100 });
          }}
        />
      </div>
      <Ticks
        label="Heats"
        values={burner.heats}
        options={kit.vessels.map((v) => ({ value: v.id, text: v.name }))}
        onValues={(heats) => set({ heats })}
      />
      <Tick
        label="Known from a timed water test (the honest way)"
        value={test !== undefined}
        onValue={(on) => {
          const { waterTest: _old, ...rest } = burner;
          const vessel = burner.heats[0] ?? kit.vessels[0]?.id ?? '';
          onBurner(
            on
              ? { ...rest, waterTest: { waterL: 50, fromC: 20, toC: 60, minutes: 30, vessel } }
              : rest,
          );
        }}
      />
      {test !== undefined && (
        <div class="fields">
          <QuantityField
            label="Water"
            path={`${path}.test.waterL`}
            kind="volume"
            value={test.waterL}
            min={1}
            max={20000}
            onValue={(waterL) => waterL !== undefined && set({ waterTest: { ...test, waterL } })}
          />
          <QuantityField
            label="From"
            path={`${path}.test.fromC`}
            kind="temperature"
            value={test.fromC}
            min={0}
            max={95}
            onValue={(fromC) => fromC !== undefined && set({ waterTest: { ...test, fromC } })}
          />
          <QuantityField
            label="To"
            path={`${path}.test.toC`}
            kind="temperature"
            value={test.toC}
            min={1}
            max={98}
            onValue={(toC) => toC !== undefined && set({ waterTest: { ...test, toC } })}
          />
          <QuantityField
            label="In"
            path={`${path}.test.minutes`}
            kind="duration"
            value={test.minutes}
            min={1}
            max={600}
            onValue={(minutes) => minutes !== undefined && set({ waterTest: { ...test, minutes } })}
          />
          <Pick
            label="Vessel it stood in"
            value={test.vessel}
            options={kit.vessels.map((v) => ({ value: v.id, text: v.name }))}
            onValue={(vessel) => set({ waterTest: { ...test, vessel } })}
          />
        </div>
      )}
    </div>
  );
}

interface RouteProps {
  readonly route: Route;
  readonly path: string;
  readonly onRoute: (next: Route) => void;
  readonly onRemove: () => void;
}

function RouteFields({ route, path, onRoute, onRemove }: RouteProps) {
  const set = (change: Partial<Route>) => onRoute({ ...route, ...change });
  return (
    <div class="thing">
      <header>
        <h3>{route.name}</h3>
        <Remove name={route.name} onRemove={onRemove} />
      </header>
      <div class="fields">
        <TextField
          label="Name"
          path={`${path}.name`}
          value={route.name}
          onValue={(name) => set({ name })}
        />
        <Pick label="How" value={route.how} options={HOWS} onValue={(how) => set({ how })} />
        <QuantityField
          label={
            route.how === 'pump' || route.how === 'gravity' ? 'Litres a minute move' : 'One portion'
          }
          path={`${path}.portionL`}
          kind="volume"
          value={route.portionL}
          min={0.1}
          max={500}
          onValue={(portionL) => portionL !== undefined && set({ portionL })}
        />
        <QuantityField
          label="From one portion to the next"
          path={`${path}.minutesPerPortion`}
          kind="duration"
          value={route.minutesPerPortion}
          digits={2}
          min={0.02}
          max={30}
          onValue={(minutesPerPortion) =>
            minutesPerPortion !== undefined && set({ minutesPerPortion })
          }
        />
        <NumberField
          label="Hot surface of a portion"
          path={`${path}.openAreaM2`}
          unit="m²"
          value={route.openAreaM2}
          min={0}
          max={5}
          onValue={(openAreaM2) => openAreaM2 !== undefined && set({ openAreaM2 })}
        />
        <NumberField
          label="Heat the carrier takes up"
          path={`${path}.carrierKJK`}
          unit="kJ/K"
          value={route.carrierKJK}
          min={0}
          max={200}
          onValue={(carrierKJK) => carrierKJK !== undefined && set({ carrierKJK })}
        />
        <QuantityField
          label="Left in hose or line"
          path={`${path}.lineL`}
          kind="volume"
          value={route.lineL}
          min={0}
          max={200}
          onValue={(lineL) => lineL !== undefined && set({ lineL })}
        />
        <Pick
          label="Pairs of hands"
          value={String(route.hands)}
          options={[
            { value: '1', text: 'one' },
            { value: '2', text: 'two' },
          ]}
          onValue={(hands) => set({ hands: hands === '2' ? 2 : 1 })}
        />
      </div>
    </div>
  );
}

interface HandProps {
  readonly hand: Hand;
  readonly onHand: (next: Hand) => void;
  readonly onRemove: () => void;
}

function HandFields({ hand, onHand, onRemove }: HandProps) {
  return (
    <div class="thing">
      <div class="fields">
        <TextField
          label={`Name of ${hand.id}`}
          path={`hands.${hand.id}.name`}
          value={hand.name}
          onValue={(name) => onHand({ ...hand, name })}
          hint={`${hand.id} on the score`}
        />
        <Remove name={hand.name} onRemove={onRemove} />
      </div>
    </div>
  );
}
