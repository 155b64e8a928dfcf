import type { Beer, BeerWanted } from '@ladlework/planner';
import { ExtractField } from '../../form/ExtractField.tsx';
import { NumberField, QuantityField } from '../../form/fields.tsx';
import { withField } from '../../form/set-field.ts';
import { ION_NAME } from '../plan/wort/words.ts';

type Figure = 'colourEbc' | 'ibu' | 'attenuationPct' | 'mashPh' | 'wortPh';
const FIGURES: readonly {
  readonly key: Figure;
  readonly label: string;
  readonly unit?: string;
  readonly min: number;
  readonly max: number;
}[] = [
  { key: 'colourEbc', label: 'Colour', unit: 'EBC', min: 2, max: 90 },
  { key: 'ibu', label: 'Bitterness of the wort', unit: 'mg/L', min: 0, max: 150 },
  { key: 'attenuationPct', label: 'Limit of attenuation', unit: '%', min: 50, max: 95 },
  { key: 'mashPh', label: 'Mash pH wanted, at 20 °C', min: 4.8, max: 6.5 },
  { key: 'wortPh', label: 'pH at the end of the boil, at 20 °C', min: 4.6, max: 6.2 },
];
const IONS = [
  'calciumMgL',
  'magnesiumMgL',
  'sodiumMgL',
  'chlorideMgL',
  'sulphateMgL',
  'alkalinityMgLCaCO3',
] as const;

interface Props {
  readonly beer: Beer;
  readonly onBeer: (beer: Beer) => void;
}

/** What the beer is to come out as; the plan says what comes and what would mend it. */
export function TargetFields({ beer, onBeer }: Props) {
  const target: BeerWanted = beer.target ?? {};
  const set = <K extends keyof BeerWanted>(key: K, value: BeerWanted[K] | undefined) => {
    const next = withField(target, key, value);
    onBeer(withField(beer, 'target', Object.keys(next).length === 0 ? undefined : next));
  };
  const liquor = target.liquor ?? {};
  return (
    <>
      <div class="fields">
        <QuantityField
          label="Wort in the tank, cold"
          path="target.tankL"
          kind="volume"
          value={target.tankL}
          min={1}
          max={20000}
          near={300}
          optional
          empty="not asked for"
          onValue={(v) => set('tankL', v)}
        />
        <ExtractField
          label="Extract in the tank"
          path="target.extract"
          value={target.extract}
          onValue={(v) => set('extract', v)}
        />
        {FIGURES.map(({ key, label, unit, min, max }) => (
          <NumberField
            key={key}
            label={label}
            {...(unit === undefined ? {} : { unit })}
            path={`target.${key}`}
            value={target[key]}
            min={min}
            max={max}
            optional
            empty="not asked for"
            onValue={(v) => set(key, v)}
          />
        ))}
      </div>
      <details class="certificate">
        <summary>
          Liquor wanted{' '}
          <span class="soft">
            {Object.keys(liquor).length === 0
              ? 'left as it is'
              : `${Object.keys(liquor).length} ions`}
          </span>
        </summary>
        <div class="fields">
          {IONS.map((ion) => (
            <NumberField
              key={ion}
              label={`Wanted ${ION_NAME[ion]}`}
              unit="mg/L"
              path={`target.liquor.${ion}`}
              value={liquor[ion]}
              min={0}
              max={2000}
              optional
              empty="left free"
              onValue={(v) => {
                const next = withField(liquor, ion, v);
                set('liquor', Object.keys(next).length === 0 ? undefined : next);
              }}
            />
          ))}
        </div>
      </details>
    </>
  );
}
