/** The timetable of the running day: solved again around every tap, and each minute. */
import type { BrewState } from '@ladlework/log';
import {
  type DayForecast,
  dayFrom,
  type PlanDocument,
  type Progress,
  type Timetable,
  type TimetableActivity,
  type TimetableClash,
  type WortDay,
} from '@ladlework/planner';
import { type Signal, useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { nowMs } from '../data/clock.ts';
import { brewsOfDay } from '../data/day-brews.ts';
import { engine } from '../engine/client.ts';
import { planOf } from '../engine/plans.ts';
import type { DayPlans } from '../engine/protocol.ts';
import { afterKettle } from '../wort/after-kettle.ts';
import { aheadOf, type MovedLine, movedLines, progressOf } from './progress.ts';
import { planAsItGoes } from './wrong/going-plan.ts';

const EVERY_MS = 60_000;
/** Lines about what moved that are kept, the latest first. */
const KEPT_LINES = 6;

export interface Timing {
  readonly brews: readonly BrewState[];
  readonly startMs: number;
  readonly timetable: Timetable | undefined;
  readonly progress: readonly Progress[];
  /** What moved and why, the latest first. */
  readonly moved: readonly MovedLine[];
  /** Limits that what has happened already broke. */
  readonly letGo: readonly TimetableClash[];
  /** Why the rest of the day cannot be done as asked; the times are then the last that could. */
  readonly clashes: readonly TimetableClash[];
  readonly why: string | undefined;
}

/** Activities of one brew; what belongs to the whole day stands with the first that has not ended. */
export const activitiesOf = (timing: Timing, brew: BrewState): readonly TimetableActivity[] =>
  timing.timetable?.activities.filter((a) => brewOf(timing, a)?.brew === brew.brew) ?? [];

/** The brew whose log a tap goes into; the day's own work goes into the first that has not ended. */
export const brewOf = (
  { brews }: Pick<Timing, 'brews'>,
  { brew }: Pick<TimetableActivity, 'brew'>,
): BrewState | undefined =>
  brew > 0
    ? brews[brew - 1]
    : brews.find((b) => b.startedAtMs !== undefined && b.ended === undefined);

interface Found {
  readonly timetable: Timetable | undefined;
  readonly moved: readonly MovedLine[];
  readonly letGo: readonly TimetableClash[];
  readonly clashes: readonly TimetableClash[];
  readonly why: string | undefined;
}

const NOTHING: Found = { timetable: undefined, moved: [], letGo: [], clashes: [], why: undefined };

/**
 * The timing of a day, as a signal's value that moves.
 *
 * @param brew one of its brews, begun
 * @param now the brewhouse's time
 * @param forecast of the moves of this brew; nothing until it is there
 * @param boil as the running day has it, once it is known
 */
export function useTiming(
  brew: BrewState,
  now: number,
  forecast: DayForecast | undefined,
  boil: WortDay['boil'] | undefined,
): Timing {
  const brews = brewsOfDay(brew);
  const startMs = Math.min(...brews.map((b) => b.startedAtMs ?? Number.POSITIVE_INFINITY), now);
  const day = plansOf(brews, startMs, (b) => (b.brew === brew.brew ? boil : undefined));
  const progress = progressOf(brews, startMs);
  const ahead = aheadOf(brews, brew, forecast?.moves ?? [], startMs);
  const found: Signal<Found> = useSignal(NOTHING);
  // The timetable as of the last tap, and the lines of the taps before it.
  const anchor = useRef<{ said: string; timetable: Timetable; moved: readonly MovedLine[] }>(null);
  const said = JSON.stringify([
    progress,
    startMs,
    brews.map((b) => [b.plans.at(-1)?.eventId, b.kettleChoices.at(-1)?.eventId]),
    brew.kettleChoices.length > 0 && boil?.hops.map((h) => h.boilMin),
  ]);
  const beat = Math.floor(now / EVERY_MS);
  const ready = day !== undefined;
  // A forecast that moves by seconds is no news.
  const aheadSaid = JSON.stringify(ahead.map((m) => Math.round(m.endMin)));
  // What was tapped and the beat decide when to ask again; the brews are new at every tick.
  useEffect(() => {
    if (day === undefined) return;
    let current = true;
    const before = anchor.current;
    const nowMin = (nowMs() - startMs) / 60_000;
    void engine
      .replan({ ...day, before: before?.timetable, progress, nowMin, ahead })
      .then((answer) => {
        if (!current) return;
        if (!answer.ok) {
          if (answer.error.code === 'broken')
            found.value = { ...found.value, why: answer.error.message };
          return;
        }
        const { timetable, letGo, moved, before: planned } = answer.value;
        const fits = timetable.activities.length > 0;
        const lines = [...movedLines(moved), ...(before?.moved ?? [])].slice(0, KEPT_LINES);
        if (fits && before?.said !== said) anchor.current = { said, timetable, moved: lines };
        found.value = {
          timetable: fits ? timetable : (found.value.timetable ?? planned),
          moved: lines,
          letGo,
          clashes: timetable.clashes,
          why: undefined,
        };
      });
    return () => {
      current = false;
    };
  }, [said, beat, ready, aheadSaid]);
  return { brews, startMs, progress, ...found.value };
}

/** Documents and plans of the day from its real beginning; nothing until every plan is there. */
function plansOf(
  brews: readonly BrewState[],
  startMs: number,
  boilOf: (brew: BrewState) => WortDay['boil'] | undefined,
): DayPlans | undefined {
  const began = new Date(startMs);
  const startMin = began.getHours() * 60 + began.getMinutes();
  const documents = brews.map((b) => b.document as PlanDocument);
  const plans = documents.flatMap((document, k) => {
    const answer = planOf(document).value;
    if (answer.state !== 'here') return [];
    const plan = planAsItGoes(answer.plan, brews[k] as BrewState);
    return plan.feasible ? [plan] : [];
  });
  if (plans.length < documents.length) return undefined;
  const asItIs = brews.map((b, k) =>
    afterKettle(documents[k] as PlanDocument, b.kettleChoices.at(-1), boilOf(b)),
  );
  return { documents: asItIs.map((d) => dayFrom(d, startMin)), plans };
}
