import type { BrewState } from '@ladlework/log';
import type { WortDay } from '@ladlework/planner';
import { clockOf, show, showExtract } from '../units/show.ts';
import { missText } from './words.ts';

type Stage = WortDay['stages'][number];

const STAGE: Readonly<Record<Stage['stage'], string>> = {
  'kettle-full': 'Kettle full',
  'cast-out': 'After the boil',
  'knock-out': 'To the cooler',
  tank: 'In the tank',
};

/** What each stage comes to: as planned from this mash, and as it now stands; read or foretold. */
export function WortStages({ brew, day }: { brew: BrewState; day: WortDay }) {
  const at = (minute: number) => clockOf((brew.startedAtMs ?? 0) + minute * 60_000);
  return (
    <section class="block wort-part" aria-label="What it comes to">
      <div class="scroll-x">
        <table class="wort-table">
          <caption>What it comes to: planned → now; litres at 20 °C</caption>
          <thead>
            <tr>
              <th scope="col">Stage</th>
              <th scope="col">Wort</th>
              <th scope="col">Strength</th>
              <th scope="col">Extract</th>
              <th scope="col">Bitterness</th>
              <th scope="col">At</th>
            </tr>
          </thead>
          <tbody>
            {day.stages.map((now, k) => {
              const plan = day.planned[k] ?? now;
              return (
                <tr key={now.stage}>
                  <th scope="row">
                    {STAGE[now.stage]}{' '}
                    <span class="soft">{now.measured ? 'read' : 'foretold'}</span>
                  </th>
                  <Cell
                    from={show('volume', plan.coldL.likely, 0)}
                    to={show('volume', now.coldL.likely, 0)}
                  />
                  <Cell from={showExtract(plan.plato.likely)} to={showExtract(now.plato.likely)} />
                  <Cell
                    from={show('mass', plan.extractKg.likely)}
                    to={show('mass', now.extractKg.likely)}
                  />
                  <Cell from={ibuText(plan)} to={ibuText(now)} />
                  <Cell from={at(plan.endMin.likely)} to={at(now.endMin.likely)} />
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </section>
  );
}

const ibuText = ({ ibu }: Stage): string =>
  ibu === undefined ? '–' : `${ibu.likely.toFixed(0)} IBU`;

function Cell({ from, to }: { from: string; to: string }) {
  return (
    <td>
      {from === to ? (
        to
      ) : (
        <>
          <span class="soft">{from} →</span> <b>{to}</b>
        </>
      )}
    </td>
  );
}

/** What the last tap changed in the tank; nothing when it changed nothing worth a word. */
export function tankChange(
  before: WortDay | undefined,
  now: WortDay,
  at: (minute: number) => string,
): string | undefined {
  const was = before?.stages[3];
  const is = now.stages[3];
  if (was === undefined || is === undefined) return undefined;
  const litres = is.coldL.likely - was.coldL.likely;
  const plato = is.plato.likely - was.plato.likely;
  const ibu = (is.ibu?.likely ?? 0) - (was.ibu?.likely ?? 0);
  const minutes = is.endMin.likely - was.endMin.likely;
  const parts = [
    ...(Math.abs(litres) >= 1
      ? [`${show('volume', was.coldL.likely, 0)} → ${show('volume', is.coldL.likely, 0)}`]
      : []),
    ...(Math.abs(plato) >= 0.05 ? [missText(plato, was.plato.likely)] : []),
    ...(Math.abs(ibu) >= 0.5
      ? [`${(was.ibu?.likely ?? 0).toFixed(0)} → ${(is.ibu?.likely ?? 0).toFixed(0)} IBU`]
      : []),
    ...(Math.abs(minutes) >= 1 ? [`ready ${at(was.endMin.likely)} → ${at(is.endMin.likely)}`] : []),
  ];
  return parts.length === 0 ? undefined : parts.join(', ');
}
