/** The wort of the running day: asked after each tap and each minute. */
import { wortEntriesOf } from '@ladlework/contract';
import type { BrewState } from '@ladlework/log';
import type { DayEntry, Plan, PlanDocument, WortDay } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { askOf } from '../day/live.ts';
import { engine } from '../engine/client.ts';

const EVERY_MS = 60_000;

export interface WortLive {
  readonly day: WortDay | undefined;
  /** As it stood before the last tap that changed it; left out before one. */
  readonly before: WortDay | undefined;
  /** Why nothing is foretold. */
  readonly why: string | undefined;
}

interface Kept extends WortLive {
  /** What had been entered when `day` was worked out. */
  readonly entered: string;
}

const NOTHING: Kept = { day: undefined, before: undefined, why: undefined, entered: '' };

/**
 * What is known of the wort, and what it was before the last tap.
 *
 * @param wanted false while the mash is all there is to do
 */
export function useWort(
  brew: BrewState,
  document: PlanDocument | undefined,
  plan: Plan | undefined,
  now: number,
  probed: readonly DayEntry[],
  wanted: boolean,
): WortLive {
  const live = useSignal<Kept>(NOTHING);
  const wort = wortEntriesOf(brew);
  const said = JSON.stringify([brew.startedAtMs, wort, brew.moves.length]);
  // Times shift by a hair when the clock is set; that is no entry.
  const entered = JSON.stringify([
    brew.wortReads.map((r) => [r.headId, r.standing]),
    brew.kettleChoices.map((c) => c.eventId),
    brew.moves.map((m) => [m.moveId, m.begun.length, m.done.length]),
  ]);
  const beat = Math.floor(now / EVERY_MS);
  // What was said and the beat decide when to ask again; the brew itself is new at every tick.
  useEffect(() => {
    const ask = wanted ? askOf(brew, document, plan, probed) : undefined;
    const planned = plan?.wortPlan?.mash;
    if (ask === undefined || planned === undefined) return;
    let current = true;
    void engine.wort({ ...ask, wort, planned }).then((answer) => {
      if (!current) return;
      if (!answer.ok) {
        if (answer.error.code === 'broken')
          live.value = { ...live.value, why: answer.error.message };
        return;
      }
      const last = live.value;
      const before = last.entered === entered || last.entered === '' ? last.before : last.day;
      live.value = { day: answer.value, before, why: undefined, entered };
    });
    return () => {
      current = false;
    };
  }, [said, beat, plan, wanted]);
  return live.value;
}
