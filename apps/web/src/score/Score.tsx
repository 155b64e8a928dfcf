import { formatClock } from '@ladlework/quantity';
import { useComputed, useSignal } from '@preact/signals';
import { useId, useMemo } from 'preact/hooks';
import { mashInDay, mashInPlan } from '../shell/settings.ts';
import { degree } from '../units/say.ts';
import { bare } from '../units/show.ts';
import { emptyIn, heightOf, type Sheet, sheetOf } from './geometry.ts';
import type { PlacedLabel } from './labels.ts';
import type { ScoreModel } from './model.ts';
import { Patterns } from './Patterns.tsx';
import { useWidth } from './width.ts';

export interface ReadingDot {
  readonly vessel: string;
  readonly atMin: number;
  readonly tempC: number;
}

interface Props {
  readonly model: ScoreModel;
  /** Clock time of minute 0 [min after midnight]. */
  readonly startClockMin: number;
  /** Minute of the day now; left out on a plan that has not begun. */
  readonly nowMin?: number | undefined;
  readonly readings?: readonly ReadingDot[];
  readonly label: string;
  /** Height there is for it; staves are as tall as fits [px]. */
  readonly roomPx?: number;
}

/** Minutes in view when the whole day does not fit. */
const CLOSE_MIN = { wide: 180, narrow: 100 };

const STAVE_GAP = 12;
/** Staves lower or taller than this are hard to read values off [px]. */
const STAVE_LEAST = 40;
const STAVE_MOST = 150;

function staveHeightFor(
  model: ScoreModel,
  roomPx: number | undefined,
  narrow: boolean,
  folded: ReadonlySet<string>,
  lanes: boolean,
): number {
  const usual = narrow ? 84 : 96;
  if (roomPx === undefined) return usual;
  const rest = heightOf(model, {
    staveHeight: 0,
    staveGap: STAVE_GAP,
    namesAbove: narrow,
    folded,
    lanes,
  });
  const fits = Math.floor((roomPx - rest) / Math.max(1, model.staves.length - folded.size));
  return Math.min(STAVE_MOST, Math.max(STAVE_LEAST, fits));
}

/** The day as a score. With `nowMin` the now-line stands on the left third and the day slides. */
export function Score({ model, startClockMin, nowMin, readings = [], label, roomPx }: Props) {
  const { box, width } = useWidth<HTMLDivElement>();
  const id = useId();

  const narrow = useComputed(() => width.value < 640);
  const whole = useSignal(nowMin === undefined);
  const shiftMin = useSignal(0);
  const dayMin = model.toMin - model.fromMin;
  const leftPx = narrow.value ? 0 : 104;
  const room = Math.max(120, width.value - leftPx - 12);
  const closeMin = Math.min(dayMin, narrow.value ? CLOSE_MIN.narrow : CLOSE_MIN.wide);
  const spanMin = whole.value ? dayMin : closeMin;
  const pxPerMin = room / spanMin;
  const clockUnit = degree();
  const hasMash = model.staves.some((s) => s.lanes.length > 0);
  const choice = nowMin === undefined ? mashInPlan : mashInDay;
  // On the day the screen belongs to what is to be done now; on a phone there is no room for both.
  const lanes =
    hasMash &&
    (choice.value === 'auto' ? nowMin === undefined && !narrow.value : choice.value === 'on');

  const startOfView = whole.value
    ? model.fromMin
    : clampView(
        (nowMin ?? model.fromMin) - (nowMin === undefined ? 0 : spanMin / 3) + shiftMin.value,
      );
  function clampView(from: number): number {
    // With a now-line the score slides past its own ends, so that the line can stand still.
    if (nowMin !== undefined) return from;
    return Math.min(Math.max(from, model.fromMin), Math.max(model.fromMin, model.toMin - spanMin));
  }
  // On the running day a vessel that stands empty all through the view gives its room to the others.
  const empty = nowMin === undefined ? [] : emptyIn(model, startOfView, startOfView + spanMin);
  const folding = empty.join('\n');
  // `clockUnit` is a dependency: the scale is written in the pair chosen.
  const sheet = useMemo(() => {
    const folded = new Set(empty);
    return sheetOf(model, {
      leftPx,
      pxPerMin,
      staveHeight: staveHeightFor(model, roomPx, narrow.value, folded, lanes),
      staveGap: STAVE_GAP,
      fontPx: 14,
      namesAbove: narrow.value,
      startClockMin,
      folded,
      lanes,
    });
  }, [model, leftPx, pxPerMin, startClockMin, clockUnit, roomPx, folding, lanes]);

  const offset = sheet.x(startOfView) - sheet.leftPx;
  const step = (sign: number) => () => {
    shiftMin.value += sign * spanMin * 0.6;
  };

  return (
    <figure class="score" ref={box}>
      {width.value > 0 && (
        <svg
          width={width.value}
          height={sheet.height}
          viewBox={`0 0 ${width.value} ${sheet.height}`}
          role="img"
          aria-label={lanes ? `${label}. ${endsOf(model)}` : label}
        >
          <Patterns id={id} />
          <clipPath id={`${id}-view`}>
            <rect x={leftPx} y={0} width={width.value - leftPx} height={sheet.height} />
          </clipPath>
          {nowMin !== undefined && (
            <>
              <clipPath id={`${id}-done`}>
                <rect x={-1e5} y={-50} width={1e5 + sheet.x(nowMin)} height={1e4} />
              </clipPath>
              <clipPath id={`${id}-todo`}>
                <rect x={sheet.x(nowMin)} y={-50} width={1e5} height={1e4} />
              </clipPath>
            </>
          )}
          <Names sheet={sheet} width={width.value} narrow={narrow.value} />
          <g clip-path={`url(#${id}-view)`}>
            <g transform={`translate(${-offset} 0)`}>
              <Music
                sheet={sheet}
                id={id}
                startClockMin={startClockMin}
                running={nowMin !== undefined}
                view={[leftPx + offset, width.value + offset]}
              />
              {readings.map((r) => {
                const stave = sheet.staves.find((s) => s.vessel === r.vessel);
                if (stave === undefined) return null;
                const y = Math.min(stave.base, Math.max(stave.top, stave.y(r.tempC)));
                return (
                  <circle
                    key={`${r.vessel}${r.atMin}`}
                    class="dot"
                    cx={sheet.x(r.atMin)}
                    cy={y}
                    r={5}
                  />
                );
              })}
              {nowMin !== undefined && (
                <g class="nowline">
                  <path d={`M${sheet.x(nowMin)} 18V${sheet.bottom + 4}`} />
                  <text x={sheet.x(nowMin) + 8} y={sheet.bottom + 18}>
                    {formatClock(startClockMin + nowMin)}
                  </text>
                </g>
              )}
            </g>
          </g>
          {narrow.value && <LaneNames sheet={sheet} />}
        </svg>
      )}
      <div class="score-tools">
        {!whole.value && (
          <>
            <button type="button" class="btn plain" onClick={step(-1)}>
              Earlier
            </button>
            {nowMin !== undefined && shiftMin.value !== 0 && (
              <button type="button" class="btn plain" onClick={() => (shiftMin.value = 0)}>
                Now
              </button>
            )}
            <button type="button" class="btn plain" onClick={step(1)}>
              Later
            </button>
          </>
        )}
        {hasMash && (
          <button
            type="button"
            class="btn plain"
            aria-pressed={lanes}
            onClick={() => (choice.value = lanes ? 'off' : 'on')}
          >
            Mash plots
          </button>
        )}
        {dayMin > closeMin && (
          <button type="button" class="btn plain" onClick={() => (whole.value = !whole.value)}>
            {whole.value ? 'Close up' : 'Whole day'}
          </button>
        )}
      </div>
    </figure>
  );
}

/** The small plots in words: what is left in each vessel at the end. */
function endsOf(model: ScoreModel): string {
  return model.staves
    .filter((s) => s.lanes.length > 0)
    .map((s) => {
      const ends = s.lanes.map((lane) => `${lane.name.toLowerCase()} ${lane.ends}`);
      return `${s.name} ends with ${ends.join('; ')}`;
    })
    .join('. ');
}

/** Width of a letter of a stave's name, and its height [px]. */
const LETTER_PX = 9;
const NAME_PX = 16;

/** A long name reaches into the scale; the mark it would run into is left out. */
function clearOfName(y: number, stave: Sheet['staves'][number], sheet: Sheet): boolean {
  const reaches = stave.name.length * LETTER_PX > sheet.leftPx - 40;
  return !reaches || Math.abs(y - (stave.top + 12)) > NAME_PX;
}

function Names({ sheet, width, narrow }: { sheet: Sheet; width: number; narrow: boolean }) {
  return (
    <g>
      {sheet.staves.map((s) => (
        <g key={s.vessel}>
          <path class="hair" d={`M${sheet.leftPx} ${s.base}H${width}`} />
          <text
            class={s.folded ? 'name away' : 'name'}
            x={0}
            y={narrow ? s.top - 6 : s.top + (s.folded ? 15 : 18)}
          >
            {s.name}
            {s.folded && ', empty'}
          </text>
          {!narrow &&
            s.scale
              .filter((mark) => clearOfName(mark.y, s, sheet))
              .map((mark) => (
                <g key={mark.c}>
                  <text class="scale" x={sheet.leftPx - 8} y={mark.y + 4} text-anchor="end">
                    {bare('temperature', mark.c, 0)}
                  </text>
                  <path class="tickmark" d={`M${sheet.leftPx - 4} ${mark.y}H${sheet.leftPx}`} />
                </g>
              ))}
          {s.lanes.map((lane) => (
            <g key={lane.name}>
              <path class="hair" d={`M${sheet.leftPx} ${lane.base}H${width}`} />
              {!narrow && (
                <>
                  <text class="lane" x={0} y={lane.top + 25}>
                    {lane.name}
                  </text>
                  <text class="scale" x={sheet.leftPx - 8} y={lane.top + 9} text-anchor="end">
                    {lane.mostText}
                  </text>
                </>
              )}
            </g>
          ))}
        </g>
      ))}
      <text class="name" x={0} y={narrow ? sheet.handsTop - 8 : sheet.handsTop + 14}>
        Hands
      </text>
      {!narrow &&
        sheet.handRows.map((row) => (
          <text key={row.hand} class="scale" x={sheet.leftPx - 8} y={row.y + 14} text-anchor="end">
            {row.hand}
          </text>
        ))}
    </g>
  );
}

/** On a phone a plot's name stands in it, and does not slide. */
function LaneNames({ sheet }: { sheet: Sheet }) {
  return (
    <g>
      {sheet.staves.flatMap((s) =>
        s.lanes.map((lane) => (
          <text key={`${s.vessel}${lane.name}`} class="mark lane" x={0} y={lane.top + 12}>
            {lane.name}
            {lane.name === 'Extract' && `, to ${lane.mostText}`}
          </text>
        )),
      )}
    </g>
  );
}

/** A clock time takes this much to the right of its line [px]. */
const CLOCK_ROOM_PX = 44;

interface MusicProps {
  readonly sheet: Sheet;
  readonly id: string;
  readonly startClockMin: number;
  readonly running: boolean;
  /** Left and right edge of what is in view, on the sheet [px]. */
  readonly view: readonly [number, number];
}

/** A word cut in half says nothing; one wholly out of view does no harm. */
function isWhole(label: PlacedLabel, [left, right]: MusicProps['view']): boolean {
  const x0 = label.anchor === 'start' ? label.x : label.x - label.wide;
  const x1 = x0 + label.wide;
  return !(x0 < left && x1 > left) && !(x0 < right && x1 > right);
}

function Music({ sheet, id, startClockMin, running, view }: MusicProps) {
  const layers = running
    ? [
        { name: 'plan', clip: `url(#${id}-todo)` },
        { name: 'done', clip: `url(#${id}-done)` },
      ]
    : [{ name: 'plan', clip: undefined }];
  return (
    <>
      {sheet.ticks.map((t) => (
        <g key={t.minute}>
          <path class={t.major ? 'hour' : 'part'} d={`M${t.x} 20V${sheet.bottom}`} />
          {!(t.x < view[1] && t.x + CLOCK_ROOM_PX > view[1]) && (
            <text class="scale" x={t.x + 4} y={14}>
              {formatClock(startClockMin + t.minute)}
            </text>
          )}
        </g>
      ))}
      {sheet.staves.map((s) => (
        <g key={s.vessel}>
          {s.lines.map((l) => (
            <path
              key={l.d}
              d={l.fill}
              fill={`url(#${id}-${l.matter})`}
              class={`wash ${l.matter}`}
            />
          ))}
          {s.fires.map((f) => (
            <rect key={f.x} class="fire" x={f.x} y={s.base - 4} width={f.width} height={4} />
          ))}
        </g>
      ))}
      {sheet.passes.map((p) => (
        <g key={p.moveId} class={`pass ${p.matter}`}>
          <path class="ribbon" d={p.ribbon} fill={`url(#${id}-${p.matter})`} />
          <path class="stem" d={p.stem} />
          <path class="head" d={p.head} />
        </g>
      ))}
      {sheet.staves.flatMap((s) =>
        s.lanes.map((lane) => (
          <g key={`${s.vessel}${lane.name}`} class={`lane-plot ${lane.name.toLowerCase()}`}>
            {lane.lines.map((l) => (
              <g key={l.d} class={l.dashed ? 'second' : 'first'}>
                <path class="spread" d={l.band} />
                <path class="middle" d={l.d} />
              </g>
            ))}
          </g>
        )),
      )}
      {layers.map((layer) => (
        <g key={layer.name} class={layer.name} clip-path={layer.clip}>
          {sheet.staves.map((s) => (
            <g key={s.vessel}>
              {layer.name === 'plan' && s.band !== undefined && <path class="band" d={s.band} />}
              {s.behind.map((l) => (
                <path key={l.d} class={`behind ${l.matter}`} d={l.d} />
              ))}
              {s.lines.map((l) => (
                <path key={l.d} class={`curve ${l.matter}`} d={l.d} />
              ))}
            </g>
          ))}
          {sheet.busy.map((b) => (
            <rect
              key={`${b.moveId}${b.y}`}
              class="busy"
              x={b.x}
              y={b.y}
              width={b.width}
              height={b.height}
            />
          ))}
          {sheet.busy
            .filter((b) => b.width > b.text.length * 7.4 + 8)
            .map((b) => (
              <text key={`${b.moveId}${b.y}`} class="busyword" x={b.x + 5} y={b.y + 14}>
                {b.text}
              </text>
            ))}
        </g>
      ))}
      {sheet.staves.flatMap((s) =>
        [...s.labels, ...s.lanes.flatMap((lane) => lane.labels)]
          .filter((l) => isWhole(l, view))
          .map((l) => (
            <text
              key={`${s.vessel}${l.x}${l.y}`}
              class={l.strong ? 'mark strong' : 'mark'}
              x={l.x}
              y={l.y}
              text-anchor={l.anchor}
            >
              {l.text}
            </text>
          )),
      )}
    </>
  );
}
