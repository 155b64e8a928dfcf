import type { BrewState, RecordRow } from '@ladlework/log';
import { clockOf, inPair } from '../../units/show.ts';
import { deviationText, quantityText } from './record-text.ts';

interface Props {
  readonly rows: readonly RecordRow[];
  readonly brew: BrewState;
  readonly vesselName: (id: string) => string;
}

/** Planned against done, box by box, in the order of the day. */
export function RecordTable({ rows, brew, vesselName }: Props) {
  return (
    <table class="plan-table record">
      <caption>
        Boxes carry the codes of the printed sheet. Outside: beyond the band the plan gave for eight
        of ten such days.
      </caption>
      <thead>
        <tr>
          <th scope="col">Box</th>
          <th scope="col">At</th>
          <th scope="col">What</th>
          <th scope="col" class="num">
            Planned
          </th>
          <th scope="col" class="num">
            Done
          </th>
          <th scope="col" class="num">
            Off by
          </th>
          <th scope="col">Who</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row, i) => (
          <Row key={`${row.code}${i}`} row={row} text={textOf(row, brew, vesselName)} />
        ))}
      </tbody>
    </table>
  );
}

/** What a row is, with the unit of what was typed. */
function textOf(row: RecordRow, brew: BrewState, vesselName: (id: string) => string): string {
  switch (row.kind) {
    case 'reading': {
      // Readings are numbered as they stand in the brew: R1 is its first.
      const reading = brew.readings[Number(row.code.slice(1)) - 1];
      const unit = reading === undefined || reading.unit === '' ? '' : ` ${reading.unit}`;
      const typed = reading === undefined ? '' : reading.text;
      const rest = row.text.slice(typed.length);
      const where = row.vessel === undefined ? '' : `${vesselName(row.vessel)} `;
      return `${where}${typed}${typed.endsWith(unit) ? '' : unit}${rest}`;
    }
    case 'gate':
      return row.vessel === undefined ? row.text : `${row.text}: ${vesselName(row.vessel)}`;
    case 'minutes':
      return `${row.text}, how long`;
    case 'caution':
      return `Caution seen: ${row.text}`;
    case 'mend':
    case 'miss':
    case 'change':
      return inPair(row.text);
    default:
      return row.text;
  }
}

const STANDING: Readonly<Record<RecordRow['standing'], string | undefined>> = {
  holds: undefined,
  'not-done': undefined,
  withdrawn: 'withdrawn',
  'passed-over': 'passed over, another entry for this box counts',
};

function Row({ row, text }: { row: RecordRow; text: string }) {
  const standing = STANDING[row.standing];
  const words = [
    ...(standing === undefined ? [] : [standing]),
    ...(row.remark === undefined ? [] : [row.remark]),
    ...(row.enteredLateMin === undefined
      ? []
      : [`entered ${Math.round(row.enteredLateMin)} min later`]),
  ];
  return (
    <tr
      class={standing !== undefined ? 'struck' : row.standing === 'not-done' ? 'undone' : undefined}
    >
      <td data-label="Box">{row.code}</td>
      <td data-label="At">{row.atMs === undefined ? '' : clockOf(row.atMs)}</td>
      <th scope="row">
        <span class="what">{text}</span>
        {words.length > 0 && <small>{words.join('; ')}</small>}
      </th>
      <td data-label="Planned" class="num">
        {row.planned === undefined ? '' : quantityText(row.quantity, row.planned.likely)}
      </td>
      <td data-label="Done" class="num">
        {row.actual === undefined
          ? row.standing === 'not-done'
            ? 'not done'
            : ''
          : quantityText(row.quantity, row.actual)}
      </td>
      <td data-label="Off by" class="num">
        {row.deviation === undefined ? '' : deviationText(row.quantity, row.deviation)}
        {row.outside === true && <b> outside</b>}
      </td>
      <td data-label="Who">{row.who ?? ''}</td>
    </tr>
  );
}
