import { type Method, type PairedWays, type PlanDocument, pricesOf } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { engine } from '../../engine/client.ts';
import { Choice, Pick } from '../../form/fields.tsx';
import { inPair, show } from '../../units/show.ts';
import { planBrew } from '../plan-brew.ts';
import { attempt } from '../trouble.tsx';
import { useAnswer, Waiting } from './answer.tsx';
import { BandTable } from './BandTable.tsx';
import { Published } from './Published.tsx';
import { signed, WAY_NAMES, wayFigures } from './way-words.ts';

/** Every way to brew the beer on its kit, figure by figure. */
export function SideBySide({ document }: { document: PlanDocument }) {
  const answer = useAnswer(() => engine.ways(document), [document]);
  return (
    <>
      <Waiting
        answer={answer}
        what="Eight ways are being brewed on paper, each some sixty times over on the same kits."
        onStop={engine.stopComparing}
      />
      {answer.value.state === 'here' && <Ways document={document} found={answer.value.value} />}
      <Published />
    </>
  );
}

function Ways({ document, found }: { document: PlanDocument; found: PairedWays }) {
  const feasible = found.ways.filter((w) => w.feasible);
  const view = useSignal<'figures' | 'differences'>('figures');
  const held = useSignal<Method | undefined>(found.own ?? feasible[0]?.method);
  const not = found.ways.filter((w) => !w.feasible);
  const prices = pricesOf(document);
  const base = held.value;
  const against = base === undefined ? undefined : WAY_NAMES[base];
  return (
    <>
      {feasible.length > 0 && (
        <section class="block">
          <h2>Side by side</h2>
          <div class="ways-view noprint">
            <Choice
              label="Show"
              value={view.value}
              options={[
                { value: 'figures', text: 'Each for itself' },
                { value: 'differences', text: 'Against one of them' },
              ]}
              onValue={(v) => {
                view.value = v;
              }}
            />
            {view.value === 'differences' && base !== undefined && (
              <Pick
                label="Against"
                value={base}
                options={feasible.map((w) => ({ value: w.method, text: WAY_NAMES[w.method] }))}
                onValue={(m) => {
                  held.value = m;
                }}
              />
            )}
          </div>
          <p class="lead">
            {view.value === 'figures'
              ? 'Likely value and the band it falls into four times out of five. What is unsure of kit and malt is in every band; to tell two ways apart, look at the differences.'
              : `Each way less ${against}, draw by draw on the same kit and malt: narrow bands. The absolute figures are wider.`}
          </p>
          <div class="band-tables">
            {wayFigures(prices.currency).map((f) => {
              const { differs } = f;
              if (view.value === 'figures' || base === undefined)
                return (
                  <BandTable
                    key={f.name}
                    caption={f.name}
                    note={f.note}
                    write={f.write}
                    rows={feasible.map((w) => ({
                      name: WAY_NAMES[w.method],
                      band: f.of(w),
                      ...(w.method === found.own ? { mark: 'as planned' } : {}),
                    }))}
                  />
                );
              if (differs === undefined) return null;
              return (
                <BandTable
                  key={f.name}
                  caption={f.name}
                  note={`Against ${against}.`}
                  write={(v) => signed(v, f.write)}
                  fromNought
                  rows={feasible.map((w) => {
                    const d = found.against[w.method]?.[base];
                    return {
                      name: WAY_NAMES[w.method],
                      band: d === undefined ? undefined : differs(d),
                      ...(w.method === base ? { mark: 'held against' } : {}),
                    };
                  })}
                />
              );
            })}
          </div>
          {!prices.own && (
            <p class="small soft">
              Money is reckoned with {prices.perHour} an hour and {prices.perKWh} a kilowatt-hour;
              name your own prices to have yours.
            </p>
          )}
        </section>
      )}
      {feasible.length > 0 && (
        <section class="block">
          <h2>What may go wrong</h2>
          <ul class="changes way-list">
            {feasible.map((w) => (
              <li key={w.method}>
                <span class="what">
                  {WAY_NAMES[w.method]}
                  {w.method === found.own && <span class="soft"> as planned</span>}
                </span>
                <span>
                  <b>{chanceText(w.missChance ?? 0)}</b> that a raise misses its rest by more than{' '}
                  {show('temperatureDifference', 1, 0)}
                </span>
                <span class="soft">
                  {w.lifts === undefined || w.lifts.count === 0
                    ? 'Nothing lifted'
                    : `${w.lifts.count} lifts, the heaviest ${show('mass', w.lifts.heaviestKg, 0)}`}
                  {w.wort?.outside.map((why) => (
                    <span key={why}>. {inPair(why)}</span>
                  ))}
                </span>
                {w.method !== found.own && w.document !== undefined && (
                  <button
                    type="button"
                    class="btn noprint"
                    aria-label={`Plan it: ${WAY_NAMES[w.method]}`}
                    onClick={() => take(w.document as PlanDocument, WAY_NAMES[w.method])}
                  >
                    Plan it
                  </button>
                )}
              </li>
            ))}
          </ul>
        </section>
      )}
      {not.length > 0 && (
        <section class="block">
          <h2>Not on this kit</h2>
          <ul class="wrong">
            {not.map((w) => (
              <li key={w.method}>
                <b>{WAY_NAMES[w.method]}:</b> {inPair(w.whyNot)}
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

const take = (document: PlanDocument, name: string) =>
  attempt('plan this way', () => planBrew(document, { remark: `Brewed as ${name}` }));

/** Sixty draws know a chance to no better than a few in a hundred. */
function chanceText(chance: number): string {
  if (chance < 0.02) return 'Hardly a chance';
  if (chance > 0.98) return 'Almost sure';
  return `${Math.round(chance * 100)} % chance`;
}
