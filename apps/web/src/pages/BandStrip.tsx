import type { Band } from '@ladlework/planner';
import { scaleLinear } from 'd3-scale';
import { degree, shortTemp } from '../units/say.ts';

export interface StripRow {
  readonly label: string;
  readonly band: Band;
  readonly strong?: boolean;
}

interface Props {
  readonly target: number;
  readonly rows: readonly StripRow[];
  /** One value without doubt of its own, drawn as an open ring. */
  readonly ring?: { readonly label: string; readonly c: number };
  readonly label: string;
}

const WIDE = 340;
const LEFT = 108;
const ROW = 34;

/** Temperatures against the one wanted: bands as bars, read off directly. */
export function BandStrip({ target, rows, ring, label }: Props) {
  const all = [
    target,
    ...rows.flatMap((r) => [r.band.low, r.band.high]),
    ...(ring ? [ring.c] : []),
  ];
  const low = Math.min(...all);
  const high = Math.max(...all);
  const room = Math.max(1, (high - low) * 0.12);
  const x = scaleLinear()
    .domain([low - room, high + room])
    .range([LEFT, WIDE - 46]);
  const height = 30 + (rows.length + (ring ? 1 : 0)) * ROW;
  return (
    <svg class="strip" viewBox={`0 0 ${WIDE} ${height}`} role="img" aria-label={label}>
      <path class="want" d={`M${x(target)} 22V${height - 4}`} />
      <text class="wantword" x={x(target)} y={14} text-anchor="middle">
        wanted {shortTemp(target)} {degree()}
      </text>
      {rows.map((row, i) => {
        const y = 42 + i * ROW;
        return (
          <g key={row.label} class={row.strong ? 'row strong' : 'row'}>
            <text class="rowname" x={0} y={y + 5}>
              {row.label}
            </text>
            <path class="whisker" d={`M${x(row.band.low)} ${y}H${x(row.band.high)}`} />
            <path class="likely" d={`M${x(row.band.likely)} ${y - 9}V${y + 9}`} />
            <text x={x(row.band.high) + 6} y={y + 5}>
              {shortTemp(row.band.likely)}
            </text>
          </g>
        );
      })}
      {ring !== undefined && (
        <g class="row">
          <text class="rowname" x={0} y={47 + rows.length * ROW}>
            {ring.label}
          </text>
          <circle class="ring" cx={x(ring.c)} cy={42 + rows.length * ROW} r={6} />
          <text x={x(ring.c) + 12} y={47 + rows.length * ROW}>
            {shortTemp(ring.c)}
          </text>
        </g>
      )}
    </svg>
  );
}
