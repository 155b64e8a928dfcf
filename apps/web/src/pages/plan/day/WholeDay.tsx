import { nameIn } from '@ladlework/brewhouse';
import type { PlanDocument, Timetable } from '@ladlework/planner';
import { formatClock } from '@ladlework/quantity';
import { useId } from 'preact/hooks';
import { clockAt, inPair, show } from '../../../units/show.ts';
import { Key } from '../Key.tsx';
import { ActivityTable } from './ActivityTable.tsx';
import { DayPapers } from './DayPapers.tsx';
import { DayStrip } from './DayStrip.tsx';
import { chanceText, minuteOfClock, provenText } from './day-words.ts';
import type { WholeDayAnswer } from './use-whole-day.ts';

interface Props {
  readonly document: PlanDocument;
  readonly day: WholeDayAnswer;
  /** Beer, or beers, of the day. */
  readonly name: string;
  /** Tells calendars of this house apart. */
  readonly brewId: string;
  /** Instant the brew was begun; left out while it is only planned. */
  readonly startedAtMs: number | undefined;
}

/** From the first litre of liquor to the last cleaning: who does what, where and when. */
export function WholeDay({ document, day, name, brewId, startedAtMs }: Props) {
  const { wishMin, timetable, why } = day;
  return (
    <section class="block whole-day">
      <h2>The whole day</h2>
      {why !== undefined && <p class="wrong">{inPair(why)}</p>}
      {timetable === undefined && why === undefined && (
        <p class="note" role="status">
          The engine is fitting the day together.
        </p>
      )}
      {timetable !== undefined && timetable.activities.length === 0 && (
        <Clashes timetable={timetable} />
      )}
      {timetable !== undefined && timetable.activities.length > 0 && (
        <>
          <p class="verdict">{provenText(timetable)}</p>
          <Keys timetable={timetable} wishMin={wishMin.value} />
          <Wish
            startMin={document.day.startMin}
            wishMin={wishMin.value}
            onWish={(minute) => {
              wishMin.value = minute;
            }}
          />
          <Advice timetable={timetable} document={document} />
          <DayStrip timetable={timetable} kit={document.kit} />
          <ActivityTable timetable={timetable} kit={document.kit} />
          <DayPapers
            timetable={timetable}
            kit={document.kit}
            name={name}
            brewId={brewId}
            startedAtMs={startedAtMs}
          />
        </>
      )}
    </section>
  );
}

function Clashes({ timetable }: { timetable: Timetable }) {
  return (
    <>
      <p class="verdict">{provenText(timetable)}</p>
      <ul class="wrong">
        {timetable.clashes.map((clash) => (
          <li key={clash.text}>
            {clash.text}
            {clash.freesAlone && <b> Without this one the day fits.</b>}
          </li>
        ))}
      </ul>
    </>
  );
}

function Keys({ timetable, wishMin }: { timetable: Timetable; wishMin: number | undefined }) {
  const clock = (minute: number) => clockAt(minute, timetable.dayStartMin);
  const { robust, hands } = timetable;
  return (
    <dl class="keys">
      <Key
        name="All done"
        value={clock(timetable.finishMin)}
        note={
          robust === undefined
            ? ''
            : `as such days go, ${clock(robust.finishMin.low)} to ${clock(robust.finishMin.high)}`
        }
      />
      {robust?.chance !== undefined && wishMin !== undefined && (
        <Key
          name={`Done by ${clock(wishMin)}`}
          value={chanceText(robust.chance)}
          note="chance, from a hundred such days"
        />
      )}
      {hands.map((hand) =>
        hand.busyMin === 0 && hand.lastMin === 0 ? (
          <Key key={hand.id} name={hand.name} value="Not needed" note="all day" />
        ) : (
          <Key
            key={hand.id}
            name={`${hand.name} may leave`}
            value={clock(hand.lastMin)}
            note={`wanted from ${clock(hand.firstMin)}, hands busy for ${show('duration', hand.busyMin)}`}
          />
        ),
      )}
    </dl>
  );
}

interface WishProps {
  readonly startMin: number;
  readonly wishMin: number | undefined;
  readonly onWish: (minute: number | undefined) => void;
}

function Wish({ startMin, wishMin, onWish }: WishProps) {
  const id = useId();
  return (
    <div class="fields wish noprint">
      <div class="field">
        <label for={id}>Wished to be done by</label>
        <div class="control">
          <input
            id={id}
            type="time"
            value={wishMin === undefined ? '' : formatClock((startMin + wishMin) % 1440)}
            onChange={(event) => onWish(minuteOfClock(event.currentTarget.value, startMin))}
          />
        </div>
        <p class="hint">The chance of it is worked out with the doubt of every step.</p>
      </div>
    </div>
  );
}

/** Where sparge liquor waits, what decides the end, and what to know. */
function Advice({ timetable, document }: { timetable: Timetable; document: PlanDocument }) {
  const { parks, robust, notes } = timetable;
  const nameOf = (id: string) => timetable.activities.find((a) => a.id === id)?.name ?? id;
  const temp = (c: number) => show('temperature', c, 0);
  return (
    <>
      {parks.length > 0 && (
        <>
          <h3>Hot liquor</h3>
          <ul class="plain-list">
            {parks.map((park) => (
              <li key={`${park.brew} ${park.what}`}>
                {park.what === 'strike' ? 'Strike' : 'Sparge'} liquor
                {timetable.choices.length > 1 && ` of brew ${park.brew}`}: heat{' '}
                {show('volume', park.litres)} to <b>{temp(park.heatToC)}</b>
                {park.moved
                  ? ` and park it in ${nameIn(document.kit, park.vessel)}: ${temp(park.parkedC)} once there, stands `
                  : ' and leave it there: stands '}
                {show('duration', park.standMin)}, goes on at <b>{temp(park.firstC)}</b>
                {park.what === 'sparge' && (
                  <span class="soft">, the last of it at {temp(park.lastC)}</span>
                )}
                <span class="soft">; {park.extraKWh.toFixed(1)} kWh for the waiting</span>
              </li>
            ))}
          </ul>
        </>
      )}
      {robust !== undefined && robust.watch.length > 0 && (
        <>
          <h3>Watch these; they decide the end</h3>
          <ul class="plain-list">
            {robust.watch.map(({ id, critical, spreadMin }) => (
              <li key={id}>
                <b>{nameOf(id)}</b>
                <span class="soft">
                  : on the longest path in {Math.round(critical * 100)} of 100 such days; its own
                  minutes differ by {show('duration', spreadMin)}
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
      {(notes.length > 0 || (robust?.brokenShare ?? 0) >= 0.1) && (
        <ul class="plain-list day-notes">
          {robust !== undefined && robust.brokenShare >= 0.1 && (
            <li>
              In {Math.round(robust.brokenShare * 100)} of 100 such days something waits longer than
              it should; the order then needs a look on the day.
            </li>
          )}
          {notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
    </>
  );
}
