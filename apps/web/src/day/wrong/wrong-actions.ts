/** What a tap on the sheet of misses writes into the log. Events of one tap share their time. */
import type { BrewState, MissData, MissState } from '@ladlework/log';
import type { Plan, WayOut } from '@ladlework/planner';
import { nowMs } from '../../data/clock.ts';
import { type EventFacts, record } from '../../data/house.ts';
import { summaryWith } from './going-plan.ts';
import { underwayMoves } from './told.ts';

/** Something went wrong. What stood on a burner that went out is no longer heated. */
export async function tellMiss(
  brew: BrewState,
  plan: Plan | undefined,
  data: MissData,
): Promise<void> {
  const readAtMs = nowMs();
  const { stream } = brew;
  const stopped =
    data.code === 'burner-out'
      ? underwayMoves(brew, plan).filter((m) => 'burner' in m && m.burner === data.thing)
      : [];
  await record(
    { stream, type: 'miss-told', data, readAtMs },
    ...stopped.map(
      ({ id }): EventFacts => ({ stream, type: 'move-done', data: { moveId: id }, readAtMs }),
    ),
  );
}

/** A better guess of the litres or minutes. */
export async function amendMiss(brew: BrewState, miss: MissState, amount: number): Promise<void> {
  const { code, text, vessel, litres, thing, moveId } = miss;
  await record({
    stream: brew.stream,
    type: 'corrected',
    corrects: miss.headId,
    data: {
      of: 'miss-told',
      data: {
        code,
        text,
        ...(vessel !== undefined && { vessel }),
        ...(thing !== undefined && { thing }),
        ...(moveId !== undefined && { moveId }),
        ...(litres === undefined ? { minutes: amount } : { litres: amount }),
      },
      reason: 'a better guess',
    },
  });
}

export async function putMissRight(brew: BrewState, miss: MissState): Promise<void> {
  await record({ stream: brew.stream, type: 'miss-over', data: { miss: miss.eventId } });
}

/** A way out was picked: what it breaks off is done, and the plan is the one it was played with. */
export async function takeWay(brew: BrewState, miss: MissData, way: WayOut): Promise<void> {
  const { played } = way;
  const { planSummary, stream } = brew;
  if (played === undefined || planSummary === undefined)
    throw new Error('that way has not been worked out');
  const readAtMs = nowMs();
  await record(
    ...played.ends.map(
      (moveId): EventFacts => ({ stream, type: 'move-done', data: { moveId }, readAtMs }),
    ),
    {
      stream,
      type: 'plan-changed',
      data: {
        document: documentForLog(played.document),
        planSummary: summaryWith(planSummary, played),
        reason: `${miss.text}. ${way.text}`.slice(0, 500),
        moves: played.moves,
      },
      readAtMs,
    },
  );
}

/** Prices and stock are the house's, not the brew's. */
function documentForLog({ kit, beer, mash, day }: NonNullable<WayOut['played']>['document']) {
  return { kit, beer, mash, day };
}
