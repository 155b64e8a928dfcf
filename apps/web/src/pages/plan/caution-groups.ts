import type { Move } from '@ladlework/brewhouse';
import type { Caution, PlannedMove } from '@ladlework/planner';

/** One caution with every move it belongs to, in the order of the day. */
export interface CautionGroup {
  readonly code: Caution['code'];
  /** The engine's sentence at the worst of its moves. */
  readonly text: string;
  readonly moves: readonly { readonly move: Move; readonly severity?: number }[];
}

/**
 * The same caution at several moves is read once, with the worst figure; cautions that say
 * different things stay apart.
 *
 * @param cautions of a plan, in the order of its moves
 * @param planned the plan's moves; a caution of a move that is not among them keeps its text
 */
export function cautionGroups(
  cautions: readonly Caution[],
  planned: readonly PlannedMove[],
): CautionGroup[] {
  const groups = new Map<string, Caution[]>();
  for (const caution of cautions) {
    // Without a severity two texts cannot be ranked, so neither may hide the other.
    const key = caution.severity === undefined ? `${caution.code} ${caution.text}` : caution.code;
    groups.set(key, [...(groups.get(key) ?? []), caution]);
  }
  return [...groups.values()].map((same) => {
    const worst = same.reduce((a, b) => ((b.severity ?? 0) > (a.severity ?? 0) ? b : a));
    return {
      code: worst.code,
      text: worst.text,
      moves: same.flatMap(({ moveId, severity }) => {
        const move = planned.find((m) => m.move.id === moveId)?.move;
        return move === undefined
          ? []
          : [{ move, ...(severity === undefined ? {} : { severity }) }];
      }),
    };
  });
}
