import type { Move } from '@ladlework/brewhouse';
import type { BrewState } from '@ladlework/log';
import type { Plan, PlanDocument } from '@ladlework/planner';
import { useMemo } from 'preact/hooks';
import { nowMs } from '../data/clock.ts';
import { brewById, record } from '../data/house.ts';
import { planOf } from '../engine/plans.ts';
import { scoreModel } from '../score/model.ts';
import { PlanTable } from '../score/PlanTable.tsx';
import { Score } from '../score/Score.tsx';
import { goTo } from '../shell/location.ts';
import { hashOf } from '../shell/route.ts';
import { pairName } from '../shell/settings.ts';
import { say } from '../units/say.ts';
import { clockAt, show, showBand } from '../units/show.ts';
import { moveText } from '../units/words.ts';
import { Gone } from './Gone.tsx';
import { ReturnPanel } from './ReturnPanel.tsx';
import { attempt, Trouble } from './trouble.tsx';
import { WortPanel } from './WortPanel.tsx';

export function PlanPage({ id }: { id: string }) {
  const brew = brewById(id);
  if (brew?.document === undefined) return <Gone what="brew" back="#/brews" />;
  // Checked by the contract before it was logged.
  const document = brew.document as PlanDocument;
  const answer = planOf(document).value;
  return (
    <>
      <header class="head">
        <div>
          <h1>{document.beer.name}</h1>
          <p>
            on {document.kit.name}, from {clockAt(0, document.day.startMin)}
          </p>
        </div>
        <div class="row noprint">
          <button type="button" class="btn" onClick={() => window.print()}>
            Print
          </button>
          {brew.ended === undefined && <Start brew={brew} />}
        </div>
      </header>
      <Trouble />
      {answer.state === 'asking' && (
        <p class="note" role="status">
          The engine is working the day out, some two hundred times over, for the bands.
        </p>
      )}
      {answer.state === 'failed' && (
        <p class="wrong" role="alert">
          <b>No plan.</b> {answer.why}
        </p>
      )}
      {answer.state === 'here' && <PlanBody document={document} plan={answer.plan} />}
    </>
  );
}

function Start({ brew }: { brew: BrewState }) {
  if (brew.startedAtMs !== undefined) {
    return (
      <a class="btn solid" href={hashOf({ at: 'day', id: brew.brew })}>
        To the day
      </a>
    );
  }
  return (
    <button
      type="button"
      class="btn solid"
      onClick={() =>
        attempt('start the day', async () => {
          const startAtMs = nowMs();
          await record({
            stream: brew.stream,
            type: 'brew-started',
            data: {
              startAtMs,
              clock: {
                utcOffsetMin: -new Date(startAtMs).getTimezoneOffset(),
                zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
              },
            },
          });
          goTo({ at: 'day', id: brew.brew });
        })
      }
    >
      Start the day
    </button>
  );
}

function PlanBody({ document, plan }: { document: PlanDocument; plan: Plan }) {
  const { kit, mash, day } = document;
  // The pair is a dependency: labels of the score are written in it.
  const model = useMemo(
    () =>
      scoreModel(
        kit,
        plan.moves.map((m) => m.move),
        plan.trace,
        plan.curveBands,
        say,
      ),
    [kit, plan, pairName.value],
  );
  return (
    <>
      <Verdict plan={plan} startMin={day.startMin} />
      <dl class="keys">
        <Key
          name="Strike"
          value={show('volume', plan.strike.litres)}
          note={`at ${showBand('temperature', plan.strike.tempC)}`}
        />
        <Key
          name="Mash in the tun"
          value={show('volume', plan.strike.mashL)}
          note={show('ratio', mash.liquorLPerKg)}
        />
        <Key
          name="Mash over"
          value={clockAt(plan.mashEndMin.likely, day.startMin)}
          note={`± ${Math.max(1, Math.round((plan.mashEndMin.high - plan.mashEndMin.low) / 2))} min`}
        />
        <Key
          name="Added by the mash"
          value={show('duration', plan.addedMin.likely)}
          note="above the minutes its rests ask for"
        />
      </dl>
      <section class="block">
        <h2>The day</h2>
        <Score
          model={model}
          startClockMin={day.startMin}
          label={`The day of ${document.beer.name} as a score of ${model.staves.length} vessels, from ${clockAt(model.fromMin, day.startMin)} to ${clockAt(model.toMin, day.startMin)}; the table of moves below holds the same`}
        />
      </section>
      {plan.returns.length > 0 && (
        <section class="block">
          <h2>Pulls and returns</h2>
          <div class="returns">
            {plan.returns.map((ret) => (
              <ReturnPanel key={ret.pull} ret={ret} kit={kit} mash={mash} />
            ))}
          </div>
        </section>
      )}
      {plan.cautions.length > 0 && (
        <section class="block">
          <h2>Take care</h2>
          <ul class="cautions">
            {cautionGroups(plan).map(({ text, moves }) => (
              <li key={text}>
                {text}{' '}
                <span class="soft small">{moves.map((m) => moveText(m, kit, say)).join('; ')}</span>
              </li>
            ))}
          </ul>
        </section>
      )}
      <section class="block">
        <h2>What it gives</h2>
        <WortPanel plan={plan} />
      </section>
      <section class="block">
        <h2>Moves</h2>
        <PlanTable kit={kit} moves={plan.moves} startMin={day.startMin} />
      </section>
    </>
  );
}

/** The same warning at several moves is read once; on the day each move shows its own. */
function cautionGroups(plan: Plan): { text: string; moves: Move[] }[] {
  const groups = new Map<string, Move[]>();
  for (const caution of plan.cautions) {
    const move = plan.moves.find((m) => m.move.id === caution.moveId)?.move;
    const moves = groups.get(caution.text) ?? [];
    groups.set(caution.text, move === undefined ? moves : [...moves, move]);
  }
  return [...groups].map(([text, moves]) => ({ text, moves }));
}

function Verdict({ plan, startMin }: { plan: Plan; startMin: number }) {
  const pulls = plan.returns.length;
  const count = pulls === 0 ? 'No pull' : pulls === 1 ? 'One pull' : `${pulls} pulls`;
  if (plan.feasible) {
    return (
      <p class="verdict">
        This kit can do it. {count}, mash over at {clockAt(plan.mashEndMin.likely, startMin)}.
      </p>
    );
  }
  return (
    <div class="cannot">
      <p class="verdict">This kit cannot do it as asked.</p>
      <ul class="wrong">
        {plan.clashes.map((clash) => (
          <li key={`${clash.code}${clash.text}`}>{clash.text}</li>
        ))}
      </ul>
      {plan.changes.length > 0 && (
        <>
          <h3>Any one of these frees it, each worked through</h3>
          <ul class="changes">
            {plan.changes.map((change) => (
              <li key={change.code}>
                <span>{change.text}</span>
                <span>
                  lands at <b>{showBand('temperature', change.landingC)}</b>
                </span>
                <span class="soft">
                  {change.addedMin > 0
                    ? `${show('duration', change.addedMin)} more`
                    : 'no longer day'}
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}

function Key({ name, value, note }: { name: string; value: string; note: string }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        <b>{value}</b>
        <span>{note}</span>
      </dd>
    </div>
  );
}
