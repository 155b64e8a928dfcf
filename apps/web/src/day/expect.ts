/** What a thermometer is likely to show now, for presetting the pad. Pure. */
import type { Trace } from '@ladlework/brewhouse';
import type { BrewState } from '@ladlework/log';

/** Temperature of a vessel at a minute of a trace; nothing when it stands empty or unknown then. */
export function traceAt(trace: Trace, vessel: string, minute: number): number | undefined {
  const curve = trace.curves.find((c) => c.vessel === vessel);
  if (curve === undefined || curve.timeMin.length === 0) return undefined;
  const { timeMin, tempC } = curve;
  let low = 0;
  let high = timeMin.length - 1;
  if (minute <= (timeMin[0] ?? 0)) return tempC[0];
  if (minute >= (timeMin[high] ?? 0)) return tempC[high];
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if ((timeMin[mid] ?? 0) <= minute) low = mid;
    else high = mid;
  }
  const [t0, t1] = [timeMin[low] ?? 0, timeMin[high] ?? 0];
  const [c0, c1] = [tempC[low] ?? 0, tempC[high] ?? 0];
  return t1 > t0 ? c0 + ((c1 - c0) * (minute - t0)) / (t1 - t0) : c1;
}

/**
 * The plan's minute that corresponds to now: the planned beginning of the move last begun, plus
 * the time since it was begun.
 */
export function planMinute(brew: BrewState, nowMs: number): number {
  const start = brew.startedAtMs ?? nowMs;
  let best: { atMs: number; minute: number } | undefined;
  for (const log of brew.moves) {
    const planned = brew.planSummary?.moves.find((m) => m.id === log.moveId);
    if (planned === undefined) continue;
    const marks: [number | undefined, number][] = [
      [log.begunAtMs, planned.startMin.likely],
      [log.doneAtMs, planned.endMin.likely],
    ];
    for (const [atMs, minute] of marks) {
      if (atMs !== undefined && (best === undefined || atMs >= best.atMs)) best = { atMs, minute };
    }
  }
  return best === undefined ? (nowMs - start) / 60_000 : best.minute + (nowMs - best.atMs) / 60_000;
}
