import {
  Dopri5Workspace,
  type Integration,
  integrateDopri5,
  integrateRodas5P,
  Rodas5PWorkspace,
  type StepControl,
} from '@ladlework/numerics';
import { advanceBoiled, isBoiled } from './boiled.ts';
import type { CompiledMash } from './compile.ts';
import { MashRangeError } from './errors.ts';
import { smmKept } from './heat-integrals.ts';
import { MashSystem } from './kinetics.ts';
import * as at from './layout.ts';
import { MASH_UNKNOWNS } from './unknowns.ts';

/** Enzyme and starch below this share of the absolute error allowed do nothing that shows. */
const TINY = 0.3;
/**
 * Error per step allowed for an error of `tolerance` after a day, and its absolute part per kg of
 * dry matter. Fitted on the two days of bench/mash-solver.ts, where figures down to 1e-3 count.
 */
const STEP_FACTOR = 2;
const STEP_POWER = 1.2;
const ABSOLUTE_SHARE = 0.001;
const MAX_STEPS = 20000;

/**
 * Where the explicit method is taken: an explicit step costs half a stiff one, but must stay below
 * STABLE over the fastest rate. On a ramp error control asks for a step every RAMP_STEP_K kelvin at
 * a tolerance of 1e-6, so ramps of cool and warm mashes are explicit; rests, slow cooling and
 * everything hot are not. Measured by bench/mash-solver.ts.
 */
const STABLE = 3.3;
const RAMP_STEP_K = 0.28;
const EXPLICIT_MAX_STEPS = 500;

/** Room and counters for `advanceMash`; one per thread serves all vessels and draws. */
export class MashWorkspace {
  readonly system = new MashSystem();
  readonly y = new Float64Array(MASH_UNKNOWNS);
  readonly rodas = new Rodas5PWorkspace(MASH_UNKNOWNS);
  readonly dopri = new Dopri5Workspace(MASH_UNKNOWNS);
  readonly control: StepControl = {
    relative: 0,
    absolute: 0,
    firstStep: 0,
    maxSteps: MAX_STEPS,
  };
  readonly report: Integration = { ok: true, accepted: 0, rejected: 0, reached: 0, nextStep: 0 };
  /** Steps since the counters were last set to nought. */
  accepted = 0;
  rejected = 0;
}

/** The integrator gave up: a bug, or a state that is not a mash. */
export class MashStepError extends Error {
  constructor(atMin: number, tempC: number) {
    super(`the mash could not be carried past minute ${atMin} at ${tempC} °C`);
    this.name = 'MashStepError';
  }
}

/** Shortest line worth a step, relative to the clock. */
const SHORTEST_LINE = 1e-12;

function checkProfile(timesMin: ArrayLike<number>, tempsC: ArrayLike<number>, knots: number): void {
  for (let i = 0; i < knots; i++) {
    const T = tempsC[i]!;
    if (!(T >= 0 && T <= 105)) throw new MashRangeError(`tempsC[${i}]`, T, '0 to 105 °C');
    if (i > 0 && !(timesMin[i]! >= timesMin[i - 1]!))
      throw new MashRangeError(`timesMin[${i}]`, timesMin[i]!, 'not before the knot ahead of it');
  }
}

/**
 * Carries the mash of one vessel along a temperature history.
 *
 * @param state  vessel, changed in place
 * @param compiled  parameters, from `compileMash`
 * @param timesMin  knots of the history [min], rising
 * @param tempsC  temperatures at the knots [°C], 0 to 105, straight lines between
 * @param tolerance  relative error wanted of every figure read off the result, 1e-9 to 1e-2
 * @param workspace  room, reused
 * @param knots  knots to use, when the arrays are longer; default all
 * @throws MashRangeError when a temperature, time, tolerance or the water is impossible
 * @throws MashStepError when the integrator gives up (a bug)
 * @source docs/science/mash.md
 */
export function advanceMash(
  state: Float64Array,
  compiled: CompiledMash,
  timesMin: ArrayLike<number>,
  tempsC: ArrayLike<number>,
  tolerance: number,
  workspace: MashWorkspace,
  knots: number = timesMin.length,
): void {
  if (!(tolerance >= 1e-9 && tolerance <= 1e-2))
    throw new MashRangeError('tolerance', tolerance, '1e-9 to 1e-2');
  checkProfile(timesMin, tempsC, knots);
  let matter = 0;
  for (let i = 0; i < at.LIQUID; i++) matter += state[i]!;
  for (let i = at.SG; i <= at.OTHER; i++) matter += state[i]!;
  if (!(matter > 0)) return;
  if (!(state[at.WATER]! > 0)) throw new MashRangeError('water', state[at.WATER]!, 'above 0 kg');
  const { control } = workspace;
  control.relative = STEP_FACTOR * tolerance ** STEP_POWER;
  control.absolute = control.relative * ABSOLUTE_SHARE * matter;
  control.firstStep = 0;
  const tiny = TINY * control.absolute;
  const rampStepK = RAMP_STEP_K * (tolerance / 1e-6) ** 0.2;
  const kinkC = compiled.parameters.Tcol;
  for (let i = 1; i < knots; i++) {
    const t0 = timesMin[i - 1]!;
    const t1 = timesMin[i]!;
    const T0 = tempsC[i - 1]!;
    const T1 = tempsC[i]!;
    if (!(t1 > t0)) continue;
    // Colour starts at a threshold: the line is cut there so that no step straddles it.
    if ((T0 - kinkC) * (T1 - kinkC) < 0) {
      const cut = t0 + ((kinkC - T0) / (T1 - T0)) * (t1 - t0);
      advanceLine(state, compiled, t0, cut, T0, kinkC, tiny, rampStepK, workspace);
      advanceLine(state, compiled, cut, t1, kinkC, T1, tiny, rampStepK, workspace);
    } else advanceLine(state, compiled, t0, t1, T0, T1, tiny, rampStepK, workspace);
  }
}

function advanceLine(
  state: Float64Array,
  compiled: CompiledMash,
  t0: number,
  t1: number,
  T0: number,
  T1: number,
  tiny: number,
  rampStepK: number,
  workspace: MashWorkspace,
): void {
  const p = compiled.parameters;
  const minutes = t1 - t0;
  // A cut that falls on a knot leaves a line shorter than the clock can step; nothing happens in it.
  if (minutes <= SHORTEST_LINE * Math.max(1, t1)) return;
  state[at.SMM]! *= smmKept(T0, T1, minutes);
  const coolest = Math.min(T0, T1);
  if (isBoiled(state, compiled, coolest, tiny)) {
    advanceBoiled(state, compiled, T0, T1, minutes);
    return;
  }
  const { system, y, control, report } = workspace;
  const slope = (T1 - T0) / minutes;
  const hot = coolest >= p.Tcol;
  let from = t0;
  system.load(state, compiled, y, tiny);
  system.setLine(t0, T0, slope, hot, hot);
  if (rampStepK * system.fastest(Math.max(T0, T1), y) < STABLE * Math.abs(slope)) {
    control.maxSteps = EXPLICIT_MAX_STEPS;
    integrateDopri5(system, t0, t1, y, control, workspace.dopri, report, system.size);
    control.maxSteps = MAX_STEPS;
    from = report.reached;
    tally(workspace);
  }
  while (from < t1) {
    integrateRodas5P(system, from, t1, y, control, workspace.rodas, report);
    tally(workspace);
    from = report.reached;
    if (!report.ok) throw new MashStepError(from, T0 + slope * (from - t0));
    if (from < t1) {
      // Stopped early: no enzyme is left. Mostly nothing but exponentials remains to be done.
      system.store(y, state);
      const T = T0 + slope * (from - t0);
      if (isBoiled(state, compiled, Math.min(T, T1), tiny)) {
        advanceBoiled(state, compiled, T, T1, t1 - from);
        return;
      }
      system.load(state, compiled, y, tiny);
      system.setLine(t0, T0, slope, hot, false);
    }
  }
  system.store(y, state);
}

function tally(workspace: MashWorkspace): void {
  workspace.accepted += workspace.report.accepted;
  workspace.rejected += workspace.report.rejected;
  workspace.control.firstStep = workspace.report.nextStep;
}
