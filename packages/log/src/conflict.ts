/** Two people, one box: both values are kept, one is chosen, and the record says so. */
import type { ReadingData, ReadingWhat } from './event.ts';
import { groupBy } from './group.ts';
import { chosenBy } from './names.ts';
import { readingSd } from './reading.ts';
import type { SettledEvent } from './settle.ts';

/** Values given for one box within this time are meant for the same moment [ms]. */
export const SAME_MOMENT_MS = 120_000;

export type Conflict =
  | {
      readonly what: 'reading';
      readonly vessel: string;
      readonly reading: ReadingWhat;
      readonly moveId?: string;
      /** Event that counts, and those passed over. */
      readonly chosen: string;
      readonly others: readonly string[];
      /** Who said so; absent where the rule did. */
      readonly chosenBy?: string;
    }
  | {
      readonly what: 'move-begun' | 'move-done';
      readonly moveId: string;
      readonly chosen: string;
      readonly others: readonly string[];
    };

/**
 * Boxes that were filled in twice, differently, by different people or tablets.
 *
 * Of readings, the one somebody chose counts (the last choice that stands). Where nobody did, the one
 * read in three places is chosen over one place, the settled one over the unsettled, else the later
 * in order. Of taps on one move, the earlier.
 *
 * @param holds settled events of one brew that hold, in order
 */
export function findConflicts(holds: readonly SettledEvent[]): Conflict[] {
  const readings = holds.filter((e): e is SettledEvent<'reading'> => e.type === 'reading');
  // Ids of vessels, moves and devices have no spaces.
  const boxes = groupBy(readings, (r) => `${r.data.what} ${r.data.vessel} ${r.data.moveId ?? ''}`);
  const choices = choicesIn(holds);
  const found = [...boxes.values()]
    .flatMap(moments)
    .flatMap((group) => readingConflict(group, choices));
  const taps = holds.filter(
    (e): e is SettledEvent<'move-begun' | 'move-done'> =>
      e.type === 'move-begun' || e.type === 'move-done',
  );
  const edges = groupBy(taps, (t) => `${t.type} ${t.data.moveId}`);
  return [...found, ...[...edges.values()].flatMap(tapConflict)];
}

/** Cuts a box's readings, in order, into groups no longer than one moment. */
function moments(readings: readonly SettledEvent<'reading'>[]): SettledEvent<'reading'>[][] {
  const groups: SettledEvent<'reading'>[][] = [];
  for (const r of readings) {
    const group = groups.at(-1);
    const first = group?.[0];
    if (group && first && r.readAtMs - first.readAtMs <= SAME_MOMENT_MS) group.push(r);
    else groups.push([r]);
  }
  return groups;
}

const hand = (e: SettledEvent): string => `${e.event.device} ${e.event.who}`;

/** Events somebody said count, with who said it; the later a choice, the later it stands here. */
function choicesIn(holds: readonly SettledEvent[]): ReadonlyMap<string, string> {
  const choices = new Map<string, string>();
  for (const e of holds) {
    if (e.type !== 'gate-confirmed') continue;
    const id = chosenBy(e.data.code);
    if (id === undefined) continue;
    choices.delete(id);
    choices.set(id, e.event.who);
  }
  return choices;
}

function readingConflict(
  group: readonly SettledEvent<'reading'>[],
  choices: ReadonlyMap<string, string>,
): Conflict[] {
  const ids = new Set(group.map((r) => r.event.id));
  const choice = [...choices].findLast(([id]) => ids.has(id));
  const chosen =
    group.find((r) => r.event.id === choice?.[0]) ?? group.reduce((a, b) => (better(a, b) ? a : b));
  // One person's own readings a minute apart follow a mash that moves; they do not clash.
  const others = group.filter((r) => hand(r) !== hand(chosen) && disagree(r.data, chosen.data));
  if (others.length === 0) return [];
  const { vessel, what, moveId } = chosen.data;
  return [
    {
      what: 'reading',
      vessel,
      reading: what,
      ...(moveId !== undefined && { moveId }),
      chosen: chosen.event.id,
      others: others.map((r) => r.event.id),
      ...(choice !== undefined && { chosenBy: choice[1] }),
    },
  ];
}

/** Two readings that differ by no more than their errors explain are two good readings. */
function disagree(a: ReadingData, b: ReadingData): boolean {
  return Math.abs(a.value - b.value) > Math.hypot(readingSd(a), readingSd(b));
}

/** Whether the earlier of two readings is to be believed over the later. */
function better(a: SettledEvent<'reading'>, b: SettledEvent<'reading'>): boolean {
  if (a.data.places !== b.data.places) return a.data.places > b.data.places;
  return a.data.settled && !b.data.settled;
}

function tapConflict(taps: readonly SettledEvent<'move-begun' | 'move-done'>[]): Conflict[] {
  const [first, ...rest] = taps;
  if (first === undefined) return [];
  const others = rest.filter(
    (t) => hand(t) !== hand(first) && t.readAtMs - first.readAtMs > SAME_MOMENT_MS,
  );
  if (others.length === 0) return [];
  return [
    {
      what: first.type,
      moveId: first.data.moveId,
      chosen: first.event.id,
      others: others.map((t) => t.event.id),
    },
  ];
}
