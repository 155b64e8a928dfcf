/** A way out carried through the rest of the day, over the ensemble and with the kinetics, to cast-out. */
import {
  addMash,
  GristEngine,
  type MashResults,
  type Move,
  type MoveTrace,
  mashWort,
  simulate,
  type Trace,
  volumeOf,
} from '@ladlework/brewhouse';
import { OutOfRange } from '@ladlework/matter';
import { band, quantile } from '@ladlework/numerics';
import { type BrewDay, dayOptions } from '../day.ts';
import { thermalIn } from '../live-assimilate.ts';
import { leftOf } from '../live-forecast.ts';
import { allTo, bringTo } from '../live-going-on.ts';
import type { DaySession, LikelyMash } from '../live-session.ts';
import { asRead, type Particle, thinned, vesselIn } from '../live-step.ts';
import { stateIn } from '../moves-of.ts';
import type { Band, PlannedMove } from '../plan.ts';
import { castOutOf } from '../wort/cast-out.ts';
import type { MashOutcome } from '../wort/plan-types.ts';
import { buildWay } from './build-way.ts';
import type { Built, WayExtras } from './ground.ts';
import { putRight } from './kit-left.ts';
import type { Miss } from './miss-types.ts';
import { raiseOf, type Standing, standingOf } from './rest-of-day.ts';
import type { WayCode, WayLanding, WayOut, WayPlayed } from './way-types.ts';

/** Particles behind the bands of a way. */
const SUBSET = 60;
/** Draws of the kinetics behind its enzyme bands. */
const DOUBTED = 8;
/** Draws of the chain: enough to weigh one way against another. */
const CHAIN_DRAWS = 40;

/** What several ways of one miss share; made once. */
export interface WayBench {
  readonly standing: Standing;
  readonly miss: Miss;
  readonly extras: WayExtras;
  /** Every vessel brought to now with the kinetics running. */
  readonly kinetics: DaySession;
  readonly planned: MashOutcome | undefined;
  /** End of the mash and minutes of hands when the day goes on as planned, on the likely kit. */
  readonly asPlanned: { readonly endMin: number; readonly handsMin: number };
}

/**
 * The bench the ways of a miss are tried on.
 * @param session the running day, the miss among its entries or not
 * @param nowMin [min after day start]
 * @param miss what went wrong
 * @param planned outcome of the mash as planned; left out: no cast-out is reckoned
 * @param extras what clears a blue iodine test
 */
export function wayBench(
  session: DaySession,
  nowMin: number,
  miss: Miss,
  planned: MashOutcome | undefined,
  extras: WayExtras = {},
): WayBench {
  const now = allTo(thinned(session, SUBSET), nowMin);
  const standing = standingOf(now);
  const { middle } = standing;
  const moves = leftOf(now, now.moves);
  const { kit } = putRight(now).day;
  const trace = simulate(kit, middle.situation, moves, dayOptions(now.day, middle.draw));
  return {
    standing,
    miss,
    extras,
    planned,
    kinetics: withKinetics(session, now.lastMin),
    asPlanned: { endMin: endOf(trace, now.lastMin), handsMin: handsOf(trace) },
  };
}

/** One particle and the kinetics beside it, every vessel brought to a minute. */
function withKinetics(session: DaySession, at: number): DaySession {
  let now: DaySession = {
    ...thinned(session, 1),
    doubted: session.doubted.slice(0, DOUBTED),
    lastMin: at,
  };
  for (const { id } of session.day.kit.vessels) now = bringTo(now, id, at);
  return now;
}

/**
 * One way, carried to cast-out.
 * @param bench from `wayBench`
 * @param code which way
 * @returns figures with their bands, or why it cannot be
 * @source simulate; mash kinetics; wortChain
 */
export function playWay(bench: WayBench, code: WayCode): WayOut {
  const { standing, miss, extras } = bench;
  const built = buildWay(standing, miss, code, extras);
  const base = { code, miss, text: built.text };
  if ('whyNot' in built) return { ...base, possible: false, whyNot: built.whyNot, cautions: [] };
  return { ...base, possible: true, cautions: cautionsOf(code), played: played(bench, built) };
}

function played(bench: WayBench, built: Built): WayPlayed {
  const { standing, asPlanned } = bench;
  const { now, middle } = standing;
  const { day, moves } = built;
  const traces = now.particles.map((p) => played1(day, p, moves));
  const likely = played1(day, middle, moves);
  const ends = traces.map((t) => endOf(t, now.lastMin));
  const mashEndMin = band(ends);
  const ahead = plannedMoves(moves, traces);
  const tun = day.restTun.id;
  const mashL = band(
    traces.map((t, i) => volumeOf(stateIn(t.end, tun), thermalIn(day, tun, drawOf(now, i)))),
  );
  return {
    landings: landingsOf(standing, built, traces),
    mashEndMin,
    laterMin: endOf(likely, now.lastMin) - asPlanned.endMin,
    handsMin: handsOf(likely) - asPlanned.handsMin,
    mashL,
    ...wortOf(bench, built, mashEndMin.likely),
    moves: wholeDay(standing, built),
    document: built.document,
    ahead,
    mended: returnsOf(standing, built),
    ends: built.ends,
  };
}

const drawOf = (now: DaySession, i: number) => (now.particles[i] as Particle).draw;

function played1(day: BrewDay, particle: Particle, moves: readonly Move[]): Trace {
  const read = moves.map((m) => asRead(m, particle.draw));
  return simulate(day.kit, particle.situation, read, dayOptions(day, particle.draw));
}

const endOf = (trace: Trace, atLeast: number): number =>
  trace.moves.reduce((end, m) => Math.max(end, m.endMin), atLeast);

const handsOf = (trace: Trace): number =>
  trace.moves.reduce((sum, m) => sum + m.hands.length * (m.endMin - m.startMin), 0);

function plannedMoves(moves: readonly Move[], traces: readonly Trace[]): PlannedMove[] {
  const of = (i: number, read: (m: MoveTrace) => number): Band =>
    band(traces.map((t) => read(t.moves[i] as MoveTrace)));
  return moves.map((move, i) => ({
    move,
    startMin: of(i, (m) => m.startMin),
    endMin: of(i, (m) => m.endMin),
    fromC: of(i, (m) => m.fromC),
    toC: of(i, (m) => m.toC),
    volumeL: quantile(
      traces.map((t) => (t.moves[i] as MoveTrace).volumeL),
      0.5,
    ),
  }));
}

/** The move that lands the mash at each rest still to be reached. */
function landingMoves(standing: Standing, built: Built) {
  const { rests } = built.document.mash;
  const tun = built.day.restTun.id;
  const found: { raise: number; move: Move; targetC: number }[] = [];
  built.moves.forEach((move) => {
    const lands =
      ((move.kind === 'return' || move.kind === 'pour') && move.to === tun) ||
      (move.kind === 'heat' && move.vessel === tun) ||
      (move.kind === 'fill' && move.vessel === tun);
    if (!lands || move.id.startsWith('kept-')) return;
    const raise = raiseOf(move) ?? standing.begun;
    const targetC = rests[raise]?.tempC ?? standing.targetC;
    const same = found.findIndex((f) => f.raise === raise);
    if (same >= 0) found.splice(same, 1);
    found.push({ raise, move, targetC });
  });
  return found;
}

function landingsOf(standing: Standing, built: Built, traces: readonly Trace[]): WayLanding[] {
  const found = landingMoves(standing, built);
  const rows = found.map(({ move, targetC }) => ({
    moveId: move.id,
    targetC,
    tempC: band(traces.map((t) => t.moves.find((m) => m.id === move.id)?.toC ?? Number.NaN)),
  }));
  // Nothing is done to the mash now: where it stands is the landing.
  if (!standing.open && found.every((f) => f.raise !== standing.begun)) {
    const tun = built.day.restTun.id;
    rows.unshift({
      moveId: 'now',
      targetC: standing.targetC,
      tempC: band(standing.now.particles.map((p) => vesselIn(p, tun).tempC)),
    });
  }
  return rows;
}

function returnsOf(standing: Standing, built: Built): WayPlayed['mended'] {
  return landingMoves(standing, built).flatMap(({ raise, move, targetC }) => {
    if (move.kind !== 'return' || raise === 0) return [];
    const own = built.moves.filter((m) => raiseOf(m) === raise);
    const pulls = own.filter((m) => m.kind === 'pull');
    const returns = own.filter((m) => m.kind === 'return' && !m.id.startsWith('kept-'));
    return [
      {
        pull: raise,
        targetC,
        moveIds: { pull: pulls.map((m) => m.id), return: returns.map((m) => m.id) },
        takeL: pulls.reduce((sum, m) => sum + (m.kind === 'pull' ? m.litres : 0), 0),
      },
    ];
  });
}

/** The mash at its end with the kinetics, and the wort it makes. */
function wortOf(bench: WayBench, built: Built, endMin: number) {
  const { kinetics, planned } = bench;
  const { likely } = kinetics;
  const results = likely && mashEnd(built, likely);
  if (!likely || !results || !(results.results.extractKg > 0)) return {};
  const others = kinetics.doubted.flatMap((d) => mashEnd(built, d)?.results ?? []);
  const spread = (read: (r: MashResults) => number): Band =>
    around(read(results.results), others.map(read));
  return {
    alphaLeft: spread((r) => r.alphaLeft),
    betaLeft: spread((r) => r.betaLeft),
    iodineNormal: results.results.iodineNormal,
    ...castOut(built, planned, {
      likely: mashWort(results.results),
      endMin,
      tempC: results.tempC,
    }),
  };
}

function castOut(
  built: Built,
  planned: MashOutcome | undefined,
  mash: Omit<MashOutcome, 'sd'>,
): Pick<WayPlayed, 'castOut'> {
  if (planned === undefined) return {};
  try {
    const ask = { document: built.document, mash: { ...mash, sd: planned.sd } };
    return { castOut: castOutOf({ ...ask, draws: CHAIN_DRAWS }) };
  } catch (error) {
    // A kettle that would boil dry has no cast-out; the mash's own figures still stand.
    if (error instanceof OutOfRange) return {};
    throw error;
  }
}

/** A band about the likely value, as wide as the draws are. */
function around(likely: number, values: readonly number[]): Band {
  if (values.length === 0) return { low: likely, likely, high: likely };
  const b = band([...values, likely]);
  return { low: Math.min(b.low, likely), likely, high: Math.max(b.high, likely) };
}

function mashEnd(built: Built, { particle, engine }: LikelyMash) {
  if (!(engine instanceof GristEngine)) return undefined;
  const { draw, situation } = particle;
  const read = built.moves.map((m) => asRead(m, draw));
  const options = { ...dayOptions(built.day, draw), mash: engine };
  const { end } = simulate(built.day.kit, situation, read, options);
  const all = engine.empty();
  for (const state of end.vessels) if (state.mash) addMash(all, state.mash);
  return { results: engine.results(all), tempC: stateIn(end, built.day.restTun.id).tempC };
}

/**
 * The day's moves with this way taken: what is over, what is broken off now, then what is to come.
 * A repair stands before the rest it falls into.
 */
function wholeDay({ now }: Standing, built: Built): Move[] {
  const ahead = new Set(built.moves.map((m) => m.id));
  const original = new Map(now.moves.map((m) => [m.id, m]));
  const over = now.moves.flatMap((m): Move[] => {
    if (now.finished.has(m.id)) return [m];
    const state = now.underway.get(m.id);
    if (!state?.tapped || ahead.has(m.id)) return [];
    // Told done now, it has heated for as long as it did, not until it boiled.
    const maxMinutes = Math.max(0.01, now.lastMin - state.begunMin);
    return [m.kind === 'heat' ? { ...m, maxMinutes } : m];
  });
  return [
    ...over,
    ...built.moves.map((m): Move => {
      const whole = now.underway.has(m.id) ? original.get(m.id) : undefined;
      const by = built.stretched.get(m.id);
      if (whole !== undefined)
        return by !== undefined && whole.kind === 'rest' ? stretched(whole, by) : whole;
      const { earliestMin, ...move } = m;
      const waits = earliestMin !== undefined && earliestMin > now.lastMin + 0.01;
      return (waits ? m : move) as Move;
    }),
  ];
}

function stretched(move: Extract<Move, { kind: 'rest' }>, byMin: number): Move {
  const minutes = Math.max(0, move.minutes + byMin);
  const { until } = move;
  return until === undefined
    ? { ...move, minutes }
    : { ...move, minutes, until: { ...until, minutes: Math.max(0, until.minutes + byMin) } };
}

/** Usual caution where hands can be hurt; common practice, no source. */
function cautionsOf(code: WayCode): string[] {
  return CAUTIONS[code] ?? [];
}

const SCALD = 'Boiling liquor and mash scald: arms covered, face away, nobody under the stream.';
const LIFT = 'Hot and heavy: small loads, dry floor, never up a ladder with a full bucket.';
const CAUTIONS: Readonly<Partial<Record<WayCode, string[]>>> = {
  'boiling-liquor': [SCALD],
  'small-pull': [SCALD, 'Thick mash spits as it boils: stir from the side.'],
  'direct-heat': ['Stir to the bottom without a break: mash burns on.'],
  'heat-on': ['Stir to the bottom without a break: mash burns on.'],
  'return-now': [SCALD],
  infusion: [SCALD],
  'by-hand': [SCALD, LIFT],
  'last-of-reserve': [SCALD],
  'other-burner': [SCALD, LIFT, 'Gas indoors: burner off and doors open if the fan stops: CO.'],
  wait: ['A burner is looked at with the gas off and the fire out.'],
};
