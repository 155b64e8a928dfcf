import type { MoveKind } from '@ladlework/brewhouse';
import { nameIn, VERB } from '@ladlework/brewhouse';
import type { BrewState, SummaryMove } from '@ladlework/log';
import type { PlanDocument } from '@ladlework/planner';
import { show } from '../units/show.ts';
import { runOf } from './run.ts';

/** A logged move in one line: "Pull 119 L, Pot". */
export function summaryText(move: SummaryMove, brew: BrewState): string {
  const document = brew.document as PlanDocument | undefined;
  const verb = VERB[move.kind as MoveKind] ?? move.kind;
  const vessel = document === undefined ? move.vessel : nameIn(document.kit, move.vessel);
  switch (move.kind) {
    case 'pull':
      return `${verb} ${show('volume', move.litres ?? move.volumeL)} into ${vessel}`;
    case 'return':
      return `${verb} into ${vessel}, to ${show('temperature', move.toC.likely, 0)}`;
    case 'pour':
      return `${verb} ${show('volume', move.litres ?? 0)} into ${vessel}`;
    case 'heat':
      return `${verb} ${vessel} to ${show('temperature', move.toC.likely, 0)}`;
    case 'fill':
      return `${verb} ${vessel}: ${show('volume', move.litres ?? move.volumeL)}`;
    case 'mash-in':
      return `${verb}, ${show('volume', move.litres ?? 0)} into ${vessel}`;
    case 'wait':
      return `${move.hands.length === 0 ? 'Let stand:' : verb} ${vessel}, ${show('duration', move.endMin.likely - move.startMin.likely)}`;
    case 'rest':
    case 'hold':
    case 'boil':
      return `${verb} ${vessel}, ${show('duration', move.endMin.likely - move.startMin.likely)}`;
    default:
      return `${verb} ${vessel}`;
  }
}

/** Where a running brew stands, for somebody who was called away. */
export function standingOf(
  brew: BrewState,
  nowMs: number,
): {
  readonly here: string;
  readonly overdueMin: number | undefined;
  readonly next: string | undefined;
} {
  const run = runOf(brew, nowMs);
  return {
    here:
      run.focus === undefined
        ? run.finished
          ? 'Every move is done'
          : 'Nothing is planned'
        : summaryText(run.focus.move, brew),
    overdueMin: run.overdueMin > 0 ? run.overdueMin : undefined,
    next: run.next === undefined ? undefined : summaryText(run.next.move, brew),
  };
}
