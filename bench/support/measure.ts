import { measure } from 'mitata';

/** One comparison: how long ours takes against a baseline measured in the same process. */
export interface Ratio {
  /** What was timed, as "forecast, 400 draws". */
  readonly what: string;
  /** Median of one run of ours [ms]. */
  readonly ms: number;
  /** What it is held against. */
  readonly baseline: string;
  /** Median of one run of the baseline [ms]. */
  readonly baselineMs: number;
  /** What a reader must know to read the ratio, as the error both reach. */
  readonly note?: string;
}

/** What every file of `bench/` exports as `bench`. */
export interface Bench {
  /** What the ratios say, in one sentence. */
  readonly about: string;
  readonly run: () => Promise<readonly Ratio[]>;
}

/** A thing to time; a promise is waited for. */
export interface Timed {
  readonly what: string;
  readonly run: () => unknown;
}

const ROUNDS = 3;

/**
 * Times two things in turn, several rounds, and keeps the best median of each: a machine that is
 * busy with something else for a while then slows both or neither.
 *
 * @param minCpuMs  least time spent on each in a round [ms]
 */
export async function compare(
  ours: Timed,
  baseline: Timed,
  { minCpuMs = 600, note }: { minCpuMs?: number; note?: string } = {},
): Promise<Ratio> {
  const options = { min_cpu_time: minCpuMs * 1e6, min_samples: 5 };
  let ms = Number.POSITIVE_INFINITY;
  let baselineMs = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round += 1) {
    ms = Math.min(ms, (await measure(() => ours.run(), options)).p50 / 1e6);
    baselineMs = Math.min(baselineMs, (await measure(() => baseline.run(), options)).p50 / 1e6);
  }
  const ratio = { what: ours.what, ms, baseline: baseline.what, baselineMs };
  return note === undefined ? ratio : { ...ratio, note };
}
