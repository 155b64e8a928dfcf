/** The order in which a day is put before the brewer, and what begins without a tap. */
import type { SummaryMove } from './summary.ts';

/** Moves that go on by themselves once begun; hands only begin and end them. */
const PASSIVE: ReadonlySet<string> = new Set(['rest', 'heat', 'hold', 'boil', 'wait']);
/** Moves during which somebody carries hot content. */
const CARRYING: ReadonlySet<string> = new Set(['pull', 'return', 'pour', 'mash-in', 'preheat']);

export const isPassive = (move: Pick<SummaryMove, 'kind'>): boolean => PASSIVE.has(move.kind);
export const isCarrying = (move: Pick<SummaryMove, 'kind'>): boolean => CARRYING.has(move.kind);

/** What is planned to begin this soon after an end follows it at once [min]. */
export const FOLLOWS_WITHIN_MIN = 0.25;

/** Moves by their planned beginning; those of one minute in the order of the plan. */
export function inDayOrder(moves: readonly SummaryMove[]): SummaryMove[] {
  return moves
    .map((move, i) => ({ move, i }))
    .sort((a, b) => a.move.startMin.likely - b.move.startMin.likely || a.i - b.i)
    .map(({ move }) => move);
}

/** Does this move begin by itself when that one is done? A rest begins when the mash is in. */
export function followsOn(move: SummaryMove, done: SummaryMove): boolean {
  return (
    move !== done &&
    isPassive(move) &&
    Math.abs(move.startMin.likely - done.endMin.likely) < FOLLOWS_WITHIN_MIN
  );
}
