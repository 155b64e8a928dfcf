/** What the live planner is told of probes. */
import { type BrewState, type ReadingWhat, thinned, trustedSamples } from '@ladlework/log';
import type { DayEntry, PlanDocument } from '@ladlework/planner';
import type { ProbeSeries } from './probe-schema.ts';

/**
 * Error of one thinned reading beside what the probe is off all day [K, share]: the content is not
 * of one temperature, and the last digit is not known.
 *
 * @source common practice, no source: as three places that were stirred and read
 */
const SCATTER_K = 0.3;
const SCATTER_SHARE = 0.03;

/** Error of one reading of a probe beside what it is off all day, in the unit of `what`. */
export function probeScatter(what: ReadingWhat, value: number): number {
  return what === 'temp' ? SCATTER_K : SCATTER_SHARE * Math.max(1, Math.abs(value));
}

/** Id of the entry that a probe's reading makes. */
export function probeEntryId(probe: string, atMs: number): string {
  return `probe.${probe}.${atMs}`;
}

/**
 * Readings of the probes of a brew's kit, as the live planner takes them: what can be believed of
 * the numbers alone, the last of each full five minutes.
 *
 * @param state a folded brew that has begun
 * @param series probes of any kit with their calibrated samples
 * @param boilingPointC at the brewery [°C]
 * @param nowMs the five minutes it falls into are left out [ms since 1970]
 * @returns unsorted; none before the brew began or after it ended
 */
export function probeEntries(
  state: BrewState,
  series: readonly ProbeSeries[],
  boilingPointC: number,
  nowMs: number,
): DayEntry[] {
  const document = state.document as PlanDocument | undefined;
  const start = state.startedAtMs;
  if (start === undefined || document === undefined) return [];
  const untilMs = Math.min(nowMs, state.ended?.atMs ?? nowMs);
  return series.flatMap(({ probe, samples }): DayEntry[] => {
    const vessel = document.kit.vessels.find((v) => v.id === probe.vessel);
    if (probe.kit !== document.kit.id || vessel === undefined || probe.what === 'level') return [];
    const { what } = probe;
    const within = samples.filter((s) => s.atMs >= start && s.atMs <= untilMs);
    const trusted = trustedSamples(within, { what, boilingPointC, brimL: vessel.brimL });
    return thinned(trusted, untilMs).map((s) => ({
      kind: 'reading',
      id: probeEntryId(probe.id, s.atMs),
      reading: {
        vessel: probe.vessel,
        what,
        value: s.value,
        atMin: (s.atMs - start) / 60_000,
        sd: probeScatter(what, s.value),
        probe: { id: probe.id, sd: probe.sd },
      },
    }));
  });
}
