import { nameIn } from '@ladlework/brewhouse';
import type { BrewState } from '@ladlework/log';
import type { Band, Plan, PlanDocument } from '@ladlework/planner';
import { useMemo } from 'preact/hooks';
import { mayPress } from '../data/access.ts';
import { nowMs } from '../data/clock.ts';
import { brewsOfDay } from '../data/day-brews.ts';
import { brewById, record } from '../data/house.ts';
import { askAgain, planOf } from '../engine/plans.ts';
import { later } from '../later.tsx';
import { scoreModel } from '../score/model.ts';
import { PlanTable } from '../score/PlanTable.tsx';
import { Score } from '../score/Score.tsx';
import { mashInDay, together, withWork } from '../score/whole-day.ts';
import { goTo } from '../shell/location.ts';
import { hashOf } from '../shell/route.ts';
import { pairName } from '../shell/settings.ts';
import { say } from '../units/say.ts';
import { clockAt, inPair, show, showBand } from '../units/show.ts';
import { brewName, brewRemark } from './BrewsPage.tsx';
import { dipText } from './dip.ts';
import { Gone } from './Gone.tsx';
import { MaltAdvice } from './MaltAdvice.tsx';
import { Cautions } from './plan/Cautions.tsx';
import { Clocks } from './plan/Clocks.tsx';
import { SharedDay } from './plan/day/SharedDay.tsx';
import { useDayOfBrews, useWholeDay } from './plan/day/use-whole-day.ts';
import { WholeDay } from './plan/day/WholeDay.tsx';
import { Iodine } from './plan/Iodine.tsx';
import { Key } from './plan/Key.tsx';
import { Late } from './plan/Late.tsx';
import { Rehearse } from './plan/Rehearse.tsx';
import { ReturnPanel } from './plan/ReturnPanel.tsx';
import { Verdict } from './plan/Verdict.tsx';
import { WortPanel } from './plan/WortPanel.tsx';
import { attempt, Trouble } from './trouble.tsx';

// Read after the day itself; it comes when a plan is there.
const WortPart = later(async () => (await import('./plan/wort/WortPart.tsx')).WortPart);

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
            {brewRemark(brew)}
          </p>
        </div>
        <div class="row noprint">
          <a class="btn" href={hashOf({ at: 'ways', id, part: 'side' })}>
            Other ways
          </a>
          <a class="btn" href={hashOf({ at: 'paper', id })}>
            Paper
          </a>
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
        <div class="wrong" role="alert">
          <p>
            <b>No plan.</b> {inPair(answer.why)}
          </p>
          <button type="button" class="btn" onClick={() => askAgain(document)}>
            Try again
          </button>
        </div>
      )}
      {answer.state === 'here' && <PlanBody brew={brew} document={document} plan={answer.plan} />}
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
  if (!mayPress('brew-started')) return null;
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
      {brew.dayOf === undefined ? 'Start the day' : 'Start this brew'}
    </button>
  );
}

interface BodyProps {
  readonly brew: BrewState;
  readonly document: PlanDocument;
  readonly plan: Plan;
}

function PlanBody({ brew, document, plan }: BodyProps) {
  const { kit, mash, day } = document;
  const brews = brewsOfDay(brew);
  const shared = useDayOfBrews(brews);
  const whole = useWholeDay(shared);
  const { timetable } = whole;
  // The pair is a dependency: labels of the score are written in it.
  const model = useMemo(() => {
    if (shared !== undefined && timetable?.course !== undefined) {
      const mashes = shared.plans.map((p, k) => mashInDay(kit, p, timetable, k + 1, say));
      return withWork(together(mashes), kit, timetable, say);
    }
    const moves = plan.moves.map((m) => m.move);
    return scoreModel(kit, moves, plan.trace, plan.curveBands, say, plan.mashBands);
  }, [kit, plan, shared, timetable, pairName.value]);
  return (
    <>
      <Verdict plan={plan} startMin={day.startMin} />
      {plan.returns.length > 0 && (
        <section class="block">
          <h2>Pulls and returns</h2>
          <div class="returns">
            {plan.returns.map((ret) => (
              <ReturnPanel key={ret.pull} ret={ret} plan={plan} kit={kit} mash={mash} />
            ))}
          </div>
        </section>
      )}
      <dl class="keys">
        <Key
          name="Strike"
          value={show('volume', plan.strike.litres)}
          note={`at ${showBand('temperature', plan.strike.tempC)}`}
        />
        <Key
          name={`Mash in ${nameIn(kit, mash.tun)}`}
          value={show('volume', plan.strike.mashL)}
          note={`${dipText(kit, mash.tun, plan.strike.mashL)}, ${show('ratio', mash.liquorLPerKg)}`}
        />
        <Key
          name="Mash over"
          value={clockAt(plan.mashEndMin.likely, day.startMin)}
          note={`± ${Math.max(1, Math.round((plan.mashEndMin.high - plan.mashEndMin.low) / 2))} min`}
        />
        <Key
          name="Added by the mash"
          value={show('duration', plan.addedMin.likely)}
          note={`above the minutes its rests ask for; ${spanText(plan.addedMin)}`}
        />
      </dl>
      <section class="block">
        <h2>The day</h2>
        <Score
          model={model}
          startClockMin={day.startMin}
          label={`The day of ${document.beer.name} as a score of ${model.staves.length} vessels${brews.length > 1 ? `, ${brews.length} brews` : ''}, from ${clockAt(model.fromMin, day.startMin)} to ${clockAt(model.toMin, day.startMin)}; the table of moves below holds the same`}
        />
      </section>
      {plan.feasible && (
        <>
          <SharedDay brew={brew} brews={brews} />
          {plan.returns.length > 0 && <Rehearse document={document} plan={plan} />}
          <WholeDay
            document={document}
            day={whole}
            name={brews.map(brewName).join(', ')}
            brewId={brews[0]?.brew ?? brew.brew}
            startedAtMs={brews[0]?.startedAtMs}
          />
        </>
      )}
      {plan.cautions.length > 0 && (
        <section class="block">
          <h2>Take care</h2>
          <Cautions plan={plan} kit={kit} />
        </section>
      )}
      <section class="block">
        <h2>What it gives</h2>
        <WortPanel plan={plan} document={document} />
      </section>
      {plan.wortPlan !== undefined && <WortPart wort={plan.wortPlan} document={document} />}
      {plan.noWortPlan !== undefined && (
        <section class="block">
          <h2>From the mash to pitched wort</h2>
          <p class="plain">{inPair(plan.noWortPlan)}</p>
        </section>
      )}
      {plan.iodine.length > 0 && (
        <section class="block">
          <h2>Iodine test</h2>
          <Iodine plan={plan} startMin={day.startMin} />
        </section>
      )}
      <section class="block">
        <h2>Enzyme clocks</h2>
        <Clocks plan={plan} document={document} />
        <Late document={document} />
      </section>
      <section class="block">
        <h2>What the certificates say</h2>
        <MaltAdvice beer={document.beer} mash={mash} />
      </section>
      <section class="block">
        <h2>Moves</h2>
        <PlanTable kit={kit} moves={plan.moves} startMin={day.startMin} />
      </section>
    </>
  );
}

/** "15–17–20 min", or nothing when there is no doubt to tell. */
function spanText(band: Band): string {
  return `${show('duration', band.low)} to ${show('duration', band.high)}`;
}
