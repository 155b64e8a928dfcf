/** How a return is portioned out, read off the simulated likely day. */
import type { Kit } from '@ladlework/brewhouse';
import type { Mash, Plan, PlannedReturn } from '@ladlework/planner';

/** Most of the need that goes back before the first reading. @source common practice, no source: first 70-80 % */
const FIRST_SHARE = 0.8;
/** The last steps are given by this much in the tun [K]. */
const STEP_K = 0.5;

export interface ReturnOrder {
  /** Portions before the first reading, and the litres they are. */
  readonly first: number;
  readonly firstL: number;
  /** Tun after them on the likely day [°C]; undefined when the return stops sooner. */
  readonly firstC: number | undefined;
  /** Litres that move the tun by half a kelvin near the landing; undefined for a return of one portion. */
  readonly stepL: number | undefined;
}

/**
 * The order of one return: most of it, a reading, then step by step.
 *
 * @param ret the planned return
 * @param portionL litres of one portion on the return's route [L], above 0
 * @param plan the plan, for the tun after each portion of the likely day
 */
export function returnOrder(ret: PlannedReturn, portionL: number, plan: Plan): ReturnOrder {
  const first = Math.max(1, Math.floor((FIRST_SHARE * ret.pullL.likely) / portionL));
  const steps = ret.moveIds.return.flatMap(
    (id) => plan.trace.moves.find((m) => m.id === id)?.transfer?.afterPortionC ?? [],
  );
  // The last portion may be a part of one; the pair before it is whole.
  const at = Math.min(steps.length - 2, first);
  const before = steps[at - 1];
  const after = steps[at];
  const perPortionK = before === undefined || after === undefined ? 0 : after - before;
  return {
    first,
    firstL: first * portionL,
    firstC: steps[first - 1],
    stepL: perPortionK > 0 ? (STEP_K / perPortionK) * portionL : undefined,
  };
}

/** The route a pull and its return take. */
export function pullRoute(kit: Kit, mash: Mash) {
  return kit.routes.find((r) => r.id === mash.pullRoute) ?? kit.routes[0];
}
