import { alphaToday } from '@ladlework/matter';
import type { Beer, HopLot } from '@ladlework/planner';
import { NumberField, QuantityField, TextField, Tick } from '../../form/fields.tsx';
import { withField } from '../../form/set-field.ts';
import { Remove } from '../kit/Remove.tsx';

interface Props {
  readonly beer: Beer;
  readonly onBeer: (beer: Beer) => void;
}

/** Kept in the cold where nothing is said. [planner, as the brew file takes it] */
const STORED_C = 4;

/** Hops by lot: alpha as analysed and what is left of it, and when they go in. */
export function HopFields({ beer, onBeer }: Props) {
  const hops = beer.hops ?? [];
  const set = (next: readonly HopLot[]) =>
    onBeer(withField(beer, 'hops', next.length === 0 ? undefined : next));
  return (
    <>
      {hops.map((hop, i) => (
        <OneHop
          key={i}
          hop={hop}
          path={`hops.${i}`}
          onHop={(next) => set(hops.map((h, k) => (k === i ? next : h)))}
          onRemove={() => set(hops.filter((_, k) => k !== i))}
        />
      ))}
      <button
        type="button"
        class="btn"
        onClick={() => set([...hops, { name: 'Hops', kg: 0.1, alphaPct: 5, boilMin: 60 }])}
      >
        Add hops
      </button>
    </>
  );
}

interface HopProps {
  readonly hop: HopLot;
  readonly path: string;
  readonly onHop: (hop: HopLot) => void;
  readonly onRemove: () => void;
}

function OneHop({ hop, path, onHop, onRemove }: HopProps) {
  const today = alphaToday({
    alphaPct: hop.alphaPct,
    days: hop.ageDays ?? 0,
    storedC: hop.storedC ?? STORED_C,
    ...(hop.lostIn6MonthsPct === undefined ? {} : { lostIn6MonthsPct: hop.lostIn6MonthsPct }),
    ...(hop.sealed === undefined ? {} : { sealed: hop.sealed }),
  });
  return (
    <div class="thing">
      <header>
        <h3>
          {hop.name} <span class="soft">{today.toFixed(1)} % alpha today</span>
        </h3>
        <Remove name={hop.name} onRemove={onRemove} />
      </header>
      <div class="fields">
        <TextField
          label="Hops"
          path={`${path}.name`}
          value={hop.name}
          onValue={(name) => onHop({ ...hop, name })}
        />
        <QuantityField
          label="Weight of hops"
          path={`${path}.kg`}
          kind="mass"
          value={hop.kg}
          min={0}
          max={1000}
          onValue={(kg) => kg !== undefined && onHop({ ...hop, kg })}
        />
        <NumberField
          label="Alpha acids, as analysed"
          unit="%"
          path={`${path}.alphaPct`}
          value={hop.alphaPct}
          min={0}
          max={30}
          onValue={(alphaPct) => alphaPct !== undefined && onHop({ ...hop, alphaPct })}
        />
        {hop.boilMin !== 'stand' && (
          <QuantityField
            label="Before the end of the boil"
            path={`${path}.boilMin`}
            kind="duration"
            value={hop.boilMin}
            min={0}
            max={300}
            onValue={(boilMin) => boilMin !== undefined && onHop({ ...hop, boilMin })}
          />
        )}
        <Tick
          label="Into the hot stand, heat off"
          value={hop.boilMin === 'stand'}
          onValue={(on) => onHop({ ...hop, boilMin: on ? 'stand' : 0 })}
        />
        <TextField
          label="Lot"
          path={`${path}.lot`}
          value={hop.lot ?? ''}
          optional
          onValue={(lot) => onHop(withField(hop, 'lot', lot === '' ? undefined : lot))}
        />
        <NumberField
          label="Days since the analysis"
          path={`${path}.ageDays`}
          value={hop.ageDays}
          min={0}
          max={3650}
          optional
          empty="fresh"
          onValue={(v) => onHop(withField(hop, 'ageDays', v === undefined ? v : Math.round(v)))}
        />
        <QuantityField
          label="Kept at"
          path={`${path}.storedC`}
          kind="temperature"
          value={hop.storedC}
          min={-40}
          max={40}
          optional
          empty="cold, 4 °C"
          onValue={(v) => onHop(withField(hop, 'storedC', v))}
        />
        <NumberField
          label="Alpha lost in half a year at 20 °C"
          unit="%"
          path={`${path}.lost`}
          value={hop.lostIn6MonthsPct}
          min={0}
          max={90}
          optional
          empty="35"
          onValue={(v) => onHop(withField(hop, 'lostIn6MonthsPct', v))}
        />
        <Tick
          label="In a sealed pack without air"
          value={hop.sealed === true}
          onValue={(on) => onHop(withField(hop, 'sealed', on ? true : undefined))}
        />
      </div>
    </div>
  );
}
