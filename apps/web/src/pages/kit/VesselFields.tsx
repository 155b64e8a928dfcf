import { estimateVessel, type Vessel, type VesselRole, type WallBuild } from '@ladlework/brewhouse';
import { useSignal } from '@preact/signals';
import { Choice, NumberField, Pick, QuantityField, TextField, Tick } from '../../form/fields.tsx';
import { Remove } from './Remove.tsx';

const ROLES: readonly { value: VesselRole; text: string }[] = [
  { value: 'mash-tun', text: 'mash tun' },
  { value: 'lauter-tun', text: 'lauter tun' },
  { value: 'kettle', text: 'kettle' },
  { value: 'pot', text: 'pot' },
  { value: 'liquor-tank', text: 'liquor tank' },
  { value: 'fermenter', text: 'fermenter' },
];

interface VesselProps {
  readonly vessel: Vessel;
  readonly path: string;
  readonly onVessel: (next: Vessel) => void;
  readonly onRemove: () => void;
}

/** What one vessel holds, takes up and loses. */
export function VesselFields({ vessel, path, onVessel, onRemove }: VesselProps) {
  const set = (change: Partial<Vessel>) => onVessel({ ...vessel, ...change });
  const build = useSignal<WallBuild['insulation']>(
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
