import type {
  ClashSet,
  Menu,
  MenuPlan,
  PlanDocument,
  Proof,
  SearchProgress,
} from '@ladlework/planner';
import { pricesOf } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { engine } from '../../engine/client.ts';
import { DraftTexts, useDraft } from '../../form/draft.ts';
import { clockAt, inPair, show, showBand } from '../../units/show.ts';
import { attempt } from '../trouble.tsx';
import { Scatter } from './Scatter.tsx';
import { TargetFields } from './TargetFields.tsx';
import { takePlan } from './take-plan.ts';
import { type TargetDraft, targetsOf } from './targets.ts';
import { showWeight } from './way-words.ts';

type Search =
  | { readonly state: 'idle' }
  | { readonly state: 'under-way'; readonly at: SearchProgress | undefined }
  | { readonly state: 'stopped' }
  | { readonly state: 'failed'; readonly why: string }
  | { readonly state: 'done'; readonly menu: Menu; readonly no: Proof | undefined };

interface Props {
  readonly id: string;
  readonly document: PlanDocument;
}

/** Plans by the thousand against what is wanted; a few that differ are offered. */
export function FindPart({ id, document }: Props) {
  const store = useDraft<TargetDraft>(`find.${document.kit.id}.${document.beer.id}`, {});
  const draft = store.draft.value.value;
  const search = useSignal<Search>({ state: 'idle' });
  const unread = Object.keys(store.draft.value.texts).length;
  // What was found for other targets, prices or another plan is no answer any more.
  useEffect(() => {
    search.value = { state: 'idle' };
    return engine.stopSearching;
  }, [document, draft]);
  const run = async () => {
    search.value = { state: 'under-way', at: undefined };
    const ask = { document, targets: targetsOf(draft, document) };
    const hear = (at: SearchProgress) => {
      if (search.peek().state === 'under-way') search.value = { state: 'under-way', at };
    };
    const found = await engine.search({ ...ask, hear });
    const proof = found.ok ? await engine.no(ask) : found;
    if (found.ok && proof.ok) {
      search.value = { state: 'done', menu: found.value, no: found.value.clash ?? proof.value };
      return;
    }
    const error = !found.ok ? found.error : !proof.ok ? proof.error : undefined;
    if (error === undefined || search.peek().state === 'idle') return;
    search.value =
      error.code === 'broken' ? { state: 'failed', why: error.message } : { state: 'stopped' };
  };
  const at = search.value;
  return (
    <DraftTexts.Provider value={store}>
      <section class="block">
        <h2>What you want</h2>
        <TargetFields
          draft={draft}
          document={document}
          set={(change) => store.set({ ...draft, ...change })}
        />
        <div class="row find-act noprint">
          {at.state === 'under-way' ? (
            <button type="button" class="btn" onClick={engine.stopSearching}>
              Stop
            </button>
          ) : (
            <button
              type="button"
              class="btn solid"
              disabled={unread > 0}
              onClick={() => void run()}
            >
              Find plans
            </button>
          )}
          {store.touched.value && at.state !== 'under-way' && (
            <button type="button" class="btn" onClick={() => store.reset({})}>
              Limit nothing
            </button>
          )}
          <span role="status">{statusText(at, unread)}</span>
          {at.state === 'under-way' && (
            <progress max={1} value={at.at?.share ?? 0} aria-label="How far the search has come" />
          )}
        </div>
        {at.state === 'failed' && (
          <p class="wrong" role="alert">
            <b>No answer.</b> {inPair(at.why)}
          </p>
        )}
      </section>
      {at.state === 'done' && at.no !== undefined && at.no.sets.length > 0 && (
        <Clashes id={id} proof={at.no} none={at.menu.plans.length === 0} />
      )}
      {at.state === 'done' && at.menu.plans.length > 0 && (
        <Plans id={id} document={document} menu={at.menu} />
      )}
    </DraftTexts.Provider>
  );
}

function statusText(at: Search, unread: number): string {
  if (unread > 0)
    return unread === 1 ? 'One field cannot be read yet' : `${unread} fields cannot be read yet`;
  switch (at.state) {
    case 'idle':
    case 'failed':
      return '';
    case 'stopped':
      return 'Stopped. Nothing was changed.';
    case 'under-way':
      return at.at === undefined ? 'Setting out.' : `${count(at.at.screened)} plans looked at.`;
    case 'done':
      return `${count(at.menu.screened)} plans looked at, ${count(at.menu.infeasible)} of them not for this kit; ${at.menu.played} brewed on paper, ${at.menu.plans.length} left that differ.`;
  }
}

const count = (n: number): string => n.toLocaleString('en-GB');

interface ClashProps {
  readonly id: string;
  readonly proof: Proof;
  readonly none: boolean;
}

function Clashes({ id, proof, none }: ClashProps) {
  return (
    <section class="block cannot">
      <h2>{none ? 'No plan does all of it' : 'Why not just as planned'}</h2>
      {proof.sets.map((set) => (
        <OneClash key={set.text} id={id} set={set} />
      ))}
    </section>
  );
}

function OneClash({ id, set }: { id: string; set: ClashSet }) {
  return (
    <>
      <p class="wrong">{inPair(set.text)}</p>
      <h3>The smallest change of each, worked through</h3>
      <ul class="changes clash-list">
        {set.limits.map((limit) => {
          const { change } = limit;
          const text = change === undefined ? undefined : inPair(change.text);
          return (
            <li key={limit.code}>
              <span>{inPair(limit.text)}</span>
              <span class="what">{text ?? 'only with another change beside it'}</span>
              {change !== undefined && (
                <button
                  type="button"
                  class="btn noprint"
                  aria-label={`Try it: ${text}`}
                  onClick={() =>
                    attempt('plan this change', () =>
                      takePlan(id, change.document, `Planned with ${text}`),
                    )
                  }
                >
                  Try it
                </button>
              )}
            </li>
          );
        })}
      </ul>
    </>
  );
}

interface PlansProps {
  readonly id: string;
  readonly document: PlanDocument;
  readonly menu: Menu;
}

function Plans({ id, document, menu }: PlansProps) {
  return (
    <section class="block">
      <h2>Plans to choose from</h2>
      <p class="lead">
        None of these is beaten in everything by another. They stand by what is likely; the chance
        of missing is told with each.
      </p>
      {menu.plans.length > 1 && <Scatter plans={menu.plans} document={document} />}
      <ol class="plan-menu">
        {menu.plans.map((plan, i) => (
          <li key={plan.what}>
            <header>
              <h3>
                <span class="place">{i + 1}</span> {inPair(plan.what)}
              </h3>
              <p>{inPair(plan.reason)}</p>
            </header>
            <PlanFacts plan={plan} document={document} />
            <button
              type="button"
              class="btn noprint"
              aria-label={`Take this plan: ${i + 1}`}
              onClick={() =>
                attempt('take this plan', () =>
                  takePlan(id, plan.document, `Plan taken from the menu: ${inPair(plan.what)}`),
                )
              }
            >
              Take this plan
            </button>
          </li>
        ))}
      </ol>
    </section>
  );
}

function PlanFacts({ plan, document }: { plan: MenuPlan; document: PlanDocument }) {
  const { figures, wort } = plan;
  const { currency } = pricesOf(document);
  const hour = (h: number) => clockAt(60 * h, document.day.startMin);
  const percent = (share: number) => `${Math.round(100 * share)} %`;
  const facts: readonly (readonly [string, string])[] = [
    [
      'All done',
      `${hour(figures.finishH.likely)} (${hour(figures.finishH.low)} to ${hour(figures.finishH.high)})`,
    ],
    ['Hands at the mash', showBand('duration', figures.handsBusyMin)],
    [
      'Lifted by hand',
      plan.lifts === 0
        ? 'nothing'
        : `${plan.lifts} lifts, ${showWeight(figures.carriedKg.likely, 0)} in all, ${showWeight(plan.heaviestKg, 0)} at most`,
    ],
    ['Energy', `${figures.energyKWh.likely.toFixed(0)} kWh`],
    ['Money', `${figures.cost.likely.toFixed(0)} ${currency}`],
    [
      'Limit of attenuation',
      `${wort.limitApparentPct.likely.toFixed(1)} % (${wort.limitApparentPct.low.toFixed(0)} to ${wort.limitApparentPct.high.toFixed(0)})`,
    ],
    [
      'Colour from the boils',
      `${wort.colourAddedEbc.likely.toFixed(1)} EBC (${wort.colourAddedEbc.low.toFixed(1)} to ${wort.colourAddedEbc.high.toFixed(1)})`,
    ],
    [`A rest missed by more than ${show('temperatureDifference', 1, 0)}`, percent(plan.missChance)],
    ['Iodine still blue at the end', percent(plan.starchRisk)],
    ...plan.chances.map((c): readonly [string, string] => [
      `Chance to meet the ${c.target}`,
      percent(c.chance),
    ]),
  ];
  return (
    <dl class="facts">
      {facts.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
