/** When the card asks for an iodine test, and what it was told. Pure. */
import type { BrewState, ReadingState } from '@ladlework/log';
import type { Plan } from '@ladlework/planner';
import type { Run, RunMove } from './run.ts';

/** The test is asked for this long before its rest is over [min]. */
const ASK_BEFORE_MIN = 5;
/** Nobody answered: this long after the rest the day has gone on [min]. */
const ASK_AFTER_MIN = 15;
/** A blue mash is tested again after this [min]. @source field.md section 3 (re-test each 5-10 min) */
const AGAIN_MIN = 5;

export interface IodineAsk {
  readonly vessel: string;
  /** Whether the test is wanted now. */
  readonly due: boolean;
  /** Chance of blue at the end of this rest, by the plan; unknown for a test made again. */
  readonly chance: number | undefined;
  /** The newest test of the vessel was blue, and nothing was carried since. */
  readonly blue: ReadingState | undefined;
  /** When a blue mash is tested again. */
  readonly againAtMs: number | undefined;
}

/**
 * The iodine test that is wanted now, or that was blue and is not cleared yet.
 *
 * @param run where the day stands
 * @param brew the folded brew
 * @param prompts when the plan tests; none when the mash kinetics did not run
 * @param nowMs the brewhouse's time
 */
export function iodineAsk(
  run: Run,
  brew: BrewState,
  prompts: Plan['iodine'],
  nowMs: number,
): IodineAsk | undefined {
  const blue = stillBlue(run, brew);
  if (blue !== undefined) {
    const againAtMs = blue.atMs + AGAIN_MIN * 60_000;
    const due = nowMs >= againAtMs;
    return { vessel: blue.vessel, due, chance: undefined, blue, againAtMs };
  }
  for (const { rest, positiveChance } of [...prompts].reverse()) {
    const move = run.moves.find((m) => m.move.id === `rest-${rest}`);
    const endMs = move && endOf(move);
    if (move === undefined || endMs === undefined) continue;
    const fromMs = endMs - ASK_BEFORE_MIN * 60_000;
    if (nowMs < fromMs || nowMs > endMs + ASK_AFTER_MIN * 60_000) continue;
    const { vessel } = move.move;
    const tested = tests(brew).some((r) => r.vessel === vessel && r.atMs >= fromMs);
    if (tested) return undefined;
    return { vessel, due: true, chance: positiveChance, blue: undefined, againAtMs: undefined };
  }
  return undefined;
}

const tests = (brew: BrewState): ReadingState[] =>
  brew.readings.filter((r) => r.what === 'iodine' && r.standing === 'holds');

const endOf = (rest: RunMove): number | undefined => rest.doneAtMs ?? rest.dueAtMs;

/** The newest test, when it showed starch and no pull or return has changed the mash since. */
function stillBlue(run: Run, brew: BrewState): ReadingState | undefined {
  const newest = tests(brew).reduce<ReadingState | undefined>(
    (best, r) => (best === undefined || r.atMs >= best.atMs ? r : best),
    undefined,
  );
  if (newest === undefined || newest.value <= 0.5) return undefined;
  const carried = run.moves.some(
    ({ move, begunAtMs }) =>
      (move.kind === 'pull' || move.kind === 'return') && (begunAtMs ?? 0) > newest.atMs,
  );
  return carried ? undefined : newest;
}
