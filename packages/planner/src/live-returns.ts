/** Which moves of a day belong to one pull and its return, and what the plan meant to give back. */
import { type MashEngine, type Move, simulate } from '@ladlework/brewhouse';
import { type BrewDay, dayOptions } from './day.ts';
import type { TransferMove } from './live-step.ts';
import { openingSituation } from './size.ts';

/** One pull with all its loads, up to the last transfer that is stopped at the target. */
export interface PullGroup {
  /** From 1. */
  readonly pull: number;
  readonly targetC: number;
  /** Index of the first and the last move that belongs to it. */
  readonly first: number;
  readonly last: number;
  /** Transfers that are stopped at the target, and the last of them. */
  readonly landing: ReadonlySet<string>;
  readonly final: TransferMove;
  /** Vessel the last load boils in. */
  readonly pot: string;
  /** What the plan meant to give back with them, on the likely kit [L]. */
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
  let pot: string | undefined;
  moves.forEach((move, index) => {
    if (move.kind === 'pull') first ??= index;
    if (move.kind === 'return' && first !== undefined) pot = move.from;
    if ((move.kind !== 'return' && move.kind !== 'pour') || move.stopAtC === undefined) return;
    const last = groups.at(-1);
    if (first !== undefined) {
      groups.push({
        pull: groups.length + 1,
        targetC: move.stopAtC,
        first,
        last: index,
        landing: new Set([move.id]),
        final: move,
        pot: pot ?? move.from,
      });
      first = undefined;
    } else if (last && last.targetC === move.stopAtC)
      // Pots side by side: each return is stopped at the same target.
      groups[groups.length - 1] = {
        ...last,
        last: index,
        landing: new Set([...last.landing, move.id]),
        final: move,
        pot: move.kind === 'return' ? move.from : last.pot,
      };
  });
  if (groups.length === 0) return [];
  const likely = simulate(day.kit, openingSituation(day), moves, {
    ...dayOptions(day),
    ...(mash ? { mash } : {}),
  });
  return groups.map((g) => {
    let needL = 0;
    for (const m of likely.moves) if (g.landing.has(m.id)) needL += m.transfer?.litres ?? 0;
    return { ...g, needL };
  });
}
