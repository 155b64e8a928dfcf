import {
  brewDay,
  type Plan,
  type PlanDocument,
  type Rehearsal,
  surpriseFaults,
} from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { engine } from '../../engine/client.ts';
import { clockAt, inPair, show } from '../../units/show.ts';
import { attempt } from '../trouble.tsx';

/** Seeds of hidden kits; any whole number would do. */
const KITS = 1_000_000;

/** The brew played by the tool's own advice on a kit nobody knows; nothing of it is written down. */
export function Rehearse({ document, plan }: { document: PlanDocument; plan: Plan }) {
  const played = useSignal<Rehearsal | undefined>(undefined);
  const busy = useSignal(false);
  const start = (faulty: boolean) =>
    attempt('rehearse', async () => {
      busy.value = true;
      const seed = Math.floor(Math.random() * KITS);
      const faults = faulty ? surpriseFaults(brewDay(document), seed) : [];
      const moves = plan.moves.map((m) => m.move);
      const answer = await engine.rehearse({ document, moves, seed, faults });
      busy.value = false;
      if (answer.ok) played.value = answer.value;
      else if (answer.error.code === 'broken') throw new Error(answer.error.message);
    });
  return (
    <section class="block">
      <h2>Rehearse this brew</h2>
      <p>
        Plays the day on a kit like yours that nobody has read, doing what the tool advises, and
        sets each landing beside the textbook's. A rehearsal is not written down.
      </p>
      <div class="row">
        <button type="button" class="btn" disabled={busy.value} onClick={() => start(false)}>
          Rehearse
        </button>
        <button type="button" class="btn" disabled={busy.value} onClick={() => start(true)}>
          Rehearse with surprises
        </button>
      </div>
      <div role="status">
        {busy.value && <p class="note">The day is being played.</p>}
        {!busy.value && played.value !== undefined && (
          <Outcome document={document} plan={plan} day={played.value} />
        )}
      </div>
    </section>
  );
}

function Outcome({ document, plan, day }: { document: PlanDocument; plan: Plan; day: Rehearsal }) {
  const { startMin } = document.day;
  return (
    <>
      <ul class="plain-list">
        {day.returns.map((r) => (
          <li key={r.pull}>
            Return {r.pull}: wanted {show('temperature', r.targetC)}, landed{' '}
            <b>{show('temperature', r.landedC)}</b>
            <span class="soft">
              , the textbook pull would have landed at {show('temperature', r.textbookC)}
            </span>
            {r.mends.map((m) => (
              <span key={m.code}>. Mended: {inPair(m.text)}</span>
            ))}
          </li>
        ))}
        <li>
          Mash over at <b>{clockAt(day.finishMin, startMin)}</b>
          <span class="soft">, planned {clockAt(plan.mashEndMin.likely, startMin)}</span>
        </li>
        {day.faults.map((f) => (
          <li key={f.fault.name}>
            {f.atMin === undefined ? '' : `${clockAt(f.atMin, startMin)} `}
            {inPair(f.text)}
            {f.how === undefined ? '' : `; ${f.how}`}
          </li>
        ))}
      </ul>
      <p class="small soft">Rehearsal {day.seed}, on a kit made up for it: not your record.</p>
    </>
  );
}
