import type { BrewState } from '@ladlework/log';
import type { Plan, PlanDocument, WortDay } from '@ladlework/planner';
import { finishWork } from '../day/actions.ts';
import { FirmButton } from '../day/FirmButton.tsx';
import { attempt } from '../pages/trouble.tsx';
import { clockOf, inPair, show, showBand, showExtract } from '../units/show.ts';
import { flowAhead, newest, readsAt } from './boxes.ts';
import { lineAt } from './line-of-gravities.ts';
import { lastDipMin } from './WortPad.tsx';
import { extractBand, flowText, litresBand, missText } from './words.ts';

interface Props {
  readonly brew: BrewState;
  readonly document: PlanDocument;
  readonly plan: Plan;
  readonly day: WortDay;
  readonly nowMin: number;
}

/** The run-off: the gravity there should be, where it leads, and how the bed does. */
export function LauterPart({ brew, document, plan, day, nowMin }: Props) {
  const { lauter } = day;
  const at = (minute: number) => clockOf((brew.startedAtMs ?? 0) + minute * 60_000);
  const by = document.day.work?.spargeBy ?? 'continuous';
  const shut = brew.moves.some((m) => m.moveId === 'sparge-shut' && m.doneAtMs !== undefined);
  const running = brew.moves.some((m) => m.moveId === 'run-off' && m.begunAtMs !== undefined);
  const reads = readsAt(brew, 'run-off');
  const flow = newest(reads, 'flowLMin');
  const expectedFlow = flowAhead(lauter, { nowMin, lastDipMin: lastDipMin(brew, day, nowMin) });
  return (
    <section class="block wort-part" aria-label="Run-off">
      <p class="wort-big">
        <span class="soft">the kettle should show now</span>{' '}
        <b>{showExtract(lauter.neededNowPlato ?? lauter.nowKettlePlato.likely)}</b>{' '}
        <span class="soft">at {show('volume', lauter.collectedL, 0)}</span>
        {lauter.readPlato !== undefined && (
          <>
            {' '}
            <span class="soft">· read</span> <b>{showExtract(lauter.readPlato)}</b>
            {lauter.missPlato !== undefined && (
              <> ({missText(lauter.missPlato, lauter.neededNowPlato ?? 0)})</>
            )}
          </>
        )}
      </p>
      <dl class="wort-facts">
        <Fact name="The model expects">
          {extractBand(lauter.nowKettlePlato)} in the kettle,{' '}
          {showExtract(lauter.nowTapPlato.likely)} at the tap
        </Fact>
        <Fact name="Full kettle, at 20 °C">
          {litresBand(lauter.fullColdL)}, {extractBand(lauter.fullPlato)},{' '}
          {showBand('mass', lauter.fullExtractKg)} extract
        </Fact>
        {by === 'continuous' && (
          <Fact name="Shut the sparge at">
            {shut
              ? 'shut'
              : `${litresBand(lauter.shutAtL)} in the kettle; ${show('volume', lauter.spargeLeftL.likely, 0)} still to go on`}
          </Fact>
        )}
        {by === 'batch' && (
          <Fact name="Sparge in batches">
            {show('volume', lauter.spargeLeftL.likely, 0)} still to go on: drain, fill, stir, run
            back, drain
          </Fact>
        )}
        {by === 'none' && (
          <Fact name="No sparge">drain to {show('volume', lauter.kettleL, 0)}</Fact>
        )}
        <Fact name="Stop at">
          {stopText(lauter)}; last runnings {extractBand(lauter.lastPlato)}
        </Fact>
        <Fact name="Kettle full">
          {at(lauter.endMin.likely)} ({at(lauter.endMin.low)} to {at(lauter.endMin.high)}), at{' '}
          {flowText(expectedFlow)}
          {flow !== undefined && <>; read {flowText(flow)}</>}
        </Fact>
      </dl>
      {lauter.doubt !== undefined && (
        <p class="wrong" role="alert">
          <b>The readings do not fit the tun.</b> {inPair(lauter.doubt)}
        </p>
      )}
      <Bed lauter={lauter} />
      {by === 'continuous' && running && !shut && (
        <div class="row">
          <FirmButton
            class="key"
            onFirm={() => attempt('write it down', () => finishWork(brew, 'sparge-shut'))}
          >
            Sparge shut
          </FirmButton>
        </div>
      )}
      <Readings plan={plan} reads={reads} />
    </section>
  );
}

function Fact({ name, children }: { name: string; children: preact.ComponentChildren }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

function stopText({ kettleL, stopAtL, stopByPhL }: WortDay['lauter']): string {
  if (stopByPhL === 'now') return 'now: the runnings have reached the pH to stop at';
  const litres = [
    `${show('volume', kettleL, 0)} in the kettle`,
    ...(stopAtL === undefined
      ? []
      : [`${show('volume', stopAtL.likely, 0)} by the runnings’ gravity`]),
    ...(stopByPhL === undefined ? [] : [`${show('volume', stopByPhL, 0)} by their pH`]),
  ];
  return litres.length === 1 ? (litres[0] ?? '') : `the first of ${litres.join(', ')}`;
}

/** What a remedy does to the strength of the full kettle. */
const changeText = (plato: number, lauter: WortDay['lauter']): string =>
  Math.abs(plato) < 0.05 ? 'as strong as before' : missText(plato, lauter.fullPlato.likely);

/** How the bed does, and what to try in which order. */
function Bed({ lauter }: { lauter: WortDay['lauter'] }) {
  const { watch, remedies } = lauter;
  if (watch === undefined) return null;
  const half = watch.halfFlowInMin;
  return (
    <div class={watch.state === 'running' ? 'note' : 'wrong'} role="status">
      <p>
        <b>{inPair(watch.sentence)}</b>
        {half !== undefined && ` Half the flow in ${show('duration', half)}.`}
        {watch.headTooHigh && ' The head is high enough to press it shut: lower it.'}
      </p>
      {remedies.length > 0 && (
        <ol class="remedies">
          {remedies.map((r) => (
            <li key={r.what}>
              {inPair(r.sentence)}{' '}
              <span class="soft">
                {r.minutes > 0 && show('duration', r.minutes)}
                {r.liquorL > 0 &&
                  `, ${show('volume', r.liquorL, 0)} of liquor: the full kettle ${changeText(r.platoChange.offTheSparge, lauter)} if it comes off the sparge, ${changeText(r.platoChange.onTop, lauter)} on top`}
              </span>
            </li>
          ))}
        </ol>
      )}
    </div>
  );
}

/** Every reading of the run-off against the line of gravities. */
function Readings({ plan, reads }: { plan: Plan; reads: ReturnType<typeof readsAt> }) {
  const course = plan.wortPlan?.lauter.course ?? [];
  const rows = reads.flatMap((r, k) => {
    const litres = newest(reads.slice(0, k + 1), 'litres');
    const line = litres === undefined ? undefined : lineAt(course, litres);
    const row = (text: string, read: number, planned: number | undefined) => [
      { key: `${r.eventId}.${text}`, atMs: r.atMs, litres, text, read, planned },
    ];
    return [
      ...(r.plato === undefined ? [] : row('kettle', r.plato, line?.kettlePlato)),
      ...(r.tapPlato === undefined ? [] : row('runnings', r.tapPlato, line?.tapPlato)),
    ];
  });
  if (rows.length === 0) return null;
  return (
    <div class="scroll-x">
      <table class="wort-table">
        <caption>Gravities read, and the line of the plan</caption>
        <thead>
          <tr>
            <th scope="col">At</th>
            <th scope="col">In the kettle</th>
            <th scope="col">Of</th>
            <th scope="col">Planned</th>
            <th scope="col">Read</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.key}>
              <td>{clockOf(row.atMs)}</td>
              <td>{row.litres === undefined ? '–' : show('volume', row.litres, 0)}</td>
              <td>{row.text}</td>
              <td>{row.planned === undefined ? '–' : showExtract(row.planned)}</td>
              <td>
                <b>{showExtract(row.read)}</b>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
