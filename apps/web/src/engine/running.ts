/** The running day as the engine answers for it; one day is kept, folded as far as it went. */
import {
  aheadOf,
  type DayKeeper,
  type DaySession,
  forecastDay,
  forecastLanding,
  guideReturn,
  keepDay,
  mashAhead,
  mashNow,
  minuteOf,
  missBench,
  playWay,
  type Repair,
  readingsWorth,
  repairsFor,
  rescueNow,
  type StarchRescue,
  vesselsNow,
  type WayBench,
  type WayChoice,
  type WayOut,
  type WortDay,
  waysFor,
  wideLanding,
  wortDay,
} from '@ladlework/planner';
import type { DayAsk, DayHere, DayOutlook, EngineCalls, MissAsk } from './protocol.ts';

/** Draws behind a band; the share beyond 10 % or 90 % is then known to 1.5 %. */
const DRAWS = 400;

let kept: { readonly key: string; readonly keeper: DayKeeper } | undefined;

function keeperOf(ask: DayAsk): DayKeeper {
  if (kept?.key !== ask.key) {
    kept = { key: ask.key, keeper: keepDay(ask.document, ask.moves, { draws: DRAWS }) };
  }
  return kept.keeper;
}

export function here(ask: EngineCalls['here']['ask']): DayHere {
  const session = keeperOf(ask).at(ask.entries);
  const { returning, nowMin } = ask;
  return {
    vessels: vesselsNow(session, nowMin),
    landing: forecastLanding(session, nowMin),
    guide:
      returning === undefined ? undefined : guideReturn(session, { moveId: returning, nowMin }),
    questioned: session.questioned,
  };
}

export function outlook(ask: EngineCalls['outlook']['ask']): DayOutlook {
  const keeper = keeperOf(ask);
  const session = keeper.at(ask.entries);
  const mended = ask.mends.length === 0 ? undefined : mendedFrom(keeper, ask);
  const from = mended ?? session;
  const at = Math.max(ask.nowMin, from.lastMin);
  return {
    history: keeper.history(ask.entries, ask.nowMin),
    ahead: aheadOf(from, at),
    mashBands: keeper.mash(mended === undefined ? ask.entries : withMends(ask), at),
    forecast: forecastDay(from, at),
    mended: mended === undefined ? undefined : vesselsNow(mended, at),
    worth: readingsWorth(session, ask.nowMin),
    wide: wideLanding(session, ask.nowMin),
    mash: mashNow(session, ask.nowMin),
  };
}

/** The day as it will stand when the repairs that were chosen are carried out. */
const mendedFrom = (keeper: DayKeeper, ask: EngineCalls['outlook']['ask']): DaySession =>
  keeper.at(withMends(ask));

/** The entries with the repairs that were chosen and are still to do. */
function withMends(ask: EngineCalls['outlook']['ask']) {
  const last = Math.max(0, ...ask.entries.map(minuteOf));
  const mends = ask.mends.map((m) => ('atMin' in m ? { ...m, atMin: Math.max(last, m.atMin) } : m));
  return [...ask.entries, ...mends];
}

export function repairs(ask: EngineCalls['repairs']['ask']): readonly Repair[] {
  return repairsFor(keeperOf(ask).at(ask.entries), ask.nowMin, ask.targetC);
}

let tried: { readonly key: string; readonly bench: WayBench } | undefined;

/** The bench of a miss; its ways are asked about one after the other. */
function benchOf(ask: MissAsk): WayBench {
  const { key, entries, nowMin, miss, planned } = ask;
  const own = JSON.stringify([key, entries, nowMin, miss]);
  if (tried?.key !== own)
    tried = { key: own, bench: missBench(keeperOf(ask).at(entries), nowMin, miss, planned) };
  return tried.bench;
}

export const waysOut = (ask: EngineCalls['waysOut']['ask']): WayChoice => waysFor(benchOf(ask));

export const wayOut = (ask: EngineCalls['wayOut']['ask']): WayOut => playWay(benchOf(ask), ask.way);

export function rescue(ask: EngineCalls['rescue']['ask']): StarchRescue | undefined {
  return rescueNow(keeperOf(ask).at(ask.entries), ask.vessel, ask.nowMin);
}

/** The wort from the mash as it stands; from the first runnings on the mash is what it was then. */
export function wort(ask: EngineCalls['wort']['ask']): WortDay {
  const { document, planned, prices, nowMin } = ask;
  const opened = Math.min(
    ...ask.wort.flatMap((e) =>
      (e.kind === 'begun' && e.move === 'run-off') || e.kind === 'read' ? [e.atMin] : [],
    ),
    Number.POSITIVE_INFINITY,
  );
  const entries = ask.entries.filter((e) => minuteOf(e) <= opened);
  const session = keeperOf(ask).at(entries);
  const mash = mashAhead(session, Math.min(nowMin, opened), planned);
  // A pH is read in a cooled sample; the newest one of the mash tun counts.
  const acid = entries.findLast(
    (e) =>
      e.kind === 'reading' && e.reading.what === 'ph' && e.reading.vessel === document.mash.tun,
  );
  return wortDay({
    document,
    mash,
    entries: ask.wort,
    nowMin,
    ...(acid?.kind === 'reading' ? { mashPh: { ph: acid.reading.value, tC: 20 } } : {}),
    ...(prices === undefined ? {} : { prices }),
  });
}
