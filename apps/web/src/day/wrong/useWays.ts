/** Ways out of a miss as they are worked out, one after the other, so that the first is there soon. */
import type { BrewState, MissState } from '@ladlework/log';
import type { DayEntry, Plan, PlanDocument, SafeTime, WayOut } from '@ladlework/planner';
import { inOrder } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { engine } from '../../engine/client.ts';
import { attempt } from '../../pages/trouble.tsx';
import { askOf } from '../live.ts';

export interface Ways {
  readonly safe: SafeTime | undefined;
  readonly outs: readonly WayOut[];
  /** How many are still being worked out. */
  readonly left: number;
}

const NONE: Ways = { safe: undefined, outs: [], left: 0 };

/**
 * @param miss the one the ways are of; nothing is asked without one
 */
export function useWays(
  brew: BrewState,
  document: PlanDocument | undefined,
  plan: Plan | undefined,
  miss: MissState | undefined,
  probed: readonly DayEntry[],
): Ways {
  const ways = useSignal<Ways>(NONE);
  const key = miss && JSON.stringify([miss.headId, brew.readings.length, brew.plans.length]);
  // The miss and what was read decide when to ask again; the brew itself is new at every tick.
  useEffect(() => {
    ways.value = NONE;
    const ask = askOf(brew, document, plan, probed);
    if (ask === undefined || miss === undefined) return;
    let current = true;
    const { code, vessel, litres, minutes, thing } = miss;
    const about = {
      code,
      ...(vessel !== undefined && { vessel }),
      ...(litres !== undefined && { litres }),
      ...(minutes !== undefined && { minutes }),
      ...(thing !== undefined && { thing }),
    };
    const planned = plan?.wortPlan?.mash;
    const whole = { ...ask, miss: about, ...(planned !== undefined && { planned }) };
    void attempt('work out what can be done', async () => {
      const choice = await engine.waysOut(whole);
      if (!current) return;
      if (!choice.ok) throw new Error(choice.error.message);
      const { safe, codes } = choice.value;
      ways.value = { safe, outs: [], left: codes.length };
      for (const [n, way] of codes.entries()) {
        const out = await engine.wayOut({ ...whole, way });
        if (!current) return;
        if (!out.ok) throw new Error(out.error.message);
        const outs = inOrder([...ways.value.outs, out.value]);
        ways.value = { safe, outs, left: codes.length - n - 1 };
      }
    });
    return () => {
      current = false;
    };
  }, [key, plan]);
  return ways.value;
}
