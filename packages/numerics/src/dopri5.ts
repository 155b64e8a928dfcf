import { DOPRI5 } from './dopri5-coefficients.ts';
import type { Integration, StepControl } from './rodas5p.ts';

/** Adds dy/dt = f(t, y) to `into`. */
export interface RateEquations {
  addRates(t: number, y: Float64Array, into: Float64Array): void;
}

/** Room for the stages, so that a step allocates nothing. */
export class Dopri5Workspace {
  /** Rates of stage j of unknown i at [8 i + j - 1]. */
  readonly stages: Float64Array;
  /** Rates of the stage in hand; after a step, those at the new state. */
  readonly b: Float64Array;
  readonly argument: Float64Array;
  readonly next: Float64Array;

  constructor(size: number) {
    this.stages = new Float64Array(8 * size);
    this.b = new Float64Array(size);
    this.argument = new Float64Array(size);
    this.next = new Float64Array(size);
  }
}

const SAFETY = 0.9;
const LEAST_FACTOR = 0.2;
const GREATEST_FACTOR = 5;
/** Memory of the last error in the step control; damps the saw-tooth at the stability limit. */
const MEMORY = 0.04;
const EXPONENT = 0.2 - 0.75 * MEMORY;

const P = DOPRI5;

/**
 * One step of size h; the first stages must hold f(t, y). Afterwards `work.next` is the new state,
 * `work.b` its rates and `work.argument` the error estimate.
 */
function step(
  equations: RateEquations,
  t: number,
  y: Float64Array,
  h: number,
  n: number,
  work: Dopri5Workspace,
): void {
  const { argument: a, b, next, stages: u } = work;

  const a21 = h * P.a21;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    a[i] = y[i]! + a21 * u[k]!;
    b[i] = 0;
  }
  equations.addRates(t + P.c2 * h, a, b);

  const a31 = h * P.a31;
  const a32 = h * P.a32;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s2 = b[i]!;
    u[k + 1] = s2;
    a[i] = y[i]! + a31 * u[k]! + a32 * s2;
    b[i] = 0;
  }
  equations.addRates(t + P.c3 * h, a, b);

  const a41 = h * P.a41;
  const a42 = h * P.a42;
  const a43 = h * P.a43;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s3 = b[i]!;
    u[k + 2] = s3;
    a[i] = y[i]! + a41 * u[k]! + a42 * u[k + 1]! + a43 * s3;
    b[i] = 0;
  }
  equations.addRates(t + P.c4 * h, a, b);

  const a51 = h * P.a51;
  const a52 = h * P.a52;
  const a53 = h * P.a53;
  const a54 = h * P.a54;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s4 = b[i]!;
    u[k + 3] = s4;
    a[i] = y[i]! + a51 * u[k]! + a52 * u[k + 1]! + a53 * u[k + 2]! + a54 * s4;
    b[i] = 0;
  }
  equations.addRates(t + P.c5 * h, a, b);

  const a61 = h * P.a61;
  const a62 = h * P.a62;
  const a63 = h * P.a63;
  const a64 = h * P.a64;
  const a65 = h * P.a65;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s5 = b[i]!;
    u[k + 4] = s5;
    a[i] = y[i]! + a61 * u[k]! + a62 * u[k + 1]! + a63 * u[k + 2]! + a64 * u[k + 3]! + a65 * s5;
    b[i] = 0;
  }
  equations.addRates(t + h, a, b);

  const b1 = h * P.b1;
  const b3 = h * P.b3;
  const b4 = h * P.b4;
  const b5 = h * P.b5;
  const b6 = h * P.b6;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s6 = b[i]!;
    u[k + 5] = s6;
    next[i] = y[i]! + b1 * u[k]! + b3 * u[k + 2]! + b4 * u[k + 3]! + b5 * u[k + 4]! + b6 * s6;
    b[i] = 0;
  }
  equations.addRates(t + h, next, b);

  const e1 = h * P.e1;
  const e3 = h * P.e3;
  const e4 = h * P.e4;
  const e5 = h * P.e5;
  const e6 = h * P.e6;
  const e7 = h * P.e7;
  for (let i = 0, k = 0; i < n; i++, k += 8)
    a[i] =
      e1 * u[k]! + e3 * u[k + 2]! + e4 * u[k + 3]! + e5 * u[k + 4]! + e6 * u[k + 5]! + e7 * b[i]!;
}

/** Rates at the start, where no earlier step has left them. */
function begin(
  equations: RateEquations,
  t: number,
  y: Float64Array,
  n: number,
  work: Dopri5Workspace,
): void {
  const { b, stages } = work;
  for (let i = 0; i < n; i++) b[i] = 0;
  equations.addRates(t, y, b);
  for (let i = 0; i < n; i++) stages[8 * i] = b[i]!;
}

/**
 * One step of fixed size, for order tests.
 *
 * @param equations  right side
 * @param t  start [unit of t]
 * @param y  state, overwritten by the new state
 * @param h  step [unit of t]
 * @param work  workspace of at least y.length
 * @returns largest error estimate [unit of y]
 * @source Dormand & Prince 1980
 */
export function dopri5Step(
  equations: RateEquations,
  t: number,
  y: Float64Array,
  h: number,
  work: Dopri5Workspace,
): number {
  const n = y.length;
  begin(equations, t, y, n, work);
  step(equations, t, y, h, n, work);
  let worst = 0;
  for (let i = 0; i < n; i++) {
    y[i] = work.next[i]!;
    worst = Math.max(worst, Math.abs(work.argument[i]!));
  }
  return worst;
}

/**
 * Carries y from t0 to t1 with error control, explicitly: for problems without stiffness. With
 * rates far above one per step it grinds through a step per rate; use Rodas5P there.
 *
 * @param equations  right side
 * @param t0  start [unit of t]
 * @param t1  end [unit of t], at or after t0
 * @param y  state at t0, overwritten by the state at t1
 * @param control  tolerances; `firstStep` is read only
 * @param work  workspace of at least `size`
 * @param report  filled with what happened
 * @param size  unknowns in use, when y is longer
 * @returns report
 * @source Dormand & Prince 1980; step control Hairer, Nørsett & Wanner 1993, Solving ODEs I, II.4
 */
export function integrateDopri5(
  equations: RateEquations,
  t0: number,
  t1: number,
  y: Float64Array,
  control: StepControl,
  work: Dopri5Workspace,
  report: Integration,
  size: number = y.length,
): Integration {
  report.ok = true;
  report.accepted = 0;
  report.rejected = 0;
  report.reached = t0;
  report.nextStep = control.firstStep;
  const span = t1 - t0;
  if (!(span > 0)) return report;
  const n = size;
  const { relative, absolute } = control;
  const { stages, b, next, argument } = work;
  let t = t0;
  begin(equations, t, y, n, work);
  let h = control.firstStep > 0 ? control.firstStep : firstStep(y, b, n, control);
  const least = 1e-13 * Math.max(span, Math.abs(t0), Math.abs(t1));
  let before = 1e-4;
  let afterRejection = false;
  while (t < t1) {
    if (report.accepted + report.rejected >= control.maxSteps || !(h > least)) {
      report.ok = false;
      return report;
    }
    const last = h >= 0.999 * (t1 - t);
    const taken = last ? t1 - t : h;
    step(equations, t, y, taken, n, work);
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const weight = absolute + relative * Math.max(Math.abs(y[i]!), Math.abs(next[i]!));
      const share = argument[i]! / weight;
      sum += share * share;
    }
    const error = Math.sqrt(sum / n);
    if (error <= 1) {
      const factor = (SAFETY * before ** MEMORY) / Math.max(error, 1e-10) ** EXPONENT;
      for (let i = 0; i < n; i++) {
        y[i] = next[i]!;
        stages[8 * i] = b[i]!;
      }
      t = last ? t1 : t + taken;
      report.accepted++;
      report.reached = t;
      h = taken * Math.min(afterRejection ? 1 : GREATEST_FACTOR, Math.max(LEAST_FACTOR, factor));
      if (last) h = Math.max(h, report.nextStep);
      report.nextStep = h;
      before = Math.max(error, 1e-4);
      afterRejection = false;
    } else {
      report.rejected++;
      afterRejection = true;
      h =
        taken * (error < 1e30 ? Math.max(LEAST_FACTOR, SAFETY / error ** EXPONENT) : LEAST_FACTOR);
    }
  }
  return report;
}

function firstStep(y: Float64Array, f: Float64Array, n: number, control: StepControl): number {
  let size = 0;
  let speed = 0;
  for (let i = 0; i < n; i++) {
    const weight = 1 / (control.absolute + control.relative * Math.abs(y[i]!));
    size = Math.max(size, Math.abs(y[i]!) * weight);
    speed = Math.max(speed, Math.abs(f[i]!) * weight);
  }
  return size > 0 && speed > 0 ? 0.5 * control.relative ** 0.2 * (size / speed) : 1e-6;
}
