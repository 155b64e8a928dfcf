import { type Kit, moveText, nameIn, vesselsOf } from '@ladlework/brewhouse';
import type { PlannedMove } from '@ladlework/planner';
import { say } from '../units/say.ts';
import { clockAt, show, showBand } from '../units/show.ts';

interface Props {
  readonly kit: Kit;
  readonly moves: readonly PlannedMove[];
  readonly startMin: number;
}

/** The score as a table: the same moves, every number with its doubt. */
export function PlanTable({ kit, moves, startMin }: Props) {
  return (
    <div class="scroll-x">
      <table class="plan-table">
        <caption>Every move in the order it begins; times and temperatures as 80 % bands.</caption>
        <thead>
          <tr>
            <th scope="col">Begins</th>
            <th scope="col">Ends</th>
            <th scope="col">Move</th>
            <th scope="col">Hands</th>
            <th scope="col">Vessel before → after</th>
            <th scope="col" class="num">
              Holds then
            </th>
          </tr>
        </thead>
        <tbody>
          {inOrder(moves).map(({ move, startMin: begins, endMin, fromC, toC, volumeL }) => (
            <tr key={move.id}>
              <td data-label="Begins">{clockAt(begins.likely, startMin)}</td>
              <td data-label="Ends">
                {clockAt(endMin.likely, startMin)}{' '}
                <span class="soft">
                  ± {Math.max(1, Math.round((endMin.high - endMin.low) / 2))} min
                </span>
              </td>
              <th scope="row">{moveText(move, kit, say)}</th>
              <td data-label="Hands">{move.hands.length === 0 ? '–' : move.hands.join(' ')}</td>
              <td data-label={nameIn(kit, vesselsOf(move)[0] ?? '')}>
                {show('temperature', fromC.likely)} → {showBand('temperature', toC)}
              </td>
              <td data-label="Holds then" class="num">
                {show('volume', volumeL)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** By when they begin, then when they end: moves of two vessels interleave. */
function inOrder(moves: readonly PlannedMove[]): PlannedMove[] {
  return [...moves].sort(
    (a, b) => a.startMin.likely - b.startMin.likely || a.endMin.likely - b.endMin.likely,
  );
}
