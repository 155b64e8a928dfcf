import type { Beer, Yeast } from '@ladlework/planner';
import { NumberField, Pick, QuantityField, TextField } from '../../form/fields.tsx';
import { withField } from '../../form/set-field.ts';

interface Props {
  readonly beer: Beer;
  readonly onBeer: (beer: Beer) => void;
}

/** The yeast; the plan reckons slurry, starter and oxygen from it. */
export function YeastFields({ beer, onBeer }: Props) {
  const { yeast } = beer;
  if (yeast === undefined) {
    return (
      <button
        type="button"
        class="btn"
        onClick={() => onBeer({ ...beer, yeast: { name: 'Yeast', kind: 'lager' } })}
      >
        Name the yeast
      </button>
    );
  }
  const set = <K extends keyof Yeast>(key: K, value: Yeast[K] | undefined) =>
    onBeer({ ...beer, yeast: withField(yeast, key, value) });
  return (
    <>
      <div class="fields">
        <TextField
          label="Yeast"
          path="yeast.name"
          value={yeast.name}
          onValue={(name) => set('name', name)}
        />
        <Pick
          label="Kind of yeast"
          value={yeast.kind}
          options={[
            { value: 'lager', text: 'lager' },
            { value: 'ale', text: 'ale' },
          ]}
          onValue={(kind) => set('kind', kind)}
        />
        <NumberField
          label="Pitch, million cells per mL and °P"
          path="yeast.rate"
          value={yeast.rate}
          min={0.1}
          max={5}
          optional
          empty={yeast.kind === 'lager' ? '1.5' : '0.75'}
          onValue={(v) => set('rate', v)}
        />
        <NumberField
          label="Times used before"
          path="yeast.generation"
          value={yeast.generation}
          min={0}
          max={100}
          optional
          empty="fresh"
          onValue={(v) => set('generation', v === undefined ? v : Math.round(v))}
        />
        <NumberField
          label="Cells of the slurry"
          unit="million/mL"
          path="yeast.cells"
          value={yeast.cellsPerML === undefined ? undefined : yeast.cellsPerML / 1e6}
          min={1}
          max={10000}
          optional
          empty="1000"
          onValue={(v) => set('cellsPerML', v === undefined ? v : v * 1e6)}
        />
        <NumberField
          label="Of them alive"
          unit="%"
          path="yeast.viability"
          value={yeast.viability === undefined ? undefined : +(yeast.viability * 100).toFixed(2)}
          min={30}
          max={100}
          optional
          empty="95"
          onValue={(v) => set('viability', v === undefined ? v : v / 100)}
        />
        <QuantityField
          label="Starter begins from"
          path="yeast.cultureL"
          kind="volume"
          value={yeast.cultureL}
          min={0.001}
          max={10000}
          near={1}
          optional
          empty="no starter, slurry is here"
          onValue={(v) => set('cultureL', v)}
        />
        <QuantityField
          label="Wort at pitching"
          path="yeast.pitchC"
          kind="temperature"
          value={yeast.pitchC}
          min={2}
          max={30}
          optional
          empty={yeast.kind === 'lager' ? 'lager, 8 °C' : 'ale, 18 °C'}
          onValue={(v) => set('pitchC', v)}
        />
        <NumberField
          label="Oxygen wanted"
          unit="mg/L"
          path="yeast.oxygenMgL"
          value={yeast.oxygenMgL}
          min={0}
          max={40}
          optional
          empty="as usual"
          onValue={(v) => set('oxygenMgL', v)}
        />
      </div>
      <button type="button" class="btn" onClick={() => onBeer(withField(beer, 'yeast', undefined))}>
        No yeast
      </button>
    </>
  );
}
