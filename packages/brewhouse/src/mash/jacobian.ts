import type { CompiledMash } from './compile.ts';
import type { HeatRates } from './heat-rates.ts';
import { BINS as LAYOUT_BINS } from './layout.ts';
import { lineariseOptions, optionTimeSlope } from './option-terms.ts';
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
  MASH_UNKNOWNS,
  Q,
  QC,
  RES,
  SC,
  SG,
  T3,
} from './unknowns.ts';

// A local name: in the inner loop a constant of another module is looked up anew each time.
const BINS = LAYOUT_BINS;
const KELVIN = 273.15;

/** What does not change while a vessel is carried through time. */
export interface Held {
  c: CompiledMash;
  /** Whether the unknowns of the options are in use. */
  extended: boolean;
  /** Where the ordinary starch bins begin. */
  tail: number;
  waterKg: number;
  /** Concentration 1 per kg of dissolved enzyme [1/kg]. */
  concentration: number;
  /** Preformed sugar and other solubles, dissolved or not [kg]. */
  solublesKg: number;
}

/** Dissolved extract [kg]. */
export function extractOf(v: Held, y: Float64Array): number {
  const e = y[SG]! + y[G]! + y[M]! + y[T3]! + y[D]! + y[L]! + v.solublesKg - y[Q]!;
  return v.extended ? e - y[QC]! : e;
}

/**
 * The rate equations made linear, and their solution.
 *
 * The unknowns are ordered so that everything but two couplings is read off by substitution:
 * starch bins and enzymes depend on nothing later, gelatinised starch on them, dextrin and limit
 * dextrin on each other (a 2 x 2), sugars on all of these. The last coupling, everything on the
 * wort extract X, has rank one and is closed by the Sherman-Morrison formula. A solve costs about
 * as much as reading the state once.
 *
 * Equations: docs/science/mash.md.
 */
export class MashJacobian {
  // Frozen where it was taken: the rates move on with the stages.
  private readonly frozen = { kd: 0, ka: 0, kl: 0, kdc: 0, krel: 0, klb: 0, kdg: 0 };
  private c!: CompiledMash;
  private extended = false;
  private tail = CORE;
  private size = 0;
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

  /**
   * Takes the Jacobian where the rates `r` stand warmed.
   *
   * @param v  what is fixed while the vessel is carried
   * @param r  rates at the temperature of this moment
   * @param y  unknowns
   * @param n  unknowns in use
   * @param slope  heating rate [K/min]
   * @param timeSlope  filled with ∂f/∂t
   */
  take(
    v: Held,
    r: HeatRates,
    y: Float64Array,
    n: number,
    slope: number,
    timeSlope: Float64Array,
  ): void {
    const { c, extended, tail, waterKg } = v;
    const p = c.parameters;
    this.c = c;
    this.extended = extended;
    this.tail = tail;
    this.size = n;
    const e = extractOf(v, y);
    const whole = e + waterKg;
    const X = (100 * e) / whole;
    this.dXdE = (100 * waterKg) / (whole * whole);
    const { g, byX } = this;

    const kg = r.kg;
    const kraw = (p.kraw / p.kg65) * kg;
    const gain = kg - kraw;
    const base = Math.exp(r.opener + (p.sG / p.width) * X);
    const bins = Math.min(BINS, n - tail);
    const perT = gain / p.width;
    const x2 = 1 / ((r.T + KELVIN) * (r.T + KELVIN));
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
      const o = r.openOpen;
      g[tail + BINS] = kg * o;
      byX[tail + BINS] = 0;
      if (ramp) {
        const dT = slope * kg * o * (growth + (1 - o) / p.width) * y[tail + BINS]!;
        timeSlope[tail + BINS] = -dT;
        openedT += dT;
      }
    }

    const kb = r.kb0 * Math.exp(p.cprot * (p.Xref - X));
    this.kb = kb;
    const frozen = this.frozen;
    frozen.kd = r.kd;
    frozen.ka = r.ka;
    frozen.kl = r.kl;
    const protect = p.cprot * kb;
    byX[BS] = p.uB * protect * y[BS]!;
    byX[BL] = protect * y[BL]!;
    byX[BT] = p.kds_ratio * protect * y[BT]!;

    const act = r.f * v.concentration;
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
    const colourRate = r.colour0 * (X / 12) * (X / 12) * whole;
    this.colourE = r.colour0 * ((2 * X * this.dXdE * whole + X * X) / 144);

    if (extended) {
      openedX += lineariseOptions(c, r, y, base, kraw, protect, g, byX);
      frozen.kdc = r.kdc;
      frozen.krel = r.krel;
      frozen.klb = r.klb;
      frozen.kdg = r.kdg;
      this.k6 = p.kag * act * y[AG]!;
      this.perG6 = p.kag * act * y[M]!;
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
    const dKd = slope * c.thetaDissolve * x2 * r.kd;
    const dKa = slope * c.thetaAlpha * x2 * r.ka;
    const dKb = slope * c.thetaBeta * x2 * kb;
    const dKl = slope * c.thetaLimit * x2 * r.kl;
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
    if (extended)
      openedT += optionTimeSlope(c, r, y, base, kraw, kb, this.k6, slope, x2, dAct, timeSlope);
    timeSlope[SG] = openedT - dAct * (v1 + v2);
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
