/**
 * Sizing: the strike temperature, and for each raise the litres that make it land. The landing is
 * simulated with the tun's own slip and the pull's own arrival; the size is the root of that.
 */
import {
  type Draw,
  emptyBrewhouse,
  liquidVolume,
  type MashEngine,
  NOMINAL,
  type Situation,
  simulate,
  solidToLiquid,
  type Trace,
  thermalOf,
  volumeOf,
} from '@ladlework/brewhouse';
import { mixingCross, waterDensity } from '@ladlework/matter';
import { findRoot, secant } from '@ladlework/numerics';
import {
  type BrewDay,
  DEFAULT_RESERVE,
  type Decoction,
  dayOptions,
  type PotLoad,
  potLoads,
} from './day.ts';
import {
  decoctionMoves,
  mashInMoves,
  mashVessel,
  type ParkedPull,
  type PullSize,
  type Strike,
  stateIn,
} from './moves-of.ts';

/** Landing within this of the target counts as hit [K]; in a screening, within the second. */
const HIT_K = 0.01;
/** Smallest pull that is looked at [L]. */
const LEAST_PULL_L = 0.05;
const ROUGH_HIT_K = 0.15;
const hitK = (day: BrewDay) => (day.groups === undefined ? HIT_K : ROUGH_HIT_K);

/** The brewhouse before the first move: empty, air-warm, the tun's wall as the day says. */
export function openingSituation(day: BrewDay): Situation {
  const start = emptyBrewhouse(day.kit, day.airC);
  const { tunC, kettleC } = day.document.day;
  const walls = new Map<string, number>();
  // Liquor that is hot at minute 0 has warmed the wall it stands in.
  if (kettleC !== undefined) walls.set(day.liquorVessel.id, kettleC);
  if (tunC !== undefined) walls.set(day.tun.id, tunC);
  return {
    ...start,
    vessels: start.vessels.map((v) => ({ ...v, tempC: walls.get(v.vessel) ?? v.tempC })),
  };
}

/** Litres of strike liquor at its temperature. */
export function strikeAt(day: BrewDay, tempC: number): Strike {
  return { litres: (day.liquorKg / waterDensity(Math.min(110, tempC))) * 1000, tempC };
}

/**
 * Strike temperature that leaves the mash at its first rest once it is mashed in.
 * @param day the day
 * @param draw what is uncertain, default the likely values
 * @returns the strike; its temperature may lie above the boil, which is then a clash
 */
export function sizeStrike(day: BrewDay, draw: Draw = NOMINAL): Strike {
  const target = (day.document.mash.rests[0] as { tempC: number }).tempC;
  const start = openingSituation(day);
  const miss = (tempC: number) => {
    const bounded = Math.max(1, Math.min(109, tempC));
    const moves = mashInMoves(day, strikeAt(day, bounded)).map((m) =>
      m.kind === 'fill' ? { ...m, tempC: bounded } : m,
    );
    const trace = simulate(
      day.kit,
      start,
      moves.filter((m) => m.kind !== 'heat'),
      dayOptions(day, draw),
    );
    return stateIn(trace.end, day.tun.id).tempC - target + (tempC - bounded);
  };
  const root = secant(miss, target + 5, target + 8, { fTolerance: HIT_K / 10 });
  return strikeAt(day, root.ok ? root.x : target + 6);
}

/** A sized pull, before the doubt. */
export interface SizedPull {
  readonly loads: readonly PotLoad[];
  /** Litres needed, all loads; what is possible when `reached` is false. */
  readonly needL: number;
  /** With the reserve, as far as the pots hold it. */
  readonly take: PullSize;
  readonly need: PullSize;
  readonly reached: boolean;
  /** Landing with the need, unread. */
  readonly landingC: number;
  /** Most the pots and the mash allow [L]. */
  readonly mostL: number;
  readonly mashL: number;
  /** Simulated pull to return with the need. */
  readonly trace: Trace;
}

/**
 * Litres to pull for one raise.
 * @param day the day
 * @param index raise, from 0
 * @param raise the decoction
 * @param before what stands where when the pull begins
 * @param draw what is uncertain
 * @param guessL litres to start from [L]; default the mixing cross
 * @returns the size; `reached` false when the kit cannot land it
 */
export function sizePull(
  day: BrewDay,
  index: number,
  raise: Decoction,
  before: Situation,
  draw: Draw = NOMINAL,
  guessL?: number,
): SizedPull {
  const { loads, target, mash, mashL, mostL, tracer, landing, miss } = trial(
    day,
    index,
    raise,
    before,
    draw,
  );
  const guess = Math.min(
    mostL,
    Math.max(1, guessL ?? mixingCross(Math.min(mash.tempC - 3, target), target, 90) * mashL),
  );
  const near = secant(miss, guess, guess * (guessL === undefined ? 1.1 : 1.04), {
    fTolerance: hitK(day),
    maxEvaluations: 8,
  });
  const good = near.ok && near.x > 0 && near.x <= mostL;
  if (!good) {
    const trace = tracer(mostL);
    const atMost = landing(trace) - target;
    const need = { loads: share(mostL, loads) };
    if (atMost < 0)
      return {
        loads,
        needL: mostL,
        need,
        take: { ...need, stopAtC: target },
        reached: atMost > -0.05,
        landingC: landing(trace),
        mostL,
        mashL,
        trace,
      };
  }
  const root = good
    ? near
    : findRoot(miss, Math.min(LEAST_PULL_L, mostL / 2), mostL, { fTolerance: hitK(day) });
  // A mash that stands above the rest already needs no pull; the smallest is what is left to say.
  const needL = root.ok ? root.x : miss(LEAST_PULL_L) >= 0 ? LEAST_PULL_L : mostL;
  const trace = tracer(needL);
  const reserve = day.document.mash.reserve ?? DEFAULT_RESERVE;
  const takeL = Math.min(mostL, needL * (1 + reserve));
  return {
    loads,
    needL,
    need: { loads: share(needL, loads) },
    take: { loads: share(takeL, loads), stopAtC: target },
    reached: true,
    landingC: landing(trace),
    mostL,
    mashL,
    trace,
  };
}

/** The pull as a function of its litres: what it lands at, and how far from the target. */
function trial(day: BrewDay, index: number, raise: Decoction, before: Situation, draw: Draw) {
  const loads = potLoads(day, raise);
  const target = (day.document.mash.rests[index + 1] as { tempC: number }).tempC;
  const mash = stateIn(before, mashVessel(day, index));
  const tunVessel = index === 0 ? day.tun : day.restTun;
  const mashL = volumeOf(mash, thermalOf(tunVessel, draw, day.airC, day.moisture));
  const kettleMash = isKettleMash(day, index);
  const roomL =
    loads.reduce((sum, l) => sum + l.capacityL, 0) -
    (kettleMash ? 0 : keptL(day, loads, before, draw));
  const mostL = Math.max(1, Math.min(roomL, 0.9 * (mashL - tunVessel.deadL)));
  const run = (litres: number): Trace =>
    simulate(
      day.kit,
      before,
      decoctionMoves(
        day,
        index,
        raise,
        loads,
        { loads: share(litres, loads) },
        kettleMash ? parked(day, before, raise, litres, draw) : undefined,
      ),
      dayOptions(day, draw),
    );
  const landing = (trace: Trace) => stateIn(trace.end, day.restTun.id).tempC;
  // The last trial is most often the one that hits: it need not be run again.
  let last: { readonly litres: number; readonly trace: Trace } | undefined;
  const tracer = (litres: number): Trace => {
    if (last?.litres !== litres) last = { litres, trace: run(litres) };
    return last.trace;
  };
  const miss = (litres: number) => landing(tracer(litres)) - target;
  return { loads, target, mash, mashL, mostL, tracer, landing, miss };
}

/**
 * Litres one draw would need, found from where the planned need lands on it.
 * @param day the day
 * @param index raise, from 0
 * @param raise the decoction
 * @param before what stands where when the pull begins
 * @param draw what is uncertain
 * @param tried litres already simulated on this draw, and their landing
 * @returns litres, all loads; what the kit can do where it cannot land it
 */
export function neededL(
  day: BrewDay,
  index: number,
  raise: Decoction,
  before: Situation,
  draw: Draw,
  tried: { readonly litres: number; readonly landingC: number },
): number {
  const { target, mash, mashL, mostL, miss } = trial(day, index, raise, before, draw);
  const missK = tried.landingC - target;
  // A litre more lifts the mash by its share of the way to the boil; it is nearly a straight line.
  const perL = (tried.landingC - mash.tempC + 3) / Math.max(1, tried.litres);
  const next = Math.max(0.5, Math.min(mostL, tried.litres - missK / Math.max(1e-3, perL)));
  if (Math.abs(missK) < HIT_K) return tried.litres;
  const known = (litres: number) => (litres === tried.litres ? missK : miss(litres));
  const root = secant(known, tried.litres, next === tried.litres ? 0.98 * next : next, {
    fTolerance: HIT_K,
    maxEvaluations: 7,
  });
  if (root.ok && root.x > 0 && root.x <= mostL && mashL > 0) return root.x;
  return sizePull(day, index, raise, before, draw).needL;
}

/** What already stands in the pots before a pull, each counted once [L]. */
function keptL(day: BrewDay, loads: readonly PotLoad[], before: Situation, draw: Draw): number {
  const pots = [...new Set(loads.map((l) => l.pot))];
  return pots.reduce(
    (sum, pot) =>
      sum + volumeOf(stateIn(before, pot.id), thermalOf(pot, draw, day.airC, day.moisture)),
    0,
  );
}

/** True for the raise that boils what stays in the kettle and parks the rest. */
export function isKettleMash(day: BrewDay, index: number): boolean {
  return index === 0 && day.restTun.id !== day.tun.id;
}

/** Splits litres over loads by their parts; what one cannot hold goes to the others, if they can. */
export function share(litres: number, loads: readonly PotLoad[]): number[] {
  const given = loads.map(() => 0);
  let left = litres;
  let open = loads.map((_, k) => k);
  while (open.length > 0) {
    const parts = open.reduce((sum, k) => sum + (loads[k] as PotLoad).part, 0);
    const full = open.filter((k) => {
      const { part, capacityL } = loads[k] as PotLoad;
      return (left * part) / parts > capacityL;
    });
    // More than all of them hold: over the brim by their parts, as the trace will then say.
    const last = full.length === 0 || full.length === open.length;
    for (const k of last ? open : full) {
      const { part, capacityL } = loads[k] as PotLoad;
      given[k] = last ? (left * part) / parts : capacityL;
    }
    if (last) break;
    left -= full.reduce((sum, k) => sum + (loads[k] as PotLoad).capacityL, 0);
    open = open.filter((k) => !full.includes(k));
  }
  return given;
}

/** In kettle-mash: what must go over for `stayL` of the thickness asked for to stay behind. */
export function parked(
  day: BrewDay,
  before: Situation,
  raise: Decoction,
  stayL: number,
  draw: Draw,
): ParkedPull {
  const state = stateIn(before, day.tun.id);
  const thermal = thermalOf(day.tun, draw, day.airC, day.moisture);
  const liquidL = liquidVolume(state);
  const solidL = thermal.dryLKg * state.solidsKg;
  const ratio = solidToLiquid(state, raise.thickness, draw.thickness);
  let liquidShare = stayL / (ratio * solidL + liquidL);
  let solidShare = ratio * liquidShare;
  if (solidShare > 1) {
    solidShare = 1;
    liquidShare = Math.max(0, (stayL - solidL) / liquidL);
  }
  const grist = state.solidsKg + state.extractKg;
  const has = state.waterKg / grist;
  const left = 1 - solidShare;
  // All grist stays: what goes over is liquid alone.
  const thickness =
    left < 1e-6 ? { liquorLPerKg: 1e6 } : { liquorLPerKg: (has * (1 - liquidShare)) / left };
  return { litres: Math.max(0, liquidL + solidL - stayL) / draw.dip, thickness };
}

/** Runs moves with the mash kinetics. */
export function runMoves(
  day: BrewDay,
  start: Situation,
  moves: Parameters<typeof simulate>[2],
  draw: Draw,
  engine: MashEngine | undefined,
  curves: boolean,
): Trace {
  return simulate(day.kit, start, moves, {
    ...dayOptions(day, draw),
    curves,
    ...(engine ? { mash: engine } : {}),
  });
}
