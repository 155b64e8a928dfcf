/** From the model of a score to paths and boxes. Pure: minutes and °C in, pixels out. */
import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { type Box, type PlacedLabel, placeLabels } from './labels.ts';
import type { Lane } from './mash-lanes.ts';
import type { Matter, Pass, ScoreModel, Stave } from './model.ts';

export interface Sheet {
  readonly width: number;
  readonly height: number;
  /** Where the music begins, after the names. */
  readonly leftPx: number;
  readonly pxPerMin: number;
  readonly x: (minute: number) => number;
  readonly staves: readonly DrawnStave[];
  readonly passes: readonly DrawnPass[];
  readonly ticks: readonly {
    readonly x: number;
    readonly minute: number;
    readonly major: boolean;
  }[];
  readonly handRows: readonly {
    readonly hand: string;
    readonly name: string;
    readonly y: number;
  }[];
  readonly busy: readonly {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
    readonly moveId: string;
    readonly text: string;
  }[];
  readonly handsTop: number;
  readonly bottom: number;
}

export interface DrawnStave {
  readonly vessel: string;
  readonly name: string;
  /** Drawn as one line: nothing happens to it in view. */
  readonly folded: boolean;
  readonly top: number;
  readonly base: number;
  readonly y: (c: number) => number;
  readonly lines: readonly { readonly matter: Matter; readonly d: string; readonly fill: string }[];
  /** What was planned behind it. */
  readonly behind: readonly { readonly matter: Matter; readonly d: string }[];
  readonly band: string | undefined;
  readonly fires: readonly { readonly x: number; readonly width: number }[];
  readonly scale: readonly { readonly c: number; readonly y: number }[];
  readonly labels: readonly PlacedLabel[];
  readonly lanes: readonly DrawnLane[];
}

/** One small plot under a stave. */
export interface DrawnLane {
  readonly name: string;
  readonly mostText: string;
  readonly top: number;
  readonly base: number;
  readonly lines: readonly {
    readonly d: string;
    readonly band: string;
    readonly dashed: boolean;
  }[];
  readonly labels: readonly PlacedLabel[];
}

export interface DrawnPass {
  readonly moveId: string;
  readonly matter: Matter;
  readonly ribbon: string;
  readonly stem: string;
  readonly head: string;
}

/** Sizes of the drawing [px]. */
export interface Layout {
  readonly leftPx: number;
  readonly pxPerMin: number;
  readonly staveHeight: number;
  readonly staveGap: number;
  readonly fontPx: number;
  /** Names stand above the staves instead of beside them. */
  readonly namesAbove: boolean;
  /** Draw the small plots of the mash under each stave. */
  readonly lanes?: boolean;
  /** Vessels whose stave is only a line; none when left out. */
  readonly folded?: ReadonlySet<string>;
  /** Least minutes between two written clock times; taken from the quarter-hour ladder. */
  readonly startClockMin: number;
  /** How a temperature is written at the scale. */
  readonly scaleText?: (c: number) => string;
}

const HEAD = 26;
const NAME = 24;
const HAND_ROW = 26;
const FOOT = 22;
/** A stave lower than this has room for fewer numbers [px]. */
const LOW_PX = 66;
/** A folded stave beside its name; under its name it has no height. */
const FOLDED_PX = 20;

/** A small plot, and the room above each. Two lines of words fit. */
const LANE_PX = 40;
const LANE_GAP = 7;
/** A plot's name inside it. */
const LANE_NAME_PX = 80;

/** Height of one stave without its name and plots [px]. */
function tallness(
  vessel: string,
  layout: Pick<Layout, 'staveHeight' | 'namesAbove' | 'folded'>,
): number {
  if (!layout.folded?.has(vessel)) return layout.staveHeight;
  return layout.namesAbove ? 0 : FOLDED_PX;
}

/** Height of the plots under a stave [px]. */
function lanesPx(stave: Stave, layout: Pick<Layout, 'lanes' | 'folded'>): number {
  if (layout.lanes !== true || layout.folded?.has(stave.vessel)) return 0;
  return stave.lanes.length * (LANE_PX + LANE_GAP);
}

/**
 * Vessels that nothing stands in, and nothing passes through, while a stretch of the day is in view.
 *
 * @param fromMin start of the stretch [min after day start]
 * @param toMin end of it
 */
export function emptyIn(model: ScoreModel, fromMin: number, toMin: number): string[] {
  const seen = (start: number, end: number) => start <= toMin && end >= fromMin;
  return model.staves
    .filter(
      ({ vessel, stretches, behind }) =>
        ![...stretches, ...(behind ?? [])].some((s) =>
          seen(s.timeMin[0] ?? 0, s.timeMin.at(-1) ?? 0),
        ) &&
        !model.passes.some(
          (p) => (p.from === vessel || p.to === vessel) && seen(p.startMin, p.endMin),
        ),
    )
    .map((s) => s.vessel);
}

/** Height of a day's sheet [px]. */
export function heightOf(
  model: Pick<ScoreModel, 'staves' | 'hands'>,
  layout: Pick<Layout, 'staveHeight' | 'staveGap' | 'namesAbove' | 'folded' | 'lanes'>,
): number {
  const name = layout.namesAbove ? NAME : 0;
  const staves = model.staves.reduce(
    (sum, stave) =>
      sum + name + tallness(stave.vessel, layout) + lanesPx(stave, layout) + layout.staveGap,
    0,
  );
  return HEAD + staves + name + model.hands.length * HAND_ROW + 4 + FOOT;
}

/** Lays out a whole day. */
export function sheetOf(model: ScoreModel, layout: Layout): Sheet {
  const width = layout.leftPx + (model.toMin - model.fromMin) * layout.pxPerMin + 12;
  const x = scaleLinear()
    .domain([model.fromMin, model.toMin])
    .range([layout.leftPx, layout.leftPx + (model.toMin - model.fromMin) * layout.pxPerMin]);
  let top = HEAD;
  const staves: DrawnStave[] = [];
  for (const stave of model.staves) {
    if (layout.namesAbove) top += NAME;
    const base = top + tallness(stave.vessel, layout);
    staves.push(drawStave(stave, model, x, top, base, layout, width));
    top = base + lanesPx(stave, layout) + layout.staveGap;
  }
  const handsTop = top + (layout.namesAbove ? NAME : 0);
  const handRows = model.hands.map((h, i) => ({ ...h, y: handsTop + i * HAND_ROW }));
  const bottom = handsTop + model.hands.length * HAND_ROW + 4;
  return {
    width,
    height: bottom + FOOT,
    leftPx: layout.leftPx,
    pxPerMin: layout.pxPerMin,
    x,
    staves,
    passes: model.passes.flatMap((pass) => drawPass(pass, staves, x)),
    ticks: clockTicks(model.fromMin, model.toMin, layout.startClockMin, layout.pxPerMin).map(
      (t) => ({
        ...t,
        x: x(t.minute),
      }),
    ),
    handRows,
    busy: model.busy.flatMap((b) => {
      const row = handRows.find((r) => r.hand === b.hand);
      if (row === undefined) return [];
      const wide = Math.max(2, x(b.endMin) - x(b.startMin));
      return [
        { x: x(b.startMin), y: row.y, width: wide, height: 18, moveId: b.moveId, text: b.text },
      ];
    }),
    handsTop,
    bottom,
  };
}

function drawStave(
  stave: Stave,
  model: ScoreModel,
  x: (t: number) => number,
  top: number,
  base: number,
  layout: Layout,
  width: number,
): DrawnStave {
  const y = scaleLinear()
    .domain([stave.lowC, stave.highC])
    .range([base - 8, top + 6]);
  if (layout.folded?.has(stave.vessel)) return foldedStave(stave, y, top, base);
  const lines = stave.stretches.map((s) => {
    const points = thin(s.timeMin.map((t, i): Point => [x(t), y(s.tempC[i] ?? 0)]));
    return {
      matter: s.matter,
      d: line()(points) ?? '',
      fill:
        area<Point>()
          .x((p) => p[0])
          .y1((p) => p[1])
          .y0(base)(points) ?? '',
      points,
    };
  });
  const obstacles = [
    ...lines.flatMap((l) => along(l.points)),
    ...stemsThrough(stave, model, x, top, base),
  ];
  const band = stave.band;
  return {
    vessel: stave.vessel,
    name: stave.name,
    folded: false,
    top,
    base,
    y,
    lines,
    behind: (stave.behind ?? []).map((s) => ({
      matter: s.matter,
      d: line()(thin(s.timeMin.map((t, i): Point => [x(t), y(s.tempC[i] ?? 0)]))) ?? '',
    })),
    band: band === undefined ? undefined : bandPath(band, stave, x, y),
    fires: stave.fires.map(([a, b]) => ({ x: x(a), width: Math.max(1, x(b) - x(a)) })),
    scale: y.ticks(layout.staveHeight < LOW_PX ? 2 : 3).map((c) => ({ c, y: y(c) })),
    labels: placeLabels(
      model.marks
        .filter((m) => m.vessel === stave.vessel)
        .map((m) => ({ ...m, x: x(m.atMin), y: y(m.tempC) })),
      obstacles,
      { x0: layout.leftPx, y0: top - 4, x1: width, y1: base - 2 },
      layout.fontPx,
    ),
    lanes:
      layout.lanes === true
        ? stave.lanes.map((lane, n) => drawLane(lane, stave, x, base, n, layout, width))
        : [],
  };
}

function drawLane(
  lane: Lane,
  stave: Stave,
  x: (t: number) => number,
  staveBase: number,
  nth: number,
  layout: Layout,
  width: number,
): DrawnLane {
  const top = staveBase + nth * (LANE_PX + LANE_GAP) + LANE_GAP;
  const base = top + LANE_PX;
  const y = scaleLinear()
    .domain([0, lane.most])
    .range([base - 1, top + 1])
    .clamp(true);
  const lines = lane.lines.map((l) => {
    const points = thin(l.timeMin.map((t, i): Point => [x(t), y(l.likely[i] ?? 0)]));
    const ribbon = area<number>()
      .x((i) => x(l.timeMin[i] ?? 0))
      .y0((i) => y(l.low[i] ?? 0))
      .y1((i) => y(l.high[i] ?? 0));
    return {
      d: line()(points) ?? '',
      band: ribbon(l.timeMin.map((_, i) => i)) ?? '',
      dashed: l.dashed,
      points,
    };
  });
  const marks = lane.marks.map((m, rank) => ({
    vessel: stave.vessel,
    atMin: m.atMin,
    tempC: 0,
    text: m.text,
    rank,
    strong: false,
    x: x(m.atMin),
    y: y(m.value),
  }));
  return {
    name: lane.name,
    mostText: lane.mostText,
    top,
    base,
    lines,
    labels: placeLabels(
      marks,
      [
        ...lines.flatMap((l) => along(l.points)),
        // On a phone the plot's name stands in it.
        ...(layout.namesAbove
          ? [{ x0: layout.leftPx, y0: top, x1: layout.leftPx + LANE_NAME_PX, y1: top + 16 }]
          : []),
      ],
      { x0: layout.leftPx, y0: top - LANE_GAP, x1: width, y1: base + 3 },
      layout.fontPx,
    ),
  };
}

type Point = [number, number];

function foldedStave(
  stave: Stave,
  y: (c: number) => number,
  top: number,
  base: number,
): DrawnStave {
  const nothing = {
    lines: [],
    behind: [],
    band: undefined,
    fires: [],
    scale: [],
    labels: [],
    lanes: [],
  };
  return { vessel: stave.vessel, name: stave.name, folded: true, top, base, y, ...nothing };
}

/** Stems of what passes through a stave on its way, or begins or ends in it. */
function stemsThrough(
  stave: Stave,
  model: ScoreModel,
  x: (t: number) => number,
  top: number,
  base: number,
): Box[] {
  const order = (vessel: string) => model.staves.findIndex((s) => s.vessel === vessel);
  const own = order(stave.vessel);
  return model.passes.flatMap((p) => {
    const ends = [order(p.from), order(p.to)];
    if (own < Math.min(...ends) || own > Math.max(...ends)) return [];
    const mid = (x(p.startMin) + x(p.endMin)) / 2;
    return [{ x0: mid - 4, y0: top, x1: mid + 4, y1: base }];
  });
}

/** The band is drawn only where something stands in the vessel. */
function bandPath(
  band: NonNullable<Stave['band']>,
  stave: Stave,
  x: (t: number) => number,
  y: (c: number) => number,
): string {
  const shape = area<number>()
    .x((i) => x(band.timeMin[i] ?? 0))
    .y0((i) => y(clamp(band.lowC[i] ?? 0, stave.lowC, stave.highC)))
    .y1((i) => y(clamp(band.highC[i] ?? 0, stave.lowC, stave.highC)))
    .defined((i) => stands(stave, band.timeMin[i] ?? 0));
  return shape(band.timeMin.map((_, i) => i)) ?? '';
}

const stands = (stave: Stave, t: number): boolean =>
  stave.stretches.some((s) => t >= (s.timeMin[0] ?? 0) && t <= (s.timeMin.at(-1) ?? 0));

const clamp = (v: number, low: number, high: number): number => Math.min(high, Math.max(low, v));

/**
 * Keeps first, last, least and greatest of each pixel column: the path looks the same and a day of
 * thousands of steps stays a few hundred points.
 */
export function thin(points: readonly Point[]): Point[] {
  const out: Point[] = [];
  let i = 0;
  while (i < points.length) {
    const column = Math.floor(points[i]?.[0] ?? 0);
    let j = i;
    let low = i;
    let high = i;
    while (j + 1 < points.length && Math.floor(points[j + 1]?.[0] ?? 0) === column) {
      j += 1;
      if ((points[j]?.[1] ?? 0) < (points[low]?.[1] ?? 0)) low = j;
      if ((points[j]?.[1] ?? 0) > (points[high]?.[1] ?? 0)) high = j;
    }
    for (const k of [...new Set([i, low, high, j])].sort((a, b) => a - b)) {
      const point = points[k];
      if (point !== undefined) out.push(point);
    }
    i = j + 1;
  }
  return out;
}

/** Small boxes along a path, so that labels keep off it. */
function along(points: readonly Point[]): Box[] {
  const boxes: Box[] = [];
  for (let i = 1; i < points.length; i++) {
    const [ax, ay] = points[i - 1] ?? [0, 0];
    const [bx, by] = points[i] ?? [0, 0];
    const steps = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / 6));
    for (let k = 0; k < steps; k++) {
      const px = ax + ((bx - ax) * k) / steps;
      const py = ay + ((by - ay) * k) / steps;
      boxes.push({ x0: px - 2, y0: py - 2, x1: px + 2, y1: py + 2 });
    }
  }
  return boxes;
}

/** A ribbon as wide as the transfer lasts, from the giving curve to the receiving one. */
function drawPass(
  pass: Pass,
  staves: readonly DrawnStave[],
  x: (t: number) => number,
): DrawnPass[] {
  const from = staves.find((s) => s.vessel === pass.from);
  const to = staves.find((s) => s.vessel === pass.to);
  if (from === undefined || to === undefined) return [];
  const x0 = x(pass.startMin);
  const x1 = Math.max(x(pass.endMin), x0 + 2);
  const down = to.top > from.top;
  const ya = clamp(from.y(pass.sourceC), from.top, from.base);
  const yb = clamp(to.y(pass.landingC), to.top, to.base);
  const leave = down ? Math.max(ya, from.top) : Math.min(ya, from.base);
  const mid = (x0 + x1) / 2;
  const tip = yb + (down ? -3 : 3);
  const back = tip + (down ? -9 : 9);
  return [
    {
      moveId: pass.moveId,
      matter: pass.matter,
      ribbon: `M${n(x0)} ${n(leave)}L${n(x1)} ${n(leave)}L${n(x1)} ${n(yb)}L${n(x0)} ${n(yb)}Z`,
      stem: `M${n(mid)} ${n(leave)}V${n(back)}`,
      head: `M${n(mid)} ${n(tip)}L${n(mid - 5)} ${n(back)}H${n(mid + 5)}Z`,
    },
  ];
}

const n = (v: number): string => String(Math.round(v * 10) / 10);

/** Round clock times, at least 64 px apart; each hour is a major one. */
export function clockTicks(
  fromMin: number,
  toMin: number,
  startClockMin: number,
  pxPerMin: number,
): { minute: number; major: boolean }[] {
  const step = [5, 10, 15, 30, 60, 120, 180, 240].find((s) => s * pxPerMin >= 64) ?? 360;
  const ticks: { minute: number; major: boolean }[] = [];
  const first = Math.ceil((startClockMin + fromMin) / step) * step;
  for (let clock = first; clock <= startClockMin + toMin; clock += step) {
    ticks.push({ minute: clock - startClockMin, major: clock % 60 === 0 });
  }
  return ticks;
}
