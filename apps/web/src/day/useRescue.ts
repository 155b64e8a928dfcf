/** What a blue iodine test calls for, asked once a test. */
import type { BrewState, ReadingState } from '@ladlework/log';
import type { DayEntry, Plan, PlanDocument, StarchRescue } from '@ladlework/planner';
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { attempt } from '../pages/trouble.tsx';
import { askRescue } from './live.ts';

/** `found` is left empty when the engine knows no mash there. */
export interface RescueAnswer {
  readonly found: StarchRescue | undefined;
}

/**
 * @param blue the test that showed starch; nothing is asked without one
 * @param probed what the probes of the kit have to say
 * @returns nothing while it is worked out
 */
export function useRescue(
  brew: BrewState,
  document: PlanDocument | undefined,
  plan: Plan | undefined,
  blue: ReadingState | undefined,
  probed: readonly DayEntry[],
): RescueAnswer | undefined {
  const rescue = useSignal<RescueAnswer | undefined>(undefined);
  // The test decides when to ask again; the brew itself is new at every tick.
  useEffect(() => {
    rescue.value = undefined;
    if (blue === undefined || document === undefined || plan === undefined) return;
    let current = true;
    void attempt('work out what clears the starch', async () => {
      const found = await askRescue(brew, document, plan, blue.vessel, probed);
      if (current) rescue.value = { found };
    });
    return () => {
      current = false;
    };
  }, [blue?.eventId, plan]);
  return rescue.value;
}
