import type { Band, PlanDocument, Scaled, ScaleOptions } from '@ladlework/planner';
import { kits } from '../../data/house.ts';
import { engine } from '../../engine/client.ts';
import { DraftTexts, useDraft } from '../../form/draft.ts';
import { Choice, Pick, QuantityField } from '../../form/fields.tsx';
import { inPair, show } from '../../units/show.ts';
import { planBrew } from '../plan-brew.ts';
import { attempt } from '../trouble.tsx';
import { useAnswer, Waiting } from './answer.tsx';
import { showWeight, signed } from './way-words.ts';

interface SizeDraft {
  readonly kit?: string;
  readonly gristKg?: number | undefined;
  readonly bags: NonNullable<ScaleOptions['bags']>;
}

/** The brew on another kit, and from there back: what comes along and what does not. */
export function SizePart({ document }: { document: PlanDocument }) {
  const store = useDraft<SizeDraft>(`size.${document.beer.id}`, { bags: 'half-bags' });
  const draft = store.draft.value.value;
  const set = (change: Partial<SizeDraft>) => store.set({ ...draft, ...change });
  const others = kits.value.filter((k) => k.id !== document.kit.id);
  const kit = others.find((k) => k.id === draft.kit) ?? others[0];
  if (kit === undefined)
    return (
      <p class="note">
        There is no other kit in this house. <a href="#/kit">Describe one</a>
      </p>
    );
  return (
    <DraftTexts.Provider value={store}>
      <section class="block">
        <h2>On another kit</h2>
        <div class="fields wide-fields">
          <Pick
            label="Kit"
            value={kit.id}
            options={others.map((k) => ({ value: k.id, text: k.name }))}
            onValue={(id) => set({ kit: id })}
          />
          <QuantityField
            label="Malt there"
            path="gristKg"
            kind="mass"
            value={draft.gristKg}
            min={0.1}
            max={10_000}
            near={50}
            optional
            empty="as much as it can brew"
            onValue={(gristKg) => set({ gristKg })}
          />
        </div>
        <Choice
          label="Malt is taken"
          value={draft.bags}
          options={[
            { value: 'scale', text: 'by weight' },
            { value: 'half-bags', text: 'in half bags' },
            { value: 'bags', text: 'in whole bags' },
          ]}
          onValue={(bags) => set({ bags })}
        />
      </section>
      <Moved document={document} draft={draft} kit={kit} />
    </DraftTexts.Provider>
  );
}

interface MovedProps {
  readonly document: PlanDocument;
  readonly draft: SizeDraft;
  readonly kit: PlanDocument['kit'];
}

function Moved({ document, draft, kit }: MovedProps) {
  const { bags, gristKg } = draft;
  const options = gristKg === undefined ? { bags } : { bags, gristKg };
  const answer = useAnswer(
    () => engine.scale({ document, kit, options }),
    [document, JSON.stringify(kit), bags, gristKg],
  );
  const at = answer.value;
  return (
    <section class="block" aria-live="polite">
      <h2>There</h2>
      <Waiting answer={answer} what="Taking it over." onStop={engine.stopComparing} />
      {at.state === 'here' &&
        (at.value.ok ? (
          <There document={document} kit={kit.name} found={at.value} />
        ) : (
          <p class="wrong">
            <b>It cannot be taken there.</b> {inPair(at.value.whyNot)}
          </p>
        ))}
    </section>
  );
}

function There({ document, kit, found }: { document: PlanDocument; kit: string; found: Scaled }) {
  const { effect } = found;
  const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
  return (
    <>
      {found.feasible ? (
        <p class="verdict">
          {kit} can do it, {found.factor.toFixed(2)} times as large.
        </p>
      ) : (
        <p class="wrong">
          <b>{kit} cannot do it as asked.</b> {inPair(found.whyNot)}
        </p>
      )}
      <table class="plan-table">
        <thead>
          <tr>
            <th scope="col">Malt</th>
            <th scope="col">Here</th>
            <th scope="col">There, exactly</th>
            <th scope="col">There</th>
            <th scope="col">Bags</th>
          </tr>
        </thead>
        <tbody>
          {found.grist.map((m) => (
            <tr key={m.name}>
              <th scope="row">{m.name}</th>
              <td data-label="Here">{showWeight(m.fromKg, 1)}</td>
              <td data-label="There, exactly">{showWeight(m.exactKg, 2)}</td>
              <td data-label="There">
                <b>{showWeight(m.kg, 2)}</b>
              </td>
              <td data-label="Bags">{m.bags === undefined ? '–' : m.bags.toFixed(1)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        What the bags do: malt {signed(effect.gristShare, percent)}, extract{' '}
        {signed(effect.extractShare, percent)};{' '}
        {signed(effect.platoChange, (p) => `${p.toFixed(2)} °P`)} at the same volume, or{' '}
        {show('volume', effect.castOutL.rounded)} in place of{' '}
        {show('volume', effect.castOutL.exact)} at the same strength
        {effect.colourEbc !== undefined &&
          `; colour ${effect.colourEbc.rounded.toFixed(1)} in place of ${effect.colourEbc.exact.toFixed(1)} EBC`}
        .
      </p>
      <div class="cols">
        <div>
          <h3>What comes along</h3>
          <ul class="plain-list">
            {found.kept.map((text) => (
              <li key={text}>{inPair(text)}</li>
            ))}
          </ul>
        </div>
        <div>
          <h3>What is only reckoned</h3>
          <ul class="plain-list">
            {found.notes.map((text) => (
              <li key={text}>{inPair(text)}</li>
            ))}
          </ul>
        </div>
      </div>
      <h3>What does not come along</h3>
      <table class="plan-table">
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">On {document.kit.name}</th>
            <th scope="col">On {kit}</th>
          </tr>
        </thead>
        <tbody>
          {found.notKept.map((row) => (
            <tr key={row.what}>
              <th scope="row">{row.what}</th>
              <td data-label="Here">{bandText(row.from, row.unit)}</td>
              <td data-label="There">{bandText(row.to, row.unit)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <div class="row find-act noprint">
        <button
          type="button"
          class="btn solid"
          disabled={!found.feasible}
          onClick={() =>
            attempt('plan it there', () =>
              planBrew(found.document, { remark: `Taken over from ${document.kit.name}` }),
            )
          }
        >
          Plan it there
        </button>
      </div>
    </>
  );
}

function bandText({ low, likely, high }: Band, unit: string): string {
  const one = (x: number) =>
    inPair(`${x.toFixed(Math.abs(x) < 10 ? 1 : 0)} ${unit}`).replace(/^-/, '−');
  return low === high ? one(likely) : `${one(likely)} (${one(low)} to ${one(high)})`;
}
