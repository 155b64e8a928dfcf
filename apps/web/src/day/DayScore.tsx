import type { BrewState } from '@ladlework/log';
import type { Plan, PlanDocument } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import type { DayOutlook } from '../engine/protocol.ts';
import { scoreModel } from '../score/model.ts';
import { runningScore } from '../score/running.ts';
import { Score } from '../score/Score.tsx';
import { pairName } from '../shell/settings.ts';
import { say } from '../units/say.ts';
import { clockOf } from '../units/show.ts';

interface Props {
  readonly brew: BrewState;
  readonly plan: Plan;
  readonly document: PlanDocument;
  readonly outlook: DayOutlook | undefined;
  readonly outlookMin: number;
  readonly now: number;
}

/** What happened, what is likely, and the plan behind both; as tall as the screen leaves room for. */
export function DayScore({ brew, plan, document, outlook, outlookMin, now }: Props) {
  const start = brew.startedAtMs ?? now;
  const { box, roomPx } = useRoom();
  const model = useMemo(() => {
    if (outlook === undefined) {
      const moves = plan.moves.map((m) => m.move);
      return scoreModel(document.kit, moves, plan.trace, plan.curveBands, say, plan.mashBands);
    }
    const { history, ahead, mashBands } = outlook;
    const day = { kit: document.kit, plan, brew, history, ahead, mashBands, nowMin: outlookMin };
    return runningScore(day, say);
    // The brew is new at every tick; what it adds to the score comes with the outlook.
  }, [document, plan, outlook, outlookMin, pairName.value]);
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
