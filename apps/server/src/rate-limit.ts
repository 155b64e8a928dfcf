/** A bucket of permits per address, filled at a steady rate. */
export class RateLimit {
  readonly #perSecond: number;
  readonly #burst: number;
  readonly #now: () => number;
  readonly #buckets = new Map<string, { permits: number; atMs: number }>();

  /**
   * @param perSecond permits that come back in a second, above 0
   * @param burst permits a bucket holds when full, 1 or more
   * @param now clock [ms]
   */
  constructor(perSecond: number, burst: number, now: () => number) {
    this.#perSecond = perSecond;
    this.#burst = burst;
    this.#now = now;
  }

  /** Takes a permit; false when there is none. */
  take(address: string): boolean {
    const now = this.#now();
    const bucket = this.#buckets.get(address) ?? { permits: this.#burst, atMs: now };
    // A clock set back gives nothing and takes nothing.
    const passedS = Math.max(0, now - bucket.atMs) / 1000;
    const permits = Math.min(this.#burst, bucket.permits + passedS * this.#perSecond);
    const granted = permits >= 1;
    this.#buckets.set(address, { permits: granted ? permits - 1 : permits, atMs: now });
    if (this.#buckets.size > MOST_BUCKETS) this.#forgetFull(now);
    return granted;
  }

  #forgetFull(now: number): void {
    const fillMs = (this.#burst / this.#perSecond) * 1000;
    for (const [address, bucket] of this.#buckets) {
      if (now - bucket.atMs > fillMs) this.#buckets.delete(address);
    }
    // Many addresses at once are an attack; the oldest go, whatever they have left.
    for (const address of this.#buckets.keys()) {
      if (this.#buckets.size <= MOST_BUCKETS) break;
      this.#buckets.delete(address);
    }
  }
}

const MOST_BUCKETS = 4096;
