import type { StiffSystem } from '@ladlework/numerics';
import { type CompiledMash, compileMash } from './compile.ts';
import { HeatRates } from './heat-rates.ts';
import { extractOf, type Held, MashJacobian } from './jacobian.ts';
import * as at from './layout.ts';
import { addOptionRates } from './option-terms.ts';
import { PLAIN_PARAMETERS } from './parameters.ts';
import {
  A,
  AG,
  AS,
  ASC,
  BL,
  BS,
  BSC,
  BT,
  COLOUR,
  CORE,
  D,
  EXTENDED,
  G,
  GS,
  GSC,
  L,
  LB,
  LD,
  LS,
  LSC,
  M,
  Q,
  SG,
  T3,
} from './unknowns.ts';
import { loadUnknowns, needsOptions, storeUnknowns } from './vessel-unknowns.ts';

// A local name: in the inner loop a constant of another module is looked up anew each time.
const BINS = at.BINS;

/**
 * The rate equations of one vessel, in the form the integrators take. A vessel is loaded, carried
 * along straight temperature lines, and stored.
 *
 * Equations: docs/science/mash.md.
 */
export class MashSystem implements StiffSystem {
  size = 0;

  private readonly held: Held = {
    c: compileMash(PLAIN_PARAMETERS),
    extended: false,
    tail: CORE,
    waterKg: 1,
    concentration: 1,
    solublesKg: 0,
  };
  private readonly heat = new HeatRates();
  private readonly jacobian = new MashJacobian();
  private tiny = 0;

  // Temperature line of the stretch in hand.
  private t0 = 0;
  private T0 = 0;
  private slope = 0;
  private colouring = false;
  private stopWhenDead = false;

  /** Takes up a vessel: copies its state into `y` and sets the size. */
  load(state: Float64Array, compiled: CompiledMash, y: Float64Array, tiny: number): void {
    const { held } = this;
    held.c = compiled;
    held.extended = needsOptions(state);
    held.tail = held.extended ? EXTENDED : CORE;
    held.waterKg = state[at.WATER]!;
    held.concentration = compiled.parameters.water_ref / held.waterKg;
    held.solublesKg = loadUnknowns(state, y, held.extended);
    this.heat.reset();
    this.tiny = tiny;
    this.size = held.tail + BINS + 1;
    this.stopWhenDead = false;
    this.accepted(0, y);
  }

  /** Writes the vessel back. */
  store(y: Float64Array, state: Float64Array): void {
    storeUnknowns(y, state, this.held.extended, this.size);
  }

  /** Sets the temperature line T = from + slope (t - t0) for the stretch to come. */
  setLine(
    t0: number,
    fromC: number,
    slope: number,
    colouring: boolean,
    stopWhenDead: boolean,
  ): void {
    this.stopWhenDead = stopWhenDead;
    this.heat.reset();
    this.t0 = t0;
    this.T0 = fromC;
    this.slope = slope;
    this.colouring = colouring;
  }

  /**
   * Bins emptied to nothing are handed to the gelatinised starch and left out from here on.
   * Answers true, stop, when heat has left no enzyme that could still do anything.
   */
  accepted(_t: number, y: Float64Array): boolean {
    let n = this.size;
    while (n > this.held.tail && Math.abs(y[n - 1]!) < this.tiny) {
      n--;
      y[SG]! += y[n]!;
      y[n] = 0;
    }
    this.size = n;
    return this.stopWhenDead && this.enzymes(y) < this.tiny;
  }

  private enzymes(y: Float64Array): number {
    let sum = y[AS]! + y[A]! + y[BS]! + y[BL]! + y[BT]! + y[LS]! + y[LD]!;
    if (this.held.extended) sum += y[LB]! + y[GS]! + y[AG]! + y[ASC]! + y[BSC]! + y[LSC]! + y[GSC]!;
    return sum;
  }

  /** Bound on the fastest rate at this temperature, with the enzyme and extract there is [1/min]. */
  fastest(tempC: number, y: Float64Array): number {
    const { held, heat } = this;
    const p = held.c.parameters;
    heat.warm(tempC, held.c, held.extended, this.colouring);
    const e = extractOf(held, y);
    const X = (100 * e) / (e + held.waterKg);
    const act = heat.f * held.concentration;
    const alpha = y[A]! + y[AS]!;
    const beta = y[BL]! + y[BT]! + y[BS]!;
    const split = act * (p.ka65 * alpha + p.kb65 * beta);
    const loss = Math.max(heat.kb0 * Math.exp(p.cprot * (p.Xref - X)), heat.kl, heat.ka);
    const opening = this.size > held.tail ? heat.kg : 0;
    return Math.max(split, opening, loss + heat.kd);
  }

  addRates(t: number, y: Float64Array, into: Float64Array): void {
    const { held, heat } = this;
    const { c, extended, tail, waterKg } = held;
    const p = c.parameters;
    heat.warm(this.T0 + this.slope * (t - this.t0), c, extended, this.colouring);
    const e = extractOf(held, y);
    const X = (100 * e) / (e + waterKg);

    // Starch bins.
    const kg = heat.kg;
    const ratio = p.kraw / p.kg65;
    const kraw = ratio * kg;
    const gain = kg - kraw;
    const base = Math.exp(heat.opener + (p.sG / p.width) * X);
    const factor = c.binFactor;
    const bins = Math.min(BINS, this.size - tail);
    let opened = 0;
    for (let i = 0; i < bins; i++) {
      const o = 1 / (1 + base * factor[BINS - 1 - i]!);
      const r = (kraw + gain * o) * y[tail + i]!;
      into[tail + i]! -= r;
      opened += r;
    }
    if (this.size > tail + BINS) {
      const r = kg * heat.openOpen * y[tail + BINS]!;
      into[tail + BINS]! -= r;
      opened += r;
    }

    // Enzymes.
    const kd = heat.kd;
    const ka = heat.ka;
    const kl = heat.kl;
    const kb = heat.kb0 * Math.exp(p.cprot * (p.Xref - X));
    const kdAs = kd * y[AS]!;
    const kdBs = kd * y[BS]!;
    const kdLs = kd * y[LS]!;
    into[Q]! -= kd * y[Q]!;
    into[AS]! -= kdAs + p.uA * ka * y[AS]!;
    into[A]! += kdAs - ka * y[A]!;
    into[BS]! -= kdBs + p.uB * kb * y[BS]!;
    into[BL]! += (1 - p.fst) * kdBs - kb * y[BL]!;
    into[BT]! += p.fst * kdBs - p.kds_ratio * kb * y[BT]!;
    into[LS]! -= kdLs + p.uL * kl * y[LS]!;
    into[LD]! += kdLs - kl * y[LD]!;

    if (extended) opened += addOptionRates(c, heat, y, into, kraw, base, kb);

    // Sugars.
    const act = heat.f * held.concentration;
    const cA = act * y[A]!;
    const cB = act * (y[BL]! + y[BT]!);
    const v1 = p.ka65 * cA * y[SG]!;
    const v2 = p.kb65 * cB * y[SG]!;
    const v3 = p.kb65 * p.rD * cB * y[D]!;
    const v4 = p.ka2 * cA * y[D]!;
    const v5 = p.kl65 * act * y[LD]! * y[L]!;
    into[SG]! += opened - v1 - v2;
    into[D]! += p.aD * v1 - v3 - v4 + v5;
    into[L]! += c.alphaLimit * v1 + c.betaLimit * v2 + p.cL * v4 - v5;
    into[G]! += c.alphaGlucose * v1 + p.cG * v4;
    into[M]! += c.alphaMaltose * v1 + c.betaMaltose * v2 + c.dextrinMaltose * v3 + p.cM * v4;
    into[T3]! +=
      c.alphaMaltotriose * v1 + c.betaMaltotriose * v2 + c.dextrinMaltotriose * v3 + p.cT * v4;
    if (extended) {
      const v6 = p.kag * act * y[AG]! * y[M]!;
      into[M]! -= v6;
      into[G]! += p.hV * v6;
    }
    into[COLOUR]! += heat.colour0 * (X / 12) * (X / 12) * (e + waterKg);
  }

  linearise(t: number, y: Float64Array, timeSlope: Float64Array): void {
    const { held, heat, slope } = this;
    heat.warm(this.T0 + slope * (t - this.t0), held.c, held.extended, this.colouring);
    this.jacobian.take(held, heat, y, this.size, slope, timeSlope);
  }

  factor(shift: number): boolean {
    return this.jacobian.factor(shift);
  }

  solve(b: Float64Array): void {
    this.jacobian.solve(b);
  }
}
