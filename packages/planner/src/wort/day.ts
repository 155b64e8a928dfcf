/** The wort while the day runs: everything that follows is foretold again from the newest reading. */
import {
  endCorrection,
  type WortChain,
  type WortStage,
  wortBoilsAt,
  wortChain,
} from '@ladlework/brewhouse';
import { band } from '@ladlework/numerics';
import type { Band } from '../plan.ts';
import { type ChainChanges, chainInput, drawsOf, kettleWish, likelyDraws } from './chain-of.ts';
import { progressOf, shelfOf, withFlowDoubt } from './changes.ts';
import { castOutWanted, chosenHops, kettleNow } from './day-kettle.ts';
import { lauterNow } from './day-lauter.ts';
import type {
  AccountLine,
  BoilNow,
  KnockOutNow,
  WortAt,
  WortDay,
  WortDayAsk,
} from './day-types.ts';
import { liquorPlan } from './liquor-plan.ts';
import { type WortLog, wortLog } from './log.ts';
import { attenuationOf, foamOf, pitchPlan } from './plan-of.ts';
import type { MashOutcome } from './plan-types.ts';
import { type WortSetup, wortSetup } from './setup.ts';
import { wishesOf } from './wishes.ts';

/** Doubt of a flow that was measured in the tank, as factors on the time left. Our judgement. */
const MEASURED_FLOW = { low: 0.9, high: 1.15 } as const;

/**
 * The wort of a running day.
 * @param ask document, outcome of the mash, what was read and done, and the minute it is
 * @returns what stands there, what it should be, and what follows, each with its band
 * @throws UnknownName when the document names what its kit does not have; NoKettle when nothing boils;
 *   OutOfRange when a reading leads where physics cannot follow, as a kettle boiled dry
 * @source wortChain with the readings in place of what they replace; docs/science/wort.md
 */
export function wortDay(ask: WortDayAsk): WortDay {
  const { document, mash, nowMin } = ask;
  const setup = wortSetup(document);
  const wish = kettleWish(setup, mash.likely, mash.tempC);
  const log = wortLog(setup, ask.entries);
  const draws = drawsOf(setup, mash, ask.draws ?? 200, ask.seed ?? 1);
  const planned = wortChain(chainInput(setup, wish, mash, {}, draws));
  const progress = progressOf(setup, wish, mash, log, nowMin);
  const base = chainInput(setup, wish, mash, progress.changes, likelyDraws(setup, mash));
  const hops = chosenHops(setup, log, base, planned);
  const changes: ChainChanges = { ...progress.changes, ...(hops === undefined ? {} : { hops }) };
  const drawn = withFlowDoubt(draws, progress.flowDoubt);
  const chain = wortChain(chainInput(setup, wish, mash, changes, drawn));
  const knockOut = knockOutNow(setup, log, chain);
  const at = whereIs(log);
  const kettle = kettleNow(setup, wish, mash, log, progress.changes, planned, ask.prices);
  const pitch = pitchPlan(setup, chain);
  const liquor = liquorPlan(
    document,
    setup.day.liquorKg,
    planned.lauter.spargeLeftL.likely,
    ask.mashPh,
  );
  const lauter = lauterNow(setup, wish, mash, log, chain);
  return {
    at,
    next: nextOf(at, log, lauter.advice),
    stages: timed(chain.stages, knockOut.endMin),
    planned: planned.stages,
    lauter,
    ...(kettle === undefined ? {} : { kettle }),
    boil: boilNow(setup, log, changes, chain, planned),
    knockOut,
    ...(liquor === undefined ? {} : { liquor }),
    ...(pitch === undefined ? {} : { pitch }),
    ...(chain.beer === undefined ? {} : { beer: chain.beer }),
    wishes: wishesOf(setup, {
      chain,
      mash,
      ...attenuationOf(mash),
      ...(liquor === undefined ? {} : { liquor }),
    }),
    account: accountOf(planned, chain, draws.mash),
    notes: [...setup.notes, ...chain.notes],
  };
}

function whereIs(log: WortLog): WortAt {
  const { begun, done } = log;
  if (begun.pitch !== undefined || done.pitch !== undefined) return 'pitched';
  if (log.tank !== undefined || done['knock-out'] !== undefined) return 'tank';
  if (begun['knock-out'] !== undefined || log.knockOut.length > 0) return 'knock-out';
  if (done['boil-wort'] !== undefined || log.castOut !== undefined || begun.stand !== undefined)
    return 'stand';
  if (begun['boil-wort'] !== undefined) return 'boil';
  if (log.kettleFull !== undefined || done['run-off'] !== undefined) return 'kettle-full';
  if (begun['run-off'] !== undefined || log.runOff.length > 0) return 'run-off';
  return 'mash';
}

function nextOf(at: WortAt, log: WortLog, advice: string): WortDay['next'] {
  switch (at) {
    case 'mash':
      return { move: 'run-off', text: advice };
    case 'run-off':
      return { text: advice };
    case 'kettle-full':
      return log.kettleFull === undefined
        ? { text: 'Stir the kettle, read litres, strength and pH.' }
        : {
            move: 'boil-wort',
            text:
              log.chosen === undefined
                ? 'Choose the way on, then bring it to the boil: stand by it, it foams as it comes over.'
                : 'Bring it to the boil: stand by it, it foams as it comes over.',
          };
    case 'boil':
      return { text: 'Boil; give the hops on their minute, read litres and strength at the end.' };
    case 'stand':
      return log.castOut === undefined
        ? { text: 'Read litres and strength of the cast-out wort. It scalds.' }
        : { move: 'knock-out', text: 'Let it settle, then knock out through the cooler.' };
    case 'knock-out':
      return { text: 'Watch the wort out of the cooler; set its flow by that.' };
    case 'tank':
      return log.tank === undefined
        ? { text: 'Read litres and strength in the tank.' }
        : { move: 'pitch', text: 'Give oxygen and pitch.' };
    case 'pitched':
      return { text: 'The wort is pitched.' };
  }
}

function boilNow(
  setup: WortSetup,
  log: WortLog,
  changes: ChainChanges,
  chain: WortChain,
  planned: WortChain,
): BoilNow {
  const end = chain.stages[1]?.endMin ?? { low: 0, likely: 0, high: 0 };
  const begun = log.begun['boil-wort'];
  const hops = changes.hops ?? setup.hops;
  const minutes = changes.boilMin ?? setup.work.boilMin;
  return {
    ...(begun === undefined ? {} : { begunMin: begun }),
    endMin: end,
    minutes,
    boilC: wortBoilsAt(setup.kettle.site, chain.stages[0]?.plato.likely ?? 0),
    headspace: chain.boil.headspace,
    foam: foamOf(chain),
    hops: hops.map((hop, i) => ({
      name: hop.name,
      kg: hop.grams / 1000,
      alphaPct: hop.alphaPct,
      boilMin: hop.boilMin,
      ibu: chain.boil.hops[i]?.ibu.likely ?? 0,
      otherIbu: chain.boil.hops[i]?.otherIbu.likely ?? 0,
      // A hop cannot go in before the boil it is timed from.
      atMin: end.likely - (hop.boilMin === 'stand' ? 0 : Math.min(minutes, hop.boilMin)),
    })),
    ...(log.castOut === undefined
      ? {}
      : {
          correction: endCorrection(
            setup.kettle,
            log.castOut,
            castOutWanted(setup, planned),
            shelfOf(setup),
          ),
        }),
  };
}

function knockOutNow(setup: WortSetup, log: WortLog, chain: WortChain): KnockOutNow {
  const [, castOut, , tank] = chain.stages;
  const begun = log.begun['knock-out'];
  const stand = setup.stand.reduce((sum, s) => sum + s.minutes, 0);
  const fromMin =
    begun === undefined
      ? shifted(castOut?.endMin ?? { low: 0, likely: 0, high: 0 }, stand)
      : { low: begun, likely: begun, high: begun };
  const inTank = log.knockOut.findLast((r) => r.litres !== undefined);
  const foretold = tank?.endMin ?? fromMin;
  const liquorInC =
    log.knockOut.findLast((r) => r.liquorInC !== undefined)?.liquorInC ?? setup.cooler.liquorInC;
  const outC = log.knockOut.findLast((r) => r.wortOutC !== undefined)?.wortOutC;
  const flow =
    begun === undefined || inTank?.litres === undefined || inTank.minute - begun < 1
      ? undefined
      : inTank.litres / (inTank.minute - begun);
  const left = Math.max(0, (tank?.coldL.likely ?? 0) - (inTank?.litres ?? 0));
  const endMin =
    log.tank !== undefined || log.done['knock-out'] !== undefined || !flow || !inTank
      ? foretold
      : {
          low: inTank.minute + (left / flow) * MEASURED_FLOW.low,
          likely: inTank.minute + left / flow,
          high: inTank.minute + (left / flow) * MEASURED_FLOW.high,
        };
  return {
    fromMin,
    endMin,
    wortLMin: chain.knockOut.wortLMin,
    outC: chain.knockOut.outC,
    liquorL: chain.knockOut.liquorL,
    liquorInC,
    toC: setup.cooler.toC,
    reachedShare: chain.knockOut.reachedShare,
    leftKWh: chain.knockOut.leftKWh,
    advice: coolerAdvice(setup, chain, outC, liquorInC),
  };
}

/** A wort out of the cooler within this of what is wanted needs no hand on the valve [K]. */
const NEAR_K = 1;

function coolerAdvice(
  setup: WortSetup,
  chain: WortChain,
  outC: number | undefined,
  liquorInC: number,
): string {
  const { toC, how } = setup.cooler;
  const flow = chain.knockOut.wortLMin.likely;
  if (chain.knockOut.reachedShare < 0.5)
    return `Liquor at ${liquorInC.toFixed(1)} °C does not bring it to ${toC.toFixed(1)} °C: ${chain.knockOut.leftKWh.likely.toFixed(1)} kWh are left for the tank.`;
  if (how === 'coil')
    return `Stir past the coil for about ${chain.knockOut.minutes.likely.toFixed(0)} min.`;
  if (outC !== undefined && outC > toC + NEAR_K)
    return `The wort comes out at ${outC.toFixed(1)} °C: throttle it to ${flow.toFixed(1)} L/min, or more liquor.`;
  if (outC !== undefined && outC < toC - NEAR_K)
    return `The wort comes out at ${outC.toFixed(1)} °C: it may run faster, or with less liquor.`;
  return `Set the wort to ${flow.toFixed(1)} L/min.`;
}

const shifted = (b: Band, by: number): Band => ({
  low: b.low + by,
  likely: b.likely + by,
  high: b.high + by,
});

/** Stages with the end of the knock-out as it was seen to run. */
function timed(stages: readonly WortStage[], endMin: Band): WortStage[] {
  return stages.map((s) => (s.stage === 'knock-out' || s.stage === 'tank' ? { ...s, endMin } : s));
}

function accountOf(
  planned: WortChain,
  chain: WortChain,
  mashes: readonly MashOutcome['likely'][],
): AccountLine[] {
  const mash = band(mashes.map((m) => m.extractKg));
  const none = { low: 0, likely: 0, high: 0 };
  return [
    { stage: 'mash', planned: mash, now: mash, measured: false, lostKg: none },
    ...chain.stages.map(({ stage, extractKg, lostKg, measured }, i) => ({
      stage,
      planned: planned.stages[i]?.extractKg ?? extractKg,
      now: extractKg,
      measured,
      lostKg,
    })),
  ];
}
