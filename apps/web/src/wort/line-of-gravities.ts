/** The gravity there should be at a litre, by the plan. Pure. */
import type { WortPlan } from '@ladlework/planner';

interface Gravities {
  readonly kettlePlato: number;
  readonly tapPlato: number;
}

/**
 * Likely gravities where so much has been collected; between two points of the line, straight.
 *
 * @param course of the plan, by litres
 * @param litres collected, as the kettle is read
 * @returns nothing off the ends of the line
 */
export function lineAt(
  course: WortPlan['lauter']['course'],
  litres: number,
): Gravities | undefined {
  const after = course.findIndex((p) => p.collectedL >= litres);
  const high = course[after];
  if (high === undefined) return undefined;
  const low = course[after - 1] ?? high;
  const span = high.collectedL - low.collectedL;
  if (after === 0 && litres < high.collectedL) return undefined;
  const part = span > 0 ? (litres - low.collectedL) / span : 0;
  const between = (a: number, b: number) => a + part * (b - a);
  return {
    kettlePlato: between(low.kettlePlato.likely, high.kettlePlato.likely),
    tapPlato: between(low.tapPlato.likely, high.tapPlato.likely),
  };
}
