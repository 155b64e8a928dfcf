import type { Kit } from '@ladlework/brewhouse';
import { nameIn } from '@ladlework/brewhouse';
import { calendarOf, handList, type Timetable } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect, useId } from 'preact/hooks';
import { nowMs } from '../../../data/clock.ts';
import { saveFile } from '../../save-file.ts';
import { dateOf, instantOf } from './day-words.ts';

interface Props {
  readonly timetable: Timetable;
  readonly kit: Kit;
  readonly name: string;
  readonly brewId: string;
  readonly startedAtMs: number | undefined;
}

/** The day to take along: a calendar, and the list of each person. */
export function DayPapers({ timetable, kit, name, brewId, startedAtMs }: Props) {
  const wanted = timetable.hands.filter((h) => h.lastMin > 0);
  const shown = useSignal<string | undefined>(undefined);
  return (
    <div class="day-papers">
      <h3 class="noprint">To take along</h3>
      <Calendar {...{ timetable, name, brewId, startedAtMs }} />
      <div class="row noprint">
        {wanted.map((hand) => (
          <button
            key={hand.id}
            type="button"
            class="btn"
            aria-expanded={shown.value === hand.id}
            onClick={() => {
              shown.value = shown.value === hand.id ? undefined : hand.id;
            }}
          >
            List of {hand.name}
          </button>
        ))}
      </div>
      {shown.value !== undefined && (
        <HandList
          key={shown.value}
          timetable={timetable}
          kit={kit}
          hand={shown.value}
          name={name}
        />
      )}
    </div>
  );
}

function Calendar({ timetable, name, brewId, startedAtMs }: Omit<Props, 'kit'>) {
  const id = useId();
  const startMin = timetable.dayStartMin;
  const today = instantOf(dateOf(nowMs()), startMin) ?? nowMs();
  // A day whose hour has passed is tomorrow's.
  const likely = dateOf(today > nowMs() ? today : today + 86_400_000);
  const day = useSignal(likely);
  const dayStartUtcMs = startedAtMs ?? instantOf(day.value, startMin);
  const save = () => {
    if (dayStartUtcMs === undefined) return;
    const text = calendarOf(timetable, { dayStartUtcMs, stampUtcMs: nowMs(), uid: brewId, name });
    saveFile(`${name}.ics`, text, 'text/calendar');
  };
  return (
    <div class="fields noprint">
      {startedAtMs === undefined && (
        <div class="field">
          <label for={id}>Day of the brew</label>
          <div class="control">
            <input
              id={id}
              type="date"
              value={day.value}
              onInput={(event) => {
                day.value = event.currentTarget.value;
              }}
            />
          </div>
        </div>
      )}
      <button type="button" class="btn" disabled={dayStartUtcMs === undefined} onClick={save}>
        Save calendar
      </button>
    </div>
  );
}

interface ListProps {
  readonly timetable: Timetable;
  readonly kit: Kit;
  readonly hand: string;
  /** Beer, or beers, of the day. */
  readonly name: string;
}

function HandList({ timetable, kit, hand, name }: ListProps) {
  const alone = useSignal(false);
  useEffect(() => {
    if (!alone.value) return;
    window.print();
    alone.value = false;
  }, [alone.value]);
  const [title, ...lines] = handList(timetable, hand, (id) => nameIn(kit, id)).split('\n');
  return (
    <article
      class={alone.value ? 'hand-list printing' : 'hand-list'}
      aria-label={`List of ${title}`}
    >
      <h3>
        {title}, {name}
      </h3>
      <ul class="plain-list">
        {lines.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
      <button
        type="button"
        class="btn noprint"
        onClick={() => {
          alone.value = true;
        }}
      >
        Print this list
      </button>
    </article>
  );
}
