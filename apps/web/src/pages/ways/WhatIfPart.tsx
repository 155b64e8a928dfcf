import type { Band, KitDifference, PlanDocument, WhatIfPlan } from '@ladlework/planner';
import { pricesOf } from '@ladlework/planner';
import { engine } from '../../engine/client.ts';
import { DraftTexts, useDraft } from '../../form/draft.ts';
import { goTo } from '../../shell/location.ts';
import { clockAt, inPair, show } from '../../units/show.ts';
import { planBrew } from '../plan-brew.ts';
import { attempt } from '../trouble.tsx';
import { latestOf, useAnswer, Waiting } from './answer.tsx';
import { HelpPart } from './HelpPart.tsx';
import { changesOf, controlsOf, type SlideValues } from './kit-controls.ts';
import { keepForWays } from './of-brew.ts';
import { PriceFields } from './PriceFields.tsx';
import { Slide } from './Slide.tsx';
import { showWeight, signed } from './way-words.ts';

/** The kit, the place and the size of the brew slid about, and what comes of it. */
export function WhatIfPart({ document }: { document: PlanDocument }) {
  const store = useDraft<SlideValues>(`what-if.${document.kit.id}.${document.beer.id}`, {});
  const values = store.draft.value.value;
  const controls = controlsOf(document);
  const changes = changesOf(controls, values);
  const answer = useAnswer(
    () => engine.whatIf({ document, changes }),
    [document, JSON.stringify(changes)],
  );
  const found = latestOf(answer.value);
  return (
    <DraftTexts.Provider value={store}>
      <section class="block">
        <h2>What if</h2>
        <p class="lead">
          Slide, step or type. Everything moved counts together, on the same draws as the plan, so
          the differences are narrow.
        </p>
        <div class="slides">
          {controls.map((control) => (
            <Slide
              key={control.key}
              control={control}
              value={values[control.key]}
              onValue={(value) => {
                const { [control.key]: _old, ...others } = values;
                store.set(value === undefined ? others : { ...others, [control.key]: value });
              }}
            />
          ))}
        </div>
        {changes.length > 0 && (
          <button type="button" class="btn" onClick={() => store.reset({})}>
            All as it is
          </button>
        )}
      </section>
      <section class="block" aria-live="polite">
        <h2>What comes of it</h2>
        <Waiting answer={answer} what="Working it out." onStop={engine.stopComparing} />
        {found !== undefined && (
          <div class={answer.value.state === 'here' ? undefined : 'stale'}>
            <Outcome document={document} found={found} moved={found.text !== ''} />
          </div>
        )}
      </section>
      <section class="block">
        <h2>What would help most for the money</h2>
        <PriceFields document={document} />
        <HelpPart document={document} />
      </section>
    </DraftTexts.Provider>
  );
}

interface OutcomeProps {
  readonly document: PlanDocument;
  readonly found: WhatIfPlan;
  readonly moved: boolean;
}

function Outcome({ document, found, moved }: OutcomeProps) {
  if (!found.feasible)
    return (
      <p class="wrong">
        <b>{moved ? 'Not with this.' : 'The plan cannot be brewed as it stands.'}</b>{' '}
        {inPair(found.whyNot)}
      </p>
    );
  return (
    <>
      <p>{moved ? `With ${inPair(found.text)}.` : 'Nothing is moved yet; this is the plan.'}</p>
      <Figures document={document} found={found} moved={moved} />
      {moved && (
        <div class="row noprint">
          <button
            type="button"
            class="btn solid"
            onClick={() =>
              attempt('plan this', () =>
                planBrew(found.document, { remark: `Planned with ${inPair(found.text)}` }),
              )
            }
          >
            Plan it with this
          </button>
          <button
            type="button"
            class="btn"
            onClick={() => {
              keepForWays(found.document);
              goTo({ at: 'ways', id: 'new', part: 'side' });
            }}
          >
            Every way with this
          </button>
        </div>
      )}
    </>
  );
}

function Figures({ document, found, moved }: OutcomeProps) {
  const { own, changed, difference } = found;
  const { currency } = pricesOf(document);
  const money = (m: number) => `${m.toFixed(2)}${currency === '' ? '' : ` ${currency}`}`;
  const minutes = (m: number) => show('duration', m);
  const kelvin = (k: number) => show('temperatureDifference', k, 1);
  const finish = (m: number) => clockAt(m, document.day.startMin);
  const rows: readonly {
    readonly name: string;
    readonly of: (f: NonNullable<WhatIfPlan['own']>) => number;
    readonly write: (value: number) => string;
    readonly differs: (d: KitDifference) => Band | number;
    readonly writeDifference?: (value: number) => string;
  }[] = [
    {
      name: 'All done, cleaned up',
      of: (f) => f.finishMin.likely,
      write: finish,
      differs: (d) => d.finishMin,
      writeDifference: minutes,
    },
    {
      name: 'Widest landing band',
      of: (f) => f.landingBandK,
      write: kelvin,
      differs: (d) => d.landingBandK,
    },
    {
      name: 'Hands at the mash',
      of: (f) => f.handsBusyMin.likely,
      write: minutes,
      differs: (d) => d.handsBusyMin,
    },
    { name: 'Lifts', of: (f) => f.lifts, write: (n) => String(n), differs: (d) => d.lifts },
    {
      name: 'Carried by hand',
      of: (f) => f.carriedKg.likely,
      write: (kg) => showWeight(kg, 0),
      differs: (d) => d.carriedKg,
    },
    {
      name: 'Energy of the mash',
      of: (f) => f.energyKWh.likely,
      write: (kWh) => `${kWh.toFixed(1)} kWh`,
      differs: (d) => d.energyKWh,
    },
    { name: 'Money', of: (f) => f.cost.likely, write: money, differs: (d) => d.cost },
    {
      name: 'Apparent limit of attenuation',
      of: (f) => f.limitApparentPct.likely,
      write: (pct) => `${pct.toFixed(1)} %`,
      differs: (d) => d.limitApparentPoints,
    },
  ];
  return (
    <table class="plan-table">
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col">As planned</th>
          <th scope="col">With it</th>
          <th scope="col">Difference, with its band</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.name}>
            <th scope="row">{row.name}</th>
            <td data-label="As planned">
              {own === undefined ? 'cannot be brewed' : row.write(row.of(own))}
            </td>
            <td data-label="With it">{changed === undefined ? '' : row.write(row.of(changed))}</td>
            <td data-label="Difference">
              {moved && difference !== undefined
                ? differenceText(row.differs(difference), row.writeDifference ?? row.write)
                : ''}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function differenceText(d: Band | number, write: (value: number) => string): string {
  if (typeof d === 'number') return signed(d, write);
  const [low, high] = [signed(d.low, write), signed(d.high, write)];
  return low === high ? signed(d.likely, write) : `${signed(d.likely, write)} (${low} to ${high})`;
}
