import type { Kit } from '@ladlework/brewhouse';
import { nameIn } from '@ladlework/brewhouse';
import type { Timetable } from '@ladlework/planner';
import { clockAt, show } from '../../../units/show.ts';
import { handsText } from './day-words.ts';

/** The strip as a table: every activity with its doubt, place, hands and slack. */
export function ActivityTable({ timetable, kit }: { timetable: Timetable; kit: Kit }) {
  const clock = (minute: number) => clockAt(minute, timetable.dayStartMin);
  const people = timetable.hands.map((h) => `${h.id} ${h.name}`).join(', ');
  return (
    <div class="scroll-x">
      <table class="plan-table day-table">
        <caption>
          Everything there is to do. {people}; in brackets who only stays at hand. Slack is how much
          later an activity may begin and the day still ends when it does.
        </caption>
        <thead>
          <tr>
            <th scope="col">Begins</th>
            <th scope="col">Ends</th>
            <th scope="col">What</th>
            <th scope="col">Hands</th>
            <th scope="col">Where</th>
            <th scope="col" class="num">
              Slack
            </th>
          </tr>
        </thead>
        <tbody>
          {timetable.activities.map((a) => (
            <tr key={a.id}>
              <td data-label="Begins">{clock(a.startMin)}</td>
              <td data-label="Ends">{clock(a.endMin)}</td>
              <th scope="row">{a.name}</th>
              <td data-label="Hands">{handsText(a)}</td>
              <td data-label="Where">
                {a.vessels.length === 0 ? '–' : a.vessels.map((v) => nameIn(kit, v)).join(', ')}
              </td>
              <td data-label="Slack" class="num">
                {a.slackMin < 1 ? 'none' : show('duration', a.slackMin)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
