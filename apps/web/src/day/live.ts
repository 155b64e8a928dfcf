/** The forecast of the running day: asked after each tap and each half minute. */
import { entriesOf, mendsAhead } from '@ladlework/contract';
import type { BrewState } from '@ladlework/log';
import type { DayEntry, Plan, PlanDocument, Repair, StarchRescue } from '@ladlework/planner';
import { type Signal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { nowMs } from '../data/clock.ts';
import { engine } from '../engine/client.ts';
import type { DayAsk, DayHere, DayOutlook } from '../engine/protocol.ts';

const EVERY_MS = 30_000;

export interface Live {
  readonly here: DayHere | undefined;
  readonly outlook: DayOutlook | undefined;
  /** Minute of the day the outlook is of. */
  readonly outlookMin: number;
  /** Why there is no forecast, when the engine could not give one. */
  readonly why: string | undefined;
}

const NOTHING: Live = { here: undefined, outlook: undefined, outlookMin: 0, why: undefined };

/**
 * The forecast as a signal that moves.
 *
 * @param returning the return or pour under way, to be guided
 * @param probed what the probes of the kit have to say
 */
export function useLive(
  brew: BrewState,
  document: PlanDocument | undefined,
  plan: Plan | undefined,
  returning: string | undefined,
  now: number,
  probed: readonly DayEntry[],
): Signal<Live> {
  const live = useSignal<Live>(NOTHING);
  const said = JSON.stringify([brew.startedAtMs, entriesOf(brew), brew.mends.length, probed]);
  const beat = Math.floor(now / EVERY_MS);
  // What was said and the beat decide when to ask again; the brew itself is new at every tick.
  useEffect(() => {
    const ask = askOf(brew, document, plan, probed);
    if (ask === undefined) return;
    let current = true;
    const why = (error: { code: string; message: string }) => {
      if (current && error.code === 'broken') live.value = { ...live.value, why: error.message };
    };
    const run = async () => {
      const here = await engine.here({ ...ask, ...(returning !== undefined && { returning }) });
      if (!here.ok) return why(here.error);
      if (current) live.value = { ...live.value, here: here.value, why: undefined };
      const outlook = await engine.outlook({ ...ask, mends: mendsAhead(brew, nowMs()) });
      if (!outlook.ok) return why(outlook.error);
      if (current) live.value = { ...live.value, outlook: outlook.value, outlookMin: ask.nowMin };
    };
    void run();
    return () => {
      current = false;
    };
  }, [said, beat, plan, returning]);
  return live;
}

/** The day as the engine is told of it; nothing before it began or without a plan. */
export function askOf(
  brew: BrewState,
  document: PlanDocument | undefined,
  plan: Plan | undefined,
  probed: readonly DayEntry[],
): DayAsk | undefined {
  if (brew.startedAtMs === undefined || document === undefined || plan === undefined) return;
  return {
    key: `${brew.brew}.${brew.plans.at(-1)?.eventId}`,
    document,
    moves: plan.moves.map((m) => m.move),
    entries: [...entriesOf(brew), ...probed],
    nowMin: (nowMs() - brew.startedAtMs) / 60_000,
  };
}

/** Ways out of a miss from what stands there now. */
export async function askRepairs(
  brew: BrewState,
  document: PlanDocument,
  plan: Plan,
  targetC: number,
  probed: readonly DayEntry[],
): Promise<readonly Repair[]> {
  const ask = askOf(brew, document, plan, probed);
  if (ask === undefined) return [];
  const answer = await engine.repairs({ ...ask, targetC });
  if (answer.ok) return answer.value;
  throw new Error(answer.error.message);
}

/** What clears a vessel whose iodine test was blue. */
export async function askRescue(
  brew: BrewState,
  document: PlanDocument,
  plan: Plan,
  vessel: string,
  probed: readonly DayEntry[],
): Promise<StarchRescue | undefined> {
  const ask = askOf(brew, document, plan, probed);
  if (ask === undefined) return undefined;
  const answer = await engine.rescue({ ...ask, vessel });
  if (answer.ok) return answer.value;
  throw new Error(answer.error.message);
}
