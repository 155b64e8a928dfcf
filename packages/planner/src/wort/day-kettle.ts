/** The full kettle: what stands there, and the ways on, each carried to the tank. */
import {
  type HopAddition,
  type KettleOption,
  kettleOptions,
  platoOf,
  type WortChain,
  type WortChainInput,
  whatStands,
  wortChain,
} from '@ladlework/brewhouse';
import {
  type ChainChanges,
  chainInput,
  type KettleWish,
  likelyDraws,
  platoWanted,
} from './chain-of.ts';
import { intoKettle, type Shelf, shelfOf } from './changes.ts';
import type { KettleNow, KettlePriceList, KettleWayLine } from './day-types.ts';
import type { StageReading, WortLog } from './log.ts';
import type { HopLine, MashOutcome } from './plan-types.ts';
import type { WortSetup } from './setup.ts';

/** Prices where the brewer has none, in any one currency; seeds of a demo, not of a market. */
const USUAL_PRICES: KettlePriceList = {
  perKWh: 0.12,
  perHL: 0.3,
  perKgExtract: 1.5,
  perKgHops: 30,
  perLabourHour: 25,
  perLWort: 0.5,
};

/** The brewer's prices, as far as the document has them. */
function pricesFor(setup: WortSetup, given: KettlePriceList | undefined): KettlePriceList {
  if (given !== undefined) return given;
  const labour = setup.document.prices?.labourPerHour;
  return labour === undefined ? USUAL_PRICES : { ...USUAL_PRICES, perLabourHour: labour };
}

/** Bitterness wanted: stated, or what the recipe gives as planned. */
const ibuWanted = (setup: WortSetup, planned: WortChain): number =>
  Math.min(150, setup.document.beer.target?.ibu ?? planned.stages[1]?.ibu?.likely ?? 0);

/** Strength wanted at the end of the boil: stated, or what the plan comes to. */
export const castOutWanted = (setup: WortSetup, planned: WortChain): number =>
  Math.max(1, platoWanted(setup) ?? planned.stages[1]?.plato.likely ?? 12);

/** The engine's options for a full kettle, hops re-timed. */
function optionsFor(
  setup: WortSetup,
  reading: StageReading,
  input: WortChainInput,
  planned: WortChain,
  prices: KettlePriceList,
): readonly KettleOption[] {
  const standing = whatStands(reading).wort;
  const { cooler } = setup;
  // Half of the knock-out the wort that waits is hot: the hops go on.
  const waiting =
    cooler.how === 'plate'
      ? [{ tC: cooler.fromC, minutes: planned.knockOut.minutes.likely / 2 }]
      : [];
  const { heatUpMin, ph, hopFactor } = input.boil;
  return kettleOptions(
    setup.kettle,
    {
      wort: {
        extractKg: standing.extractKg + setup.sugars.extractKg,
        waterKg: standing.waterKg + setup.sugars.waterKg,
      },
      startC: Math.min(105, reading.tC),
      startMin: reading.minute,
      ...(heatUpMin === undefined ? {} : { heatUpMin }),
      minutes: setup.work.boilMin,
      hops: setup.hops,
      ...(hopFactor === undefined ? {} : { hopFactor }),
      stand: [...setup.stand, ...waiting],
      ...(ph === undefined ? {} : { ph }),
    },
    { plato: castOutWanted(setup, planned), ibu: ibuWanted(setup, planned) },
    shelfOf(setup),
    prices,
  );
}

/**
 * Hops of the way that was chosen, re-timed.
 * @returns undefined when nothing was chosen or the kettle was never read
 */
export function chosenHops(
  setup: WortSetup,
  log: WortLog,
  input: WortChainInput,
  planned: WortChain,
): readonly HopAddition[] | undefined {
  const { chosen, kettleFull } = log;
  if (chosen === undefined || kettleFull === undefined) return undefined;
  const options = optionsFor(setup, kettleFull, input, planned, USUAL_PRICES);
  return options.find((o) => o.way === chosen.way)?.hops.hops;
}

/**
 * What stands in the full kettle and the ways on.
 * @param setup the document looked up
 * @param wish kettle-full wanted
 * @param mash outcome of the mash
 * @param log the running day, with a reading of the full kettle
 * @param changes what the log changes in the chain
 * @param planned chain of the same mash before any reading
 * @param given the brewer's prices
 */
export function kettleNow(
  setup: WortSetup,
  wish: KettleWish,
  mash: MashOutcome,
  log: WortLog,
  changes: ChainChanges,
  planned: WortChain,
  given: KettlePriceList | undefined,
): KettleNow | undefined {
  const { kettleFull } = log;
  if (kettleFull === undefined) return undefined;
  const standing = whatStands(kettleFull);
  const read = { kettleFull };
  const draws = likelyDraws(setup, mash);
  const input = chainInput(setup, wish, mash, { ...changes, read }, draws);
  const prices = pricesFor(setup, given);
  const shelf = shelfOf(setup);
  const lines = optionsFor(setup, kettleFull, input, planned, prices).map((option) =>
    lineOf(option, shelf, (way) =>
      wortChain(chainInput(setup, wish, mash, { ...changes, ...way, read }, draws)),
    ),
  );
  return {
    coldL: standing.coldL,
    plato: platoOf(standing.wort),
    extractKg: standing.wort.extractKg,
    ...(standing.ph20 === undefined ? {} : { ph20: standing.ph20 }),
    wantedPlato: castOutWanted(setup, planned),
    wantedIbu: ibuWanted(setup, planned),
    options: lines,
    ...(log.chosen === undefined ? {} : { chosen: log.chosen.way }),
  };
}

function lineOf(
  option: KettleOption,
  shelf: Shelf,
  chainWith: (way: ChainChanges) => WortChain,
): KettleWayLine {
  const { hops, run } = option;
  const chain = chainWith({
    boilMin: option.minutes,
    hops: hops.hops,
    ...intoKettle(option, shelf),
  });
  const [, castOut, , tank] = chain.stages;
  const lines: HopLine[] = hops.hops.map((hop, i) => ({
    name: hop.name,
    kg: hop.grams / 1000,
    alphaPct: hop.alphaPct,
    boilMin: hop.boilMin,
    ibu: chain.boil.hops[i]?.ibu.likely ?? 0,
    otherIbu: chain.boil.hops[i]?.otherIbu.likely ?? 0,
  }));
  return {
    way: option.way,
    possible: option.possible,
    ...(option.whyNot === undefined ? {} : { whyNot: option.whyNot }),
    minutes: option.minutes,
    liquorL: option.liquorL,
    extractKg: option.extractKg,
    castOutL: castOut?.coldL.likely ?? run.coldL,
    plato: castOut?.plato.likely ?? run.plato,
    extractInKettleKg: castOut?.extractKg.likely ?? run.castOut.extractKg,
    ibu: castOut?.ibu?.likely ?? run.hops.ibu,
    ibuHopsKept: option.ibuHopsKept,
    ...(hops.change === undefined ? {} : { hopChange: hops.change }),
    hops: lines,
    ...(castOut?.colourEbc === undefined ? {} : { colourEbc: castOut.colourEbc.likely }),
    ...(castOut?.freeDmsUgL === undefined ? {} : { freeDmsUgL: castOut.freeDmsUgL.likely }),
    boilEndMin: castOut?.endMin.likely ?? run.endMin,
    finishMin: tank?.endMin.likely ?? run.endMin,
    costChange: option.costChange,
    foam: run.foam,
  };
}
