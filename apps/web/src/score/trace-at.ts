import type { VesselCurve } from '@ladlework/brewhouse';
import type { ScoreTrace } from './model.ts';

/** Temperature of a vessel at a minute of a trace; nothing when it stands empty or unknown then. */
export function traceAt(trace: ScoreTrace, vessel: string, minute: number): number | undefined {
  const curve = trace.curves.find((c) => c.vessel === vessel);
  return curve === undefined || curve.timeMin.length === 0 ? undefined : curveAt(curve, minute);
}

/** Temperature on a curve of at least one point, between points on a straight line. */
export function curveAt(curve: Pick<VesselCurve, 'timeMin' | 'tempC'>, minute: number): number {
  const { timeMin, tempC } = curve;
  let low = 0;
  let high = timeMin.length - 1;
  if (minute <= (timeMin[0] ?? 0)) return tempC[0] ?? 0;
  if (minute >= (timeMin[high] ?? 0)) return tempC[high] ?? 0;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if ((timeMin[mid] ?? 0) <= minute) low = mid;
    else high = mid;
  }
  const [t0, t1] = [timeMin[low] ?? 0, timeMin[high] ?? 0];
  const [c0, c1] = [tempC[low] ?? 0, tempC[high] ?? 0];
  return t1 > t0 ? c0 + ((c1 - c0) * (minute - t0)) / (t1 - t0) : c1;
}
