import { DMS_TASTED_UG_L } from '@ladlework/brewhouse';
import type { BrewState } from '@ladlework/log';
import { dmsCaution, type Plan, type PlanDocument, type WortDay } from '@ladlework/planner';
import { finishWork } from '../day/actions.ts';
import { countdown } from '../day/countdown.ts';
import { FirmButton } from '../day/FirmButton.tsx';
import { attempt } from '../pages/trouble.tsx';
import { clockOf, inPair, show, showExtract } from '../units/show.ts';
import { hopMoveId } from './steps.ts';
import { fallCmPerH, hopsOfBoil } from './timed.ts';
import { missText } from './words.ts';

interface Props {
  readonly brew: BrewState;
  readonly document: PlanDocument;
  readonly plan: Plan;
  readonly day: WortDay;
  readonly nowMs: number;
}

/** Hops on their minute, the fall of the level, the end of the boil and what it asks for. */
export function BoilPart({ brew, document, plan, day, nowMs }: Props) {
  const { boil, stages } = day;
  const [full, castOut] = stages;
  const start = brew.startedAtMs ?? nowMs;
  const atMs = (minute: number) => start + minute * 60_000;
  const begun = boil.begunMin !== undefined;
  const planned = plan.wortPlan?.boil;
  const caution = dmsCaution(day.stages[3]?.freeDmsUgL);
  const fall =
    planned === undefined
      ? undefined
      : fallCmPerH(document.kit, planned.vessel, planned.evaporationKgH.likely);
  const hops = hopsOfBoil(boil.hops);
  return (
    <section class="block wort-part" aria-label="Boil and hops">
      <p class="wort-big">
        <span class="soft">boil ends</span> <b>{clockOf(atMs(boil.endMin.likely))}</b>
        {begun && day.at === 'boil' && (
          <>
            {' '}
            <span class="soft">in</span>{' '}
            <b class="timer-left">{countdown(atMs(boil.endMin.likely) - nowMs)}</b>
            <span class="soft">;</span>
          </>
        )}{' '}
        <span class="soft">
          {show('duration', boil.minutes)} at {show('temperature', boil.boilC)}, then{' '}
        </span>
        {castOut !== undefined && (
          <b>
            {show('volume', castOut.coldL.likely, 0)}, {showExtract(castOut.plato.likely)}
          </b>
        )}
      </p>
      {!begun && (
        <p class={boil.foam === 'room' ? 'note' : 'wrong'} role="status">
          <b>
            {boil.foam === 'room'
              ? 'It foams as it comes over.'
              : boil.foam === 'watch'
                ? 'Little room for the foam.'
                : 'It will boil over as it stands.'}
          </b>{' '}
          {(100 * boil.headspace.likely).toFixed(0)} % of the kettle is free. Stand by it, burner
          down when the foam rises, cold liquor at hand.
        </p>
      )}
      <ul class="hop-times" aria-label="Hops">
        {hops.map((hop) => {
          const id = hopMoveId(hop.boilMin);
          const given = brew.moves.find((m) => m.moveId === id)?.doneAtMs;
          const due = atMs(hop.atMin);
          return (
            <li key={id}>
              <span class="timer-what">
                {hop.names.map((n) => `${n.name} ${show('mass', n.kg)}`).join(', ')}
                <span class="soft">
                  {' '}
                  {hop.boilMin === 'stand'
                    ? 'into the stand'
                    : `${show('duration', hop.boilMin)} before the end`}
                  , {hop.ibu.toFixed(0)} IBU
                </span>
              </span>
              {given === undefined ? (
                <>
                  <span class={begun && due < nowMs ? 'timer-left over' : 'timer-left'}>
                    {begun ? countdown(due - nowMs) : clockOf(due)}
                  </span>
                  {begun && (
                    <FirmButton
                      class="key"
                      label={`${hop.names.map((n) => n.name).join(', ')}: in`}
                      onFirm={() => attempt('write it down', () => finishWork(brew, id))}
                    >
                      In
                    </FirmButton>
                  )}
                </>
              ) : (
                <span>✓ in at {clockOf(given)}</span>
              )}
            </li>
          );
        })}
      </ul>
      <dl class="wort-facts">
        {planned !== undefined && (
          <div>
            <dt>Rate of fall</dt>
            <dd>
              {show('mass', planned.evaporationKgH.likely)} of steam an hour
              {fall !== undefined && `, the level ${show('length', fall / 100)} an hour`}
            </dd>
          </div>
        )}
        {castOut?.freeDmsUgL !== undefined && (
          <div>
            <dt>DMS after the boil</dt>
            <dd>
              {castOut.freeDmsUgL.likely.toFixed(0)} µg/L ({castOut.freeDmsUgL.low.toFixed(0)} to{' '}
              {castOut.freeDmsUgL.high.toFixed(0)}); tasted from {DMS_TASTED_UG_L.low} to{' '}
              {DMS_TASTED_UG_L.high}
            </dd>
          </div>
        )}
        {full !== undefined && castOut?.ibu !== undefined && (
          <div>
            <dt>Bitterness</dt>
            <dd>{castOut.ibu.likely.toFixed(0)} IBU</dd>
          </div>
        )}
      </dl>
      {caution !== undefined && <p class="note">{inPair(caution)}</p>}
      {boil.correction !== undefined && <Correction day={day} correction={boil.correction} />}
    </section>
  );
}

type End = NonNullable<WortDay['boil']['correction']>;

/** What the reading at the end of the boil asks for. */
function Correction({ day, correction }: { day: WortDay; correction: End }) {
  const { platoMiss, liquorL, minutes, extractKg, coldL, bitternessFactor } = correction;
  const read = day.stages[1]?.plato.likely ?? 0;
  if (Math.abs(platoMiss) < RIGHT_PLATO)
    return (
      <p class="note">
        <b>As wanted.</b> {showExtract(read)} after the boil.
      </p>
    );
  const ibu = `bitterness × ${bitternessFactor.toFixed(2)}`;
  return (
    <p class="note">
      <b>{missText(platoMiss, read - platoMiss)} against what is wanted.</b>{' '}
      {platoMiss > 0
        ? `Add ${show('volume', liquorL, 0)} of liquor: ${show('volume', coldL, 0)} at 20 °C, ${ibu}.`
        : `Boil on ${show('duration', minutes)}: ${show('volume', coldL, 0)} at 20 °C, ${ibu}; or add ${show('mass', extractKg)} of extract.`}
    </p>
  );
}

/** What two samples of one wort differ by [°P]. Our judgement. */
const RIGHT_PLATO = 0.1;
