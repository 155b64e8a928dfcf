import type { CompiledMash } from './compile.ts';
import { rateIntegral } from './heat-integrals.ts';
import * as at from './layout.ts';

const LONGEST_PIECE_MIN = 4;

/** Whether any enzyme is left that could still act. */
function enzymesLeft(state: Float64Array, tiny: number): boolean {
  let sum = state[at.LB]!;
  for (let i = at.AS; i <= at.GS; i++) sum += state[i]! + state[at.COARSE + i]!;
  for (let i = at.ALPHA; i <= at.GLUCOSIDASE; i++) sum += state[i]!;
  return sum >= tiny;
}

function rawStarch(state: Float64Array): number {
  let sum = 0;
  for (let i = 0; i <= at.OPEN_BIN; i++) sum += state[at.S + i]! + state[at.COARSE + i]!;
  return sum;
}

/**
 * Whether the boiled form holds between these temperatures: no enzyme, and every ordinary bin
 * either empty or wide open. Resistant starch opens in the middle of this range, so a mash that
 * still has some is left to the general integrator.
 */
export function isBoiled(
  state: Float64Array,
  compiled: CompiledMash,
  coolestC: number,
  tiny: number,
): boolean {
  if (state[at.RESISTANT]! + state[at.COARSE + at.RESISTANT]! > tiny) return false;
  if (enzymesLeft(state, tiny)) return false;
  if (rawStarch(state) < tiny) return true;
  const p = compiled.parameters;
  const highest = p.mu + 2.6 * p.sig + p.sG * (40 - p.X0);
  return coolestC > Math.max(highest, p.Tfd) + 20 * p.width;
}

function loseSolid(state: Float64Array, from: number, to: number, keep: number): void {
  const gone = state[from]! * (1 - keep);
  state[from]! -= gone;
  state[to]! += gone;
}

/**
 * Carries a boiled mash along a straight temperature line: all enzymes gone and every bin open,
 * so starch opens, solubles dissolve and colour forms, each by its own exponential.
 *
 * @param state  vessel, changed in place
 * @param compiled  parameters
 * @param fromC  temperature at the start [°C]
 * @param toC  temperature at the end [°C]
 * @param minutes  length [min]
 * @source docs/science/mash.md, section Numerics (limit towards the boil)
 */
export function advanceBoiled(
  state: Float64Array,
  compiled: CompiledMash,
  fromC: number,
  toC: number,
  minutes: number,
): void {
  for (let i = at.AS; i <= at.GS; i++) {
    state[i] = 0;
    state[at.COARSE + i] = 0;
  }
  for (let i = at.ALPHA; i <= at.GLUCOSIDASE; i++) state[i] = 0;
  state[at.LB] = 0;
  const pieces = Math.ceil(minutes / LONGEST_PIECE_MIN);
  const width = minutes / pieces;
  const rise = (toC - fromC) / pieces;
  for (let i = 0; i < pieces; i++)
    boiledPiece(state, compiled, fromC + i * rise, fromC + (i + 1) * rise, width);
}

function boiledPiece(
  state: Float64Array,
  compiled: CompiledMash,
  fromC: number,
  toC: number,
  minutes: number,
): void {
  const p = compiled.parameters;
  const ref = compiled.inverseRef;
  const before = state[at.COLOUR]!;
  const early = colourStrength(state);
  const opening = Math.exp(-rateIntegral(p.kg65, compiled.thetaOpen, ref, fromC, toC, minutes));
  const dissolving = Math.exp(
    -rateIntegral(p.kdis, compiled.thetaDissolve, ref, fromC, toC, minutes),
  );
  for (let i = 0; i <= at.OPEN_BIN; i++) loseSolid(state, at.S + i, at.SG, opening);
  loseSolid(state, at.PS, at.PREFORMED, dissolving);
  loseSolid(state, at.OS, at.OTHER, dissolving);
  // Coarse pieces: series resistance, its integral by the rates at the middle of the piece.
  const middle = 0.5 * (fromC + toC) + 273.15;
  const x = 1 / middle - ref;
  const kc = p.kc * Math.exp(-compiled.thetaCoarse * x);
  const kg = p.kg65 * Math.exp(-compiled.thetaOpen * x);
  const kd = p.kdis * Math.exp(-compiled.thetaDissolve * x);
  const openingCoarse = Math.exp(-((kg * kc) / (kg + kc)) * minutes);
  const dissolvingCoarse = Math.exp(-((kd * kc) / (kd + kc)) * minutes);
  const k = at.COARSE;
  for (let i = 0; i <= at.OPEN_BIN; i++) loseSolid(state, k + at.S + i, at.SG, openingCoarse);
  loseSolid(state, k + at.PS, at.PREFORMED, dissolvingCoarse);
  loseSolid(state, k + at.OS, at.OTHER, dissolvingCoarse);
  const strength = 0.5 * (early + colourStrength(state));
  if (Math.min(fromC, toC) >= p.Tcol - 1e-9)
    state[at.COLOUR] =
      before +
      strength * rateIntegral(p.kcol100, compiled.thetaColour, 1 / 373.15, fromC, toC, minutes);
}

/** (X/12)^2 times liquid mass [kg]: what a minute at 100 °C colours. */
function colourStrength(state: Float64Array): number {
  let extract = 0;
  for (let i = at.SG; i <= at.OTHER; i++) extract += state[i]!;
  const liquid = extract + state[at.WATER]!;
  const x = (100 * extract) / liquid / 12;
  return x * x * liquid;
}
