/** One person's part of the day. Pure. */
import { isPassive, type Run, type RunMove } from './run.ts';

export interface Part {
  /** What this person does now, or takes up next. */
  readonly focus: RunMove | undefined;
  /** The one after it. */
  readonly next: RunMove | undefined;
}

/**
 * The next action of one person: what the hands are in, else what needs them next.
 *
 * @param run where the day stands
 * @param hand id of the person
 */
export function partOf(run: Run, hand: string): Part {
  const mine = run.moves.filter((m) => m.state !== 'done' && m.move.hands.includes(hand));
  const busy =
    mine.find((m) => m.state === 'underway' && !isPassive(m.move)) ??
    mine.find((m) => m.state === 'underway');
  const open = mine.filter((m) => m.state === 'open');
  const focus = busy ?? open[0];
  return { focus, next: open.find((m) => m !== focus) };
}
