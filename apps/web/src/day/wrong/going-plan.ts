/** The plan as it goes since a way out of a miss changed it. Pure. */
import type { Move } from '@ladlework/brewhouse';
import { summaryMove } from '@ladlework/contract';
import type { BrewState, PlanSummary, SummaryMove } from '@ladlework/log';
import type { Plan, WayPlayed } from '@ladlework/planner';

/**
 * The plan with the moves the log says.
 *
 * @param plan of the brew's document
 * @param brew a folded brew
 * @returns the plan itself where nothing changed it
 */
export function planAsItGoes(
  plan: Plan,
  brew: Pick<BrewState, 'changedMoves' | 'planSummary'>,
): Plan {
  // Checked move by move where the event came in; the log knows only the outside of it.
  const moves = brew.changedMoves as readonly Move[] | undefined;
  const summary = brew.planSummary;
  if (moves === undefined || summary === undefined) return plan;
  const rows = new Map(summary.moves.map((m) => [m.id, m]));
  const planned = moves.flatMap((move) => {
    const row = rows.get(move.id);
    return row === undefined ? [] : [{ move, row }];
  });
  return {
    ...plan,
    feasible: true,
    moves: planned.map(({ move, row }) => {
      const { startMin, endMin, fromC, toC, volumeL } = row;
      return { move, startMin, endMin, fromC, toC, volumeL };
    }),
    returns: plan.returns.filter((r) =>
      summary.returns.some((s) => s.moveIds.return.join() === r.moveIds.return.join()),
    ),
    trace: {
      ...plan.trace,
      moves: planned.map(({ move, row }) => ({
        id: move.id,
        kind: move.kind,
        vessels: 'from' in move && 'to' in move ? [move.from, move.to as string] : [row.vessel],
        hands: move.hands,
        startMin: row.startMin.likely,
        endMin: row.endMin.likely,
        fromC: row.fromC.likely,
        toC: row.toC.likely,
        volumeL: row.volumeL,
        evaporatedKg: 0,
      })),
    },
  };
}

/**
 * What the log keeps of a plan that goes on another way.
 *
 * @param old the summary until now
 * @param way the way that was taken
 */
export function summaryWith(old: PlanSummary, way: WayPlayed): PlanSummary {
  const before = new Map(old.moves.map((m) => [m.id, m]));
  const ahead = new Map(way.ahead.map((m) => [m.move.id, m]));
  const ids = new Set(way.moves.map((m) => m.id));
  const moves = way.moves.flatMap((move): SummaryMove[] => {
    const planned = ahead.get(move.id);
    const was = before.get(move.id);
    if (planned === undefined) return was === undefined ? [] : [was];
    return [summaryMove({ ...planned, move })];
  });
  const mended = new Map(way.mended.map((m) => [m.pull, m]));
  return {
    ...old,
    moves,
    returns: old.returns
      .filter((r) => r.moveIds.return.every((id) => ids.has(id)))
      .map((r) => {
        const now = mended.get(r.pull);
        const landing = way.landings.find((l) => now?.moveIds.return.at(-1) === l.moveId);
        return {
          ...r,
          ...(now !== undefined && now.takeL > 0 && { takeL: now.takeL, moveIds: now.moveIds }),
          ...(landing !== undefined && { landingC: landing.tempC }),
        };
      }),
    mashEndMin: way.mashEndMin,
  };
}
