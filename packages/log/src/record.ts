/** The day's record: what was planned against what was done, in the order it happened. */
import type { BrewState, Mark, MoveState, ReadingState, WortReadState } from './brew.ts';
import type { ReadingWhat, WortPoint } from './event.ts';
import {
  callGate,
  choiceGate,
  gateVessel,
  gateWords,
  mendMoveId,
  readingGate,
  workText,
} from './names.ts';
import type { SummaryBand, SummaryMove, SummaryReturn } from './summary.ts';

/** What the numbers of a row are: time of day (epoch ms), minutes, portions, or a reading's own. */
export type RecordQuantity = ReadingWhat | 'clock' | 'minutes' | 'portions';

/** One line of the record. */
export interface RecordRow {
  /** Short code of the box, for typing paper back in: M3 move, P1 return, R7 reading, Y miss, X mend, V change of plan. */
  readonly code: string;
  readonly kind:
    | 'start'
    | 'move'
    | 'minutes'
    | 'landing'
    | 'ladles'
    | 'reading'
    | 'miss'
    | 'mend'
    | 'change'
    | 'gate'
    | 'caution'
    | 'note'
    | 'end';
  /** When it happened, or was planned for if it did not [ms]. */
  readonly atMs?: number;
  readonly text: string;
  readonly vessel?: string;
  readonly moveId?: string;
  readonly quantity?: RecordQuantity;
  readonly planned?: SummaryBand;
  readonly actual?: number;
  /** Actual less likely: minutes for a clock, else the quantity's own unit. */
  readonly deviation?: number;
  /** True when the actual lies outside the plan's band. */
  readonly outside?: boolean;
  readonly who?: string;
  /** Minutes between reading and entry, when more than one. */
  readonly enteredLateMin?: number;
  readonly standing: 'holds' | 'withdrawn' | 'passed-over' | 'not-done';
  /** Why it was withdrawn or corrected, and what it said before. */
  readonly remark?: string;
}

/** A landing within 1 K of the rest needs no mending [K]. @source common practice, no source */
const LANDING_GO_K = 1;

const onTarget = (c: number): SummaryBand => ({
  low: c - LANDING_GO_K,
  likely: c,
  high: c + LANDING_GO_K,
});
const exactly = (x: number): SummaryBand => ({ low: x, likely: x, high: x });

/**
 * The record of a brew.
 *
 * @param state a folded brew
 * @returns rows in the order of the day; what was planned and not done stands where it was planned
 */
export function recordOf(state: BrewState): RecordRow[] {
  const rows = [
    ...startRows(state),
    ...moveRows(state),
    ...returnRows(state),
    ...readingRows(state),
    ...state.wortReads.flatMap((r, n) => wortRows(state, r, n)),
    ...otherRows(state),
    ...endRows(state),
  ];
  return rows
    .map((row, n) => ({ row, n }))
    .sort((a, b) => (a.row.atMs ?? Infinity) - (b.row.atMs ?? Infinity) || a.n - b.n)
    .map(({ row }) => row);
}

function written(m: Mark): Pick<RecordRow, 'atMs' | 'who' | 'enteredLateMin' | 'remark'> {
  const late = (m.enteredAtMs - m.atMs) / 60_000;
  const remark = clockRemark(m);
  return {
    atMs: m.atMs,
    who: m.who,
    ...(late > 1 && { enteredLateMin: late }),
    ...(remark !== undefined && { remark }),
  };
}

/** A clock off by less is not worth a word in the record [ms]. */
const CLOCK_OFF_MS = 60_000;
/** Tablets sleep for minutes all day; a jump of hours may have been a hand [ms]. */
const CLOCK_DOUBT_MS = 3_600_000;

/** What a later reader should know of the clock that timed an entry. */
function clockRemark({ clock }: Mark): string | undefined {
  if (clock === undefined) return undefined;
  const minutes = (ms: number) => `${Math.round(Math.abs(ms) / 60_000)} min`;
  const parts: string[] = [];
  if (Math.abs(clock.offsetMs) >= CLOCK_OFF_MS) {
    const way = clock.offsetMs > 0 ? 'slow' : 'fast';
    const by = clock.errorMs === undefined ? ', by what it last knew' : '';
    parts.push(`its clock was ${minutes(clock.offsetMs)} ${way}, mended${by}`);
  }
  if ((clock.doubtMs ?? 0) >= CLOCK_DOUBT_MS) {
    parts.push(`time doubtful: its clock moved ${minutes(clock.doubtMs ?? 0)} unseen`);
  }
  return parts.length === 0 ? undefined : parts.join('; ');
}

/** Clocks are read to the minute; a tap seconds beside a sharp plan is not outside it [ms]. */
const CLOCK_GRAIN_MS = 60_000;

function against(
  planned: SummaryBand | undefined,
  actual: number | undefined,
  perUnit = 1,
  grain = 0,
): Pick<RecordRow, 'planned' | 'actual' | 'deviation' | 'outside'> {
  return {
    ...(planned && { planned }),
    ...(actual !== undefined && { actual }),
    ...(planned &&
      actual !== undefined && {
        deviation: (actual - planned.likely) / perUnit,
        outside: actual < planned.low - grain || actual > planned.high + grain,
      }),
  };
}

function startRows(state: BrewState): RecordRow[] {
  if (!state.started || state.startedAtMs === undefined) return [];
  const row: RecordRow = {
    code: 'S',
    kind: 'start',
    text: 'Brew started',
    quantity: 'clock',
    actual: state.startedAtMs,
    ...written(state.started),
    standing: 'holds',
  };
  // The day begins at its minute 0, whenever the button was pressed.
  return [{ ...row, atMs: state.startedAtMs }];
}

function endRows(state: BrewState): RecordRow[] {
  if (!state.ended) return [];
  const said = state.ended.reason === 'finished' ? 'Brew finished' : 'Brew abandoned';
  const text = state.ended.text === undefined ? said : `${said}: ${state.ended.text}`;
  return [{ code: 'E', kind: 'end', text, ...written(state.ended), standing: 'holds' }];
}

function plannedClock(state: BrewState, band: SummaryBand): SummaryBand | undefined {
  const start = state.startedAtMs;
  if (start === undefined) return undefined;
  const at = (min: number) => start + min * 60_000;
  return { low: at(band.low), likely: at(band.likely), high: at(band.high) };
}

function moveRows(state: BrewState): RecordRow[] {
  const summaries = new Map(state.planSummary?.moves.map((m) => [m.id, m]));
  return state.moves.flatMap((move, n) => moveRow(state, move, summaries.get(move.moveId), n + 1));
}

/** The doing of a repair, by what was chosen. */
function mendText(state: BrewState, moveId: string): string | undefined {
  return state.mends.find((m) => mendMoveId(m.eventId) === moveId)?.text;
}

function gateText(state: BrewState, code: string): string {
  const call = state.calls.find((x) => callGate(x.eventId) === code);
  if (call !== undefined) return `Came when ${call.who} called`;
  const chosen = state.readings.find((r) => choiceGate(r.eventId) === code);
  if (chosen !== undefined) return `Of two values this one: ${chosen.text} ${chosen.unit}`;
  const reading = state.readings.find((r) => readingGate(r.eventId) === code);
  return reading === undefined
    ? (gateWords(code) ?? code)
    : `Reading kept: ${reading.text} ${reading.unit}`;
}

function moveRow(
  state: BrewState,
  move: MoveState,
  summary: SummaryMove | undefined,
  n: number,
): RecordRow[] {
  const planned = summary && plannedClock(state, summary.startMin);
  const first = move.begun[0] ?? move.done[0];
  const base = {
    text: summary?.text ?? mendText(state, move.moveId) ?? workText(move.moveId) ?? move.moveId,
    moveId: move.moveId,
    ...(summary && { vessel: summary.vessel }),
  };
  const row: RecordRow = {
    code: `M${n}`,
    kind: 'move',
    ...base,
    quantity: 'clock',
    ...against(planned, move.begunAtMs ?? move.doneAtMs, 60_000, CLOCK_GRAIN_MS),
    ...(first ? written(first) : planned && { atMs: planned.likely }),
    standing: first ? 'holds' : 'not-done',
  };
  if (move.begunAtMs === undefined || move.doneAtMs === undefined) return [row];
  const minutes = (move.doneAtMs - move.begunAtMs) / 60_000;
  const span = summary && exactly(summary.endMin.likely - summary.startMin.likely);
  const { outside: _, ...deviation } = against(span, minutes);
  return [
    row,
    {
      code: `M${n}t`,
      kind: 'minutes',
      ...base,
      quantity: 'minutes',
      ...deviation,
      ...(move.done[0] && written(move.done[0])),
      standing: 'holds',
    },
  ];
}

function returnRows(state: BrewState): RecordRow[] {
  return (state.planSummary?.returns ?? []).flatMap((r) => {
    const summaries = new Map(state.planSummary?.moves.map((m) => [m.id, m]));
    const tun = summaries.get(r.moveIds.return.at(-1) ?? '')?.vessel;
    return [...landingRow(state, r, tun), ...ladleRow(state, r, tun)];
  });
}

/** The landing is the last reading of the receiving vessel that belongs to the return. */
function landingRow(state: BrewState, r: SummaryReturn, tun: string | undefined): RecordRow[] {
  const ids = new Set(r.moveIds.return);
  const reading = state.readings
    .filter((x) => x.standing === 'holds' && x.what === 'temp' && x.vessel === tun)
    .findLast((x) => x.moveId !== undefined && ids.has(x.moveId));
  if (reading === undefined) return [];
  return [
    {
      code: `P${r.pull}`,
      kind: 'landing',
      text: `Landing of return ${r.pull}`,
      ...(tun !== undefined && { vessel: tun }),
      quantity: 'temp',
      ...against(onTarget(r.targetC), reading.value),
      ...written(reading),
      standing: 'holds',
    },
  ];
}

function ladleRow(state: BrewState, r: SummaryReturn, tun: string | undefined): RecordRow[] {
  const moves = state.moves.filter((m) => r.moveIds.return.includes(m.moveId));
  const last = moves.flatMap((m) => m.ladleMarks).at(-1);
  if (last === undefined) return [];
  const ladles = moves.reduce((sum, m) => sum + m.ladles, 0);
  const { outside: _, ...deviation } = against(exactly(r.portions), ladles);
  return [
    {
      code: `P${r.pull}n`,
      kind: 'ladles',
      text: `Portions of return ${r.pull}`,
      ...(tun !== undefined && { vessel: tun }),
      quantity: 'portions',
      ...deviation,
      ...written(last),
      standing: 'holds',
    },
  ];
}

function readingRows(state: BrewState): RecordRow[] {
  const summaries = new Map(state.planSummary?.moves.map((m) => [m.id, m]));
  return state.readings.map((r, n) => {
    const summary = summaries.get(r.moveId ?? '');
    // A reading is held against the plan only where the plan says what this vessel reads then.
    const planned = r.what === 'temp' && summary?.vessel === r.vessel ? summary.toC : undefined;
    const remark = remarkOf(r);
    return {
      code: `R${n + 1}`,
      kind: 'reading',
      text: `${r.text}${r.places === 3 ? ', three places' : ''}${r.settled ? '' : ', not settled'}`,
      vessel: r.vessel,
      ...(r.moveId !== undefined && { moveId: r.moveId }),
      quantity: r.what,
      ...against(planned, r.value),
      ...written(r),
      standing: r.standing,
      ...(remark !== undefined && { remark }),
    };
  });
}

/** Point of the day as the record calls it. */
const POINT: Readonly<Record<WortPoint, string>> = {
  'run-off': 'Run-off',
  'kettle-full': 'Kettle-full',
  'cast-out': 'Cast-out',
  'knock-out': 'Knock-out',
  tank: 'Tank',
};

/** A reading of wort, one row for each figure it gave. */
function wortRows(state: BrewState, r: WortReadState, n: number): RecordRow[] {
  // Litres are read hot, and planned at 20 °C: strength alone is held against the plan.
  const planned = state.planSummary?.wort?.find((w) => w.point === r.point)?.plato;
  const figures: readonly (readonly [string, ReadingWhat, string, number | undefined])[] = [
    ['v', 'volume', 'volume', r.litres],
    ['t', 'temp', 'temperature', r.tempC],
    ['g', 'gravity', 'extract', r.plato],
    ['p', 'ph', 'pH', r.ph],
    ['r', 'gravity', 'extract of the runnings', r.tapPlato],
    ['q', 'ph', 'pH of the runnings', r.tapPh],
    ['h', 'level', 'liquid above the bed', r.headM],
    ['l', 'temp', 'cold liquor', r.liquorInC],
    ['o', 'temp', 'wort out of the cooler', r.wortOutC],
  ];
  return figures.flatMap(([letter, quantity, what, actual]) =>
    actual === undefined
      ? []
      : [
          {
            code: `W${n + 1}${letter}`,
            kind: 'reading' as const,
            text: `${POINT[r.point]}, ${what}`,
            quantity,
            ...against(letter === 'g' ? planned : undefined, actual),
            ...written(r),
            standing: r.standing,
            ...(r.reason !== undefined && { remark: r.reason }),
          },
        ],
  );
}

function remarkOf(r: ReadingState): string | undefined {
  const before = r.before.map((b) => `was "${b.text}" (${b.who})`);
  const reason = r.reason === undefined ? [] : [r.reason];
  const clock = clockRemark(r);
  const parts = [...before, ...reason, ...(clock === undefined ? [] : [clock])];
  return parts.length === 0 ? undefined : parts.join('; ');
}

function otherRows(state: BrewState): RecordRow[] {
  const rows = <T extends Mark>(
    items: readonly T[],
    kind: RecordRow['kind'],
    letter: string,
    textOf: (item: T) => string,
    vesselOf: (item: T) => string | undefined = () => undefined,
  ): RecordRow[] =>
    items.map((item, n) => ({
      code: `${letter}${n + 1}`,
      kind,
      text: textOf(item),
      ...(vesselOf(item) === undefined ? {} : { vessel: vesselOf(item) as string }),
      ...written(item),
      standing: 'holds',
    }));
  return [
    ...rows(state.misses, 'miss', 'Y', (m) => m.text),
    ...rows(
      state.misses.flatMap((m) => (m.over ? [{ ...m.over, text: m.text }] : [])),
      'miss',
      'YO',
      (m) => `Put right: ${m.text}`,
    ),
    ...rows(
      state.plans.filter((p) => p.reason !== undefined),
      'change',
      'V',
      (p) => p.reason ?? '',
    ),
    ...rows(state.mends, 'mend', 'X', (m) => m.text),
    ...rows(state.kettleChoices, 'mend', 'K', (k) => k.text),
    ...rows(
      state.gates,
      'gate',
      'G',
      (g) => gateText(state, g.code),
      (g) => gateVessel(g.code),
    ),
    ...rows(state.cautionsSeen, 'caution', 'C', (c) => c.code),
    ...rows(state.notes, 'note', 'N', (x) => x.text),
    ...rows(state.calls, 'note', 'H', () => 'Brewer called'),
  ];
}
