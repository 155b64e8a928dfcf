import type { CompiledMash } from './compile.ts';
import type { HeatRates } from './heat-rates.ts';
import { BINS as LAYOUT_BINS } from './layout.ts';
import { A, AG, ASC, BL, BSC, BT, G, GS, GSC, LB, LD, LSC, M, QC, RES, SC } from './unknowns.ts';

/**
 * What the options add to the equations: coarse pieces (C), bound limit dextrinase (L),
 * alpha-glucosidase (V), resistant starch (F). Called only when a vessel holds any of it.
 *
 * Equations: docs/science/mash.md, section Options.
 */

const BINS = LAYOUT_BINS;

/** Adds the rates; answers the starch they open [kg/min]. */
export function addOptionRates(
  c: CompiledMash,
  r: HeatRates,
  y: Float64Array,
  into: Float64Array,
  kraw: number,
  base: number,
  kb: number,
): number {
  const p = c.parameters;
  const factor = c.binFactor;
  const { kd, kdc, ka, kl, kdg, kgc, krel } = r;
  const coarseGain = kgc - kraw;
  let opened = 0;
  for (let i = 0; i < BINS; i++) {
    const o = 1 / (1 + base * factor[i]!);
    const rate = (kraw + coarseGain * o) * y[SC + i]!;
    into[SC + i]! -= rate;
    opened += rate;
  }
  const rOpen = kgc * r.openOpen * y[SC + BINS]!;
  into[SC + BINS]! -= rOpen;
  const rResistant = r.kg * r.openResistant * y[RES]!;
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
  into[LB]! -= (krel + r.klb) * y[LB]!;
  into[LD]! += kdLs + krel * y[LB]!;
  // Alpha-glucosidase is lost alike dissolved or not: the study gives no other figure.
  into[GS]! -= (kd + kdg) * y[GS]!;
  into[GSC]! -= (kdc + kdg) * y[GSC]!;
  into[AG]! += kd * y[GS]! + kdc * y[GSC]! - kdg * y[AG]!;
  return opened + rOpen + rResistant;
}

/** Opening rates and their slopes in X; answers the slope of the starch opened. */
export function lineariseOptions(
  c: CompiledMash,
  r: HeatRates,
  y: Float64Array,
  base: number,
  kraw: number,
  protect: number,
  g: Float64Array,
  byX: Float64Array,
): number {
  const p = c.parameters;
  const coarseGain = r.kgc - kraw;
  const perX = (coarseGain * p.sG) / p.width;
  let openedX = 0;
  for (let i = 0; i < BINS; i++) {
    const o = 1 / (1 + base * c.binFactor[i]!);
    const bend = perX * o * (1 - o) * y[SC + i]!;
    g[SC + i] = kraw + coarseGain * o;
    byX[SC + i] = bend;
    openedX -= bend;
  }
  g[SC + BINS] = r.kgc * r.openOpen;
  byX[SC + BINS] = 0;
  g[RES] = r.kg * r.openResistant;
  byX[BSC] = p.uB * protect * y[BSC]!;
  return openedX;
}

/** Slopes in time on a temperature ramp; answers that of the starch opened. */
export function optionTimeSlope(
  c: CompiledMash,
  r: HeatRates,
  y: Float64Array,
  base: number,
  kraw: number,
  kb: number,
  k6: number,
  slope: number,
  x2: number,
  dAct: number,
  timeSlope: Float64Array,
): number {
  const p = c.parameters;
  const growth = c.thetaOpen * x2;
  const coarse = c.thetaCoarse * x2;
  // d ln(k kc/(k + kc)) = (kc dlnk + k dlnkc)/(k + kc)
  const kc = r.kc;
  const growthC = (kc * growth + r.kg * coarse) / (r.kg + kc);
  const dissolveC = (kc * c.thetaDissolve * x2 + r.kd * coarse) / (r.kd + kc);
  let openedT = 0;
  for (let i = 0; i < BINS; i++) {
    const o = 1 / (1 + base * c.binFactor[i]!);
    const dg =
      kraw * growth * (1 - o) + r.kgc * growthC * o + ((r.kgc - kraw) * o * (1 - o)) / p.width;
    const dT = slope * dg * y[SC + i]!;
    timeSlope[SC + i] = -dT;
    openedT += dT;
  }
  const o18 = r.openOpen;
  const d18 = slope * r.kgc * o18 * (growthC + (1 - o18) / p.width) * y[SC + BINS]!;
  timeSlope[SC + BINS] = -d18;
  const oR = r.openResistant;
  const dR = slope * r.kg * oR * (growth + (1 - oR) / p.width) * y[RES]!;
  timeSlope[RES] = -dR;
  const dKa = slope * c.thetaAlpha * x2 * r.ka;
  const dKb = slope * c.thetaBeta * x2 * kb;
  const dKl = slope * c.thetaLimit * x2 * r.kl;
  const dKd = slope * c.thetaDissolve * x2 * r.kd;
  const dKdc = slope * dissolveC * r.kdc;
  const dKrel = slope * c.thetaRelease * x2 * r.krel;
  const dKlb = slope * c.thetaBound * x2 * r.klb;
  const dKdg = slope * c.thetaGlucosidase * x2 * r.kdg;
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
  const v6 = k6 * y[M]!;
  timeSlope[M]! -= dAct * v6;
  timeSlope[G]! += dAct * p.hV * v6;
  return openedT + d18 + dR;
}
