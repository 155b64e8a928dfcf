/** From the log of a running day to what it changes in the chain. */
import type { ChainDraw, LauterReading, MashWort } from '@ladlework/brewhouse';
import { phAt20, waterDensity } from '@ladlework/matter';
import { type ChainChanges, type KettleWish, runOffFrom } from './chain-of.ts';
import { collectedAt, dips, measuredFlow, type WortLog } from './log.ts';
import type { MashOutcome } from './plan-types.ts';
import type { WortSetup } from './setup.ts';

/** Liquor and sugar that can go into the kettle. */
export interface Shelf {
  readonly liquorC: number;
  readonly extractShare: number;
}

/** What is at hand: the day's liquor, and the recipe's sugar or plain sugar. */
export function shelfOf(setup: WortSetup): Shelf {
  const { beer, day } = setup.document;
  return {
    liquorC: Math.min(100, day.liquorC),
    extractShare: beer.sugars?.[0]?.extractShare ?? 1,
  };
}

/** What a chosen way puts into the kettle [kg]. */
export function intoKettle(
  way: { readonly liquorL: number; readonly extractKg: number },
  shelf: Shelf,
): { readonly extractKg: number; readonly waterKg: number } {
  return {
    extractKg: way.extractKg * shelf.extractShare,
    waterKg:
      way.extractKg * (1 - shelf.extractShare) + (way.liquorL * waterDensity(shelf.liquorC)) / 1000,
  };
}

/** Readings of the run-off for the forecast. */
const lauterReadings = (log: WortLog): LauterReading[] =>
  dips(log).map(({ collectedL, kettlePlato, tapPlato }) => ({
    collectedL,
    ...(kettlePlato === undefined ? {} : { kettlePlato }),
    ...(tapPlato === undefined ? {} : { tapPlato }),
  }));

/** The running day as changes of the chain, and how far the run-off is through its doubt. */
export interface Progress {
  readonly changes: ChainChanges;
  /** Share of the run-off's time still in doubt [-]. */
  readonly flowDoubt: number;
}

/**
 * What the log changes in the chain.
 * @param setup the document looked up
 * @param wish kettle-full wanted
 * @param mash outcome of the mash
 * @param log the running day
 * @param nowMin [min after day start]
 */
export function progressOf(
  setup: WortSetup,
  wish: KettleWish,
  mash: MashOutcome,
  log: WortLog,
  nowMin: number,
): Progress {
  const lauter = lauterReadings(log);
  const { from, flowLMin, doubt } = timesOf(setup, wish, mash, log, nowMin);
  const shutMin = log.begun['sparge-shut'] ?? log.done['sparge-shut'];
  const shutAtL =
    shutMin === undefined
      ? undefined
      : Math.min(wish.kettleL, collectedAt(log, shutMin, measuredFlow(log) ?? setup.flowLMin));
  const begunMin = log.begun['boil-wort'];
  const read = {
    ...(lauter.length === 0 ? {} : { lauter }),
    ...(log.kettleFull === undefined ? {} : { kettleFull: log.kettleFull }),
    ...(begunMin === undefined ? {} : { boilBegunMin: begunMin }),
    ...(log.castOut === undefined ? {} : { castOut: castOutAt(log) }),
    ...(log.tank === undefined ? {} : { tank: tankAt(log) }),
  };
  const liquorInC = log.knockOut.findLast((r) => r.liquorInC !== undefined)?.liquorInC;
  const into =
    log.chosen === undefined
      ? { extractKg: 0, waterKg: 0 }
      : intoKettle(log.chosen, shelfOf(setup));
  const ph = log.castOut?.ph ?? log.kettleFull?.ph;
  const boilMin = boilMinOf(setup, log, nowMin);
  const standMin = standMinOf(setup, log, boilMin, nowMin);
  return {
    flowDoubt: doubt,
    changes: {
      fromMin: from,
      flowLMin,
      boilMin,
      ...(standMin === undefined ? {} : { standMin }),
      ...(shutAtL === undefined ? {} : { shutAtL }),
      ...into,
      ...(liquorInC === undefined ? {} : { liquorInC: Math.min(40, liquorInC) }),
      ...(ph === undefined ? {} : { ph: phAt20(ph.ph, ph.tC) }),
      ...(Object.keys(read).length === 0 ? {} : { read }),
    },
  };
}

/** Start and flow of the run-off that put the full kettle where the dips have it. */
function timesOf(
  setup: WortSetup,
  wish: KettleWish,
  mash: MashOutcome,
  log: WortLog,
  nowMin: number,
): { readonly from: number; readonly flowLMin: number; readonly doubt: number } {
  const begun = log.begun['run-off'];
  const open = begun ?? Math.max(runOffFrom(setup, mash.endMin), begunLate(mash, nowMin));
  const ended = log.done['run-off'];
  if (ended !== undefined && ended > open)
    return { from: open, flowLMin: wish.kettleL / (ended - open), doubt: 0 };
  const flowLMin = measuredFlow(log) ?? setup.flowLMin;
  const last = dips(log).at(-1);
  if (last === undefined) return { from: open, flowLMin, doubt: 1 };
  const left = Math.max(0, wish.kettleL - last.collectedL);
  // What is in the kettle is no longer in doubt: only the rest is drawn.
  const end = Math.max(
    last.minute + left / flowLMin,
    nowMin > last.minute && left > 0 ? nowMin : 0,
  );
  return { from: end - wish.kettleL / flowLMin, flowLMin, doubt: left / wish.kettleL };
}

/** A tap that nobody opened yet is opened now at the earliest. */
const begunLate = (mash: MashOutcome, nowMin: number): number =>
  nowMin > mash.endMin ? nowMin : 0;

/** Minutes of boil: as it was, as it goes on, as chosen, as planned. */
function boilMinOf(setup: WortSetup, log: WortLog, nowMin: number): number {
  const wanted = log.chosen?.minutes ?? setup.work.boilMin;
  const begun = log.begun['boil-wort'];
  if (begun === undefined) return wanted;
  const ended = log.done['boil-wort'] ?? log.castOut?.minute;
  const minutes = ended === undefined ? Math.max(wanted, nowMin - begun) : ended - begun;
  // Somebody who never tapped the end is not still boiling the next day.
  const over = ended === undefined && log.begun['knock-out'] !== undefined ? wanted : minutes;
  return Math.min(300, Math.max(0, over));
}

/** Minutes of hot stand, when it differs from the plan's. */
function standMinOf(
  setup: WortSetup,
  log: WortLog,
  boilMin: number,
  nowMin: number,
): number | undefined {
  const begun = log.begun['boil-wort'];
  const ended =
    log.done['boil-wort'] ??
    log.castOut?.minute ??
    (begun === undefined ? undefined : begun + boilMin);
  if (ended === undefined) return undefined;
  const cooling = log.begun['knock-out'];
  if (cooling !== undefined) return Math.min(600, Math.max(0, cooling - ended));
  const over = log.tank !== undefined || log.done['knock-out'] !== undefined;
  const stood = log.done['boil-wort'] === undefined ? 0 : nowMin - ended;
  return over || stood <= setup.work.standMin ? undefined : Math.min(600, stood);
}

/** The end of the boil as it was tapped, where it was. */
const castOutAt = (log: WortLog): NonNullable<WortLog['castOut']> => {
  const reading = log.castOut as NonNullable<WortLog['castOut']>;
  return { ...reading, minute: log.done['boil-wort'] ?? reading.minute };
};

const tankAt = (log: WortLog): NonNullable<WortLog['tank']> => {
  const reading = log.tank as NonNullable<WortLog['tank']>;
  return { ...reading, minute: log.done['knock-out'] ?? reading.minute };
};

/** Draws with as much doubt of the flow as is left. */
export function withFlowDoubt(
  draws: { readonly chain: readonly ChainDraw[]; readonly mash: readonly MashWort[] },
  share: number,
) {
  return { ...draws, chain: draws.chain.map((d) => ({ ...d, flow: d.flow ** share })) };
}
