import type { PlanSummary, SummaryMove, SummaryWort } from '@ladlework/log';
import type { Plan, WortPlan } from '@ladlework/planner';

type PlannedMove = Plan['moves'][number];

/**
 * What the log keeps of a plan.
 *
 * @param plan as the planner gave it
 */
export function summaryOf(plan: Plan): PlanSummary {
  return {
    moves: plan.moves.map(summaryMove),
    returns: plan.returns.map((r) => ({
      pull: r.pull,
      moveIds: r.moveIds,
      restC: r.restC,
      targetC: r.targetC,
      takeL: r.takeL,
      portions: r.portions,
      tunBeforeC: r.tunBeforeC,
      arrivalC: r.arrivalC,
      landingC: r.guidedLandingC,
    })),
    strike: { litres: plan.strike.litres, tempC: plan.strike.tempC },
    mashEndMin: plan.mashEndMin,
    addedMin: plan.addedMin,
    ...(plan.wortPlan !== undefined && { wort: summaryWort(plan.wortPlan.stages) }),
  };
}

/** Stages that are read; what goes to the cooler is not. */
const summaryWort = (stages: WortPlan['stages']): SummaryWort[] =>
  stages.flatMap(({ stage, plato }) => (stage === 'knock-out' ? [] : [{ point: stage, plato }]));

/**
 * One planned or re-timed move as the log keeps it.
 *
 * @param planned the move with its bands [min after day start, °C, L]
 */
export function summaryMove(
  planned: Pick<PlannedMove, 'move' | 'startMin' | 'endMin' | 'fromC' | 'toC' | 'volumeL'>,
): SummaryMove {
  const { move } = planned;
  return {
    id: move.id,
    kind: move.kind,
    // The receiving vessel of a transfer is the one acted on.
    vessel: 'to' in move && 'from' in move ? String(move.to) : 'vessel' in move ? move.vessel : '',
    text: move.note ?? move.kind,
    hands: move.hands,
    startMin: planned.startMin,
    endMin: planned.endMin,
    fromC: planned.fromC,
    toC: planned.toC,
    volumeL: planned.volumeL,
    ...('litres' in move && move.litres !== undefined && { litres: move.litres }),
  };
}
