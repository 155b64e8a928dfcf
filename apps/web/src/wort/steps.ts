/** The work from the end of the mash to pitched wort, from the timetable and the log. Pure. */
import { type BrewState, workText } from '@ladlework/log';
import type { TimetableActivity } from '@ladlework/planner';
import { moveIdOf } from '../day/progress.ts';

export interface WortStep {
  /** As it is logged. */
  readonly id: string;
  readonly name: string;
  readonly state: 'open' | 'underway' | 'done';
  /** Of the day's timetable [min]; left out while there is none. */
  readonly startMin?: number;
  readonly endMin?: number;
  readonly hands: readonly string[];
}

/** Order of the work; what else the timetable has stands beside it. */
const CHAIN = [
  'to-lauter',
  'lauter-rest',
  'run-off',
  'heat-wort',
  'boil-wort',
  'stand',
  'knock-out',
  'pitch',
] as const;
/** Where the timetable cannot be had, the work goes on in this order. */
const WITHOUT_TIMETABLE = CHAIN.slice(1);

const place = (id: string): number =>
  CHAIN.findIndex((head) => id === head || id.startsWith(`${head}-`));

/**
 * Steps of a brew after its mash, in order.
 *
 * @param activities of this brew in the timetable; none while there is no timetable
 * @param brew its log
 */
export function wortSteps(
  activities: readonly TimetableActivity[],
  brew: Pick<BrewState, 'moves'>,
): WortStep[] {
  const stateOf = (id: string): WortStep['state'] => {
    const logged = brew.moves.find((m) => m.moveId === id);
    if (logged?.doneAtMs !== undefined) return 'done';
    return logged?.begunAtMs === undefined ? 'open' : 'underway';
  };
  const chain = activities.filter((a) => place(moveIdOf(a)) >= 0);
  if (chain.length === 0)
    return WITHOUT_TIMETABLE.map((id) => ({
      id,
      name: workText(id) ?? id,
      state: stateOf(id),
      hands: [],
    }));
  return chain
    .map((a) => ({
      id: moveIdOf(a),
      name: a.name,
      state: stateOf(moveIdOf(a)),
      startMin: a.startMin,
      endMin: a.endMin,
      hands: a.hands.filter((h) => h.kind === 'busy').map((h) => h.id),
    }))
    .sort((a, b) => place(a.id) - place(b.id) || a.startMin - b.startMin);
}

/** The step on top of the screen: the first under way, else the first to come; what was passed over is past. */
export function stepNow(steps: readonly WortStep[]): WortStep | undefined {
  const underway = steps.find((s) => s.state === 'underway');
  if (underway !== undefined) return underway;
  const last = steps.findLastIndex((s) => s.state === 'done');
  return steps.slice(last + 1).find((s) => s.state === 'open');
}

/** Nothing of the wort is left to do. */
export const wortIsPitched = (steps: readonly WortStep[]): boolean =>
  steps.at(-1)?.state === 'done' && stepNow(steps) === undefined;

/** Id a hop addition is logged under; the timetable names its additions the same. */
export const hopMoveId = (boilMin: number | 'stand'): string =>
  boilMin === 'stand' ? 'hops-stand' : `hops-${boilMin}`;
