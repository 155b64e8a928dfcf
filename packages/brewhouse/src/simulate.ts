/**
 * The one function under everything: what a list of moves makes of a situation. Planning searches
 * over moves, a forecast starts it from the latest readings, doubt runs it over many draws.
 *
 * Every vessel, burner and pair of hands has its own clock; a move starts when all it needs are
 * free. Vessels that are not touched go on by themselves and are brought up to the move that next
 * touches them.
 */
import {
  boilingPoint,
  boilingRise,
  saturationPressure,
  slakingHeat,
  waterDensity,
} from '@ladlework/matter';
import { burnerPowerKW } from './burner.ts';
import { type Draw, NOMINAL } from './draw.ts';
import { History, type MashEngine } from './history.ts';
import type { Burner, Kit, Route, Vessel } from './kit.ts';
import type { Heat, Hold, MashIn, Move, Rest } from './moves.ts';
import { pullWay } from './pull-way.ts';
import type { Situation, VesselState } from './situation.ts';
import {
  dryHeatCapacity,
  heatCapacity,
  letBoil,
  letStand,
  massOf,
  type Standing,
  type Thermal,
  thermalOf,
  unheated,
  volumeOf,
  WATER_KJ_KG_K,
} from './thermal.ts';
import type {
  Ledger,
  MashCurve,
  MoveTrace,
  Problem,
  Trace,
  TransferTrace,
  VesselCurve,
} from './trace.ts';
import { drain, transfer } from './transfer.ts';

/** Longest heat-up before we say that the burner will not do it [min]. */
const LONGEST_HEAT_MIN = 720;
/** Freeboard that a boil needs: under this it is refused. @source physics.md 4.4 */
export const LEAST_HEADSPACE = 0.1;

/** Minutes between two samples of a mash, and the least content worth one. */
const SAMPLE_MIN = 4;
const SMALLEST_SAMPLE_KG = 2;

export interface SimulateOptions {
  readonly draw?: Draw;
  /** Air at the kit today [°C]; left out: the kit's usual. */
  readonly airC?: number;
  /** Water share of grist that is already in the mash, for its heat; 0-0.15. */
  readonly moisture?: number;
  readonly mash?: MashEngine;
  /** Keep the curves for drawing; costs time, so off in ensembles. */
  readonly curves?: boolean;
  /** Groups the portions of a transfer are carried in, 1-100; left out: each by itself. For screening. */
  readonly groups?: number;
}

/**
 * An empty brewhouse at room temperature.
 * @param kit the kit
 * @param airC brewhouse air [°C]
 */
export function emptyBrewhouse(kit: Kit, airC: number): Situation {
  return {
    vessels: kit.vessels.map((v) => ({
      vessel: v.id,
      clockMin: 0,
      tempC: airC,
      waterKg: 0,
      solidsKg: 0,
      extractKg: 0,
    })),
    freeAtMin: {},
  };
}

/**
 * Boiling point of the liquor at this kit: measured, or from its height above sea level.
 * @param kit the kit
 * @returns temperature [°C]
 */
export function kitBoilingPoint(kit: Kit): number {
  return kit.boilingPointC ?? boilingPoint(kit.altitudeM);
}

/**
 * Runs the moves.
 * @param kit vessels, burners and routes by id
 * @param start what stands where; not changed
 * @param moves in the order they are begun
 * @param options draw, air, kinetics, curves
 * @returns what happened, with the end situation
 * @throws Error when a move names a vessel, burner or route the kit does not have
 * @source heat and mass balance of design.md 3; equations in thermal.ts and transfer.ts
 */
export function simulate(
  kit: Kit,
  start: Situation,
  moves: readonly Move[],
  options: SimulateOptions = {},
): Trace {
  const run = new Run(kit, start, options);
  for (const move of moves) run.carryOut(move);
  return run.finish();
}

interface Body {
  readonly state: VesselState;
  thermal: Thermal;
  readonly history: History;
  readonly curve: VesselCurve;
  readonly mashCurve: MashCurve;
  readonly record: (state: VesselState) => void;
}

class Run {
  private readonly bodies = new Map<string, Body>();
  private readonly free: Record<string, number>;
  private readonly ledger: Ledger = {
    burnerKJ: 0,
    slakingKJ: 0,
    wallLossKJ: 0,
    surfaceLossKJ: 0,
    vapourKJ: 0,
    vapourKg: 0,
    inKJ: 0,
    inKg: 0,
    outKJ: 0,
    outKg: 0,
    carrierKJ: 0,
  };
  private readonly moves: MoveTrace[] = [];
  private readonly problems: Problem[] = [];
  private readonly draw: Draw;
  private readonly boilC: number;
  private readonly pressureKPa: number;
  private moisture: number;
  private readonly airC: number;
  private readonly kit: Kit;
  private readonly engine: MashEngine | undefined;
  /** True when curves are kept and the kinetics run. */
  private readonly sampled: boolean;
  private readonly groups: number | undefined;

  constructor(kit: Kit, start: Situation, options: SimulateOptions) {
    this.kit = kit;
    this.draw = options.draw ?? NOMINAL;
    this.airC = options.airC ?? kit.airC;
    this.moisture = options.moisture ?? 0.045;
    this.engine = options.mash;
    this.groups = options.groups;
    this.sampled = options.curves === true && options.mash?.read !== undefined;
    this.boilC = kitBoilingPoint(kit);
    this.pressureKPa = saturationPressure(this.boilC);
    this.free = { ...start.freeAtMin };
    for (const vessel of kit.vessels) {
      const given = start.vessels.find((s) => s.vessel === vessel.id);
      const state: VesselState = given
        ? { ...given }
        : {
            vessel: vessel.id,
            clockMin: 0,
            tempC: this.airC,
            waterKg: 0,
            solidsKg: 0,
            extractKg: 0,
          };
      if (given?.mash) state.mash = given.mash.slice();
      this.bodies.set(vessel.id, this.body(vessel, state, options.curves === true));
    }
  }

  private body(vessel: Vessel, state: VesselState, curves: boolean): Body {
    const history = new History();
    const curve: VesselCurve = { vessel: vessel.id, timeMin: [], tempC: [], volumeL: [] };
    const mashCurve: MashCurve = { vessel: vessel.id, timeMin: [], readings: [] };
    const body: Body = {
      state,
      mashCurve,
      thermal: thermalOf(vessel, this.draw, this.airC, this.moisture),
      history,
      curve,
      record: (s) => {
        if (s.mash && this.engine) history.note(s, this.engine);
        if (curves) {
          curve.timeMin.push(s.clockMin);
          curve.tempC.push(s.tempC);
          curve.volumeL.push(volumeOf(s, body.thermal));
          this.sampleMash(body);
        }
      },
    };
    history.restart(state);
    if (curves) body.record(state);
    return body;
  }

  /** Keeps a sample of the vessel's mash, when it holds any and the last sample is old enough. */
  private sampleMash(body: Body): void {
    const { state, history, mashCurve } = body;
    const engine = this.engine;
    if (!state.mash || !engine?.read || massOf(state) < SMALLEST_SAMPLE_KG) return;
    const lastMin = mashCurve.timeMin.at(-1) ?? Number.NEGATIVE_INFINITY;
    if (state.clockMin < lastMin + SAMPLE_MIN) return;
    history.sync(state, engine);
    mashCurve.timeMin.push(state.clockMin);
    mashCurve.readings.push(engine.read(state.mash));
  }

  /** Carries out one move at the earliest minute everything it needs is free. */
  carryOut(move: Move): void {
    const touched = this.touched(move);
    const needs = [...move.hands, ...('burner' in move ? [move.burner] : [])];
    let startMin = move.earliestMin ?? 0;
    for (const body of touched) startMin = Math.max(startMin, body.state.clockMin);
    for (const id of needs) startMin = Math.max(startMin, this.free[id] ?? 0);
    for (const body of touched) this.passUntil(body, startMin);
    const main = touched[touched.length - 1] as Body;
    const fromC = main.state.tempC;
    const vapourBefore = this.ledger.vapourKg;
    const done = this.act(move, touched);
    let endMin = startMin;
    for (const body of touched) endMin = Math.max(endMin, body.state.clockMin);
    for (const body of touched) this.passUntil(body, endMin);
    for (const id of needs) this.free[id] = endMin;
    this.moves.push({
      id: move.id,
      kind: move.kind,
      vessels: touched.map((b) => b.state.vessel),
      hands: move.hands,
      startMin,
      endMin,
      fromC,
      toC: main.state.tempC,
      volumeL: volumeOf(main.state, main.thermal),
      evaporatedKg: this.ledger.vapourKg - vapourBefore,
      ...(done ? { transfer: done } : {}),
    });
  }

  /** Brings every vessel to the last minute of the day so far and hands the result over. */
  finish(): Trace {
    let last = 0;
    for (const m of this.moves) last = Math.max(last, m.endMin);
    for (const body of this.bodies.values()) {
      this.passUntil(body, last);
      body.history.sync(body.state, this.engine);
    }
    return {
      moves: this.moves,
      curves: [...this.bodies.values()].map((b) => b.curve).filter((c) => c.timeMin.length > 0),
      mashCurves: [...this.bodies.values()]
        .map((b) => b.mashCurve)
        .filter((c) => c.timeMin.length > 0),
      ledger: this.ledger,
      problems: this.problems,
      end: {
        vessels: [...this.bodies.values()].map((b) => b.state),
        freeAtMin: this.free,
      },
    };
  }

  private act(move: Move, touched: readonly Body[]): TransferTrace | undefined {
    const body = touched[touched.length - 1] as Body;
    switch (move.kind) {
      case 'fill':
        this.pourIn(body, move.litres, move.tempC);
        this.check(move.id, body);
        this.stand(body, move.minutes, unheated(false));
        return undefined;
      case 'rest':
        this.stand(body, this.restMin(move, body), unheated(true));
        return undefined;
      case 'wait':
        this.stand(body, move.minutes, unheated(move.lidOn));
        return undefined;
      case 'heat':
        this.heat(move, body);
        return undefined;
      case 'hold':
        this.hold(move, body);
        return undefined;
      case 'boil':
        this.boil(move.id, body, this.power(move.burner) * move.power, move.minutes);
        return undefined;
      case 'preheat':
        return this.preheat(touched, move.litres, move.minutes);
      case 'mash-in':
        this.mashIn(move, touched);
        return undefined;
      case 'rinse':
        this.ledgerDrain(body);
        this.stand(body, move.minutes, unheated(false));
        return undefined;
      case 'pull':
      case 'return':
      case 'pour':
        return this.move(move, touched);
    }
  }

  private restMin(move: Rest, body: Body): number {
    const { until } = move;
    const began = until && this.moves.find((m) => m.id === until.move)?.startMin;
    if (!until || began === undefined) return move.minutes;
    return Math.max(0, began + until.minutes - body.state.clockMin);
  }

  private touched(move: Move): Body[] {
    switch (move.kind) {
      case 'pull':
      case 'return':
      case 'pour':
        return [this.find(move.from), this.find(move.to)];
      case 'mash-in':
      case 'preheat':
        return move.from === move.vessel
          ? [this.find(move.vessel)]
          : [this.find(move.from), this.find(move.vessel)];
      default:
        return [this.find(move.vessel)];
    }
  }

  private find(id: string): Body {
    const body = this.bodies.get(id);
    if (!body) throw new Error(`kit ${this.kit.id} has no vessel ${id}`);
    return body;
  }

  private route(id: string): Route {
    const route = this.kit.routes.find((r) => r.id === id);
    if (!route) throw new Error(`kit ${this.kit.id} has no route ${id}`);
    return route;
  }

  private power(id: string): number {
    const burner = this.kit.burners.find((b: Burner) => b.id === id);
    if (!burner) throw new Error(`kit ${this.kit.id} has no burner ${id}`);
    return burnerPowerKW(burner, this.kit) * this.draw.burner;
  }

  private passUntil(body: Body, minute: number): void {
    const minutes = minute - body.state.clockMin;
    if (minutes > 1e-9) this.stand(body, minutes, unheated(true));
    body.state.clockMin = Math.max(body.state.clockMin, minute);
  }

  private stand(body: Body, minutes: number, standing: Standing): number {
    const { state, thermal, record } = body;
    if (!this.sampled || !state.mash)
      return letStand(state, thermal, minutes, standing, this.ledger, record);
    // In pieces, so that a long even rest still shows what its mash does meanwhile.
    let used = 0;
    while (used < minutes - 1e-9) {
      const piece = Math.min(SAMPLE_MIN, minutes - used);
      const took = letStand(state, thermal, piece, standing, this.ledger, record);
      used += took;
      if (took < piece - 1e-9) break;
    }
    return used;
  }

  /** Boiling point of what stands in the vessel. */
  private boilingC(body: Body): number {
    body.history.sync(body.state, this.engine);
    const { waterKg, extractKg } = body.state;
    const kg = waterKg + extractKg;
    const share = kg > 0 ? extractKg / kg : 0;
    return this.boilC + boilingRise(Math.min(0.6, share), this.pressureKPa);
  }

  private heat(move: Heat, body: Body): void {
    const fullKW = this.power(move.burner);
    const boilC = this.boilingC(body);
    const targetC = move.to === 'boil' ? boilC : Math.min(move.to, boilC);
    if (massOf(body.state) <= 0) {
      this.problem(move.id, 'empty', body, 1, 0, 'L');
      return;
    }
    if (move.to === 'boil') this.checkHeadspace(move.id, body);
    if (body.state.tempC >= targetC - 1e-9) return;
    const rate = move.maxKPerMin;
    const power =
      rate === undefined
        ? () => fullKW
        : (lossKW: number, kJK: number) => Math.min(fullKW, lossKW + (kJK * rate) / 60);
    const longest = move.maxMinutes ?? LONGEST_HEAT_MIN;
    const used = this.stand(body, longest, { lidOn: move.lidOn, power, untilC: targetC });
    // Cut short on purpose is not a fault of the burner.
    const cutShort = move.maxMinutes !== undefined && used >= longest - 1e-9;
    if (body.state.tempC < targetC - 1e-6 && !cutShort)
      this.problem(move.id, 'never-hot', body, targetC, body.state.tempC, '°C');
  }

  private hold(move: Hold, body: Body): void {
    const fullKW = this.power(move.burner);
    const power = (lossKW: number) => Math.max(0, Math.min(fullKW, lossKW));
    this.stand(body, move.minutes, { lidOn: move.lidOn, power });
  }

  private boil(id: string, body: Body, powerKW: number, minutes: number): void {
    if (massOf(body.state) <= 0) {
      this.problem(id, 'empty', body, 1, 0, 'L');
      return;
    }
    this.checkHeadspace(id, body);
    const boilC = this.boilingC(body);
    if (body.state.tempC < boilC - 0.5) {
      this.problem(id, 'never-hot', body, boilC, body.state.tempC, '°C');
      this.stand(body, minutes, { lidOn: false, power: () => powerKW, untilC: boilC });
      return;
    }
    // A minute at a time, so that the mash sees the boil and the pot its falling content.
    for (let left = minutes; left > 1e-9; left -= 1) {
      const step = Math.min(1, left);
      const off = letBoil(body.state, body.thermal, step, powerKW, this.ledger, body.record);
      if (off < 0) {
        this.problem(id, 'cannot-hold-boil', body, powerKW, powerKW, 'kW');
        // It falls until the burner covers what it loses, and never climbs again.
        const power = (lossKW: number) => Math.min(powerKW, lossKW);
        this.stand(body, left, { lidOn: false, power });
        return;
      }
    }
  }

  private preheat(touched: readonly Body[], litres: number, minutes: number): TransferTrace {
    const [from, to] = touched as [Body, Body];
    const done = this.carry(
      from,
      to,
      { ...INSTANT, portionL: litres },
      litres,
      'as-it-comes',
      undefined,
    );
    this.stand(to, minutes, unheated(false));
    this.ledgerDrain(to);
    return done;
  }

  private mashIn(move: MashIn, touched: readonly Body[]): void {
    const body = touched[touched.length - 1] as Body;
    this.moisture = move.grist.moisture;
    for (const b of this.bodies.values())
      b.thermal = thermalOf(b.thermal.vessel, this.draw, this.airC, this.moisture);
    if (touched.length === 2) {
      const from = touched[0] as Body;
      const have = volumeOf(from.state, from.thermal) - from.thermal.vessel.deadL;
      if (have < move.litres - 1e-6)
        this.problem(move.id, 'not-enough', from, move.litres, Math.max(0, have), 'L');
      this.carry(
        from,
        body,
        { ...INSTANT, portionL: move.litres },
        move.litres,
        'as-it-comes',
        undefined,
      );
    }
    const liquorKg = body.state.waterKg;
    const { kg, moisture } = move.grist;
    const tempC = move.grist.tempC + this.draw.gristK;
    const dryKJK = kg * (1 - moisture) * dryHeatCapacity(this.draw.gristKJKgK, moisture);
    const gristKJK = dryKJK + kg * moisture * WATER_KJ_KG_K;
    const slakingKJ = kg * slakingHeat(moisture * 100) * this.draw.slaking;
    const hereKJK = heatCapacity(body.state, body.thermal);
    const sum = hereKJK * body.state.tempC + gristKJK * tempC + slakingKJ;
    body.state.tempC = sum / (hereKJK + gristKJK);
    body.state.waterKg += kg * moisture;
    body.state.solidsKg += kg * (1 - moisture);
    this.ledger.inKJ += gristKJK * tempC;
    this.ledger.inKg += kg;
    this.ledger.slakingKJ += slakingKJ;
    if (this.engine) {
      body.state.mash = this.engine.start(kg, liquorKg);
      body.history.restart(body.state);
    }
    body.record(body.state);
    this.check(move.id, body);
    this.stand(body, move.minutes, unheated(false));
  }

  private move(
    move: Extract<Move, { kind: 'pull' | 'return' | 'pour' }>,
    touched: readonly Body[],
  ): TransferTrace {
    const [from, to] = touched as [Body, Body];
    const route = this.route(move.route);
    const thickness = move.kind === 'pull' ? move.thickness : 'as-it-comes';
    const asked =
      move.litres === undefined ? Number.POSITIVE_INFINITY : move.litres * this.draw.dip;
    const have = volumeOf(from.state, from.thermal) - from.thermal.vessel.deadL;
    if (move.kind !== 'return' && (have <= 0 || asked > have + 1e-6))
      this.problem(
        move.id,
        'not-enough',
        from,
        Number.isFinite(asked) ? asked : 1,
        Math.max(0, have),
        'L',
      );
    const stopAtC = 'stopAtC' in move ? move.stopAtC : undefined;
    const way =
      move.kind === 'pull'
        ? pullWay(from.state, from.thermal, Math.min(asked, Math.max(0, have)), move.thickness)
        : undefined;
    const done = this.carry(from, to, route, asked, thickness, stopAtC);
    if (stopAtC !== undefined && Math.abs(done.landingC - stopAtC) > 0.05)
      this.problem(move.id, 'missed-target', to, stopAtC, done.landingC, '°C');
    this.check(move.id, to);
    return way === undefined ? done : { ...done, way };
  }

  private carry(
    from: Body,
    to: Body,
    route: Route,
    litres: number,
    thickness: Parameters<typeof transfer>[0]['thickness'],
    stopAtC: number | undefined,
  ): TransferTrace {
    const order = {
      from,
      to,
      route,
      litres,
      thickness,
      ...(stopAtC === undefined ? {} : { stopAtC }),
      ...(this.groups === undefined ? {} : { groups: this.groups }),
    };
    return transfer(order, this.draw, this.engine, this.ledger);
  }

  private pourIn(body: Body, litres: number, tempC: number): void {
    const kg = (litres * waterDensity(tempC)) / 1000;
    const here = heatCapacity(body.state, body.thermal);
    const added = kg * WATER_KJ_KG_K;
    body.state.tempC = (here * body.state.tempC + added * tempC) / (here + added);
    body.state.waterKg += kg;
    this.ledger.inKJ += added * tempC;
    this.ledger.inKg += kg;
    body.record(body.state);
  }

  private ledgerDrain(body: Body): void {
    drain(body.state, body.thermal, 1, this.ledger, this.engine);
    delete body.state.mash;
    body.history.restart(body.state);
    body.record(body.state);
  }

  private check(id: string, body: Body): void {
    const litres = volumeOf(body.state, body.thermal);
    if (litres > body.thermal.vessel.brimL)
      this.problem(id, 'overfull', body, litres, body.thermal.vessel.brimL, 'L');
  }

  private checkHeadspace(id: string, body: Body): void {
    const brim = body.thermal.vessel.brimL;
    const share = 1 - volumeOf(body.state, body.thermal) / brim;
    if (share < LEAST_HEADSPACE)
      this.problem(id, 'headspace', body, LEAST_HEADSPACE, share, 'share');
  }

  private problem(
    moveId: string,
    code: Problem['code'],
    body: Body,
    wanted: number,
    possible: number,
    unit: Problem['unit'],
  ): void {
    this.problems.push({ moveId, code, vessel: body.state.vessel, wanted, possible, unit });
  }
}

/** Liquor over an open valve: no portions, no loss of its own. */
const INSTANT: Route = {
  id: '',
  name: '',
  how: 'gravity',
  portionL: 1,
  minutesPerPortion: 0,
  openAreaM2: 0,
  carrierKJK: 0,
  lineL: 0,
  hands: 1,
};
