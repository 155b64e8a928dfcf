import { type Beer, type MaltLot, outsideReasons } from '@ladlework/planner';
import { type BeerSheet, beers, record } from '../data/house.ts';
import { DraftTexts, useDraft } from '../form/draft.ts';
import { NumberField, Pick, QuantityField, TextField } from '../form/fields.tsx';
import { show } from '../units/show.ts';
import { AddedFields } from './AddedFields.tsx';
import { HopFields } from './beer/HopFields.tsx';
import { TargetFields } from './beer/TargetFields.tsx';
import { YeastFields } from './beer/YeastFields.tsx';
import { CERTIFICATE } from './certificate.ts';
import { checkBeer } from './checks.ts';
import { DoesNotHold } from './DoesNotHold.tsx';
import { Gone } from './Gone.tsx';
import { KineticsFields } from './KineticsFields.tsx';
import { MaltAdvice } from './MaltAdvice.tsx';
import { MashFields } from './MashFields.tsx';
import { newMash } from './mash-fit.ts';
import { SaveBar } from './SaveBar.tsx';
import { attempt, Trouble } from './trouble.tsx';

const TYPES: readonly { value: MaltLot['type']; text: string }[] = [
  { value: 'base', text: 'base malt' },
  { value: 'wheat', text: 'wheat malt' },
  { value: 'caramel', text: 'caramel malt' },
  { value: 'roast', text: 'roast malt' },
];

export function BeerPage({ id }: { id: string }) {
  const found = beers.value.find((b) => b.beer.id === id);
  if (found === undefined) return <Gone what="beer" back="#/beers" />;
  return <BeerForm key={found.beer.id} saved={found} />;
}

function BeerForm({ saved }: { saved: BeerSheet }) {
  const store = useDraft<BeerSheet>(`beer.${saved.beer.id}`, saved);
  const sheet = store.draft.value.value;
  const beer = sheet.beer;
  const mash = sheet.mash ?? newMash();
  const set = (change: Partial<Beer>) => store.set({ ...sheet, beer: { ...beer, ...change } });
  const total = beer.malts.reduce((sum, malt) => sum + malt.kg, 0);
  return (
    <DraftTexts.Provider value={store}>
      <header class="head">
        <div>
          <h1>{beer.name}</h1>
          <p>{show('mass', total)} of grist</p>
        </div>
      </header>
      <Trouble />
      <section class="block">
        <h2>Beer</h2>
        <div class="fields">
          <TextField
            label="Name of the beer"
            path="name"
            value={beer.name}
            onValue={(name) => set({ name })}
          />
          <NumberField
            label="Mash pH, read or expected"
            path="mashPh"
            value={beer.mashPh}
            min={4.8}
            max={6.5}
            optional
            empty="not known"
            onValue={(mashPh) => {
              const { mashPh: _old, ...rest } = beer;
              store.set({ ...sheet, beer: mashPh === undefined ? rest : { ...rest, mashPh } });
            }}
          />
          <AddedFields beer={beer} onBeer={(next) => store.set({ ...sheet, beer: next })} />
        </div>
        <DoesNotHold reasons={outsideReasons(beer, mash)} />
      </section>
      <section class="block">
        <h2>What it is to become</h2>
        <TargetFields beer={beer} onBeer={(next) => store.set({ ...sheet, beer: next })} />
      </section>
      <section class="block">
        <h2>Malts</h2>
        {beer.malts.map((malt, i) => (
          <MaltFields
            key={i}
            malt={malt}
            path={`malts.${i}`}
            share={total > 0 ? malt.kg / total : 0}
            onMalt={(next) => set({ malts: beer.malts.map((m, k) => (k === i ? next : m)) })}
            onRemove={() => set({ malts: beer.malts.filter((_, k) => k !== i) })}
          />
        ))}
        <button
          type="button"
          class="btn"
          onClick={() => set({ malts: [...beer.malts, { name: 'Malt', kg: 5, type: 'base' }] })}
        >
          Add a malt
        </button>
      </section>
      <section class="block">
        <h2>Hops</h2>
        <HopFields beer={beer} onBeer={(next) => store.set({ ...sheet, beer: next })} />
      </section>
      <section class="block">
        <h2>Yeast</h2>
        <YeastFields beer={beer} onBeer={(next) => store.set({ ...sheet, beer: next })} />
      </section>
      <section class="block">
        <h2>What the certificates say</h2>
        <MaltAdvice beer={beer} mash={mash} />
      </section>
      <section class="block">
        <h2>How this grist converts</h2>
        <details class="certificate">
          <summary>
            Kinetics{' '}
            <span class="soft">
              {beer.kinetics === undefined
                ? 'a standard lot, milled as usual'
                : `${Object.keys(beer.kinetics).length} chosen for this grist`}
            </span>
          </summary>
          <KineticsFields
            kinetics={beer.kinetics}
            onKinetics={(kinetics) => {
              const { kinetics: _old, ...rest } = beer;
              store.set({ ...sheet, beer: kinetics === undefined ? rest : { ...rest, kinetics } });
            }}
          />
        </details>
      </section>
      <section class="block">
        <h2>Mash</h2>
        <MashFields mash={mash} onMash={(next) => store.set({ ...sheet, mash: next })} />
      </section>
      <SaveBar
        what="beer"
        touched={store.touched.value}
        unread={Object.keys(store.draft.value.texts).length}
        problems={checkBeer(beer)}
        onSave={() =>
          attempt('save the beer', async () => {
            await record({
              stream: `beer:${beer.id}`,
              type: 'beer-saved',
              data: { ...sheet, mash },
            });
            store.reset({ ...sheet, mash });
          })
        }
        onDrop={() => store.reset(saved)}
        onRetire={() =>
          attempt('put the beer away', async () => {
            await record({ stream: `beer:${beer.id}`, type: 'beer-retired', data: {} });
            location.hash = '#/beers';
          })
        }
      />
    </DraftTexts.Provider>
  );
}

interface MaltProps {
  readonly malt: MaltLot;
  readonly path: string;
  readonly share: number;
  readonly onMalt: (malt: MaltLot) => void;
  readonly onRemove: () => void;
}

function MaltFields({ malt, path, share, onMalt, onRemove }: MaltProps) {
  const known = Object.keys(malt.certificate ?? {}).length;
  return (
    <div class="thing">
      <header>
        <h3>
          {malt.name} <span class="soft">{Math.round(share * 100)} %</span>
        </h3>
        <button
          type="button"
          class="btn plain"
          aria-label={`Take away ${malt.name}`}
          onClick={onRemove}
        >
          Take away
        </button>
      </header>
      <div class="fields">
        <TextField
          label="Malt"
          path={`${path}.name`}
          value={malt.name}
          onValue={(name) => onMalt({ ...malt, name })}
        />
        <QuantityField
          label="Weight"
          path={`${path}.kg`}
          kind="mass"
          value={malt.kg}
          min={0.01}
          max={20000}
          onValue={(kg) => kg !== undefined && onMalt({ ...malt, kg })}
        />
        <Pick
          label="Type"
          value={malt.type}
          options={TYPES}
          onValue={(type) => onMalt({ ...malt, type })}
        />
        <TextField
          label="Lot"
          path={`${path}.lot`}
          value={malt.lot ?? ''}
          optional
          onValue={(lot) => {
            const { lot: _old, ...rest } = malt;
            onMalt(lot === '' ? rest : { ...rest, lot });
          }}
        />
      </div>
      <details class="certificate">
        <summary>
          Certificate{' '}
          <span class="soft">
            {known === 0
              ? 'nothing entered; the bands are as wide as malt gets'
              : `${known} of ${CERTIFICATE.length} figures`}
          </span>
        </summary>
        <div class="fields">
          {CERTIFICATE.map((field) => (
            <NumberField
              key={field.key}
              label={field.label}
              unit={field.unit}
              path={`${path}.certificate.${field.key}`}
              value={malt.certificate?.[field.key]}
              min={field.min}
              max={field.max}
              optional
              empty="not printed"
              onValue={(value) => {
                const { [field.key]: _old, ...rest } = malt.certificate ?? {};
                const certificate = value === undefined ? rest : { ...rest, [field.key]: value };
                onMalt({ ...malt, certificate });
              }}
            />
          ))}
        </div>
      </details>
    </div>
  );
}
