import type { BrewState } from '@ladlework/log';
import type { Plan, PlanDocument } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import { planOf } from '../engine/plans.ts';
import type { DayOutlook } from '../engine/protocol.ts';
import { type ScoreModel, scoreModel } from '../score/model.ts';
import { runningScore } from '../score/running.ts';
import { Score } from '../score/Score.tsx';
import { later, mashInDay, together, withWork } from '../score/whole-day.ts';
import { pairName } from '../shell/settings.ts';
import { say } from '../units/say.ts';
import { clockOf } from '../units/show.ts';
import type { Timing } from './timing.ts';

interface Props {
  readonly brew: BrewState;
  readonly plan: Plan;
  readonly document: PlanDocument;
  readonly outlook: DayOutlook | undefined;
  readonly outlookMin: number;
  readonly now: number;
  readonly timing: Timing;
}

/** What happened, what is likely, and the plan behind both; as tall as the screen leaves room for. */
export function DayScore({ brew, plan, document, outlook, outlookMin, now, timing }: Props) {
  const start = brew.startedAtMs ?? now;
  const { box, roomPx } = useRoom();
  const mash = useMemo(() => {
    if (outlook === undefined) {
      const moves = plan.moves.map((m) => m.move);
      return scoreModel(document.kit, moves, plan.trace, plan.curveBands, say, plan.mashBands);
    }
    const { history, ahead, mashBands } = outlook;
    const day = { kit: document.kit, plan, brew, history, ahead, mashBands, nowMin: outlookMin };
    return runningScore(day, say);
    // The brew is new at every tick; what it adds to the score comes with the outlook.
  }, [document, plan, outlook, outlookMin, pairName.value]);
  const model = useMemo(() => dayModel(mash, timing, brew, document), [mash, timing.timetable]);
  const startDate = new Date(start);
  return (
    <section class="dayscore" ref={box} aria-label="The day as a score">
      <Score
        model={model}
        startClockMin={startDate.getHours() * 60 + startDate.getMinutes()}
        nowMin={Math.round(((now - start) / 60_000) * 6) / 6}
        readings={brew.readings
          .filter((r) => r.what === 'temp' && r.standing === 'holds')
          .map((r) => ({ vessel: r.vessel, atMin: (r.atMs - start) / 60_000, tempC: r.value }))}
        label={`The day as a score, now ${clockOf(now)}`}
        {...(roomPx !== undefined && { roomPx })}
      />
    </section>
  );
}

/** The mash of this brew, the mashes of the others, and the work of the whole day. */
function dayModel(
  mash: ScoreModel,
  { timetable, brews, startMs }: Timing,
  brew: BrewState,
  document: PlanDocument,
): ScoreModel {
  if (timetable === undefined) return mash;
  // A later brew counts from its own start, the timetable from the first one's.
  const fromDayMin = ((brew.startedAtMs ?? startMs) - startMs) / 60_000;
  const others = brews.flatMap((other, k) => {
    const answer = planOf(other.document as PlanDocument).peek();
    if (other.brew === brew.brew || answer.state !== 'here') return [];
    return [later(mashInDay(document.kit, answer.plan, timetable, k + 1, say), -fromDayMin)];
  });
  return withWork(together([mash, ...others]), document.kit, timetable, say, fromDayMin);
}

/** A score shorter than this says nothing; it is then scrolled to [px]. */
const LEAST_PX = 230;

/** Height from the top of the box to the end of its scrolling part of the page. */
function useRoom() {
  const box = useRef<HTMLElement>(null);
  const roomPx = useSignal<number | undefined>(undefined);
  useLayoutEffect(() => {
    const main = box.current?.closest('main');
    if (main === undefined || main === null) return;
    const measure = () => {
      if (box.current === null) return;
      // The scrolling part is what offsets are counted from.
      const room = main.clientHeight - box.current.offsetTop - 8;
      roomPx.value = room < LEAST_PX ? undefined : room;
    };
    const watch = new ResizeObserver(measure);
    watch.observe(main);
    for (const child of main.children) if (child !== box.current) watch.observe(child);
    measure();
    return () => watch.disconnect();
  }, [roomPx]);
  return { box, roomPx: roomPx.value };
}
