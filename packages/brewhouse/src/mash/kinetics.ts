import type { StiffSystem } from '@ladlework/numerics';
import type { CompiledMash } from './compile.ts';
import * as at from './layout.ts';

/**
 * The rate equations of one vessel, and the solution of their linearised form.
 *
 * The unknowns are ordered so that everything but three couplings is read off by substitution:
 * starch bins and enzymes depend on nothing later, gelatinised starch on them, dextrin and limit
 * dextrin on each other (a 2 x 2), sugars on all of these. The last coupling, everything on the
 * wort extract X, has rank one and is closed by the Sherman-Morrison formula. A solve costs about
 * as much as reading the state once.
 *
 * Equations: docs/science/mash.md.
 */

// Local names: in the inner loop a constant of another module is looked up anew each time.
const BINS = at.BINS;

const SG = 0;
const D = 1;
const L = 2;
const G = 3;
const M = 4;
const T3 = 5;
/** Undissolved solubles, preformed and other together: they dissolve at one rate. */
const Q = 6;
const AS = 7;
const A = 8;
const BS = 9;
const BL = 10;
const BT = 11;
const LS = 12;
const LD = 13;
const COLOUR = 14;
const CORE = 15;

/** Options: bound limit dextrinase, alpha-glucosidase, resistant starch, coarse pieces. */
const LB = 15;
const GS = 16;
const AG = 17;
const RES = 18;
const QC = 19;
const ASC = 20;
const BSC = 21;
const LSC = 22;
const GSC = 23;
const SC = 24;
const EXTENDED = SC + at.BINS + 1;

/** Most unknowns there can be. */
export const MASH_UNKNOWNS = EXTENDED + at.BINS + 1;

const KELVIN = 273.15;

export class MashSystem implements StiffSystem {
  size = 0;

  private c!: CompiledMash;
  private extended = false;
  private colouring = false;
  private stopWhenDead = false;
  /** Where the starch bins begin: open bin last, so that emptied bins fall off the end. */
  private tail = CORE;
  private waterKg = 1;
  private concentration = 1;
  private solublesKg = 0;
  private tiny = 0;

  // Temperature line of the stretch in hand.
  private t0 = 0;
  private T0 = 0;
  private slope = 0;
  private T = Number.NaN;

  // Rates at temperature T.
  private kg = 0;
  private f = 0;
  private kd = 0;
  private ka = 0;
  private kb0 = 0;
  private kl = 0;
  private colour0 = 0;
  private kc = 0;
  private kgc = 0;
  private kdc = 0;
  private krel = 0;
  private klb = 0;
  private kdg = 0;
  private opener = 0;
  private openOpen = 1;
  private openResistant = 0;

  // Linearisation, frozen where it was taken: the rates above move on with the stages.
  private readonly frozen = { kd: 0, ka: 0, kl: 0, kdc: 0, krel: 0, klb: 0, kdg: 0 };
  private kb = 0;
  private dXdE = 0;
  private k1 = 0;
  private k2 = 0;
  private k3 = 0;
  private k4 = 0;
  private k5 = 0;
  private k6 = 0;
  private perA1 = 0;
  private perA4 = 0;
  private perB2 = 0;
  private perB3 = 0;
  private perL5 = 0;
  private perG6 = 0;
  private colourE = 0;
  private readonly g = new Float64Array(MASH_UNKNOWNS);
  private readonly byX = new Float64Array(MASH_UNKNOWNS);
  private readonly z = new Float64Array(MASH_UNKNOWNS);
  private zScale = 0;

  // Inverse pivots for the shift in hand.
  private shift = 1;
  private iS = 1;
  private iSg = 1;
  private iDet = 1;
  private iQ = 1;
  private iAs = 1;
  private iA = 1;
  private iBs = 1;
  private iBl = 1;
  private iBt = 1;
  private iLs = 1;
  private iLd = 1;
  private iM = 1;
  private readonly iBin = new Float64Array(MASH_UNKNOWNS);

  /** Takes up a vessel: copies its state into `y` and sets the size. */
  load(state: Float64Array, compiled: CompiledMash, y: Float64Array, tiny: number): void {
    this.c = compiled;
    this.T = Number.NaN;
    this.tiny = tiny;
    this.waterKg = state[at.WATER]!;
    this.concentration = compiled.parameters.water_ref / this.waterKg;
    let extended = state[at.LB]! > 0 || state[at.GS]! > 0 || state[at.GLUCOSIDASE]! > 0;
    extended ||= state[at.RESISTANT]! > 0;
    for (let i = 0; i < at.COARSE && !extended; i++) extended = state[at.COARSE + i]! > 0;
    this.extended = extended;
    this.tail = extended ? EXTENDED : CORE;

    y[SG] = state[at.SG]!;
    y[D] = state[at.DEXTRIN]!;
    y[L] = state[at.LIMIT_DEXTRIN]!;
    y[G] = state[at.GLUCOSE]!;
    y[M] = state[at.MALTOSE]!;
    y[T3] = state[at.MALTOTRIOSE]!;
    y[Q] = state[at.PS]! + state[at.OS]!;
    y[AS] = state[at.AS]!;
    y[A] = state[at.ALPHA]!;
    y[BS] = state[at.BS]!;
    y[BL] = state[at.BETA_LABILE]!;
    y[BT] = state[at.BETA_STABLE]!;
    y[LS] = state[at.LS]!;
    y[LD] = state[at.LIMIT_DEXTRINASE]!;
    y[COLOUR] = state[at.COLOUR]!;
    this.solublesKg = y[Q]! + state[at.PREFORMED]! + state[at.OTHER]!;
    if (extended) {
      const k = at.COARSE;
      y[LB] = state[at.LB]!;
      y[GS] = state[at.GS]!;
      y[AG] = state[at.GLUCOSIDASE]!;
      y[RES] = state[at.RESISTANT]! + state[k + at.RESISTANT]!;
      y[QC] = state[k + at.PS]! + state[k + at.OS]!;
      y[ASC] = state[k + at.AS]!;
      y[BSC] = state[k + at.BS]!;
      y[LSC] = state[k + at.LS]!;
      y[GSC] = state[k + at.GS]!;
      for (let i = 0; i <= at.BINS; i++) y[SC + i] = state[k + at.S + i]!;
      this.solublesKg += y[QC]!;
    }
    const tail = this.tail;
    for (let i = 0; i < at.BINS; i++) y[tail + i] = state[at.S + at.BINS - 1 - i]!;
    y[tail + at.BINS] = state[at.S + at.OPEN_BIN]!;
    this.size = tail + at.BINS + 1;
    this.stopWhenDead = false;
    this.accepted(0, y);
  }

  /** Writes the vessel back. What starch and solubles lost, the liquid gained: mass is closed here. */
  store(y: Float64Array, state: Float64Array): void {
    const before = drySum(state);
    const q0 = state[at.PS]! + state[at.OS]!;
    const left = q0 > 0 ? Math.max(0, y[Q]!) / q0 : 0;
    dissolve(state, at.PS, at.PREFORMED, left);
    dissolve(state, at.OS, at.OTHER, left);
    state[at.SG] = y[SG]!;
    state[at.DEXTRIN] = y[D]!;
    state[at.LIMIT_DEXTRIN] = y[L]!;
    state[at.GLUCOSE] = y[G]!;
    state[at.MALTOSE] = y[M]!;
    state[at.MALTOTRIOSE] = y[T3]!;
    state[at.AS] = Math.max(0, y[AS]!);
    state[at.ALPHA] = Math.max(0, y[A]!);
    state[at.BS] = Math.max(0, y[BS]!);
    state[at.BETA_LABILE] = Math.max(0, y[BL]!);
    state[at.BETA_STABLE] = Math.max(0, y[BT]!);
    state[at.LS] = Math.max(0, y[LS]!);
    state[at.LIMIT_DEXTRINASE] = Math.max(0, y[LD]!);
    state[at.COLOUR] = y[COLOUR]!;
    if (this.extended) {
      const k = at.COARSE;
      const qc0 = state[k + at.PS]! + state[k + at.OS]!;
      const leftCoarse = qc0 > 0 ? Math.max(0, y[QC]!) / qc0 : 0;
      dissolve(state, k + at.PS, at.PREFORMED, leftCoarse);
      dissolve(state, k + at.OS, at.OTHER, leftCoarse);
      state[at.LB] = Math.max(0, y[LB]!);
      state[at.GS] = Math.max(0, y[GS]!);
      state[at.GLUCOSIDASE] = Math.max(0, y[AG]!);
      const r0 = state[at.RESISTANT]! + state[k + at.RESISTANT]!;
      const leftResistant = r0 > 0 ? Math.max(0, y[RES]!) / r0 : 0;
      state[at.RESISTANT]! *= leftResistant;
      state[k + at.RESISTANT]! *= leftResistant;
      state[k + at.AS] = Math.max(0, y[ASC]!);
      state[k + at.BS] = Math.max(0, y[BSC]!);
      state[k + at.LS] = Math.max(0, y[LSC]!);
      state[k + at.GS] = Math.max(0, y[GSC]!);
      for (let i = 0; i <= at.BINS; i++) state[k + at.S + i] = keep(state, y[SC + i]!);
    }
    const tail = this.tail;
    for (let i = 0; i < at.BINS; i++)
      state[at.S + at.BINS - 1 - i] = tail + i < this.size ? keep(state, y[tail + i]!) : 0;
    state[at.S + at.OPEN_BIN] = tail + at.BINS < this.size ? keep(state, y[tail + at.BINS]!) : 0;
    state[at.BOUND]! += drySum(state) - before;
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
    this.T = Number.NaN;
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
    while (n > this.tail && Math.abs(y[n - 1]!) < this.tiny) {
      n--;
      y[SG]! += y[n]!;
      y[n] = 0;
    }
    this.size = n;
    return this.stopWhenDead && this.enzymes(y) < this.tiny;
  }

  private enzymes(y: Float64Array): number {
    let sum = y[AS]! + y[A]! + y[BS]! + y[BL]! + y[BT]! + y[LS]! + y[LD]!;
    if (this.extended) sum += y[LB]! + y[GS]! + y[AG]! + y[ASC]! + y[BSC]! + y[LSC]! + y[GSC]!;
    return sum;
  }

  /** Bound on the fastest rate at this temperature, with the enzyme and extract there is [1/min]. */
  fastest(tempC: number, y: Float64Array): number {
    this.warm(tempC);
    const p = this.c.parameters;
    const e = this.extractKg(y);
    const X = (100 * e) / (e + this.waterKg);
    const act = this.f * this.concentration;
    const alpha = y[A]! + y[AS]!;
    const beta = y[BL]! + y[BT]! + y[BS]!;
    const split = act * (p.ka65 * alpha + p.kb65 * beta);
    const loss = Math.max(this.kb0 * Math.exp(p.cprot * (p.Xref - X)), this.kl, this.ka);
    const opening = this.size > this.tail ? this.kg : 0;
    return Math.max(split, opening, loss + this.kd);
  }

  private warm(T: number): void {
    if (T === this.T) return;
    this.T = T;
    const c = this.c;
    const p = c.parameters;
    const x = 1 / (T + KELVIN) - c.inverseRef;
    this.kg = p.kg65 * Math.exp(-c.thetaOpen * x);
    this.f = Math.exp(-c.thetaAct * x);
    this.kd = p.kdis * Math.exp(-c.thetaDissolve * x);
    this.ka = p.kda65 * Math.exp(-c.thetaAlpha * x);
    this.kb0 = p.kdb65 * Math.exp(-c.thetaBeta * x);
    this.kl = p.kdl65 * Math.exp(-c.thetaLimit * x);
    // Constant part of the sigmoid's exponent; the part moved by extract is added in the rates.
    this.opener = (p.mu - p.sG * p.X0 - T) / p.width;
    const above = (T - p.Tfd) / p.width;
    this.openOpen = above > 40 ? 1 : 1 / (1 + Math.exp(-above));
    this.colour0 = this.colouring
      ? p.kcol100 * Math.exp(-c.thetaColour * (1 / (T + KELVIN) - 1 / 373.15))
      : 0;
    if (this.extended) {
      const kc = p.kc * Math.exp(-c.thetaCoarse * x);
      this.kc = kc;
      this.kgc = (this.kg * kc) / (this.kg + kc);
      this.kdc = (this.kd * kc) / (this.kd + kc);
      this.krel = p.krel * Math.exp(-c.thetaRelease * x);
      this.klb = p.klb * Math.exp(-c.thetaBound * x);
      this.kdg = p.kdg * Math.exp(-c.thetaGlucosidase * x);
      this.openResistant = 1 / (1 + Math.exp((p.Tfr - T) / p.width));
    }
  }

  private extractKg(y: Float64Array): number {
    let e = y[SG]! + y[G]! + y[M]! + y[T3]! + y[D]! + y[L]! + this.solublesKg - y[Q]!;
    if (this.extended) e -= y[QC]!;
    return e;
  }

  addRates(t: number, y: Float64Array, into: Float64Array): void {
    this.warm(this.T0 + this.slope * (t - this.t0));
    const c = this.c;
    const p = c.parameters;
    const e = this.extractKg(y);
    const X = (100 * e) / (e + this.waterKg);

    // Starch bins.
    const kg = this.kg;
    const ratio = p.kraw / p.kg65;
    const kraw = ratio * kg;
    const gain = kg - kraw;
    const base = Math.exp(this.opener + (p.sG / p.width) * X);
    const factor = c.binFactor;
    const tail = this.tail;
    const bins = Math.min(BINS, this.size - tail);
    let opened = 0;
    for (let i = 0; i < bins; i++) {
      const o = 1 / (1 + base * factor[BINS - 1 - i]!);
      const r = (kraw + gain * o) * y[tail + i]!;
      into[tail + i]! -= r;
      opened += r;
    }
    if (this.size > tail + BINS) {
      const r = kg * this.openOpen * y[tail + BINS]!;
      into[tail + BINS]! -= r;
      opened += r;
    }

    // Enzymes.
    const kd = this.kd;
    const ka = this.ka;
    const kl = this.kl;
    const kb = this.kb0 * Math.exp(p.cprot * (p.Xref - X));
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

    if (this.extended) opened += this.extendedRates(y, into, kraw, base, kb);

    // Sugars.
    const act = this.f * this.concentration;
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
    if (this.extended) {
      const v6 = p.kag * act * y[AG]! * y[M]!;
      into[M]! -= v6;
      into[G]! += p.hV * v6;
    }
    into[COLOUR]! += this.colour0 * (X / 12) * (X / 12) * (e + this.waterKg);
  }

  private extendedRates(
    y: Float64Array,
    into: Float64Array,
    kraw: number,
    base: number,
    kb: number,
  ): number {
    const p = this.c.parameters;
    const factor = this.c.binFactor;
    const { kd, kdc, ka, kl, kdg, kgc } = this;
    const coarseGain = kgc - kraw;
    let opened = 0;
    for (let i = 0; i < BINS; i++) {
      const o = 1 / (1 + base * factor[i]!);
      const r = (kraw + coarseGain * o) * y[SC + i]!;
      into[SC + i]! -= r;
      opened += r;
    }
    const rOpen = kgc * this.openOpen * y[SC + BINS]!;
    into[SC + BINS]! -= rOpen;
    const rResistant = this.kg * this.openResistant * y[RES]!;
    into[RES]! -= rResistant;
    const kdAs = kdc * y[ASC]!;
    const kdBs = kdc * y[BSC]!;
    const kdLs = kdc * y[LSC]!;
    into[QC]! -= kdc * y[QC]!;
    into[ASC]! -= kdAs + p.uA * ka * y[ASC]!;
    into[BSC]! -= kdBs + p.uB * kb * y[BSC]!;
    into[LSC]! -= kdLs + p.uL * kl * y[LSC]!;
    into[A]! += kdAs;
    into[BL]! += (1 - p.fst) * kdBs;
    into[BT]! += p.fst * kdBs;
    into[LB]! -= (this.krel + this.klb) * y[LB]!;
    into[LD]! += kdLs + this.krel * y[LB]!;
    // Alpha-glucosidase is lost alike dissolved or not: the study gives no other figure.
    into[GS]! -= (kd + kdg) * y[GS]!;
    into[GSC]! -= (kdc + kdg) * y[GSC]!;
    into[AG]! += kd * y[GS]! + kdc * y[GSC]! - kdg * y[AG]!;
    return opened + rOpen + rResistant;
  }

  linearise(t: number, y: Float64Array, timeSlope: Float64Array): void {
    this.warm(this.T0 + this.slope * (t - this.t0));
    const c = this.c;
    const p = c.parameters;
    const e = this.extractKg(y);
    const whole = e + this.waterKg;
    const X = (100 * e) / whole;
    this.dXdE = (100 * this.waterKg) / (whole * whole);
    const { g, byX } = this;
    const n = this.size;

    const kg = this.kg;
    const kraw = (p.kraw / p.kg65) * kg;
    const gain = kg - kraw;
    const base = Math.exp(this.opener + (p.sG / p.width) * X);
    const tail = this.tail;
    const bins = Math.min(BINS, n - tail);
    const perT = gain / p.width;
    const x2 = 1 / ((this.T + KELVIN) * (this.T + KELVIN));
    const slope = this.slope;
    const ramp = slope !== 0;
    const growth = c.thetaOpen * x2;
    let openedX = 0;
    let openedT = 0;
    for (let i = 0; i < bins; i++) {
      const o = 1 / (1 + base * c.binFactor[BINS - 1 - i]!);
      const s = y[tail + i]!;
      const bend = perT * o * (1 - o) * s;
      g[tail + i] = kraw + gain * o;
      byX[tail + i] = p.sG * bend;
      openedX -= p.sG * bend;
      if (ramp) {
        const dT = slope * (growth * g[tail + i]! * s + bend);
        timeSlope[tail + i] = -dT;
        openedT += dT;
      }
    }
    if (n > tail + BINS) {
      const o = this.openOpen;
      g[tail + BINS] = kg * o;
      byX[tail + BINS] = 0;
      if (ramp) {
        const dT = slope * kg * o * (growth + (1 - o) / p.width) * y[tail + BINS]!;
        timeSlope[tail + BINS] = -dT;
        openedT += dT;
      }
    }

    const kb = this.kb0 * Math.exp(p.cprot * (p.Xref - X));
    this.kb = kb;
    const frozen = this.frozen;
    frozen.kd = this.kd;
    frozen.ka = this.ka;
    frozen.kl = this.kl;
    const protect = p.cprot * kb;
    byX[BS] = p.uB * protect * y[BS]!;
    byX[BL] = protect * y[BL]!;
    byX[BT] = p.kds_ratio * protect * y[BT]!;

    const act = this.f * this.concentration;
    this.perA1 = p.ka65 * act;
    this.perA4 = p.ka2 * act;
    this.perB2 = p.kb65 * act;
    this.perB3 = p.kb65 * p.rD * act;
    this.perL5 = p.kl65 * act;
    const beta = y[BL]! + y[BT]!;
    this.k1 = this.perA1 * y[A]!;
    this.k2 = this.perB2 * beta;
    this.k3 = this.perB3 * beta;
    this.k4 = this.perA4 * y[A]!;
    this.k5 = this.perL5 * y[LD]!;
    this.perA1 *= y[SG]!;
    this.perA4 *= y[D]!;
    this.perB2 *= y[SG]!;
    this.perB3 *= y[D]!;
    this.perL5 *= y[L]!;
    const colourRate = this.colour0 * (X / 12) * (X / 12) * whole;
    this.colourE = this.colour0 * ((2 * X * this.dXdE * whole + X * X) / 144);

    if (this.extended) {
      openedX += this.extendedLinear(y, base, kraw, protect);
    }
    byX[SG] = openedX;

    if (!ramp) {
      timeSlope.fill(0, 0, n);
      return;
    }
    const dAct = slope * c.thetaAct * x2;
    const v1 = this.k1 * y[SG]!;
    const v2 = this.k2 * y[SG]!;
    const v3 = this.k3 * y[D]!;
    const v4 = this.k4 * y[D]!;
    const v5 = this.k5 * y[L]!;
    const dKd = slope * c.thetaDissolve * x2 * this.kd;
    const dKa = slope * c.thetaAlpha * x2 * this.ka;
    const dKb = slope * c.thetaBeta * x2 * kb;
    const dKl = slope * c.thetaLimit * x2 * this.kl;
    timeSlope[Q] = -dKd * y[Q]!;
    timeSlope[AS] = -(dKd + p.uA * dKa) * y[AS]!;
    timeSlope[A] = dKd * y[AS]! - dKa * y[A]!;
    timeSlope[BS] = -(dKd + p.uB * dKb) * y[BS]!;
    timeSlope[BL] = (1 - p.fst) * dKd * y[BS]! - dKb * y[BL]!;
    timeSlope[BT] = p.fst * dKd * y[BS]! - p.kds_ratio * dKb * y[BT]!;
    timeSlope[LS] = -(dKd + p.uL * dKl) * y[LS]!;
    timeSlope[LD] = dKd * y[LS]! - dKl * y[LD]!;
    timeSlope[COLOUR] = slope * c.thetaColour * x2 * colourRate;
    timeSlope[D] = dAct * (p.aD * v1 - v3 - v4 + v5);
    timeSlope[L] = dAct * (c.alphaLimit * v1 + c.betaLimit * v2 + p.cL * v4 - v5);
    timeSlope[G] = dAct * (c.alphaGlucose * v1 + p.cG * v4);
    timeSlope[M] =
      dAct * (c.alphaMaltose * v1 + c.betaMaltose * v2 + c.dextrinMaltose * v3 + p.cM * v4);
    timeSlope[T3] =
      dAct *
      (c.alphaMaltotriose * v1 + c.betaMaltotriose * v2 + c.dextrinMaltotriose * v3 + p.cT * v4);
    if (this.extended) openedT += this.extendedSlope(y, base, kraw, x2, dAct, timeSlope);
    timeSlope[SG] = openedT - dAct * (v1 + v2);
  }

  private extendedLinear(y: Float64Array, base: number, kraw: number, protect: number): number {
    const c = this.c;
    const p = c.parameters;
    const { g, byX } = this;
    const coarseGain = this.kgc - kraw;
    const perX = (coarseGain * p.sG) / p.width;
    let openedX = 0;
    for (let i = 0; i < BINS; i++) {
      const o = 1 / (1 + base * c.binFactor[i]!);
      const bend = perX * o * (1 - o) * y[SC + i]!;
      g[SC + i] = kraw + coarseGain * o;
      byX[SC + i] = bend;
      openedX -= bend;
    }
    g[SC + BINS] = this.kgc * this.openOpen;
    byX[SC + BINS] = 0;
    g[RES] = this.kg * this.openResistant;
    byX[BSC] = p.uB * protect * y[BSC]!;
    const frozen = this.frozen;
    frozen.kdc = this.kdc;
    frozen.krel = this.krel;
    frozen.klb = this.klb;
    frozen.kdg = this.kdg;
    const perG = p.kag * this.f * this.concentration;
    this.k6 = perG * y[AG]!;
    this.perG6 = perG * y[M]!;
    return openedX;
  }

  private extendedSlope(
    y: Float64Array,
    base: number,
    kraw: number,
    x2: number,
    dAct: number,
    timeSlope: Float64Array,
  ): number {
    const c = this.c;
    const p = c.parameters;
    const slope = this.slope;
    const growth = c.thetaOpen * x2;
    const coarse = c.thetaCoarse * x2;
    // d ln(k kc/(k + kc)) = (kc dlnk + k dlnkc)/(k + kc)
    const kc = this.kc;
    const growthC = (kc * growth + this.kg * coarse) / (this.kg + kc);
    const dissolveC = (kc * c.thetaDissolve * x2 + this.kd * coarse) / (this.kd + kc);
    let openedT = 0;
    for (let i = 0; i < BINS; i++) {
      const o = 1 / (1 + base * c.binFactor[i]!);
      const dg =
        kraw * growth * (1 - o) +
        this.kgc * growthC * o +
        ((this.kgc - kraw) * o * (1 - o)) / p.width;
      const dT = slope * dg * y[SC + i]!;
      timeSlope[SC + i] = -dT;
      openedT += dT;
    }
    const o18 = this.openOpen;
    const d18 = slope * this.kgc * o18 * (growthC + (1 - o18) / p.width) * y[SC + BINS]!;
    timeSlope[SC + BINS] = -d18;
    const oR = this.openResistant;
    const dR = slope * this.kg * oR * (growth + (1 - oR) / p.width) * y[RES]!;
    timeSlope[RES] = -dR;
    const dKa = slope * c.thetaAlpha * x2 * this.ka;
    const dKb = slope * c.thetaBeta * x2 * this.kb;
    const dKl = slope * c.thetaLimit * x2 * this.kl;
    const dKd = slope * c.thetaDissolve * x2 * this.kd;
    const dKdc = slope * dissolveC * this.kdc;
    const dKrel = slope * c.thetaRelease * x2 * this.krel;
    const dKlb = slope * c.thetaBound * x2 * this.klb;
    const dKdg = slope * c.thetaGlucosidase * x2 * this.kdg;
    timeSlope[QC] = -dKdc * y[QC]!;
    timeSlope[ASC] = -(dKdc + p.uA * dKa) * y[ASC]!;
    timeSlope[BSC] = -(dKdc + p.uB * dKb) * y[BSC]!;
    timeSlope[LSC] = -(dKdc + p.uL * dKl) * y[LSC]!;
    timeSlope[A]! += dKdc * y[ASC]!;
    timeSlope[BL]! += (1 - p.fst) * dKdc * y[BSC]!;
    timeSlope[BT]! += p.fst * dKdc * y[BSC]!;
    timeSlope[LB] = -(dKrel + dKlb) * y[LB]!;
    timeSlope[LD]! += dKdc * y[LSC]! + dKrel * y[LB]!;
    timeSlope[GS] = -(dKd + dKdg) * y[GS]!;
    timeSlope[GSC] = -(dKdc + dKdg) * y[GSC]!;
    timeSlope[AG] = dKd * y[GS]! + dKdc * y[GSC]! - dKdg * y[AG]!;
    const v6 = this.k6 * y[M]!;
    timeSlope[M]! -= dAct * v6;
    timeSlope[G]! += dAct * p.hV * v6;
    return openedT + d18 + dR;
  }

  factor(shift: number): boolean {
    const p = this.c.parameters;
    const { kb, k1, k2, k3, k4, k5, g, iBin } = this;
    const { kd, ka, kl, kdc, krel, klb, kdg } = this.frozen;
    this.shift = shift;
    this.iS = 1 / shift;
    this.iQ = 1 / (shift + kd);
    this.iAs = 1 / (shift + kd + p.uA * ka);
    this.iA = 1 / (shift + ka);
    this.iBs = 1 / (shift + kd + p.uB * kb);
    this.iBl = 1 / (shift + kb);
    this.iBt = 1 / (shift + p.kds_ratio * kb);
    this.iLs = 1 / (shift + kd + p.uL * kl);
    this.iLd = 1 / (shift + kl);
    this.iSg = 1 / (shift + k1 + k2);
    this.iDet = 1 / ((shift + k3 + k4) * (shift + k5) - k5 * p.cL * k4);
    for (let i = this.tail; i < this.size; i++) iBin[i] = 1 / (shift + g[i]!);
    if (this.extended) {
      for (let i = SC; i < EXTENDED; i++) iBin[i] = 1 / (shift + g[i]!);
      iBin[RES] = 1 / (shift + g[RES]!);
      iBin[QC] = 1 / (shift + kdc);
      iBin[ASC] = 1 / (shift + kdc + p.uA * ka);
      iBin[BSC] = 1 / (shift + kdc + p.uB * kb);
      iBin[LSC] = 1 / (shift + kdc + p.uL * kl);
      iBin[GSC] = 1 / (shift + kdc + kdg);
      iBin[GS] = 1 / (shift + kd + kdg);
      iBin[LB] = 1 / (shift + krel + klb);
      iBin[AG] = 1 / (shift + kdg);
      this.iM = 1 / (shift + this.k6);
    } else this.iM = this.iS;

    // Sherman-Morrison: response of everything to a unit push through X.
    const z = this.z;
    const n = this.size;
    for (let i = 0; i < n; i++) z[i] = 0;
    for (let i = this.tail; i < n; i++) z[i] = this.byX[i]!;
    z[SG] = this.byX[SG]!;
    z[BS] = this.byX[BS]!;
    z[BL] = this.byX[BL]!;
    z[BT] = this.byX[BT]!;
    if (this.extended) {
      for (let i = SC; i < EXTENDED; i++) z[i] = this.byX[i]!;
      z[BSC] = this.byX[BSC]!;
    }
    this.substitute(z);
    const denominator = 1 - this.dXdE * this.pushOf(z);
    this.zScale = this.dXdE / denominator;
    return Number.isFinite(this.zScale);
  }

  private pushOf(x: Float64Array): number {
    const push = x[SG]! + x[G]! + x[M]! + x[T3]! + x[D]! + x[L]! - x[Q]!;
    return this.extended ? push - x[QC]! : push;
  }

  solve(b: Float64Array): void {
    this.substitute(b);
    const push = this.zScale * this.pushOf(b);
    const z = this.z;
    const n = this.size;
    for (let i = 0; i < n; i++) b[i]! += push * z[i]!;
    // Colour feeds nothing back, so it is read off last, from the finished extract.
    b[COLOUR] = (b[COLOUR]! + this.colourE * this.pushOf(b)) * this.iS;
  }

  private substitute(b: Float64Array): void {
    const c = this.c;
    const p = c.parameters;
    const { g, iBin, tail } = this;
    const { kd, kdc, krel } = this.frozen;
    const n = this.size;
    let opened = 0;
    for (let i = tail; i < n; i++) {
      const x = b[i]! * iBin[i]!;
      b[i] = x;
      opened += g[i]! * x;
    }
    b[Q]! *= this.iQ;
    const xAs = b[AS]! * this.iAs;
    const xBs = b[BS]! * this.iBs;
    const xLs = b[LS]! * this.iLs;
    let bA = b[A]! + kd * xAs;
    let bBl = b[BL]! + (1 - p.fst) * kd * xBs;
    let bBt = b[BT]! + p.fst * kd * xBs;
    let bLd = b[LD]! + kd * xLs;
    b[AS] = xAs;
    b[BS] = xBs;
    b[LS] = xLs;
    let xAg = 0;
    if (this.extended) {
      for (let i = SC; i < EXTENDED; i++) {
        const x = b[i]! * iBin[i]!;
        b[i] = x;
        opened += g[i]! * x;
      }
      b[RES]! *= iBin[RES]!;
      opened += g[RES]! * b[RES]!;
      b[QC]! *= iBin[QC]!;
      b[ASC]! *= iBin[ASC]!;
      b[BSC]! *= iBin[BSC]!;
      b[LSC]! *= iBin[LSC]!;
      b[GSC]! *= iBin[GSC]!;
      b[GS]! *= iBin[GS]!;
      b[LB]! *= iBin[LB]!;
      bA += kdc * b[ASC]!;
      bBl += (1 - p.fst) * kdc * b[BSC]!;
      bBt += p.fst * kdc * b[BSC]!;
      bLd += kdc * b[LSC]! + krel * b[LB]!;
      xAg = (b[AG]! + kd * b[GS]! + kdc * b[GSC]!) * iBin[AG]!;
      b[AG] = xAg;
    }
    const xA = bA * this.iA;
    const xBl = bBl * this.iBl;
    const xBt = bBt * this.iBt;
    const xLd = bLd * this.iLd;
    b[A] = xA;
    b[BL] = xBl;
    b[BT] = xBt;
    b[LD] = xLd;
    const xB = xBl + xBt;

    const w1 = this.perA1 * xA;
    const w2 = this.perB2 * xB;
    const w3 = this.perB3 * xB;
    const w4 = this.perA4 * xA;
    const w5 = this.perL5 * xLd;
    const xSg = (b[SG]! + opened - w1 - w2) * this.iSg;
    b[SG] = xSg;
    const v1 = this.k1 * xSg + w1;
    const v2 = this.k2 * xSg + w2;
    const bD = b[D]! + p.aD * v1 - w3 - w4 + w5;
    const bL = b[L]! + c.alphaLimit * v1 + c.betaLimit * v2 + p.cL * w4 - w5;
    const xD = (bD * (this.shift + this.k5) + this.k5 * bL) * this.iDet;
    const xL = (bL * (this.shift + this.k3 + this.k4) + p.cL * this.k4 * bD) * this.iDet;
    b[D] = xD;
    b[L] = xL;
    const v3 = this.k3 * xD + w3;
    const v4 = this.k4 * xD + w4;
    let bG = b[G]! + c.alphaGlucose * v1 + p.cG * v4;
    let bM = b[M]! + c.alphaMaltose * v1 + c.betaMaltose * v2 + c.dextrinMaltose * v3 + p.cM * v4;
    if (this.extended) {
      const w6 = this.perG6 * xAg;
      bM = (bM - w6) * this.iM;
      bG += p.hV * (this.k6 * bM + w6);
    } else bM *= this.iS;
    b[M] = bM;
    b[G] = bG * this.iS;
    b[T3] =
      (b[T3]! +
        c.alphaMaltotriose * v1 +
        c.betaMaltotriose * v2 +
        c.dextrinMaltotriose * v3 +
        p.cT * v4) *
      this.iS;
  }
}

/** Starch that error control left a hair below nought counts as gelatinised, so no mass is lost. */
function keep(state: Float64Array, starchKg: number): number {
  if (starchKg >= 0) return starchKg;
  state[at.SG]! += starchKg;
  return 0;
}

function dissolve(state: Float64Array, solid: number, liquid: number, left: number): void {
  const gone = state[solid]! * (1 - left);
  state[solid]! -= gone;
  state[liquid]! += gone;
}

/** Starch, sugars and solubles of both phases [kg]. */
function drySum(state: Float64Array): number {
  let sum = 0;
  for (let i = 0; i <= at.RESISTANT; i++) sum += state[at.S + i]! + state[at.COARSE + at.S + i]!;
  for (let i = at.PS; i <= at.OS; i++) sum += state[i]! + state[at.COARSE + i]!;
  for (let i = at.SG; i <= at.OTHER; i++) sum += state[i]!;
  return sum;
}
