/** What a mash comes to at the end of the boil and in the tank, for weighing one way against another. */
import { wortChain } from '@ladlework/brewhouse';
import type { PlanDocument } from '../document.ts';
import { chainInput, drawsOf, kettleWish } from './chain-of.ts';
import { progressOf, withFlowDoubt } from './changes.ts';
import type { CastOut } from './day-types.ts';
import { wortLog } from './log.ts';
import { attenuationOf } from './plan-of.ts';
import type { MashOutcome, WortEntry } from './plan-types.ts';
import { wortSetup } from './setup.ts';

/**
 * A mash carried to cast-out and tank.
 * @param ask document; outcome of the mash (`plan.wortPlan.mash`, or `mashAhead` of a running day, with
 *   a repair in it or not); what was read of the wort; draws 1-1000, default 60: enough to weigh ways
 *   against each other, the same seed gives the same doubts to each
 * @returns volume, strength, extract, bitterness, colour, attenuation and finish, each with its band
 * @throws UnknownName, NoKettle, OutOfRange as `wortPlan`
 * @source wortChain
 */
export function castOutOf(ask: {
  readonly document: PlanDocument;
  readonly mash: MashOutcome;
  readonly entries?: readonly WortEntry[];
  readonly nowMin?: number;
  readonly draws?: number;
  readonly seed?: number;
}): CastOut {
  const { document, mash } = ask;
  const setup = wortSetup(document);
  const wish = kettleWish(setup, mash.likely, mash.tempC);
  const draws = drawsOf(setup, mash, ask.draws ?? 60, ask.seed ?? 1);
  const log = wortLog(setup, ask.entries ?? []);
  const { changes, flowDoubt } = progressOf(setup, wish, mash, log, ask.nowMin ?? 0);
  const chain = wortChain(chainInput(setup, wish, mash, changes, withFlowDoubt(draws, flowDoubt)));
  const [, castOut, , tank] = chain.stages;
  if (castOut === undefined || tank === undefined) throw new Error('the chain has lost its stages');
  const none = { low: 0, likely: 0, high: 0 };
  const { attenuation } = attenuationOf(mash);
  return {
    coldL: castOut.coldL,
    plato: castOut.plato,
    extractKg: castOut.extractKg,
    ibu: castOut.ibu ?? none,
    ...(castOut.colourEbc === undefined ? {} : { colourEbc: castOut.colourEbc }),
    ...(attenuation === undefined ? {} : { limitApparentPct: attenuation }),
    tankL: tank.coldL,
    finishMin: tank.endMin,
  };
}
