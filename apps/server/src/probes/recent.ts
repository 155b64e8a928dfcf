/** The last hour of one probe, in order of time, bounded in memory. */
import type { ProbeSample } from '@ladlework/log';

const RECENT_MS = 3_600_000;
/** One a second for an hour: 58 kB a probe. */
const MOST = 3600;

export class Recent {
  #samples: ProbeSample[] = [];

  get newest(): ProbeSample | undefined {
    return this.#samples.at(-1);
  }

  /** @param nowMs what is older than an hour before it is forgotten */
  add(sample: ProbeSample, nowMs: number): void {
    const samples = this.#samples;
    let at = samples.length;
    // Nearly always it is the newest; a late batch finds its place from the end.
    while (at > 0 && (samples[at - 1]?.atMs ?? 0) > sample.atMs) at -= 1;
    if (at === samples.length) samples.push(sample);
    else samples.splice(at, 0, sample);
    if (
      samples.length > MOST + MOST / 10 ||
      (samples[0]?.atMs ?? nowMs) < nowMs - 1.1 * RECENT_MS
    ) {
      this.#samples = samples.filter((s) => s.atMs >= nowMs - RECENT_MS).slice(-MOST);
    }
  }

  since(fromMs: number): ProbeSample[] {
    return this.#samples.filter((s) => s.atMs >= fromMs);
  }
}
