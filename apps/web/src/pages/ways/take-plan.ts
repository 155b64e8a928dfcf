import { summaryOf } from '@ladlework/contract';
import type { PlanDocument } from '@ladlework/planner';
import { brewById, record } from '../../data/house.ts';
import { engine } from '../../engine/client.ts';
import { rememberPlan } from '../../engine/plans.ts';
import { goTo } from '../../shell/location.ts';
import { planBrew } from '../plan-brew.ts';

/**
 * Makes a plan that of the brew it was looked for. A brew that has begun keeps its own: there the
 * plan becomes a brew beside it.
 *
 * @param id of the brew, or `new`
 * @param reason what the record says of it, 1-500 characters
 * @throws Error with the engine's sentence when there is no plan
 */
export async function takePlan(id: string, found: PlanDocument, reason: string): Promise<void> {
  const brew = id === 'new' ? undefined : brewById(id);
  if (brew === undefined || brew.startedAtMs !== undefined) {
    await planBrew(found, { remark: reason });
    return;
  }
  const { prices: _prices, stock: _stock, ...document } = found;
  const answer = await engine.plan(document);
  if (!answer.ok) throw new Error(answer.error.message);
  rememberPlan(document, answer.value);
  const planSummary = summaryOf(answer.value);
  await record({
    stream: brew.stream,
    type: 'plan-changed',
    data: { document, planSummary, reason: reason.slice(0, 500) },
  });
  goTo({ at: 'plan', id });
}
