/** The timetable of a planned day, asked of the engine. */
import type { BrewState } from '@ladlework/log';
import type { PlanDocument, Timetable } from '@ladlework/planner';
import { type Signal, useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import { engine } from '../../../engine/client.ts';
import { planOf } from '../../../engine/plans.ts';
import type { DayPlans } from '../../../engine/protocol.ts';
import { pairName } from '../../../shell/settings.ts';
import { inPair } from '../../../units/show.ts';

/**
 * Documents and plans of a day; nothing until every plan is there and can be done.
 *
 * @param brews of the day, in the order they are begun
 */
export function useDayOfBrews(brews: readonly BrewState[]): DayPlans | undefined {
  const documents = brews.map((b) => b.document as PlanDocument);
  const plans = documents.flatMap((document) => {
    const answer = planOf(document).value;
    return answer.state === 'here' && answer.plan.feasible ? [answer.plan] : [];
  });
  const complete = plans.length === documents.length;
  // The brews are folded anew at every tap; the day is the same until a plan is another one.
  const key = brews.map((b) => b.plans.at(-1)?.eventId).join(' ');
  return useMemo(() => (complete ? { documents, plans } : undefined), [key, complete]);
}

export interface WholeDayAnswer {
  readonly wishMin: Signal<number | undefined>;
  /** In the pair chosen; nothing until it is there. */
  readonly timetable: Timetable | undefined;
  readonly why: string | undefined;
}

/**
 * @param day brews and plans; nothing is asked while there are none, or one cannot be done
 */
export function useWholeDay(day: DayPlans | undefined): WholeDayAnswer {
  const wishMin = useSignal(day?.documents[0]?.day.wishFinishMin);
  const found = useSignal<Timetable | undefined>(undefined);
  const why = useSignal<string | undefined>(undefined);
  useEffect(() => {
    if (day === undefined) return;
    let wanted = true;
    void engine.timetable({ ...day, wishFinishMin: wishMin.value }).then((answer) => {
      if (!wanted) return;
      if (answer.ok) found.value = answer.value;
      why.value = answer.ok ? undefined : answer.error.message;
    });
    return () => {
      wanted = false;
    };
  }, [day, wishMin.value]);
  // Names of activities hold temperatures, so they follow the pair chosen.
  const timetable = useMemo(
    () => (found.value === undefined ? undefined : inWords(found.value)),
    [found.value, pairName.value],
  );
  return { wishMin, timetable, why: why.value };
}

function inWords(timetable: Timetable): Timetable {
  return {
    ...timetable,
    activities: timetable.activities.map((a) => ({ ...a, name: inPair(a.name) })),
    clashes: timetable.clashes.map((c) => ({ ...c, text: inPair(c.text) })),
    notes: timetable.notes.map(inPair),
  };
}
