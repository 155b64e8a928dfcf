/** Whether the mash landed where it was to land. Pure. */
import type { BrewState, ReadingState } from '@ladlework/log';

/** Off by more than this is offered a mend without being asked [K]. @source field.md section 3 */
const MISS_K = 1;
/** A reading this long after the landing is about something else [min]. */
const ABOUT_LANDING_MIN = 25;
/** Taken this shortly before the landing was tapped done, it is the landing all the same [min]. */
const TAPPED_LATE_MIN = 2;

/** Somewhere the mash was to land. */
export interface Landing {
  /** Return or mash-in that made it. */
  readonly moveId: string;
  readonly vessel: string;
  readonly targetC: number;
  readonly atMs: number;
  /** Newest temperature read there since. */
  readonly reading: ReadingState | undefined;
}

/**
 * The newest landing of a brew, while it can still be mended: until something is carried again.
 *
 * @param brew a folded brew that has begun
 * @param nowMs the brewhouse's time
 */
export function landingOf(brew: BrewState, nowMs: number): Landing | undefined {
  const summary = brew.planSummary;
  if (summary === undefined) return undefined;
  const targets = new Map<string, number>(
    summary.returns.flatMap((r) => {
      const last = r.moveIds.return.at(-1);
      return last === undefined ? [] : [[last, r.targetC] as const];
    }),
  );
  for (const m of summary.moves) if (m.kind === 'mash-in') targets.set(m.id, m.toC.likely);
  const landed = brew.moves
    .filter((m) => m.doneAtMs !== undefined && targets.has(m.moveId))
    .sort((a, b) => (b.doneAtMs ?? 0) - (a.doneAtMs ?? 0))[0];
  const planned = summary.moves.find((m) => m.id === landed?.moveId);
  const atMs = landed?.doneAtMs;
  if (landed === undefined || planned === undefined || atMs === undefined) return undefined;
  if (nowMs - atMs > ABOUT_LANDING_MIN * 60_000) return undefined;
  const carriedAgain = brew.moves.some((m) => {
    const kind = summary.moves.find((p) => p.id === m.moveId)?.kind;
    return kind === 'pull' && (m.begunAtMs ?? 0) > atMs;
  });
  if (carriedAgain) return undefined;
  const reading = brew.readings.findLast(
    (r) =>
      r.standing === 'holds' &&
      r.what === 'temp' &&
      r.vessel === planned.vessel &&
      r.atMs >= atMs - TAPPED_LATE_MIN * 60_000,
  );
  return {
    moveId: landed.moveId,
    vessel: planned.vessel,
    targetC: targets.get(landed.moveId) ?? planned.toC.likely,
    atMs,
    reading,
  };
}

/**
 * A landing whose reading is off, and that nobody has answered yet.
 *
 * @param doubted event id of a reading that is still asked about; nothing is mended on its word
 * @returns the landing minus the target [K], or nothing when it is near enough or already mended
 */
export function missOf(
  brew: BrewState,
  landing: Landing | undefined,
  doubted: string | undefined,
): number | undefined {
  const reading = landing?.reading;
  if (landing === undefined || reading === undefined) return undefined;
  if (reading.eventId === doubted || !reading.settled) return undefined;
  const offK = reading.value - landing.targetC;
  if (Math.abs(offK) <= MISS_K) return undefined;
  const answered = brew.mends.some((m) => m.moveId === landing.moveId && m.atMs >= reading.atMs);
  return answered ? undefined : offK;
}

/** The landing a reading of this vessel is about, for the record. */
export function landingRead(
  brew: BrewState,
  vessel: string,
  returning: string | undefined,
  nowMs: number,
): string | undefined {
  const underway = brew.planSummary?.moves.find((m) => m.id === returning);
  if (underway?.vessel === vessel) return underway.id;
  const landing = landingOf(brew, nowMs);
  return landing?.vessel === vessel ? landing.moveId : undefined;
}
