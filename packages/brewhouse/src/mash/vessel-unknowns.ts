import * as at from './layout.ts';
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
  QC,
  RES,
  SC,
  SG,
  T3,
} from './unknowns.ts';

/** Whether anything in the vessel needs the unknowns of the options. */
export function needsOptions(state: Float64Array): boolean {
  if (state[at.LB]! > 0 || state[at.GLUCOSIDASE]! > 0) return true;
  if (state[at.GS]! > 0 || state[at.RESISTANT]! > 0) return true;
  for (let i = 0; i < at.COARSE; i++) if (state[at.COARSE + i]! > 0) return true;
  return false;
}

/** Copies a vessel into the unknowns; answers the solubles it holds, dissolved or not [kg]. */
export function loadUnknowns(state: Float64Array, y: Float64Array, extended: boolean): number {
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
  let soluble = y[Q]! + state[at.PREFORMED]! + state[at.OTHER]!;
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
    soluble += y[QC]!;
  }
  const tail = extended ? EXTENDED : CORE;
  for (let i = 0; i < at.BINS; i++) y[tail + i] = state[at.S + at.BINS - 1 - i]!;
  y[tail + at.BINS] = state[at.S + at.OPEN_BIN]!;
  return soluble;
}

/** Writes the vessel back. What starch and solubles lost, the liquid gained: mass is closed here. */
export function storeUnknowns(
  y: Float64Array,
  state: Float64Array,
  extended: boolean,
  size: number,
): void {
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
  if (extended) {
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
  const tail = extended ? EXTENDED : CORE;
  for (let i = 0; i < at.BINS; i++)
    state[at.S + at.BINS - 1 - i] = tail + i < size ? keep(state, y[tail + i]!) : 0;
  state[at.S + at.OPEN_BIN] = tail + at.BINS < size ? keep(state, y[tail + at.BINS]!) : 0;
  state[at.BOUND]! += drySum(state) - before;
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
