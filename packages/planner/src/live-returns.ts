/** Which moves of a day belong to one pull and its return, and what the plan meant to give back. */
import { type MashEngine, type Move, simulate } from '@ladlework/brewhouse';
import { type BrewDay, dayOptions } from './day.ts';
import type { TransferMove } from './live-step.ts';
import { openingSituation } from './size.ts';

/** One pull with all its loads, up to the transfer that is stopped at the target. */
export interface PullGroup {
  /** From 1. */
  readonly pull: number;
  readonly targetC: number;
  /** Index of the first and the last move that belongs to it. */
  readonly first: number;
  readonly last: number;
  /** The transfer that makes the landing. */
  readonly final: TransferMove;
  /** What of it the plan meant to give back, on the likely kit [L]. */
  readonly needL: number;
}

/**
 * The pulls of a day.
 * @param day the day
 * @param moves its moves in order
 * @param mash kinetics of the likely draw, as the plan was sized with
 */
export function pullGroups(
  day: BrewDay,
  moves: readonly Move[],
  mash: MashEngine | undefined,
): PullGroup[] {
  const groups: Omit<PullGroup, 'needL'>[] = [];
  let first: number | undefined;
  moves.forEach((move, index) => {
    if (move.kind === 'pull') first ??= index;
    if (first === undefined || (move.kind !== 'return' && move.kind !== 'pour')) return;
    if (move.stopAtC === undefined) return;
    groups.push({
      pull: groups.length + 1,
      targetC: move.stopAtC,
      first,
      last: index,
      final: move,
    });
    first = undefined;
  });
  if (groups.length === 0) return [];
  const likely = simulate(day.kit, openingSituation(day), moves, {
    ...dayOptions(day),
    ...(mash ? { mash } : {}),
  });
  return groups.map((g) => ({
    ...g,
    needL: likely.moves.find((m) => m.id === g.final.id)?.transfer?.litres ?? 0,
  }));
}
