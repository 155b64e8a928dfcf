import { nameIn } from '@ladlework/brewhouse';
import { type BrewState, mendMoveId, recordCsv, recordOf } from '@ladlework/log';
import type { PlanDocument } from '@ladlework/planner';
import { useComputed } from '@preact/signals';
import { brewById, events } from '../data/house.ts';
import { TwoValues } from '../day/TwoValues.tsx';
import { hashOf } from '../shell/route.ts';
import { clockOf, inPair } from '../units/show.ts';
import { brewName } from './BrewsPage.tsx';
import { Gone } from './Gone.tsx';
import { RecordTable } from './record/RecordTable.tsx';
import { saveFile } from './save-file.ts';

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
            onClick={() => saveFile(`${brewName(brew)}.csv`, recordCsv(rows, brew), 'text/csv')}
          >
            Save as CSV
          </button>
          <a class="btn" href={hashOf({ at: 'paper-in', id })}>
            Type paper in
          </a>
          <button type="button" class="btn" onClick={() => window.print()}>
            Print
          </button>
        </div>
      </header>
      <TwoValues brew={brew} kit={kit} />
      <section class="block">
        <h2>Planned and done</h2>
        <RecordTable rows={rows} brew={brew} vesselName={vesselName} />
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
  if ('of' in data && 'data' in data && typeof data.data === 'object' && data.data !== null)
    return `${entryText(data.data, brew, vesselName)}${'reason' in data ? `, ${data.reason}` : ''}`;
  // A repair's text is the engine's, in house units; a note is the brewer's own.
  if ('code' in data && 'text' in data) return `: ${inPair(String(data.text))}`;
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
