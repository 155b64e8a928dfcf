/** From the log of a brew to what the live planner is told. */
import {
  type BrewState,
  mendMoveId,
  type ReadingState,
  readingGate,
  readingSd,
} from '@ladlework/log';
import type { DayEntry, Repair, WortEntry, WortMove } from '@ladlework/planner';

import { probeScatter } from './probe-entries.ts';

/** Readings of one box this near in time speak about the same thing [min]. */
const SAME_THING_MIN = 15;

/** Repairs that take nothing from the hands: they are done when they are chosen. */
const AT_ONCE: ReadonlySet<string> = new Set(['accept', 'hold-back']);

/** Moves after the mash, as the timetable names its activities. */
const AFTER_MASH: readonly WortMove[] = [
  'run-off',
  'sparge-shut',
  'boil-wort',
  'stand',
  'knock-out',
  'pitch',
];

/** The timetable puts the vessel behind what is done in one of several. */
const isMove = (moveId: string, move: WortMove): boolean =>
  moveId === move || moveId.startsWith(`${move}-`);

/** A repair that was chosen, and whether it has been carried out. */
export interface ChosenMend {
  readonly eventId: string;
  readonly code: Repair['code'];
  readonly text: string;
  readonly chosenAtMs: number;
  /** When it was carried out; left out while it is still to do. */
  readonly doneAtMs?: number;
  /** As chosen; `minutes` is how long it was to take. */
  readonly amountL?: number;
  readonly minutes?: number;
  readonly targetC?: number;
}

/** The repairs of a brew, in the order they were chosen. */
export function mendsOf(state: BrewState): ChosenMend[] {
  const done = new Map(state.moves.map((m) => [m.moveId, m.doneAtMs]));
  return state.mends.map((m) => {
    const doneAtMs = AT_ONCE.has(m.code) ? m.atMs : done.get(mendMoveId(m.eventId));
    const targetC = targetOf(state, m.moveId);
    return {
      eventId: m.eventId,
      code: m.code as Repair['code'],
      text: m.text,
      chosenAtMs: m.atMs,
      ...(doneAtMs !== undefined && { doneAtMs }),
      ...(m.amountL !== undefined && { amountL: m.amountL }),
      ...(m.minutes !== undefined && { minutes: m.minutes }),
      ...(targetC !== undefined && { targetC }),
    };
  });
}

/** What a move was to land at: the rest after a return, the first rest after mashing in. */
function targetOf(state: BrewState, moveId: string | undefined): number | undefined {
  if (moveId === undefined) return undefined;
  const planned = state.planSummary?.returns.find((r) => r.moveIds.return.includes(moveId));
  return planned?.targetC ?? state.planSummary?.moves.find((m) => m.id === moveId)?.toC.likely;
}

/**
 * The entries of a brew, as the live planner takes them.
 *
 * @param state a folded brew that has begun
 * @returns unsorted; none before the brew began
 */
export function entriesOf(state: BrewState): DayEntry[] {
  const start = state.startedAtMs;
  if (start === undefined) return [];
  const minute = (ms: number) => (ms - start) / 60_000;
  // A burner that went out ends its heat-up there; the tap that says so comes after it.
  const entries: DayEntry[] = missEntries(state, minute);
  for (const { moveId, begunAtMs, doneAtMs, ladleMarks } of state.moves) {
    if (begunAtMs !== undefined) entries.push({ kind: 'begun', moveId, atMin: minute(begunAtMs) });
    for (const mark of ladleMarks)
      entries.push({
        kind: 'portions',
        moveId,
        atMin: minute(mark.atMs),
        portions: mark.portions,
      });
    if (doneAtMs !== undefined) entries.push({ kind: 'done', moveId, atMin: minute(doneAtMs) });
  }
  entries.push(...readingEntries(state, minute));
  for (const mend of mendsOf(state))
    if (mend.doneAtMs !== undefined) entries.push(mendEntry(mend, minute, mend.doneAtMs));
  return entries;
}

/**
 * A repair as an entry that ends at a given time.
 *
 * @param mend a chosen repair
 * @param minute from epoch ms to minutes after day start
 * @param endMs when it is over [ms since 1970]
 */
function mendEntry(mend: ChosenMend, minute: (ms: number) => number, endMs: number): DayEntry {
  const took = Math.max(0, minute(endMs) - minute(mend.chosenAtMs));
  return {
    kind: 'mend',
    code: mend.code,
    atMin: minute(endMs),
    minutes: Math.min(took, mend.minutes ?? took),
    ...(mend.amountL !== undefined && { amountL: mend.amountL }),
    ...(mend.targetC !== undefined && { targetC: mend.targetC }),
  };
}

/**
 * The repairs still to do, as entries that end when they are meant to.
 *
 * @param state a folded brew that has begun
 * @param nowMs one that is late ends now at the earliest [ms since 1970]
 */
export function mendsAhead(state: BrewState, nowMs: number): DayEntry[] {
  const start = state.startedAtMs;
  if (start === undefined) return [];
  return mendsOf(state)
    .filter((m) => m.doneAtMs === undefined)
    .map((m) =>
      mendEntry(
        m,
        (ms) => (ms - start) / 60_000,
        Math.max(nowMs, m.chosenAtMs + (m.minutes ?? 0) * 60_000),
      ),
    );
}

/**
 * What happened after the mash, as `wortDay` takes it.
 *
 * @param state a folded brew that has begun
 * @returns in the order of time; none before the brew began
 */
export function wortEntriesOf(state: BrewState): WortEntry[] {
  const start = state.startedAtMs;
  if (start === undefined) return [];
  const minute = (ms: number) => (ms - start) / 60_000;
  const entries: WortEntry[] = [];
  for (const move of AFTER_MASH) {
    const marks = state.moves.filter((m) => !m.planned && isMove(m.moveId, move));
    const begun = marks.flatMap((m) => m.begunAtMs ?? []);
    const done = marks.flatMap((m) => m.doneAtMs ?? []);
    if (begun.length > 0) entries.push({ kind: 'begun', move, atMin: minute(Math.min(...begun)) });
    // In several kettles it is done when the last one is.
    if (done.length > 0 && done.length === marks.length)
      entries.push({ kind: 'done', move, atMin: minute(Math.max(...done)) });
  }
  for (const r of state.wortReads) {
    if (r.standing !== 'holds') continue;
    const { text: _text, standing: _standing, reason: _reason, ...rest } = r;
    const { eventId, headId: _head, atMs, enteredAtMs: _entered, who: _who, ...more } = rest;
    const { device: _device, ...read } = more;
    entries.push({ kind: 'read', read, atMin: minute(atMs), id: eventId });
  }
  for (const { way, minutes, liquorL, extractKg, atMs } of state.kettleChoices)
    entries.push({ kind: 'chosen', way, minutes, liquorL, extractKg, atMin: minute(atMs) });
  return entries.sort((a, b) => a.atMin - b.atMin);
}

function missEntries(state: BrewState, minute: (ms: number) => number): DayEntry[] {
  return state.misses.flatMap(({ eventId, code, atMs, vessel, litres, minutes, thing, over }) => [
    {
      kind: 'miss' as const,
      id: eventId,
      code,
      atMin: minute(atMs),
      ...(vessel !== undefined && { vessel }),
      ...(litres !== undefined && { litres }),
      ...(minutes !== undefined && { minutes }),
      ...(thing !== undefined && { thing }),
    },
    ...(over === undefined
      ? []
      : [{ kind: 'miss-over' as const, id: eventId, atMin: minute(over.atMs) }]),
  ]);
}

function readingEntries(state: BrewState, minute: (ms: number) => number): DayEntry[] {
  const confirmed = new Set(state.gates.map((g) => g.code));
  const taken: ReadingState[] = [];
  return state.readings.flatMap((r): DayEntry[] => {
    const { what } = r;
    if (r.standing !== 'holds' || what === 'iodine' || what === 'level') return [];
    const sure = confirmed.has(readingGate(r.eventId)) || taken.some((old) => repeats(r, old));
    taken.push(r);
    return [
      {
        kind: 'reading',
        id: r.eventId,
        reading: {
          vessel: r.vessel,
          what,
          value: r.value,
          atMin: minute(r.atMs),
          // Taken from a probe, it is one of the probe's readings and no second thermometer.
          ...(r.probe === undefined
            ? { sd: readingSd(r) }
            : {
                sd: probeScatter(what, r.value),
                probe: { id: r.probe, sd: r.sdK ?? readingSd(r) },
              }),
        },
        ...(sure && { confirmed: true }),
      },
    ];
  });
}

/** Read again soon after with the same answer: whatever was expected, it is so. */
function repeats(reading: ReadingState, old: ReadingState): boolean {
  const apartMin = (reading.atMs - old.atMs) / 60_000;
  return (
    old.vessel === reading.vessel &&
    old.what === reading.what &&
    apartMin > 0 &&
    apartMin <= SAME_THING_MIN &&
    Math.abs(reading.value - old.value) <= readingSd(old)
  );
}
