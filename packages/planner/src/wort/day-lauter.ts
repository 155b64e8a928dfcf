/** The run-off as it stands: gravity against what is needed, the litre to shut at, the bed. */
import {
  bedDepth,
  type FlowReading,
  remedies,
  stopByPh,
  TUN_DEFAULTS,
  type WortChain,
  watchBed,
  wortOf,
} from '@ladlework/brewhouse';
import type { KettleWish } from './chain-of.ts';
import type { LauterNow } from './day-types.ts';
import { dips, type WortLog } from './log.ts';
import type { MashOutcome } from './plan-types.ts';
import { READ_C, type WortSetup } from './setup.ts';

/** Head where none was read [kPa]: 10 cm of water. */
const USUAL_HEAD_KPA = 0.981;
const KPA_PER_M = 9.81;
const STOP_PLATO = 2;
/** A miss within this is what samples differ by [°P]. Our judgement. */
const MISS_PLATO = 0.25;

/**
 * The run-off now.
 * @param setup the document looked up
 * @param wish kettle-full wanted
 * @param mash outcome of the mash
 * @param log the running day
 * @param chain re-forecast from the log
 */
export function lauterNow(
  setup: WortSetup,
  wish: KettleWish,
  mash: MashOutcome,
  log: WortLog,
  chain: WortChain,
): LauterNow {
  const { lauter } = chain;
  const last = dips(log).at(-1);
  const readPlato = last?.kettlePlato;
  const needed = lauter.neededNowPlato;
  const missPlato =
    readPlato === undefined || needed === undefined ? undefined : readPlato - needed;
  const byPh = dips(log).flatMap((r) =>
    r.tapPh === undefined ? [] : [{ collectedL: r.collectedL, ph: r.tapPh }],
  );
  const stopByPhL = stopByPh(byPh, setup.work.stopPh);
  const bed = bedNow(setup, mash, log, chain);
  const { stopAtL, doubt } = lauter;
  const now = {
    collectedL: last?.collectedL ?? 0,
    readC: READ_C,
    kettleL: wish.kettleL,
    nowKettlePlato: lauter.nowKettlePlato,
    nowTapPlato: lauter.nowTapPlato,
    ...(needed === undefined ? {} : { neededNowPlato: needed }),
    ...(readPlato === undefined ? {} : { readPlato }),
    ...(missPlato === undefined ? {} : { missPlato }),
    fullColdL: lauter.fullColdL,
    fullPlato: lauter.fullPlato,
    fullExtractKg: lauter.fullExtractKg,
    lastPlato: lauter.lastPlato,
    shutAtL: lauter.shutAtL,
    spargeLeftL: lauter.spargeLeftL,
    ...(stopAtL === undefined ? {} : { stopAtL }),
    ...(stopByPhL === undefined ? {} : { stopByPhL }),
    endMin: chain.stages[0]?.endMin ?? { low: 0, likely: 0, high: 0 },
    ...bed,
    ...(doubt === undefined ? {} : { doubt }),
  };
  return { ...now, advice: adviceOf(setup, log, now) };
}

/** Flow against head, strength and history. */
function bedNow(
  setup: WortSetup,
  mash: MashOutcome,
  log: WortLog,
  chain: WortChain,
): Pick<LauterNow, 'watch' | 'remedies'> {
  const { lauter: tun, day } = setup;
  const start = log.begun['run-off'] ?? log.runOff[0]?.minute ?? 0;
  const readings = log.runOff.flatMap((r): FlowReading[] =>
    r.flowLMin === undefined
      ? []
      : [
          {
            minute: r.minute - start,
            flowLMin: r.flowLMin,
            headKPa: r.headM === undefined ? USUAL_HEAD_KPA : Math.max(0.05, r.headM * KPA_PER_M),
            plato: r.tapPlato ?? chain.lauter.nowTapPlato.likely,
            tC: mash.tempC,
          },
        ],
  );
  if (readings.length === 0) return { remedies: [] };
  const areaM2 = (Math.PI / 4) * tun.diameterM ** 2;
  const shape = { areaM2, depthM: bedDepth(day.gristKg, areaM2) };
  const watch = watchBed(shape, readings);
  if (watch.state === 'running') return { watch: { ...watch, readings }, remedies: [] };
  const { fullColdL, fullPlato, spargeLeftL } = chain.lauter;
  const flooded = setup.spreads.floodedLPerKg?.likely ?? TUN_DEFAULTS.floodedLPerKg.likely;
  return {
    watch: { ...watch, readings },
    remedies: remedies({
      state: watch.state,
      liquidL: Math.max(1, flooded * day.gristKg),
      full: wortOf({ litres: fullColdL.likely, tC: 20, plato: fullPlato.likely }),
      spargeLeftL: spargeLeftL.likely,
      underletC: Math.min(95, Math.max(60, setup.work.spargeC)),
    }),
  };
}

function adviceOf(setup: WortSetup, log: WortLog, now: Omit<LauterNow, 'advice'>): string {
  if (now.doubt !== undefined) return now.doubt;
  if (now.watch !== undefined && now.watch.state !== 'running') return now.watch.sentence;
  if (log.begun['run-off'] === undefined && log.runOff.length === 0)
    return `Run back until it is bright, then open the tap to ${setup.flowLMin.toFixed(1)} L/min.`;
  const tap = dips(log).at(-1)?.tapPlato;
  const stop = setup.work.stopPlato ?? STOP_PLATO;
  if (now.stopByPhL === 'now') return 'Stop: the runnings have come to the pH to stop at.';
  if (tap !== undefined && tap < stop)
    return `Stop: the runnings are at ${tap.toFixed(1)} °P, under ${stop.toFixed(1)}.`;
  const shut = log.begun['sparge-shut'] ?? log.done['sparge-shut'];
  const running = shut === undefined && (setup.work.spargeBy ?? 'continuous') === 'continuous';
  if (running && now.collectedL >= now.shutAtL.likely)
    return 'Shut the sparge now: what stands in the tun fills the kettle.';
  const miss = now.missPlato;
  if (miss !== undefined && miss < -MISS_PLATO)
    return `The kettle is ${(-miss).toFixed(1)} °P under what the beer needs here: run slower now, or boil longer later.`;
  if (miss !== undefined && miss > MISS_PLATO)
    return `The kettle is ${miss.toFixed(1)} °P over what the beer needs here: there will be room for liquor at kettle-full.`;
  if (!running) return `Let the tun drain to ${now.kettleL.toFixed(0)} L in the kettle.`;
  return `Go on; shut the sparge at ${now.shutAtL.likely.toFixed(0)} L in the kettle.`;
}
