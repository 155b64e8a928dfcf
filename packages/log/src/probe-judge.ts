/**
 * Whether what a probe sends can be believed, from its numbers alone: silent, impossible, jumped,
 * flat. Whether it fits what the mash must be doing is asked by the planner.
 */
import { type UnitPair, unitPair } from '@ladlework/quantity';
import type { ProbeWhat } from './probe.ts';
import type { ProbeSample } from './probe-rows.ts';
import { checkReading } from './reading.ts';

/** What the judge knows of the place the probe hangs in. */
export interface ProbeContext {
  readonly what: ProbeWhat;
  /** Boiling point at the brewery [°C]. */
  readonly boilingPointC?: number;
  readonly brimL?: number;
  readonly pair?: UnitPair;
}

/** How a probe stands. `sinceMs`: since when it is so. */
export type ProbeState =
  | { readonly state: 'never' }
  | { readonly state: 'live'; readonly sinceMs: number }
  | { readonly state: 'silent'; readonly sinceMs: number; readonly rhythmMs: number }
  | { readonly state: 'impossible' | 'jumped' | 'flat'; readonly sinceMs: number };

/*
 * The limits below are common practice, no source: a dial of a sheathed probe takes 10 to 30 s,
 * radio devices send each second to each five minutes and lose one message in ten.
 */

/** Silent: nothing for so many of its own gaps, and for at least this long [ms]. */
const SILENT_GAPS = 4;
const SILENT_MS = 30_000;
/** Rhythm of a probe that has sent once [ms]. */
const UNKNOWN_RHYTHM_MS = 300_000;
/** Gaps its rhythm is the median of. */
const GAPS = 20;

/**
 * Jump: further from the last believed value than this, and than so much a minute allows [K]. A
 * litre in a 25 kW jacket's pot, or a ladle of boiling mash beside the sheath, stays below it.
 */
const JUMP_K = 8;
const JUMP_K_PER_MIN = 5;
/** After a jump the new level is believed when it has stood this long within this much. */
const NEW_LEVEL_MS = 120_000;
const NEW_LEVEL_K = 2;
/** A jump of a volume or a level is one of this share of the last value. */
const JUMP_SHARE = 0.5;

/** Flat: the very same number for so long, in at least so many readings. */
const FLAT_MS = 3_600_000;
const FLAT_READINGS = 30;
/** Two numbers nearer than this are the same number. */
const SAME = 1e-6;
/** Boiling stands still: this near to the boiling point flat is as it should be [K]. */
const BOILING_K = 1.5;

/**
 * How a probe stands at a time.
 *
 * @param samples calibrated, in order of time
 * @param nowMs the brewhouse's time
 */
export function judgeProbe(
  samples: readonly ProbeSample[],
  nowMs: number,
  context: ProbeContext,
): ProbeState {
  const last = samples.at(-1);
  if (last === undefined) return { state: 'never' };
  const rhythmMs = rhythmOf(samples);
  if (nowMs - last.atMs > Math.max(SILENT_MS, SILENT_GAPS * rhythmMs)) {
    return { state: 'silent', sinceMs: last.atMs, rhythmMs };
  }
  const verdicts = verdictsOf(samples, context);
  const state = verdicts.at(-1) ?? 'live';
  let from = verdicts.length - 1;
  while (from > 0 && verdicts[from - 1] === state) from -= 1;
  return { state, sinceMs: samples[from]?.atMs ?? last.atMs };
}

/** The samples that may be believed; for `samples` in order of time. */
export function trustedSamples(
  samples: readonly ProbeSample[],
  context: ProbeContext,
): ProbeSample[] {
  const verdicts = verdictsOf(samples, context);
  return samples.filter((_, n) => verdicts[n] === 'live');
}

/** Usual gap between two readings [ms]. */
function rhythmOf(samples: readonly ProbeSample[]): number {
  const recent = samples.slice(-GAPS - 1);
  const gaps = recent.slice(1).map((s, n) => s.atMs - (recent[n]?.atMs ?? s.atMs));
  if (gaps.length === 0) return UNKNOWN_RHYTHM_MS;
  return gaps.sort((a, b) => a - b)[Math.floor(gaps.length / 2)] as number;
}

type Verdict = 'live' | 'impossible' | 'jumped' | 'flat';

/** One verdict a sample, from what came before it. */
function verdictsOf(samples: readonly ProbeSample[], context: ProbeContext): Verdict[] {
  const pair = context.pair ?? unitPair('metric');
  /** Last value believed. */
  let level: ProbeSample | undefined;
  /** A new level that has not stood long enough yet. */
  let fresh: { sinceMs: number; low: number; high: number } | undefined;
  let flat: { value: number; sinceMs: number; readings: number } | undefined;
  return samples.map((sample): Verdict => {
    const { atMs, value } = sample;
    const reading = { vessel: 'probe', what: context.what, value, text: String(value) };
    if (!checkReading(reading, { ...context, pair }).ok) return 'impossible';

    flat =
      flat !== undefined && Math.abs(value - flat.value) < SAME
        ? { ...flat, readings: flat.readings + 1 }
        : { value, sinceMs: atMs, readings: 1 };

    if (level !== undefined && jumps(level, sample, context.what)) {
      const near = context.what === 'temp' ? NEW_LEVEL_K : 0.1 * Math.abs(value);
      const low = Math.min(fresh?.low ?? value, value);
      const high = Math.max(fresh?.high ?? value, value);
      fresh =
        fresh !== undefined && high - low <= near
          ? { ...fresh, low, high }
          : { sinceMs: atMs, low: value, high: value };
      if (atMs - fresh.sinceMs < NEW_LEVEL_MS) return 'jumped';
    }
    fresh = undefined;
    level = sample;

    const stands = atMs - flat.sinceMs >= FLAT_MS && flat.readings >= FLAT_READINGS;
    const boils = context.what === 'temp' && value > (context.boilingPointC ?? 100) - BOILING_K;
    return context.what === 'temp' && stands && !boils ? 'flat' : 'live';
  });
}

function jumps(from: ProbeSample, to: ProbeSample, what: ProbeWhat): boolean {
  const by = Math.abs(to.value - from.value);
  const minutes = (to.atMs - from.atMs) / 60_000;
  if (what !== 'temp') return by > JUMP_SHARE * Math.max(Math.abs(from.value), 1e-3) && minutes < 1;
  return by > Math.max(JUMP_K, JUMP_K_PER_MIN * minutes);
}
