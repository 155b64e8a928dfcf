/** A probe: a thermometer or level gauge that sends by itself, and what its numbers mean. */
import type { Kind } from '@ladlework/quantity';
import type { LogEvent, ReadingWhat } from './event.ts';
import { type Shelved, shelve } from './shelf.ts';

/** What a probe can measure. */
export type ProbeWhat = Extract<ReadingWhat, 'temp' | 'volume' | 'level'>;

/** Kind of quantity a probe's numbers are. */
export const PROBE_KIND: Readonly<Record<ProbeWhat, Kind>> = {
  temp: 'temperature',
  volume: 'volume',
  level: 'length',
};

/** One point of a calibration, in the house unit of what is measured. */
export interface CalibrationPoint {
  /** What the probe sent. */
  readonly shows: number;
  /** What was so. */
  readonly is: number;
  /** How that was known. */
  readonly by: 'ice' | 'boiling' | 'known';
}

export interface Probe {
  readonly id: string;
  readonly name: string;
  /** Kit and vessel it hangs in. */
  readonly kit: string;
  readonly vessel: string;
  readonly what: ProbeWhat;
  /** Unit of a number sent without one: one that `quantity` knows for what is measured. */
  readonly unit: string;
  /**
   * How far off it may be over a whole day after its calibration, one standard error: K, for
   * volume and level a share. Not averaged away by reading often.
   */
  readonly sd: number;
  /** None, one (a shift) or two (a straight line). */
  readonly points: readonly CalibrationPoint[];
  /** Added after the points [house unit]. */
  readonly offset: number;
  /** MQTT topic it is heard on at the house's own broker, beside its usual one. */
  readonly topic?: string;
  /** Counts its tokens: a new one makes the old worthless. */
  readonly token: number;
}

/** A probe with everything it was saved as. */
export interface ShelvedProbe extends Omit<Shelved, 'item'> {
  readonly item: Probe;
  /** In order of time; the first one also holds for what was sent before it. */
  readonly saves: readonly { readonly fromMs: number; readonly probe: Probe }[];
}

/** Every probe ever saved, by name. */
export function foldProbes(log: readonly LogEvent[]): ShelvedProbe[] {
  return shelve(log, 'probe', 'probe-saved', (saves) => {
    const probes = saves.map((s) => ({ fromMs: s.readAtMs, probe: s.data.probe }));
    const newest = probes.at(-1);
    return newest === undefined ? undefined : { item: newest.probe, saves: probes };
  });
}

/**
 * What a probe's number means by its calibration.
 *
 * @param probe with at most two points, of different `shows`
 * @param shows as sent [house unit of what is measured]
 * @returns in the same unit
 * @example calibrated({ points: [{ shows: 0.4, is: 0, by: 'ice' }], offset: 0 }, 62.4) // 62
 */
export function calibrated(probe: Pick<Probe, 'points' | 'offset'>, shows: number): number {
  const [first, second] = probe.points;
  if (first === undefined) return shows + probe.offset;
  const slope = second === undefined ? 1 : (second.is - first.is) / (second.shows - first.shows);
  return first.is + slope * (shows - first.shows) + probe.offset;
}

/**
 * The probe as it was saved at a time: what a calibration of today says does not change what was
 * read last week.
 */
export function probeAt(shelved: Pick<ShelvedProbe, 'item' | 'saves'>, atMs: number): Probe {
  return (
    shelved.saves.findLast((s) => s.fromMs <= atMs)?.probe ??
    shelved.saves[0]?.probe ??
    shelved.item
  );
}
