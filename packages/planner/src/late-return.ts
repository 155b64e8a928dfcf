/** What it costs when a return comes late: the same likely day with each return held up. */
import { type GristEngine, type Move, NOMINAL, type Trace } from '@ladlework/brewhouse';
import { brewDay } from './day.ts';
import type { PlanDocument } from './document.ts';
import { mashEngines } from './grist.ts';
import { stateIn } from './moves-of.ts';
import { openingSituation, runMoves, sizeStrike } from './size.ts';
import { type SizedMash, sizeMash } from './stages.ts';
import { wortForecast } from './wort.ts';

export interface LateReturn {
  /** Rest the return was to reach, from 1. */
  readonly rest: number;
  readonly lateMin: number;
  /** Landing against the plan [K]. */
  readonly landingK: number;
  /** At the end of the mash, in points of what the malt brought: alpha, beta. */
  readonly alphaPoints: number;
  readonly betaPoints: number;
  /** Apparent limit of attenuation [points]; a difference, so the narrow band of ±0.5 applies. */
  readonly limitPoints: number;
  /** Minutes the mash ends later [min]. */
  readonly endMin: number;
}

/**
 * Cost of a late return, one raise at a time.
 * @param document the plan document
 * @param lateMin minutes the boiled part stands in its pot before it goes back, 1-120
 * @returns one entry per decoction; empty when the mash has none
 * @source difference of two simulations of the likely day
 */
export function lateReturns(document: PlanDocument, lateMin: number): LateReturn[] {
  const day = brewDay(document);
  const engine = mashEngines(document.beer)(NOMINAL);
  const sized = sizeMash(day, sizeStrike(day), engine);
  const play = (moves: readonly Move[]) =>
    runMoves(day, openingSituation(day), moves, NOMINAL, engine, false);
  const asPlanned = play(sized.moves);
  const wort = (trace: Trace) => outcome(engine, trace);
  return sized.raises
    .filter((r) => r.pull)
    .map((r) => {
      const id = lastReturn(sized, r.index);
      const late = play(heldUp(sized.moves, id, lateMin));
      const at = (trace: Trace) => trace.moves.find((m) => m.id === id)?.toC as number;
      return {
        rest: r.index + 2,
        lateMin,
        landingK: at(late) - at(asPlanned),
        alphaPoints: 100 * (wort(late).alphaLeft - wort(asPlanned).alphaLeft),
        betaPoints: 100 * (wort(late).betaLeft - wort(asPlanned).betaLeft),
        limitPoints: wort(late).limitApparentPct - wort(asPlanned).limitApparentPct,
        endMin: endOf(late) - endOf(asPlanned),
      };
    });

  function outcome(of: GristEngine, trace: Trace) {
    const all = wortForecast.sample(day, of, trace)[0];
    if (!all) throw new Error(`no mash in ${stateIn(trace.end, day.restTun.id).vessel}`);
    return all;
  }
}

/** The last return of a raise: the one that makes the landing. */
function lastReturn(sized: SizedMash, index: number): string {
  const returns = sized.raises[index]?.moves.filter((m) => m.kind === 'return') ?? [];
  return (returns.at(-1) as Move).id;
}

/** The moves with the pot of this return standing covered for a while before it. */
function heldUp(moves: readonly Move[], id: string, minutes: number): Move[] {
  return moves.flatMap((m): Move[] =>
    m.id === id && m.kind === 'return'
      ? [{ id: `late-${id}`, kind: 'wait', vessel: m.from, minutes, lidOn: true, hands: [] }, m]
      : [m],
  );
}

function endOf(trace: Trace): number {
  return Math.max(...trace.moves.map((m) => m.endMin));
}
