import type { Trace } from '@ladlework/brewhouse';

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
