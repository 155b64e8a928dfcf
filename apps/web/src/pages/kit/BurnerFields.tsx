import type { Burner, BurnerKind, Kit } from '@ladlework/brewhouse';
import { NumberField, Pick, QuantityField, TextField, Tick, Ticks } from '../../form/fields.tsx';
import { Remove } from './Remove.tsx';

const BURNERS: readonly { value: BurnerKind; text: string }[] = [
  { value: 'gas-hob', text: 'gas hob' },
  { value: 'outdoor-propane', text: 'outdoor propane' },
  { value: 'gas-burner', text: 'gas burner' },
  { value: 'resistance', text: 'hot plate' },
  { value: 'induction', text: 'induction' },
  { value: 'element', text: 'element in the liquor' },
  { value: 'steam-jacket', text: 'steam jacket' },
];

interface BurnerProps {
  readonly burner: Burner;
  readonly kit: Kit;
  readonly path: string;
  readonly onBurner: (next: Burner) => void;
  readonly onRemove: () => void;
}

/** What one burner gives, by its plate or by a timed water test. */
export function BurnerFields({ burner, kit, path, onBurner, onRemove }: BurnerProps) {
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
