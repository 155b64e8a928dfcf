import { summaryOf } from '@ladlework/contract';
import type { PlanDocument } from '@ladlework/planner';
import { freshId } from '../data/base.ts';
import { type EventFacts, record } from '../data/house.ts';
import { engine } from '../engine/client.ts';
import { rememberPlan } from '../engine/plans.ts';
import { goTo } from '../shell/location.ts';

/**
 * Plans a brew, writes it into the log as a new one and opens it.
 *
 * @param about remark: what tells it from the brew it was made from, kept as the brew's first note;
 *   dayOf: the brew whose day it shares
 * @throws Error with the engine's sentence when there is no plan
 */
export async function planBrew(
  asked: PlanDocument,
  { remark, dayOf }: { readonly remark?: string; readonly dayOf?: string } = {},
): Promise<void> {
  // Prices and what is in store belong to the house, not to one brew.
  const { prices: _prices, stock: _stock, ...document } = asked;
  const answer = await engine.plan(document);
  if (!answer.ok) throw new Error(answer.error.message);
  rememberPlan(document, answer.value);
  const id = freshId().slice(0, 12);
  const stream = `brew:${id}`;
  const planSummary = summaryOf(answer.value);
  const notes: EventFacts[] =
    remark === undefined ? [] : [{ stream, type: 'note', data: { text: remark } }];
  await record(
    {
      stream,
      type: 'brew-planned',
      data: { document, planSummary, ...(dayOf !== undefined && { dayOf }) },
    },
    ...notes,
  );
  goTo({ at: 'plan', id });
}
