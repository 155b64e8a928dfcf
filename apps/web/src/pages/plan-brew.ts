import { summaryOf } from '@ladlework/contract';
import type { PlanDocument } from '@ladlework/planner';
import { freshId } from '../data/base.ts';
import { record } from '../data/house.ts';
import { engine } from '../engine/client.ts';
import { rememberPlan } from '../engine/plans.ts';
import { goTo } from '../shell/location.ts';

/**
 * Plans a brew, writes it into the log as a new one and opens it.
 *
 * @throws Error with the engine's sentence when there is no plan
 */
export async function planBrew(document: PlanDocument): Promise<void> {
  const answer = await engine.plan(document);
  if (!answer.ok) throw new Error(answer.error.message);
  rememberPlan(document, answer.value);
  const id = freshId().slice(0, 12);
  await record({
    stream: `brew:${id}`,
    type: 'brew-planned',
    data: { document, planSummary: summaryOf(answer.value) },
  });
  goTo({ at: 'plan', id });
}
