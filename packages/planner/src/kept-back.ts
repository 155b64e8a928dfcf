/** The rest after a decoction, and the part of the pull that was kept back going in during it. */
import { type Move, SETTLE_MIN, type Thickness } from '@ladlework/brewhouse';
import { type BrewDay, type PotLoad, routeHands } from './day.ts';
import { restMoves } from './moves-of.ts';

/**
 * The rest after raise `index`, with what was kept back: it cools in the open pot beside the rest and
 * goes back at its end, so that the pot is free for the next pull. When the next pull wants a settled
 * mash it goes back earlier, because stirring it in undoes the settling.
 *
 * @param day the day
 * @param index raise, from 0
 * @param loads the pots of its pull; the last one keeps what is left
 * @returns moves in order of time; the length of the rest is unchanged, but a rest shorter than twice
 *   the settling keeps half its length before the return
 */
export function restWithKeptBack(day: BrewDay, index: number, loads: readonly PotLoad[]): Move[] {
  const rest = restMoves(day, index + 1)[0];
  const load = loads[loads.length - 1];
  if (rest?.kind !== 'rest' || !load) return rest ? [rest] : [];
  const next = day.document.mash.raises[index + 1];
  const settles = next?.by === 'decoction' && wantsSettled(next.thickness);
  const minutes = settles ? Math.max(rest.minutes - SETTLE_MIN, rest.minutes / 2) : rest.minutes;
  const moves: Move[] = [
    { ...rest, minutes },
    {
      id: `kept-cool-${index + 1}`,
      kind: 'wait',
      vessel: load.pot.id,
      minutes,
      lidOn: false,
      hands: [],
      note: 'What was kept back cools, lid off',
    },
    {
      id: `kept-${index + 1}`,
      kind: 'return',
      from: load.pot.id,
      to: day.restTun.id,
      route: day.pullRoute.id,
      hands: routeHands(day, day.pullRoute),
      note: 'Return what was kept back, cooled',
    },
  ];
  if (settles)
    moves.push({
      id: `settle-${index + 2}`,
      kind: 'rest',
      vessel: rest.vessel,
      minutes: SETTLE_MIN,
      unstirred: true,
      hands: [],
      note: 'Rest unstirred, so that the mash settles for the pull',
    });
  return moves;
}

/** Is this the part of a rest in which the mash is left unstirred for the next pull? */
export function isSettling(move: Move): boolean {
  return move.kind === 'rest' && move.unstirred === true;
}

/** A pull by the ladle as it comes is stirred up first; every other one is drawn from a settled mash. */
function wantsSettled(thickness: Thickness): boolean {
  return thickness !== 'as-it-comes';
}
