/** The record as a table for a spreadsheet. */
import { formatClock } from '@ladlework/quantity';
import type { BrewState } from './brew.ts';
import type { RecordQuantity, RecordRow } from './record.ts';

const HEADINGS = [
  'box',
  'time',
  'kind',
  'vessel',
  'what',
  'unit',
  'planned_low',
  'planned',
  'planned_high',
  'actual',
  'deviation',
  'who',
  'entered_late_min',
  'standing',
  'remark',
] as const;

const UNITS: Readonly<Record<RecordQuantity, string>> = {
  temp: 'C',
  volume: 'L',
  gravity: 'P',
  ph: 'pH',
  iodine: '1 = positive',
  level: 'm',
  clock: 'local time; deviation min',
  minutes: 'min',
  portions: 'portions',
};

/**
 * The record as CSV (RFC 4180), SI units, times of day by the brewery's clock.
 *
 * @param rows from `recordOf`
 * @param state the brew, for its clock
 */
export function recordCsv(rows: readonly RecordRow[], state: Pick<BrewState, 'clock'>): string {
  const offsetMin = state.clock?.utcOffsetMin ?? 0;
  const clock = (ms: number) => formatClock(Math.floor(ms / 60_000) + offsetMin);
  const lines = rows.map((r) => {
    const isClock = r.quantity === 'clock';
    const number = (x: number | undefined) =>
      x === undefined ? '' : isClock ? clock(x) : String(Number(x.toFixed(3)));
    return [
      r.code,
      r.atMs === undefined ? '' : clock(r.atMs),
      r.kind,
      cell(r.vessel ?? ''),
      cell(r.text),
      r.quantity === undefined ? '' : UNITS[r.quantity],
      number(r.planned?.low),
      number(r.planned?.likely),
      number(r.planned?.high),
      number(r.actual),
      r.deviation === undefined ? '' : String(Number(r.deviation.toFixed(2))),
      cell(r.who ?? ''),
      r.enteredLateMin === undefined ? '' : String(Math.round(r.enteredLateMin)),
      r.standing,
      cell(r.remark ?? ''),
    ].join(',');
  });
  return `${[HEADINGS.join(','), ...lines].join('\r\n')}\r\n`;
}

/** Quoted where needed. A note that begins like a formula must not run in a spreadsheet. */
function cell(text: string): string {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
