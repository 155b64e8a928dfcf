/** Where a running day stands: what is under way, what is due, what comes next. Pure. */
import {
  type BrewState,
  FOLLOWS_WITHIN_MIN,
  followsOn,
  inDayOrder,
  isCarrying,
  isPassive,
  type MoveState,
  type SummaryMove,
} from '@ladlework/log';

export { isCarrying, isPassive };

export interface RunMove {
  readonly move: SummaryMove;
  readonly state: 'open' | 'underway' | 'done';
  readonly begunAtMs: number | undefined;
  readonly doneAtMs: number | undefined;
  /** When it ends by its planned length, once begun [ms]. */
  readonly dueAtMs: number | undefined;
  readonly log: MoveState | undefined;
}

export interface Run {
  /** Plan order: by planned beginning. */
  readonly moves: readonly RunMove[];
  readonly underway: readonly RunMove[];
  /** The earliest open move of the plan. */
  readonly next: RunMove | undefined;
  /** The one that belongs on top of the screen. */
  readonly focus: RunMove | undefined;
  /** The focus is under way and past its time, or open and past its planned beginning [min]. */
  readonly overdueMin: number;
  readonly finished: boolean;
}

/**
 * @param brew a folded brew with a plan; without one there are no moves
 * @param nowMs the brewhouse's time
 * @param likelyEnds when heat-ups under way are likely to be over [ms], by move; a rest keeps its
 *   planned length, a burner does what it can
 */
export function runOf(
  brew: BrewState,
  nowMs: number,
  likelyEnds: ReadonlyMap<string, number> = new Map(),
): Run {
  const start = brew.startedAtMs ?? nowMs;
  const logged = new Map(brew.moves.map((m) => [m.moveId, m]));
  const moves = inDayOrder(brew.planSummary?.moves ?? []).map((move) =>
    runMove(move, logged.get(move.id), likelyEnds.get(move.id)),
  );
  const underway = moves.filter((m) => m.state === 'underway');
  const next = moves.find((m) => m.state === 'open');
  const focus = focusOf(underway, next, nowMs);
  const due =
    focus === undefined
      ? undefined
      : (focus.dueAtMs ?? start + focus.move.startMin.likely * 60_000);
  return {
    moves,
    underway,
    next: next === focus ? moves.find((m) => m.state === 'open' && m !== focus) : next,
    focus,
    overdueMin: due === undefined ? 0 : Math.max(0, (nowMs - due) / 60_000),
    finished: moves.length > 0 && moves.every((m) => m.state === 'done'),
  };
}

function runMove(
  move: SummaryMove,
  log: MoveState | undefined,
  likelyEndMs: number | undefined,
): RunMove {
  const begunAtMs = log?.begunAtMs;
  const doneAtMs = log?.doneAtMs;
  const lengthMin = move.endMin.likely - move.startMin.likely;
  return {
    move,
    state: doneAtMs !== undefined ? 'done' : begunAtMs !== undefined ? 'underway' : 'open',
    begunAtMs,
    doneAtMs,
    dueAtMs:
      begunAtMs === undefined
        ? undefined
        : move.kind === 'heat' && likelyEndMs !== undefined
          ? Math.max(begunAtMs, likelyEndMs)
          : begunAtMs + lengthMin * 60_000,
    log,
  };
}

/**
 * Hands before clocks: what somebody carries now, then what is past its time, then what can begin,
 * then what ends first.
 */
function focusOf(
  underway: readonly RunMove[],
  next: RunMove | undefined,
  nowMs: number,
): RunMove | undefined {
  const busy = underway.find((m) => !isPassive(m.move));
  if (busy !== undefined) return busy;
  const byDue = [...underway].sort((a, b) => (a.dueAtMs ?? 0) - (b.dueAtMs ?? 0));
  const first = byDue[0];
  if (first?.dueAtMs !== undefined && first.dueAtMs <= nowMs) return first;
  if (next !== undefined && isBeside(next, underway, nowMs)) return next;
  return first;
}

/**
 * Whether an open move is to be begun while what is under way goes on: planned beside all of it,
 * and its time has come, counted from when they really began. What follows one of them waits.
 */
function isBeside(next: RunMove, underway: readonly RunMove[], nowMs: number): boolean {
  const start = next.move.startMin.likely;
  return underway.every(({ move, begunAtMs }) => {
    const afterItMin = start - move.startMin.likely;
    return (
      start < move.endMin.likely - FOLLOWS_WITHIN_MIN &&
      (begunAtMs ?? nowMs) + afterItMin * 60_000 <= nowMs
    );
  });
}

/**
 * Moves that begin by themselves when a move is done: the passive ones planned to follow at once.
 * A rest begins when the mash is in; a boil when the pot has come to it.
 */
export function follows(run: Run, done: RunMove): RunMove[] {
  return run.moves.filter((m) => m.state === 'open' && followsOn(m.move, done.move));
}

/** Rests that stop mattering when a transfer begins on their vessel: done with it, quietly. */
export function restsEndedBy(run: Run, begun: RunMove): RunMove[] {
  return run.underway.filter(
    (m) => m.move.kind === 'rest' && m !== begun && isCarrying(begun.move),
  );
}

export interface Alarm {
  /** Names move and stage, so that one acknowledged stays acknowledged over a reload. */
  readonly key: string;
  readonly move: SummaryMove;
  readonly stage: 'soon' | 'now';
  readonly dueAtMs: number;
}

/** Minutes before its end at which a move is announced. [field.md section 5] */
const WARN_MIN = 2;

/**
 * Alarms that ring now: each passive move under way, shortly before its end and at it. A rest that
 * nothing follows ends without one.
 *
 * @param seen keys already acknowledged
 */
export function alarmsOf(run: Run, nowMs: number, seen: ReadonlySet<string>): Alarm[] {
  const alarms: Alarm[] = [];
  for (const m of run.underway) {
    if (!isPassive(m.move) || m.dueAtMs === undefined || m.begunAtMs === undefined) continue;
    if (m.move.kind === 'rest' && !somethingFollows(run, m)) continue;
    const stage =
      nowMs >= m.dueAtMs ? 'now' : nowMs >= m.dueAtMs - WARN_MIN * 60_000 ? 'soon' : undefined;
    if (stage === undefined) continue;
    // A move shorter than the warning would be announced as it begins.
    if (stage === 'soon' && m.dueAtMs - m.begunAtMs <= WARN_MIN * 60_000) continue;
    const key = `${m.move.id}.${m.begunAtMs}.${stage}`;
    if (!seen.has(key)) alarms.push({ key, move: m.move, stage, dueAtMs: m.dueAtMs });
  }
  return alarms.sort((a, b) => a.dueAtMs - b.dueAtMs);
}

function somethingFollows(run: Run, ended: RunMove): boolean {
  return run.moves.some(
    (m) =>
      m.state === 'open' &&
      Math.abs(m.move.startMin.likely - ended.move.endMin.likely) < FOLLOWS_WITHIN_MIN,
  );
}
