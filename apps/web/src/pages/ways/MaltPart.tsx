import type { KilnedGrist, PlanDocument, StockLot, SubstituteOptions } from '@ladlework/planner';
import { useMemo } from 'preact/hooks';
import { freshId } from '../../data/base.ts';
import { type BeerSheet, beers, record } from '../../data/house.ts';
import { engine } from '../../engine/client.ts';
import { DraftTexts, useDraft } from '../../form/draft.ts';
import { Choice, Pick, Ticks } from '../../form/fields.tsx';
import { goTo } from '../../shell/location.ts';
import { hashOf } from '../../shell/route.ts';
import { inPair } from '../../units/show.ts';
import { attempt } from '../trouble.tsx';
import { useAnswer, Waiting } from './answer.tsx';
import { PriceFields } from './PriceFields.tsx';
import { showWeight } from './way-words.ts';

interface MaltDraft {
  /** Lots that may not go in. */
  readonly without: readonly string[];
  readonly steps: NonNullable<SubstituteOptions['steps']>;
  readonly aim: NonNullable<SubstituteOptions['aim']>;
}

const START: MaltDraft = { without: [], steps: 'scale', aim: 'own-grist' };
const NAME_MOST = 80;

/** The grist that would stand in for the boils: an alternative, never an equivalent. */
export function MaltPart({ id, document }: { id: string; document: PlanDocument }) {
  const store = useDraft<MaltDraft>(`malt.${document.beer.id}`, START);
  const draft = store.draft.value.value;
  const set = (change: Partial<MaltDraft>) => store.set({ ...draft, ...change });
  const lots = otherLots(document, beers.value);
  const without = new Set(draft.without);
  const stock = lots.filter((lot) => !without.has(keyOf(lot)));
  const { steps, aim } = draft;
  const asked = useMemo(() => ({ ...document, stock }), [document, JSON.stringify(stock)]);
  const answer = useAnswer(
    () => engine.instead({ document: asked, options: { steps, aim } }),
    [asked, steps, aim],
  );
  const at = answer.value;
  return (
    <DraftTexts.Provider value={store}>
      <section class="block">
        <h2>Instead of boiling</h2>
        <p class="lead">
          A single infusion whose grist makes up for the boils in colour and extract, and in nothing
          else.
        </p>
        {lots.length > 0 ? (
          <Ticks
            label="Lots of your other beers that may go in"
            values={lots.map(keyOf).filter((key) => !without.has(key))}
            options={lots.map((lot) => ({ value: keyOf(lot), text: lotText(lot) }))}
            onValues={(on) => set({ without: lots.map(keyOf).filter((key) => !on.includes(key)) })}
          />
        ) : (
          <p class="note">No other beer of this house has a malt with its colour on the sheet.</p>
        )}
        <div class="ways-view">
          <Choice
            label="Weighed"
            value={steps}
            options={[
              { value: 'scale', text: 'on the scale' },
              { value: 'half-bags', text: 'half bags' },
              { value: 'bags', text: 'whole bags' },
            ]}
            onValue={(next) => set({ steps: next })}
          />
          <Pick
            label="Of all that match"
            value={aim}
            options={[
              { value: 'own-grist', text: 'nearest to the own grist' },
              { value: 'price', text: 'cheapest' },
              { value: 'fewest-lots', text: 'fewest lots' },
            ]}
            onValue={(next) => set({ aim: next })}
          />
        </div>
        <PriceFields document={document} />
      </section>
      <section class="block" aria-live="polite">
        <h2>The grist</h2>
        <Waiting answer={answer} what="Weighing it out." onStop={engine.stopComparing} />
        {at.state === 'here' &&
          (at.value.ok ? (
            <>
              <Grist grist={at.value.grist} />
              <div class="row noprint">
                <Take found={at.value.document} />
                <a class="btn" href={hashOf({ at: 'ways', id, part: 'tasting' })}>
                  Taste them blind
                </a>
              </div>
            </>
          ) : (
            <>
              <p class="wrong">
                <b>None that matches.</b> {inPair(at.value.whyNot)}{' '}
                {at.value.wouldDo !== undefined && inPair(at.value.wouldDo)}
              </p>
              {at.value.nearest !== undefined && (
                <>
                  <h3>The nearest there is</h3>
                  <Grist grist={at.value.nearest} />
                </>
              )}
            </>
          ))}
      </section>
    </DraftTexts.Provider>
  );
}

/** The lot as it may go into another grist: without the kilograms of its own. */
function otherLots({ beer }: PlanDocument, sheets: readonly BeerSheet[]): StockLot[] {
  const seen = new Set(beer.malts.map(keyOf));
  const lots: StockLot[] = [];
  for (const sheet of sheets)
    for (const { kg: _kg, ...lot } of sheet.beer.malts) {
      if (seen.has(keyOf(lot)) || lot.certificate?.colourEbc === undefined) continue;
      seen.add(keyOf(lot));
      lots.push(lot);
    }
  return lots;
}

const keyOf = (lot: StockLot): string => lot.lot ?? lot.name;

const lotText = (lot: StockLot): string =>
  `${lot.name}${lot.lot === undefined ? '' : ` ${lot.lot}`}, ${lot.certificate?.colourEbc} EBC`;

function Grist({ grist }: { grist: KilnedGrist }) {
  const { extractKg, colourEbc, diastaticWk, ph, cost } = grist;
  const money = (m: number) => `${m.toFixed(2)} ${cost?.currency ?? ''}`;
  return (
    <>
      <table class="plan-table">
        <thead>
          <tr>
            <th scope="col">Malt</th>
            <th scope="col">With boils</th>
            <th scope="col">Instead</th>
            <th scope="col">Share</th>
            <th scope="col">Bags</th>
            <th scope="col">Cost</th>
          </tr>
        </thead>
        <tbody>
          {grist.malts.map((m) => (
            <tr key={`${m.name} ${m.lot ?? ''}`}>
              <th scope="row">
                {m.name} <span class="soft">{m.lot}</span>
              </th>
              <td data-label="With boils">{showWeight(m.wasKg, 1)}</td>
              <td data-label="Instead">
                <b>{showWeight(m.kg, 1)}</b>
              </td>
              <td data-label="Share">
                {(100 * m.share).toFixed(1)} %{' '}
                <span class="soft">of {(100 * m.mostShare).toFixed(0)} % at most</span>
              </td>
              <td data-label="Bags">{m.bags === undefined ? '–' : m.bags.toFixed(1)}</td>
              <td data-label="Cost">{m.cost === undefined ? '–' : m.cost.toFixed(2)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <dl class="facts grist-facts">
        <Pair
          name="Extract"
          got={showWeight(extractKg.got, 1)}
          was={`${showWeight(extractKg.wanted, 1)} wanted`}
        />
        <Pair
          name="Colour at 12 °P"
          got={`${colourEbc.got.toFixed(1)} EBC`}
          was={`${colourEbc.wanted.toFixed(1)} EBC wanted, ${colourEbc.boils.low.toFixed(1)} to ${colourEbc.boils.high.toFixed(1)} of it from the boils`}
        />
        <Pair
          name="Diastatic power"
          got={`${diastaticWk.got.toFixed(0)} °WK`}
          was={`${diastaticWk.least.toFixed(0)} °WK at least`}
        />
        <Pair
          name="Mash pH"
          got={`${ph.got.toFixed(2)} (${ph.band.low.toFixed(2)} to ${ph.band.high.toFixed(2)})`}
          was={`${ph.own.toFixed(2)} with boils`}
        />
        {cost !== undefined && (
          <Pair name="Malt" got={money(cost.got)} was={`${money(cost.was)} with boils`} />
        )}
      </dl>
      <p class="note">{inPair(grist.text)}</p>
      <ul class="plain-list small soft">
        {grist.notes.map((note) => (
          <li key={note}>{inPair(note)}</li>
        ))}
      </ul>
    </>
  );
}

function Pair({ name, got, was }: { name: string; got: string; was: string }) {
  return (
    <div>
      <dt>
        {name}
        <small>{was}</small>
      </dt>
      <dd>{got}</dd>
    </div>
  );
}

function Take({ found }: { found: PlanDocument }) {
  const end = ', no boil';
  const take = async () => {
    const id = freshId().slice(0, 12);
    const name = `${found.beer.name.slice(0, NAME_MOST - end.length)}${end}`;
    const beer = { ...found.beer, id, name };
    const data = { beer, mash: found.mash, day: found.day, kitId: found.kit.id };
    await record({ stream: `beer:${id}`, type: 'beer-saved', data });
    goTo({ at: 'beer', id });
  };
  return (
    <button type="button" class="btn solid" onClick={() => attempt('write the beer down', take)}>
      Take it as a new beer
    </button>
  );
}
