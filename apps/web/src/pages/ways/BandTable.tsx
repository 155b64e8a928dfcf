import type { Band } from '@ladlework/planner';
import { scaleLinear } from 'd3-scale';

export interface BandRow {
  readonly name: string;
  /** Left out where there is nothing to tell. */
  readonly band: Band | undefined;
  /** The one the others are held against. */
  readonly mark?: string;
}

interface Props {
  readonly caption: string;
  readonly note?: string | undefined;
  readonly rows: readonly BandRow[];
  readonly write: (value: number) => string;
  /** Draws a line at nought: the rows are differences. */
  readonly fromNought?: boolean;
}

const WIDE = 100;
const MARGIN = 3;

/** One figure of several things beside each other: the band drawn and written in the same line. */
export function BandTable({ caption, note, rows, write, fromNought = false }: Props) {
  const bands = rows.flatMap((r) => (r.band === undefined ? [] : [r.band]));
  const all = [...bands.flatMap((b) => [b.low, b.high]), ...(fromNought ? [0] : [])];
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const x = scaleLinear()
    .domain(low === high ? [low - 1, high + 1] : [low, high])
    .range([MARGIN, WIDE - MARGIN]);
  return (
    <table class="bands">
      <caption>
        <b>{caption}</b>
        {note !== undefined && <small>{note}</small>}
      </caption>
      <thead class="vh">
        <tr>
          <th scope="col">Way</th>
          <th scope="col">Band</th>
          <th scope="col">Likely, and low to high</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.name} class={row.mark === undefined ? undefined : 'held'}>
            <th scope="row">
              {row.name}
              {row.mark !== undefined && <small>{row.mark}</small>}
            </th>
            <td class="bar">
              {row.band !== undefined && (
                <svg viewBox={`0 0 ${WIDE} 20`} preserveAspectRatio="none" aria-hidden="true">
                  {fromNought && <path class="nought" d={`M${x(0)} 0V20`} />}
                  <path class="whisker" d={`M${x(row.band.low)} 10H${x(row.band.high)}`} />
                  <path class="likely" d={`M${x(row.band.likely)} 2V18`} />
                </svg>
              )}
            </td>
            <td class="num">
              {row.band === undefined ? '–' : <BandText band={row.band} write={write} />}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** The unit once where both have the same: "66 to 76 kWh". */
function spanText(low: string, high: string): string {
  const unit = / [^\d\s]+$/.exec(high)?.[0];
  return unit !== undefined && low.endsWith(unit)
    ? `${low.slice(0, -unit.length)} to ${high}`
    : `${low} to ${high}`;
}

function BandText({ band, write }: { band: Band; write: (value: number) => string }) {
  const [low, likely, high] = [band.low, band.likely, band.high].map(write);
  return (
    <>
      <b>{likely}</b>
      <small>{low === high ? 'in every draw' : spanText(low ?? '', high ?? '')}</small>
    </>
  );
}
