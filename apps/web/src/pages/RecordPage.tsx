import { type BrewState, mendMoveId, type RecordRow, recordCsv, recordOf } from '@ladlework/log';
import type { PlanDocument } from '@ladlework/planner';
import { useComputed } from '@preact/signals';
import { brewById, events } from '../data/house.ts';
import { hashOf } from '../shell/route.ts';
import { clockOf, show } from '../units/show.ts';
import { nameIn } from '../units/words.ts';
import { brewName } from './BrewsPage.tsx';
import { Gone } from './Gone.tsx';

/** What was planned against what was done, and every entry behind it. */
export function RecordPage({ id }: { id: string }) {
  const log = useComputed(() => events.value.filter((e) => e.stream === `brew:${id}`));
  const brew = brewById(id);
  if (brew === undefined) return <Gone what="brew" back="#/brews" />;
  const rows = recordOf(brew);
  const kit = (brew.document as PlanDocument | undefined)?.kit;
  const vesselName = (vessel: string) => (kit === undefined ? vessel : nameIn(kit, vessel));
  return (
    <>
      <header class="head">
        <div>
          <h1>{brewName(brew)}</h1>
          <p>
            {brew.startedAtMs === undefined
              ? 'Not begun.'
              : `Begun on ${longDate(brew.startedAtMs)} at ${clockOf(brew.startedAtMs)}`}
            {brew.ended !== undefined && `, ended ${clockOf(brew.ended.atMs)}`}
          </p>
        </div>
        <div class="row noprint">
          <a class="btn" href={hashOf({ at: 'plan', id })}>
            Plan
          </a>
          {brew.ended === undefined && brew.startedAtMs !== undefined && (
            <a class="btn" href={hashOf({ at: 'day', id })}>
              Day
            </a>
          )}
          <button
            type="button"
            class="btn"
            onClick={() => saveFile(`${brewName(brew)}.csv`, recordCsv(rows, brew))}
          >
            Save as CSV
          </button>
          <button type="button" class="btn" onClick={() => window.print()}>
            Print
          </button>
        </div>
      </header>
      {brew.conflicts.length > 0 && (
        <p class="note">
          Two devices entered something for the same box {brew.conflicts.length}{' '}
          {brew.conflicts.length === 1 ? 'time' : 'times'}; both are kept, the passed-over ones are
          struck through.
        </p>
      )}
      <section class="block">
        <h2>Planned and done</h2>
        <table class="plan-table record">
          <caption>Boxes carry the codes of the printed sheet.</caption>
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
              <Row key={`${row.code}${i}`} row={row} name={vesselName} />
            ))}
          </tbody>
        </table>
      </section>
      <section class="block">
        <h2>Every entry</h2>
        <ol class="entries">
          {log.value.map((e) => (
            <li key={e.id}>
              <span class="soft">{clockOf(e.readAtMs)}</span> <b>{e.who}</b>{' '}
              {e.type.replaceAll('-', ' ')}
              {entryText(e.data, brew, vesselName)}
            </li>
          ))}
        </ol>
      </section>
    </>
  );
}

const longDate = (ms: number): string =>
  new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'long', year: 'numeric' }).format(ms);

function entryText(data: object, brew: BrewState, vesselName: (id: string) => string): string {
  if ('vessel' in data && 'text' in data && 'unit' in data)
    return `: ${vesselName(String(data.vessel))} ${data.text} ${data.unit}`;
  if ('text' in data && typeof data.text === 'string') return `: ${data.text}`;
  if ('moveId' in data && typeof data.moveId === 'string')
    return `: ${moveName(brew, data.moveId)}`;
  if ('reason' in data && typeof data.reason === 'string') return `: ${data.reason}`;
  return '';
}

/** A move by its text in the plan; the doing of a repair by what was picked. */
function moveName(brew: BrewState, moveId: string): string {
  const mend = brew.mends.find((m) => mendMoveId(m.eventId) === moveId);
  return brew.planSummary?.moves.find((m) => m.id === moveId)?.text ?? mend?.text ?? moveId;
}

function Row({ row, name }: { row: RecordRow; name: (id: string) => string }) {
  const struck = row.standing === 'withdrawn' || row.standing === 'passed-over';
  return (
    <tr class={struck ? 'struck' : row.standing === 'not-done' ? 'undone' : undefined}>
      <td data-label="Box">{row.code}</td>
      <td data-label="At">{row.atMs === undefined ? '' : clockOf(row.atMs)}</td>
      <th scope="row">
        {row.kind === 'reading' && row.vessel !== undefined && `${name(row.vessel)} `}
        {row.text}
        {row.remark !== undefined && <span class="soft"> ({row.remark})</span>}
        {row.enteredLateMin !== undefined && (
          <span class="soft"> entered {Math.round(row.enteredLateMin)} min later</span>
        )}
      </th>
      <td data-label="Planned" class="num">
        {row.planned === undefined ? '' : quantityText(row, row.planned.likely)}
      </td>
      <td data-label="Done" class="num">
        {row.actual === undefined
          ? row.standing === 'not-done'
            ? 'not done'
            : ''
          : quantityText(row, row.actual)}
      </td>
      <td data-label="Off by" class="num">
        {row.deviation === undefined ? '' : deviationText(row, row.deviation)}
        {row.outside === true && <b> outside</b>}
      </td>
      <td data-label="Who">{row.who ?? ''}</td>
    </tr>
  );
}

function quantityText(row: RecordRow, value: number): string {
  switch (row.quantity) {
    case 'clock':
      return clockOf(value);
    case 'minutes':
      return show('duration', value);
    case 'temp':
      return show('temperature', value);
    case 'volume':
      return show('volume', value);
    case 'level':
      return show('length', value);
    case 'gravity':
      return `${value.toFixed(1)} °P`;
    case 'ph':
      return `pH ${value.toFixed(2)}`;
    case 'iodine':
      return value > 0.5 ? 'positive' : 'negative';
    case 'portions':
      return String(Math.round(value * 10) / 10);
    default:
      return '';
  }
}

function deviationText(row: RecordRow, off: number): string {
  const sign = off > 0 ? '+' : off < 0 ? '−' : '±';
  const size = Math.abs(off);
  switch (row.quantity) {
    case 'clock':
    case 'minutes':
      return `${sign}${Math.round(size)} min`;
    case 'temp':
      return `${sign}${show('temperatureDifference', size)}`;
    case 'volume':
      return `${sign}${show('volume', size)}`;
    case 'level':
      return `${sign}${show('length', size)}`;
    default:
      return `${sign}${Math.round(size * 100) / 100}`;
  }
}

function saveFile(name: string, text: string): void {
  const url = URL.createObjectURL(new Blob([text], { type: 'text/csv' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The click has taken the file by then; the address would otherwise hold it in memory.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
