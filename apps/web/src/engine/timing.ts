/** The timetable as the engine answers for it: planned, and solved again as the day goes. */
import {
  dayStretch,
  type PlanDocument,
  type Replan,
  replan,
  timetableOf,
} from '@ladlework/planner';
import type { DayPlans, EngineCalls } from './protocol.ts';

/** Longer than this the brewer does not wait for a proof; what was found by then is told as such. */
const PROOF_MS = 1500;
/** Draws behind the chance while the day runs; it is asked for at every tap. */
const LIVE_DRAWS = 60;

let stretch: { readonly key: string; readonly minutes: readonly number[] } | undefined;

/** How far rests may grow depends on the beers alone, and takes longer than the timetable itself. */
function stretchOf(documents: readonly PlanDocument[]): readonly number[] {
  const key = JSON.stringify(documents.map(({ kit, beer, mash }) => [kit, beer, mash]));
  if (stretch?.key !== key) stretch = { key, minutes: dayStretch(documents) };
  return stretch.minutes;
}

const optionsOf = ({ documents }: DayPlans) => ({
  restStretchMin: stretchOf(documents),
  budget: { ms: PROOF_MS, nowMs: () => performance.now() },
});

export function wholeDay(ask: EngineCalls['timetable']['ask']) {
  return timetableOf(ask.documents, ask.plans, {
    ...optionsOf(ask),
    ...(ask.wishFinishMin === undefined ? {} : { wishFinishMin: ask.wishFinishMin }),
  });
}

/** Solves the rest of the day around what was tapped. */
export function dayGoesOn(ask: EngineCalls['replan']['ask']): EngineCalls['replan']['answer'] {
  const { documents, plans, progress, nowMin, ahead } = ask;
  const options = optionsOf(ask);
  const before = ask.before ?? plannedDay(ask);
  const found: Replan = replan(
    documents,
    plans,
    { ...options, draws: LIVE_DRAWS },
    before,
    progress,
    nowMin,
    ahead,
  );
  return { ...found, before };
}

/** The day as it was planned; without the hour it was to end by, where that could never be kept. */
function plannedDay(ask: DayPlans) {
  const planned = timetableOf(ask.documents, ask.plans, { ...optionsOf(ask), draws: 0 });
  if (planned.activities.length > 0) return planned;
  const free = ask.documents.map((d) => {
    const { finishByMin: _limit, ...day } = d.day;
    return { ...d, day };
  });
  return timetableOf(free, ask.plans, { ...optionsOf(ask), draws: 0 });
}
