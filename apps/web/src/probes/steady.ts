/** Whether a probe stands still enough to be calibrated. Pure. */
import type { ProbeSample } from '@ladlework/log';

/** Within this much for this long, in three readings at least. [common practice, no source] */
const STEADY_K = 0.3;
const STEADY_MS = 30_000;

export type Steady =
  | { readonly ok: true; readonly shows: number }
  | { readonly ok: false; readonly why: string };

/**
 * What a probe shows when it stands still: the mean of its last half minute.
 *
 * @param samples as sent, in order of time [°C]
 * @param nowMs the brewhouse's time
 */
export function steadyAt(samples: readonly ProbeSample[], nowMs: number): Steady {
  const last = samples.filter((s) => s.atMs >= nowMs - STEADY_MS);
  if (last.length < 3) {
    return { ok: false, why: 'Wait until it has sent three times in half a minute.' };
  }
  const values = last.map((s) => s.value);
  const spread = Math.max(...values) - Math.min(...values);
  if (spread > STEADY_K) {
    return {
      ok: false,
      why: `It still moves: ${spread.toFixed(1)} K in half a minute; allowed: ${STEADY_K} K. Stir and wait.`,
    };
  }
  return { ok: true, shows: values.reduce((a, b) => a + b, 0) / values.length };
}
