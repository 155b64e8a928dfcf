import type { BrewState } from '@ladlework/log';

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
