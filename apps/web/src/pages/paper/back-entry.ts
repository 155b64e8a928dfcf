/** What a box of the paper sheet writes into the log. Pure. */
import { nameIn } from '@ladlework/brewhouse';
import {
  type BrewState,
  checkReading,
  type EventData,
  type EventType,
  followsOn,
  isCarrying,
  type SheetBox,
  type WortFigure,
} from '@ladlework/log';
import { toPlato } from '@ladlework/matter';
import {
  entryUnit,
  fail,
  formatClock,
  ok,
  parseClock,
  parseExtract,
  parseQuantity,
  type Result,
} from '@ladlework/quantity';
import { FIGURE, type PaperBrew, startOf, volumeUnit } from './box-words.ts';

/** One entry to be logged; `readAtMs` is what stands on paper. */
export type PaperEvent = {
  [K in EventType]: { readonly type: K; readonly data: EventData[K]; readonly readAtMs: number };
}[EventType];

/** The wall's clock and this device's may differ by this [ms]. */
const CLOCKS_APART_MS = 120_000;

/** The instant of a clock on paper: the one nearest to when the plan has the box. */
function instantOf(clockMin: number, box: SheetBox, brew: BrewState, startMin: number): number {
  const startedAtMs = brew.startedAtMs as number;
  const near = box.atMin;
  const since = clockMin - startOf(brew, startMin);
  const days = Math.round((near - since) / 1440);
  return startedAtMs + (since + days * 1440) * 60_000;
}

/**
 * What a filled box writes.
 *
 * @param box the box
 * @param typed one text a field, in the order of `fieldsOf`
 * @param paper the brew as it stands
 * @param nowMs now; what stands on paper is behind us
 * @param dayOf instant of a clock on a typed date and the brewery's offset then; undefined for no date
 * @returns events in the order they are to be logged, or a sentence that names field, value and range
 */
export function eventsOf(
  box: SheetBox,
  typed: readonly string[],
  paper: PaperBrew,
  nowMs: number,
  dayOf: (
    date: string,
    clockMin: number,
  ) => { readonly ms: number; readonly utcOffsetMin: number } | undefined,
): Result<PaperEvent[], string> {
  const { entry } = box;
  const clockText = typed.at(-1) ?? '';
  const clock = parseClock(clockText, { field: 'clock on paper' });
  if (!clock.ok) return fail(clock.error.message);
  if (entry.as === 'start') return startEvents(typed[0] ?? '', clock.value, paper, nowMs, dayOf);
  if (paper.brew.startedAtMs === undefined)
    return fail(
      'The day has not begun: type the box of the day’s beginning first; it dates every clock below.',
    );
  const readAtMs = instantOf(clock.value, box, paper.brew, paper.startMin);
  if (readAtMs > nowMs + CLOCKS_APART_MS)
    return fail(
      `clock on paper: ${formatClock(clock.value)} is still to come; look at the box again.`,
    );
  const first = (typed[0] ?? '').trim();
  switch (entry.as) {
    case 'begun':
      return ok(begunEvents(entry.moveId, paper.brew, readAtMs));
    case 'done':
      return ok(doneEvents(entry.moveId, paper.brew, readAtMs));
    case 'portions': {
      const portions = Number(first.replace(',', '.'));
      if (!(first !== '' && portions >= 0.01 && portions <= 1000))
        return fail(`portions: "${first}" cannot be; give a number, 0.01 to 1000.`);
      return ok([{ type: 'ladles-returned', data: { moveId: entry.moveId, portions }, readAtMs }]);
    }
    case 'reading':
      return readingEvents(entry, first, paper, readAtMs);
    case 'gate':
      return ok([{ type: 'gate-confirmed', data: { code: entry.gate }, readAtMs }]);
    case 'wort':
      return wortEvents(entry, typed, paper, readAtMs);
    case 'note':
      return first === ''
        ? fail('note: nothing was typed.')
        : ok([{ type: 'note', data: { text: first }, readAtMs }]);
  }
}

function startEvents(
  date: string,
  clockMin: number,
  { brew }: PaperBrew,
  nowMs: number,
  dayOf: Parameters<typeof eventsOf>[4],
): Result<PaperEvent[], string> {
  if (brew.startedAtMs !== undefined)
    return fail('The day has begun already; its beginning stands in the record.');
  const day = dayOf(date, clockMin);
  if (day === undefined) return fail(`date: "${date}" is no day; give one as 2026-11-26.`);
  if (day.ms > nowMs) return fail(`date: ${date} at ${formatClock(clockMin)} is still to come.`);
  const data = { startAtMs: day.ms, clock: { utcOffsetMin: day.utcOffsetMin } };
  return ok([{ type: 'brew-started', data, readAtMs: day.ms }]);
}

/** As a tap: rests on whose vessel somebody begins to carry are over. */
function begunEvents(moveId: string, brew: BrewState, readAtMs: number): PaperEvent[] {
  const move = brew.planSummary?.moves.find((m) => m.id === moveId);
  const ended =
    move !== undefined && isCarrying(move)
      ? brew.moves.filter((m) => {
          const rest = brew.planSummary?.moves.find((p) => p.id === m.moveId);
          const open = m.begunAtMs !== undefined && m.doneAtMs === undefined;
          return rest?.kind === 'rest' && open && m.moveId !== moveId;
        })
      : [];
  return [
    ...ended.map((m): PaperEvent => ({ type: 'move-done', data: { moveId: m.moveId }, readAtMs })),
    { type: 'move-begun', data: { moveId }, readAtMs },
  ];
}

/** As a tap: what is planned to follow at once by itself has begun. */
function doneEvents(moveId: string, brew: BrewState, readAtMs: number): PaperEvent[] {
  const moves = brew.planSummary?.moves ?? [];
  const done = moves.find((m) => m.id === moveId);
  const open = (id: string) => {
    const state = brew.moves.find((m) => m.moveId === id);
    return state?.begunAtMs === undefined && state?.doneAtMs === undefined;
  };
  const follow = moves.filter((m) => done !== undefined && open(m.id) && followsOn(m, done));
  return [
    { type: 'move-done', data: { moveId }, readAtMs },
    ...follow.map((m): PaperEvent => ({ type: 'move-begun', data: { moveId: m.id }, readAtMs })),
  ];
}

function readingEvents(
  entry: Extract<SheetBox['entry'], { as: 'reading' }>,
  typed: string,
  { kit, pair }: PaperBrew,
  readAtMs: number,
): Result<PaperEvent[], string> {
  const { vessel, what, moveId } = entry;
  const base = {
    vessel,
    what,
    places: 1 as const,
    settled: true,
    ...(moveId !== undefined && { moveId }),
  };
  if (what === 'iodine') {
    const blue = /^(y|yes|blue|1)$/i.test(typed);
    if (!blue && !/^(n|no|no blue|0)$/i.test(typed))
      return fail(`blue?: "${typed}" is neither; give y for blue or n for no blue.`);
    const data = {
      ...base,
      value: blue ? 1 : 0,
      unit: 'iodine',
      text: blue ? 'positive' : 'negative',
    };
    return ok([{ type: 'reading', data, readAtMs }]);
  }
  const name = nameIn(kit, vessel);
  const degree = entryUnit('temperature', pair);
  const value =
    what === 'temp' ? quantityOf('temperature', typed, name, degree) : plainOf(typed, name);
  if (!value.ok) return value;
  const there = kit.vessels.find((v) => v.id === vessel);
  const check = checkReading(
    { what, value: value.value, vessel, text: typed },
    { pair, ...(there && { vesselName: there.name, brimL: there.brimL }) },
  );
  if (!check.ok && check.verdict === 'impossible') return fail(check.message);
  const unit = what === 'temp' ? degree : 'pH';
  return ok([
    { type: 'reading', data: { ...base, value: value.value, unit, text: typed }, readAtMs },
  ]);
}

/** A bare number is in the unit of the sheet; one with its unit is taken at its word. */
function quantityOf(
  kind: 'temperature' | 'volume',
  typed: string,
  field: string,
  defaultUnit: string,
): Result<number, string> {
  const read = parseQuantity(kind, typed, { field, defaultUnit });
  return read.ok ? ok(read.value) : fail(read.error.message);
}

function plainOf(typed: string, field: string): Result<number, string> {
  const value = Number(typed.replace(',', '.'));
  return typed !== '' && Number.isFinite(value)
    ? ok(value)
    : fail(`${field}: "${typed}" is not a number.`);
}

function wortEvents(
  entry: Extract<SheetBox['entry'], { as: 'wort' }>,
  typed: readonly string[],
  { brew, pair }: PaperBrew,
  readAtMs: number,
): Result<PaperEvent[], string> {
  const figures: Partial<Record<WortFigure, number>> = {};
  for (const [n, figure] of entry.figures.entries()) {
    const text = (typed[n] ?? '').trim();
    if (text === '') continue;
    if (figure === 'plato' || figure === 'tapPlato') {
      const extract = parseExtract(text, { field: FIGURE[figure] });
      if (!extract.ok) return fail(extract.error.message);
      figures[figure] = toPlato(extract.value);
    } else {
      const value =
        figure === 'litres'
          ? quantityOf('volume', text, FIGURE[figure], volumeUnit(brew, pair))
          : quantityOf('temperature', text, FIGURE[figure], entryUnit('temperature', pair));
      if (!value.ok) return value;
      figures[figure] = value.value;
    }
  }
  if (Object.keys(figures).length === 0)
    return fail('wort: nothing was typed; give at least one figure.');
  if (figures.litres !== undefined && figures.tempC === undefined)
    return fail(
      'at: the temperature the litres were read at is missing; hot wort takes up to 4 % more room.',
    );
  const text = entry.figures.map((f, n) => `${FIGURE[f]} ${typed[n] ?? ''}`).join(', ');
  return ok([{ type: 'wort-read', data: { point: entry.point, ...figures, text }, readAtMs }]);
}
