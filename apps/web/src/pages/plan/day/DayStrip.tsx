import type { Kit } from '@ladlework/brewhouse';
import { dayStrip, type StripBar, type Timetable } from '@ladlework/planner';
import { formatClock } from '@ladlework/quantity';
import { scaleLinear } from 'd3-scale';
import { useMemo } from 'preact/hooks';
import { useWidth } from '../../../score/width.ts';
import { clockAt } from '../../../units/show.ts';

const HEAD = 24;
const ROW = 30;
const BAR = 22;
/** Room for a name beside its row, or above it where the page is narrow [px]. */
const LEFT = 190;
const NAME = 24;
/** Width of a letter in a bar [px]. */
const LETTER_PX = 7.2;
/** Clock times stand at least this far apart [px]. */
const CLOCK_PX = 54;
/** A clock time takes this much to the right of its hour [px]. */
const CLOCK_ROOM_PX = 40;

/** Vessels, tools and hands over the day, drawn as the hands of the score are. */
export function DayStrip({ timetable, kit }: { timetable: Timetable; kit: Kit }) {
  const { box, width } = useWidth<HTMLElement>();
  const strip = useMemo(() => dayStrip(timetable, namesOf(kit)), [timetable, kit]);
  const narrow = width.value < 640;
  const left = narrow ? 0 : LEFT;
  const rowHeight = ROW + (narrow ? NAME : 0);
  const rows = [...strip.rows].sort((a, b) => ORDER[a.of] - ORDER[b.of]);
  const height = HEAD + rows.length * rowHeight + 6;
  // Drawn in minutes after midnight, as the strip is.
  const x = scaleLinear()
    .domain([strip.fromMin, strip.toMin])
    .range([left, Math.max(left + 1, width.value - 2)]);
  const at = (minute: number) => x(timetable.dayStartMin + minute);
  const hours = (strip.toMin - strip.fromMin) / 60;
  const pxPerHour = (width.value - left) / Math.max(1, hours);
  const everyHours = [1, 2, 3, 4, 6].find((h) => h * pxPerHour >= CLOCK_PX) ?? 6;
  const ends = clockAt(timetable.finishMin, timetable.dayStartMin);
  return (
    <figure class="score day-strip" ref={box}>
      {width.value > 0 && (
        <svg
          width={width.value}
          height={height}
          viewBox={`0 0 ${width.value} ${height}`}
          role="img"
          aria-label={`Strip of the day: ${rows.map((r) => r.name).join(', ')}, until ${ends}; the table below holds the same`}
        >
          {Array.from({ length: Math.floor(hours / everyHours) + 1 }, (_, k) => {
            const minute = strip.fromMin + k * everyHours * 60;
            return (
              <g key={minute}>
                <path class="hour" d={`M${x(minute)} 18V${height}`} />
                {x(minute) + CLOCK_ROOM_PX <= width.value && (
                  <text class="scale" x={x(minute) + 2} y={13}>
                    {formatClock(minute)}
                  </text>
                )}
              </g>
            );
          })}
          {rows.map((row, i) => {
            const top = HEAD + i * rowHeight + (narrow ? NAME : 0);
            return (
              <g key={`${row.of} ${row.id}`}>
                <text class="rowname" x={0} y={narrow ? top - 5 : top + 17}>
                  {row.name}
                </text>
                <path class="hair" d={`M${left} ${top + BAR + 3}H${width.value}`} />
                {[...row.bars].sort(heldFirst).map((bar) => (
                  <Bar
                    key={`${bar.weight}${bar.id ?? bar.name}${bar.startMin}`}
                    bar={bar}
                    wordPx={at(freeUntil(bar, row.bars)) - at(bar.startMin)}
                    x={at(bar.startMin)}
                    width={Math.max(1.5, at(bar.endMin) - at(bar.startMin))}
                    y={top}
                  />
                ))}
              </g>
            );
          })}
        </svg>
      )}
      <figcaption class="small soft">
        Hands: full bars at work, open bars at hand, dotted bars on a break. Vessels and tools: bars
        in use, a line beneath while content stands there.
      </figcaption>
    </figure>
  );
}

const ORDER = { hand: 0, vessel: 1, tool: 2 } as const;

/** Content lies under what is done with it, at hand under busy. */
const WEIGHTS: readonly StripBar['weight'][] = ['holds', 'at-hand', 'away', 'works', 'busy'];
const heldFirst = (a: StripBar, b: StripBar) =>
  WEIGHTS.indexOf(a.weight) - WEIGHTS.indexOf(b.weight) || a.startMin - b.startMin;

/** Minute up to which no other bar of the row lies over this one; its start when one does there. */
function freeUntil(bar: StripBar, row: readonly StripBar[]): number {
  const over = row.filter(
    (other) =>
      other !== bar &&
      other.weight !== 'holds' &&
      other.startMin < bar.endMin &&
      other.endMin > bar.startMin,
  );
  return Math.max(bar.startMin, Math.min(bar.endMin, ...over.map((other) => other.startMin)));
}

interface BarProps {
  readonly bar: StripBar;
  /** Room for its name [px]. */
  readonly wordPx: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

function Bar({ bar, wordPx, x, y, width }: BarProps) {
  if (bar.weight === 'holds') return <path class="holds" d={`M${x} ${y + BAR + 1}H${x + width}`} />;
  const room = Math.floor((wordPx - 8) / LETTER_PX);
  return (
    <g class={bar.weight}>
      <rect x={x} y={y} width={width} height={BAR - 2} />
      {bar.name.length <= room && (
        <text class="word" x={x + 4} y={y + 15}>
          {bar.name}
        </text>
      )}
    </g>
  );
}

/** Names of everything a row may stand for, by the ids the timetable uses. */
function namesOf(kit: Kit): Record<string, string> {
  return Object.fromEntries([
    ...[...kit.vessels, ...kit.burners].map((x) => [x.id, x.name]),
    ...kit.routes.map((r) => [`route ${r.id}`, r.name]),
    ['cooler', 'Cooler'],
  ]);
}
