import { type ChosenMend, mendsOf } from '@ladlework/contract';
import type { BrewState } from '@ladlework/log';
import type { DayEntry, Plan, PlanDocument, Repair } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { mayPress } from '../data/access.ts';
import { movingNowMs } from '../data/clock.ts';
import { planOf } from '../engine/plans.ts';
import { brewName } from '../pages/BrewsPage.tsx';
import { attempt, Trouble } from '../pages/trouble.tsx';
import { goTo } from '../shell/location.ts';
import { NetworkLine, Switches } from '../shell/Shell.tsx';
import { who } from '../shell/settings.ts';
import { clockOf, inPair, show } from '../units/show.ts';
import { wortAlarms } from '../wort/alarms.ts';
import { stepNow, wortIsPitched, wortSteps } from '../wort/steps.ts';
import { useWort } from '../wort/use-wort.ts';
import { WortDesk } from '../wort/WortDesk.tsx';
import { wortAlarmText } from '../wort/words.ts';
import { AlarmSheet } from './AlarmSheet.tsx';
import { chooseRepair, endBrew, finish } from './actions.ts';
import { CallLine, CallSheet, openCall } from './Call.tsx';
import { DayFoot } from './DayFoot.tsx';
import { DayLog } from './DayLog.tsx';
import { DayScore } from './DayScore.tsx';
import { DayTiming } from './DayTiming.tsx';
import { DayTools } from './DayTools.tsx';
import { FirmButton } from './FirmButton.tsx';
import { GateSheet } from './gate/GateSheet.tsx';
import { HelperHands } from './HelperHands.tsx';
import { useHardwareKeys } from './hardware-keys.ts';
import { iodineAsk } from './iodine.ts';
import { layout, onePart } from './layout.ts';
import { askRepairs, type Live, useLive } from './live.ts';
import { landingOf, missOf } from './miss.ts';
import { Now } from './Now.tsx';
import { oddDone, openQuestion } from './open-question.ts';
import { ProbeStrip } from './ProbeStrip.tsx';
import { partOf } from './pocket.ts';
import { offeredBy } from './probe-standing.ts';
import { OddHeat, Question } from './Question.tsx';
import { ReEntry } from './ReEntry.tsx';
import { Repairs } from './Repairs.tsx';
import { alarmsOf, isCarrying, runOf } from './run.ts';
import { seeAlarm, seenAlarms } from './seen.ts';
import { summaryText } from './standing.ts';
import { Timers } from './Timers.tsx';
import { TwoValues } from './TwoValues.tsx';
import { activitiesOf, useTiming } from './timing.ts';
import { useProbes } from './useProbes.ts';
import { useRescue } from './useRescue.ts';
import { WipeLock } from './WipeLock.tsx';
import { planAsItGoes } from './wrong/going-plan.ts';
import { Wrong } from './wrong/Wrong.tsx';

/** A brew that has begun and not ended. */
export function RunningDay({ brew }: { brew: BrewState }) {
  const now = movingNowMs();
  const document = brew.document as PlanDocument | undefined;
  const answer = document === undefined ? undefined : planOf(document).value;
  const planned = answer?.state === 'here' ? answer.plan : undefined;
  const plan = useMemo(
    () => planned && planAsItGoes(planned, brew),
    [planned, brew.changedMoves, brew.planSummary],
  );
  const returning = brew.underway.find((id) => stopsAtTarget(brew, plan, id));
  const probes = useProbes(brew, document, now);
  const live = useLive(brew, document, plan, returning, now, probes.entries).value;
  const run = runOf(brew, now, likelyEnds(brew, live));
  const mode = layout.value;
  useHardwareKeys();
  const boils = plan?.wortPlan !== undefined && document !== undefined;
  const wort = useWort(brew, document, plan, now, probes.entries, run.finished && boils);
  const timing = useTiming(brew, now, live.outlook?.forecast, wort.day?.boil);
  const steps = wortSteps(activitiesOf(timing, brew), brew);
  const mend = mendsOf(brew).find((m) => m.doneAtMs === undefined);
  const question = openQuestion(brew, live.here?.questioned ?? []);
  const odd = oddDone(
    brew,
    live.here?.questioned ?? [],
    (now - (brew.startedAtMs ?? now)) / 60_000,
  );
  const miss = useMiss(brew, document, plan, now, mend, question?.reading.eventId, probes.entries);
  const iodine = iodineAsk(run, brew, plan?.iodine ?? [], now);
  const rescue = useRescue(brew, document, plan, iodine?.blue, probes.entries);
  const alarm = alarmsOf(run, now, new Set(seenAlarms.value))[0];
  const wortAlarm =
    wort.day === undefined
      ? undefined
      : wortAlarms(wort.day, brew, now, new Set(seenAlarms.value))[0];
  const call = openCall(brew, now);
  const carrying = run.underway.some((m) => isCarrying(m.move));
  const part = onePart.value ? partOf(run, who.value) : run;
  return (
    <div class={`day ${mode === 'helper' ? 'pocket helper' : mode}${miss.shown ? ' mending' : ''}`}>
      <DayBar brew={brew} now={now} />
      <main id="main" tabIndex={-1}>
        <h1 class="vh">{brewName(brew)}, the day</h1>
        <Trouble />
        <ReEntry brew={brew} kit={document?.kit} run={run} focus={part.focus} next={part.next} />
        {mode === 'helper' && (
          <div class="helper-top">
            {document !== undefined && <HelperHands kit={document.kit} />}
            <CallLine brew={brew} now={now} moveId={part.focus?.move.id} />
          </div>
        )}
        {run.finished && mend === undefined ? (
          <>
            {boils && !wortIsPitched(steps) && (
              <WortDesk
                brew={brew}
                document={document}
                plan={plan}
                wort={wort}
                steps={steps}
                dayStartMs={timing.startMs}
                now={now}
              />
            )}
            <Finished brew={brew} pitched={!boils || wortIsPitched(steps)} />
          </>
        ) : (
          <Now
            brew={brew}
            run={run}
            focus={part.focus}
            mend={mend}
            now={now}
            plan={plan}
            kit={document?.kit}
            live={live}
            iodine={iodine}
            rescue={rescue}
            returning={returning}
            probed={(box) => offeredBy(probes, live.here?.questioned ?? [], document, now, box)}
            onMiss={miss.open}
          />
        )}
        {mode === 'pocket' && mayPress('brewer-called') && (
          <CallLine brew={brew} now={now} moveId={part.focus?.move.id} />
        )}
        <GateSheet brew={brew} />
        {document !== undefined && (
          <Wrong
            brew={brew}
            document={document}
            plan={plan}
            probed={probes.entries}
            nowMs={now}
            carrying={carrying}
          />
        )}
        {document !== undefined && question !== undefined && (
          <Question brew={brew} kit={document.kit} open={question} />
        )}
        {document !== undefined && odd !== undefined && (
          <OddHeat brew={brew} kit={document.kit} odd={odd} />
        )}
        {answer?.state === 'failed' && (
          <p class="wrong" role="alert">
            <b>No plan to draw.</b> {answer.why} The moves come from the log.
          </p>
        )}
        {live.why !== undefined && (
          <p class="wrong" role="alert">
            <b>No forecast.</b> {live.why}
          </p>
        )}
        {miss.shown &&
          mayPress('miss-mended') &&
          document !== undefined &&
          miss.landing !== undefined && (
            <Repairs
              kit={document.kit}
              vessel={miss.landing.vessel}
              targetC={miss.landing.targetC}
              offK={miss.offK}
              repairs={miss.repairs}
              onPick={miss.pick}
              onClose={miss.close}
            />
          )}
        {document !== undefined && !onePart.value && (
          <ProbeStrip
            brew={brew}
            kit={document.kit}
            probes={probes}
            questioned={live.here?.questioned ?? []}
            returning={returning}
            now={now}
          />
        )}
        {mode !== 'helper' && (
          <Timers
            brew={brew}
            run={run}
            nowMs={now}
            onDone={(m) => attempt('write it down', () => finish(brew, run, m))}
          />
        )}
        {!miss.shown && (mode !== 'helper' || part.focus === undefined) && (
          <DayTiming
            timing={timing}
            nowMs={now}
            shownBrew={brew.brew}
            shown={[run.focus, ...run.underway].flatMap((m) => m?.move.id ?? [])}
            mashOver={run.finished}
            ownWork={run.finished && boils ? stepNow(steps)?.id : undefined}
          />
        )}
        {plan !== undefined && document !== undefined && mode === 'full' && !miss.shown && (
          <DayScore
            brew={brew}
            plan={plan}
            document={document}
            outlook={live.outlook}
            outlookMin={live.outlookMin}
            now={now}
            timing={timing}
          />
        )}
        {mode === 'full' && <Worth live={live} />}
        {mode !== 'wall' && mode !== 'helper' && <TwoValues brew={brew} kit={document?.kit} />}
        {mode !== 'wall' && mode !== 'helper' && (
          <DayLog brew={brew} kit={document?.kit} plan={plan} />
        )}
        <DayTools brew={brew} />
      </main>
      <DayFoot brew={brew} next={part.next} outlook={run.finished ? undefined : live.outlook} />
      {call !== undefined && <CallSheet brew={brew} call={call} carrying={carrying} />}
      {call === undefined && alarm === undefined && wortAlarm !== undefined && (
        <AlarmSheet
          key={wortAlarm.key}
          alarm={wortAlarm}
          text={wortAlarmText(wortAlarm)}
          nowMs={now}
          carrying={false}
          onSeen={() => seeAlarm(wortAlarm.key)}
        />
      )}
      {call === undefined && alarm !== undefined && (
        <AlarmSheet
          key={alarm.key}
          alarm={alarm}
          text={summaryText(alarm.move, brew)}
          nowMs={now}
          carrying={carrying}
          onSeen={() => seeAlarm(alarm.key)}
        />
      )}
      <WipeLock
        alarm={call !== undefined ? `${call.who} calls` : alarm && summaryText(alarm.move, brew)}
      />
    </div>
  );
}

/** Carried until a temperature is reached. What was kept back goes in whole, so it is only counted. */
function stopsAtTarget(brew: BrewState, plan: Plan | undefined, moveId: string): boolean {
  if (brew.planSummary?.returns.some((r) => r.moveIds.return.includes(moveId))) return true;
  const move = plan?.moves.find((m) => m.move.id === moveId)?.move;
  return move?.kind === 'pour' && move.stopAtC !== undefined;
}

function likelyEnds(brew: BrewState, live: Live): ReadonlyMap<string, number> {
  const start = brew.startedAtMs ?? 0;
  const moves = live.outlook?.forecast.moves ?? [];
  return new Map(moves.map((m) => [m.moveId, start + m.endMin.likely * 60_000]));
}

/** What makes the landing wide, and the one reading that would narrow it most. */
function Worth({ live }: { live: Live }) {
  const wide = live.outlook?.wide;
  const best = live.outlook?.worth[0];
  const cause = wide?.causes[0];
  const worth = best !== undefined && best.narrowing >= WORTH_WALKING ? best : undefined;
  if (wide === undefined || (cause === undefined && worth === undefined)) return null;
  return (
    <p class="worth soft">
      The landing is in doubt by {show('temperatureDifference', wide.bandK, 1)}
      {cause !== undefined && `, mostly for ${cause.what} (${Math.round(100 * cause.share)} %)`}.
      {worth !== undefined && ` Worth reading now: ${inPair(worth.text)}`}
    </p>
  );
}

const WORTH_WALKING = 0.1;

/** What is open about the newest landing. */
function useMiss(
  brew: BrewState,
  document: PlanDocument | undefined,
  plan: Plan | undefined,
  now: number,
  mend: ChosenMend | undefined,
  doubted: string | undefined,
  probed: readonly DayEntry[],
) {
  const asked = useSignal<string | undefined>(undefined);
  const closed = useSignal<string | undefined>(undefined);
  const repairs = useSignal<readonly Repair[] | undefined>(undefined);
  const landing = landingOf(brew, now);
  const offK = missOf(brew, landing, doubted);
  const key = landing === undefined ? undefined : `${landing.moveId}.${landing.reading?.eventId}`;
  const shown =
    mend === undefined &&
    key !== undefined &&
    (asked.value === landing?.moveId || (offK !== undefined && closed.value !== key));
  useEffect(() => {
    repairs.value = undefined;
    if (!shown || landing === undefined || document === undefined || plan === undefined) return;
    let current = true;
    void attempt('work out what can be done', async () => {
      const found = await askRepairs(brew, document, plan, landing.targetC, probed);
      if (current) repairs.value = found;
    });
    return () => {
      current = false;
    };
  }, [shown, key, plan]);
  const close = () => {
    asked.value = undefined;
    closed.value = key;
  };
  return {
    landing,
    offK,
    shown,
    repairs: repairs.value,
    close,
    pick: (repair: Repair) => {
      close();
      void attempt('write it down', () => chooseRepair(brew, repair, landing?.moveId));
    },
    open:
      landing === undefined || mend !== undefined || shown
        ? undefined
        : () => {
            asked.value = landing.moveId;
          },
  };
}

function DayBar({ brew, now }: { brew: BrewState; now: number }) {
  return (
    <header class="daybar">
      <a class="btn plain" href="#/today">
        ‹ {brewName(brew)}
      </a>
      <span class="dayclock">{clockOf(now)}</span>
      <Switches />
      <NetworkLine />
    </header>
  );
}

/** Ends the brew: on top once the wort is pitched; before that, for whoever keeps no log of the wort. */
function Finished({ brew, pitched }: { brew: BrewState; pitched: boolean }) {
  return (
    <section class={pitched ? 'do on' : 'block wort-end'}>
      <p class={pitched ? 'do-key' : 'soft'}>
        {pitched
          ? 'every move of the plan is done'
          : 'The mash is over, the wort is not pitched. The brew may end here all the same.'}
      </p>
      {pitched && (
        <p class="do-what">
          {mayPress('brew-ended') ? 'End the brew' : 'The brewer ends the brew'}
        </p>
      )}
      <div class="do-act">
        <FirmButton
          class={pitched ? 'key done' : 'key'}
          writes="brew-ended"
          onFirm={() =>
            attempt('end the brew', async () => {
              await endBrew(brew, 'finished', '');
              goTo({ at: 'record', id: brew.brew });
            })
          }
        >
          End
        </FirmButton>
      </div>
    </section>
  );
}
