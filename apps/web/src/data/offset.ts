/** One question to the server's clock. All times epoch ms. */
export interface ClockSample {
  readonly askedMs: number;
  readonly answeredMs: number;
  readonly serverMs: number;
}

/**
 * Offset of the server's clock from this device's, from the quickest answer: half its round trip
 * is the most the offset can be wrong.
 *
 * @returns offset [ms] to add to this device's clock, and its greatest error [ms]; nothing when
 *   no sample was taken
 */
export function clockOffset(
  samples: readonly ClockSample[],
): { readonly offsetMs: number; readonly errorMs: number } | undefined {
  let best: { offsetMs: number; errorMs: number } | undefined;
  for (const { askedMs, answeredMs, serverMs } of samples) {
    const errorMs = (answeredMs - askedMs) / 2;
    if (errorMs < 0) continue;
    if (best === undefined || errorMs < best.errorMs) {
      best = { offsetMs: serverMs - (askedMs + answeredMs) / 2, errorMs };
    }
  }
  return best;
}
