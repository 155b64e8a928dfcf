/** The plan of one brew day: sized on the likely kit, its doubt over the whole ensemble. */
import {
  type Draw,
  GristEngine,
  type MashEngine,
  type Move,
  massOf,
  NOMINAL,
  type Trace,
  type VesselCurve,
  type VesselState,
} from '@ladlework/brewhouse';
import { OutOfRange } from '@ladlework/matter';
import { band, quantile } from '@ladlework/numerics';
import { burnt } from './burnt.ts';
import { cautionsOf } from './cautions.ts';
import { changesFor } from './changes.ts';
import { clashesOf } from './clash.ts';
import { type BrewDay, brewDay } from './day.ts';
import type { PlanDocument } from './document.ts';
import { drawsFor } from './ensemble.ts';
import { mashEngines } from './grist.ts';
import { joinedCurves, mashBands } from './mash-bands.ts';
import { stateIn } from './moves-of.ts';
import type { Band, MashEnergy, Plan, PlannedMove, PlannedReturn } from './plan.ts';
import { runOffEffect } from './run-off.ts';
import { neededL, sizeStrike } from './size.ts';
import { type PlayedRaise, playMash, type SizedMash, type SizedRaise, sizeMash } from './stages.ts';
import { rescueMalt, starchRescue } from './starch.ts';
import { textbookLanding } from './textbook.ts';
import { attenuationAdvice } from './wort/attenuation.ts';
import { mashOutcome } from './wort/mash-outcome.ts';
import { wortPlan } from './wort/plan-of.ts';
import type { WortPlan } from './wort/plan-types.ts';
import { NoKettle } from './wort/setup.ts';
import { type Wort, wortForecast } from './wort.ts';

/** More draws than these say nothing new about the chain. */
const MOST_CHAIN_DRAWS = 120;

export interface PlanOptions {
  /** Draws behind every band, 50-5000; default 200. */
  readonly draws?: number;
  /** Default 1: the same document gives the same plan. */
  readonly seed?: number;
  /** Mash kinetics for a draw; left out: those of the beer's grist; `off`: heat and mass only. */
  readonly mash?: ((draw: Draw) => MashEngine) | 'off';
  /** Carry the mash on to the tank; default true. */
  readonly wort?: boolean;
  /** Look for single changes that would free a clash; default true. */
  readonly changes?: boolean;
}

/**
 * Plans a brew day.
 * @param document kit, beer, mash and day
 * @param options draws, seed, kinetics
 * @returns the plan, feasible or not; never throws for a kit that merely cannot do it
 * @throws UnknownName when the document names what its kit does not have
 */
export function planDay(document: PlanDocument, options: PlanOptions = {}): Plan {
  const day = brewDay(document);
  const engines = options.mash === 'off' ? undefined : (options.mash ?? mashEngines(document.beer));
  const nominalEngine = engines?.(NOMINAL);
  const strike = sizeStrike(day);
  const sized = sizeMash(day, strike, nominalEngine);
  const likely = playMash(day, sized, NOMINAL, nominalEngine, true);
  const draws = drawsFor(day.kit, options.draws ?? 200, options.seed ?? 1);
  const doubt = new Doubt(day);
  const worts: Wort[] = [];
  const blue = sized.raises.map((): Blue[] => []);
  for (const [i, draw] of draws.entries()) {
    const engine = engines?.(draw);
    const played = playMash(day, sized, draw, engine, i < DRAWN);
    doubt.add(draw, played);
    if (!engine) continue;
    worts.push(...wortForecast.sample(day, engine, last(played.stages)));
    played.raises.forEach((r, k) => {
      const found = blueIn(engine, stateIn(r.guided.end, day.restTun.id));
      if (found) blue[k]?.push(found);
    });
  }
  const trace = joined(likely.stages);
  const clashes = clashesOf(day, sized, trace);
  const feasible = clashes.length === 0;
  const moves = doubt.moves(sized, trace);
  return {
    feasible,
    clashes,
    changes:
      feasible || options.changes === false
        ? []
        : changesFor(day, sized, draws.slice(0, 60), nominalEngine),
    strike: {
      litres: strike.litres,
      tempC: doubt.strike(),
      mashL: volumeAt(trace.curves, day.tun.id, endOf(trace, 'mash-in')),
    },
    addedMin: doubt.added(),
    mashEndMin: doubt.end(),
    moves,
    returns: sized.raises.filter((r) => r.pull).map((r, i) => doubt.returned(r, i)),
    runOff: runOffEffect(day, doubt.finalC(), stateIn(trace.end, day.restTun.id)),
    cautions: cautionsOf(day, sized.moves, trace),
    trace,
    curveBands: doubt.curves(trace),
    mashBands: mashBands(trace.mashCurves, doubt.drawnStages().map(joinedCurves)),
    energy: doubt.energy(sized),
    iodine: engines
      ? iodinePrompts(day, sized, likely.raises, nominalEngine, blue, draws.length)
      : [],
    ...wortOf(day, worts, nominalEngine, last(likely.stages), doubt, options),
  };
}

/** The wort of the mash, and the way on from it to the tank. */
function wortOf(
  day: BrewDay,
  worts: readonly Wort[],
  engine: MashEngine | undefined,
  end: Trace,
  doubt: Doubt,
  options: PlanOptions,
): Pick<Plan, 'wort' | 'wortPlan' | 'noWortPlan'> {
  const [likely] = engine === undefined ? [] : wortForecast.sample(day, engine, end);
  if (likely === undefined || worts.length === 0) return {};
  const wort = wortForecast.of(day, worts);
  if (options.wort === false) return { wort };
  const mash = mashOutcome(likely, wort, doubt.end().likely, doubt.finalC().likely);
  const draws = Math.min(options.draws ?? 200, MOST_CHAIN_DRAWS);
  try {
    const wortPlanned = wortPlan(day.document, mash, { draws, seed: options.seed ?? 1 });
    return { wort, wortPlan: withRestAdvice(day.document, wortPlanned) };
  } catch (error) {
    // A mash can be planned where nothing boils wort, or where wort would boil dry; the page says so.
    if (error instanceof NoKettle || error instanceof OutOfRange)
      return { wort, noWortPlan: error.message };
    throw error;
  }
}

/** An attenuation that is missed comes with the rest that would make it. */
function withRestAdvice(document: PlanDocument, plan: WortPlan): WortPlan {
  const wishes = plan.wishes.map((wish) => {
    if (wish.what !== 'attenuation' || wish.met) return wish;
    return { ...wish, mend: attenuationAdvice(document, wish.wanted).sentence };
  });
  return { ...plan, wishes };
}

/** The mash of a draw that would turn iodine blue. */
interface Blue {
  readonly mash: Float64Array;
  readonly engine: GristEngine;
  readonly starch: number;
}

/** What would turn iodine blue in this vessel, if anything does. */
function blueIn(engine: MashEngine, { mash }: VesselState): Blue | undefined {
  if (!(engine instanceof GristEngine) || mash === undefined) return undefined;
  const { iodineNormal, starchGelatinisedShare } = engine.results(mash);
  return iodineNormal ? undefined : { mash, engine, starch: starchGelatinisedShare };
}

/** An iodine test at the end of each rest after a raise, with the chance that it shows starch. */
function iodinePrompts(
  day: BrewDay,
  sized: SizedMash,
  likely: readonly PlayedRaise[],
  engine: MashEngine | undefined,
  blue: readonly (readonly Blue[])[],
  draws: number,
): Plan['iodine'] {
  return sized.raises.map((r, k) => {
    const { guided } = likely[k] as PlayedRaise;
    const found = blue[k] as readonly Blue[];
    const own = stateIn(guided.end, day.restTun.id).mash;
    const usual =
      engine instanceof GristEngine && own ? { mash: own, engine, starch: 0 } : undefined;
    // Of the mashes that are blue, the one in the middle; when none is, the likely one.
    const middle = [...found].sort((x, y) => x.starch - y.starch)[found.length >> 1] ?? usual;
    const malt = rescueMalt(day.document.beer);
    return {
      rest: r.index + 2,
      atMin: Math.max(...guided.moves.map((m) => m.endMin)),
      positiveChance: found.length / draws,
      ...(middle && malt
        ? { ifBlue: starchRescue(middle.mash, middle.engine, malt, day.gristKg).text }
        : {}),
    };
  });
}

const last = <T>(list: readonly T[]): T => list[list.length - 1] as T;

/** Stage traces as one: moves and curves in order, ledger summed, end of the last. */
export function joined(stages: readonly Trace[]): Trace {
  const ledger = { ...(stages[0] as Trace).ledger };
  for (const s of stages.slice(1))
    for (const key of Object.keys(ledger) as (keyof typeof ledger)[]) ledger[key] += s.ledger[key];
  const curves = new Map<string, VesselCurve>();
  for (const stage of stages)
    for (const c of stage.curves) {
      const have = curves.get(c.vessel);
      if (!have)
        curves.set(c.vessel, {
          ...c,
          timeMin: [...c.timeMin],
          tempC: [...c.tempC],
          volumeL: [...c.volumeL],
        });
      else {
        have.timeMin.push(...c.timeMin);
        have.tempC.push(...c.tempC);
        have.volumeL.push(...c.volumeL);
      }
    }
  return {
    moves: stages.flatMap((s) => s.moves),
    curves: [...curves.values()],
    mashCurves: joinedCurves(stages),
    ledger,
    problems: stages.flatMap((s) => s.problems),
    end: last(stages).end,
  };
}

function endOf(trace: Trace, id: string): number {
  return trace.moves.find((m) => m.id === id)?.endMin ?? 0;
}

/** Linear interpolation in one curve; clamps at its ends. */
export function curveAt(
  times: readonly number[],
  values: readonly number[],
  minute: number,
): number {
  let low = 0;
  let high = times.length - 1;
  if (high < 0) return Number.NaN;
  if (minute <= (times[0] as number)) return values[0] as number;
  if (minute >= (times[high] as number)) return values[high] as number;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if ((times[mid] as number) <= minute) low = mid;
    else high = mid;
  }
  const run = (times[high] as number) - (times[low] as number);
  const part = run > 0 ? (minute - (times[low] as number)) / run : 1;
  return (values[low] as number) * (1 - part) + (values[high] as number) * part;
}

function volumeAt(curves: readonly VesselCurve[], vessel: string, minute: number): number {
  const curve = curves.find((c) => c.vessel === vessel);
  return curve ? curveAt(curve.timeMin, curve.volumeL, minute) : 0;
}

/** Draws whose curves are kept: enough for the 10 and 90 % of a picture. */
const DRAWN = 80;
const KJ_PER_KWH = 3600;
/** Minutes between the points of a curve's band. */
const BAND_STEP_MIN = 5;

/** Collects what each draw gave and turns it into bands. */
class Doubt {
  private readonly day: BrewDay;
  private readonly times = new Map<
    string,
    { start: number[]; end: number[]; from: number[]; to: number[] }
  >();
  private readonly played: {
    draw: Draw;
    raises: readonly PlayedRaise[];
    stages: readonly Trace[];
  }[] = [];

  constructor(day: BrewDay) {
    this.day = day;
  }

  add(draw: Draw, played: ReturnType<typeof playMash>): void {
    this.played.push({ draw, raises: played.raises, stages: played.stages });
    for (const stage of played.stages)
      for (const m of stage.moves) {
        const t = this.times.get(m.id) ?? { start: [], end: [], from: [], to: [] };
        t.start.push(m.startMin);
        t.end.push(m.endMin);
        t.from.push(m.fromC);
        t.to.push(m.toC);
        this.times.set(m.id, t);
      }
  }

  strike(): Band {
    return band(this.played.map((p) => sizeStrike(this.day, p.draw).tempC));
  }

  end(): Band {
    return band(this.played.map((p) => this.mashEnd(p.stages)));
  }

  private mashEnd(stages: readonly Trace[]): number {
    return Math.max(...last(stages).moves.map((m) => m.endMin));
  }

  added(): Band {
    const asked = this.day.document.mash.rests.reduce((sum, r) => sum + r.minutes, 0);
    const mashed = this.times.get('mash-in')?.end ?? [];
    return band(this.played.map((p, i) => this.mashEnd(p.stages) - (mashed[i] as number) - asked));
  }

  finalC(): Band {
    return band(this.played.map((p) => stateIn(last(p.stages).end, this.day.restTun.id).tempC));
  }

  energy(sized: SizedMash): MashEnergy {
    const { kit } = this.day;
    const planned = new Map(sized.moves.map((m) => [m.id, m]));
    const pots = new Set(sized.raises.flatMap((r) => r.pull?.loads.map((l) => l.pot.id) ?? []));
    const boiling = new Set(
      sized.raises
        .flatMap((r) => (r.pull ? r.moves : []))
        .filter((m) => 'burner' in m && pots.has(m.vessel))
        .map((m) => m.id),
    );
    const days = this.played.map((p) => ({ day: joined(p.stages), draw: p.draw }));
    const of = (read: (day: Trace, draw: Draw) => number) =>
      band(days.map(({ day, draw }) => read(day, draw)));
    return {
      burntKWh: of((day, draw) => burnt(kit, planned, day, draw).energyKWh),
      heatKWh: of((day) => day.ledger.burnerKJ / KJ_PER_KWH),
      vapourKWh: of((day) => day.ledger.vapourKJ / KJ_PER_KWH),
      lostKWh: of(
        ({ ledger }) => (ledger.wallLossKJ + ledger.surfaceLossKJ + ledger.carrierKJ) / KJ_PER_KWH,
      ),
      evaporatedKg: of((day) => day.ledger.vapourKg),
      boiledOffKg: of((day) =>
        day.moves.reduce((sum, m) => sum + (boiling.has(m.id) ? m.evaporatedKg : 0), 0),
      ),
    };
  }

  /** Stages of the draws that kept their curves. */
  drawnStages(): (readonly Trace[])[] {
    return this.played.slice(0, DRAWN).map((p) => p.stages);
  }

  moves(sized: SizedMash, trace: Trace): PlannedMove[] {
    return trace.moves.map((m, i) => {
      const t = this.times.get(m.id) as {
        start: number[];
        end: number[];
        from: number[];
        to: number[];
      };
      return {
        move: sized.moves[i] as PlannedMove['move'],
        startMin: band(t.start),
        endMin: band(t.end),
        fromC: band(t.from),
        toC: band(t.to),
        volumeL: m.volumeL,
        ...(m.transfer?.way === undefined ? {} : { way: m.transfer.way }),
      };
    });
  }

  returned(sized: SizedRaise, nth: number): PlannedReturn {
    const { index } = sized;
    const pull = sized.pull as NonNullable<SizedRaise['pull']>;
    const raise = sized.raise as Extract<SizedRaise['raise'], { by: 'decoction' }>;
    const needs: number[] = [];
    const kgs: number[] = [];
    const before: number[] = [];
    const arrival: number[] = [];
    const open: number[] = [];
    const guided: number[] = [];
    const away: number[] = [];
    for (const p of this.played) {
      const r = p.raises[index] as PlayedRaise;
      const o = r.open as Trace;
      const landingC = stateIn(o.end, this.day.restTun.id).tempC;
      const tried = { litres: pull.needL, landingC };
      needs.push(neededL(this.day, index, raise, r.before, p.draw, tried));
      const pulledKg = o.moves
        .filter((m) => m.kind === 'pull')
        .reduce((s, m) => s + (m.transfer?.kg ?? 0), 0);
      // In kettle-mash the carried part is parked; what stays is what is boiled.
      kgs.push(sized.parkL ? massOf(stateIn(r.before, this.day.tun.id)) - pulledKg : pulledKg);
      const back = o.moves.filter((m) => m.kind === 'return');
      before.push(back[0]?.fromC ?? Number.NaN);
      arrival.push(heatMean(back));
      open.push(landingC);
      const g = r.guided.moves.filter(
        (m) => m.id.startsWith('return-') || m.id.startsWith('pour-'),
      );
      guided.push(last(g)?.toC ?? Number.NaN);
      const pulls = o.moves.filter((m) => m.kind === 'pull');
      away.push((last(back)?.endMin ?? 0) - (pulls[0]?.startMin ?? 0));
    }
    const takeL = pull.take.loads.reduce((a, b) => a + b, 0);
    const pullL = band(needs);
    // Draws know nothing of each other's mash volume; the share is against the likely one.
    const perL = 1 / pull.mashL;
    const rest = this.day.document.mash.rests[index] as { tempC: number };
    return {
      pull: nth + 1,
      moveIds: {
        pull: idsOf(sized.moves, 'pull'),
        return: idsOf(sized.moves, 'return'),
      },
      restC: rest.tempC,
      targetC: sized.targetC,
      pullL,
      pullKg: band(kgs.map((kg, i) => (kg * (needs[i] as number)) / pull.needL)),
      pullShare: { low: pullL.low * perL, likely: pullL.likely * perL, high: pullL.high * perL },
      reserveL: reserveBand(takeL, needs),
      takeL,
      portions: Math.ceil(takeL / this.day.pullRoute.portionL),
      potLoads: pull.loads.map((l, k) => ({
        vessel: l.pot.id,
        litres: pull.take.loads[k] as number,
      })),
      tunBeforeC: band(before),
      arrivalC: band(arrival),
      landingC: band(open),
      guidedLandingC: band(guided),
      awayMin: band(away),
      textbookC: textbookLanding(pull.needL / pull.mashL, rest.tempC, this.day.boilC),
    };
  }

  curves(trace: Trace): Plan['curveBands'] {
    const end = Math.max(...trace.moves.map((m) => m.endMin));
    const grid: number[] = [];
    for (let t = 0; t <= end; t += BAND_STEP_MIN) grid.push(t);
    return trace.curves.map((c) => {
      const lowC: number[] = [];
      const highC: number[] = [];
      const own = this.played.slice(0, DRAWN).map((p) => joinedCurve(p.stages, c.vessel));
      for (const t of grid) {
        const temps = own.map((o) => curveAt(o.timeMin, o.tempC, t));
        lowC.push(quantile(temps, 0.1));
        highC.push(quantile(temps, 0.9));
      }
      return { vessel: c.vessel, timeMin: grid, lowC, highC };
    });
  }
}

function joinedCurve(stages: readonly Trace[], vessel: string) {
  const timeMin: number[] = [];
  const tempC: number[] = [];
  for (const s of stages)
    for (const c of s.curves)
      if (c.vessel === vessel) {
        for (const t of c.timeMin) timeMin.push(t);
        for (const t of c.tempC) tempC.push(t);
      }
  return { timeMin, tempC };
}

function idsOf(moves: readonly Move[], kind: Move['kind']): string[] {
  return moves.filter((m) => m.kind === kind).map((m) => m.id);
}

/** Mean arrival of several loads, weighted by what each carried. */
function heatMean(moves: Trace['moves']): number {
  let kg = 0;
  let sum = 0;
  for (const m of moves)
    if (m.transfer) {
      kg += m.transfer.kg;
      sum += m.transfer.kg * m.transfer.arrivalC;
    }
  return kg > 0 ? sum / kg : Number.NaN;
}

/** What is left over of the litres taken, draw by draw; never under nothing. */
function reserveBand(takeL: number, needs: readonly number[]): Band {
  return band(needs.map((n) => Math.max(0, takeL - n)));
}
