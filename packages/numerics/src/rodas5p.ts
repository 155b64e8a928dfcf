import { RODAS5P } from './rodas5p-coefficients.ts';

/**
 * A set of rate equations dy/dt = f(t, y) that can solve its own linearised form. The system owns
 * its linear algebra, so a sparse one can be solved in a handful of operations per unknown.
 */
export interface StiffSystem {
  /** Number of unknowns in use; it may shrink between steps, never grow. */
  readonly size: number;
  /** Writes f(t, y) into `out`. */
  rates(t: number, y: Float64Array, out: Float64Array): void;
  /** Stores the Jacobian at (t, y); writes ∂f/∂t into `timeSlope`; false when that is all nought. */
  linearise(t: number, y: Float64Array, timeSlope: Float64Array): boolean;
  /** Prepares solving with (shift I - J); false when it cannot be solved. */
  factor(shift: number): boolean;
  /** Solves (shift I - J) x = b, b becoming x. */
  solve(b: Float64Array): void;
  /** Called after each accepted step; may tidy y and lower `size`. True: stop the stretch here. */
  accepted?(t: number, y: Float64Array): boolean;
}

export interface StepControl {
  /** Relative error allowed per step, 1e-12 to 0.1. */
  relative: number;
  /** Absolute error allowed per step [unit of y], above 0. */
  absolute: number;
  /** First step to try [unit of t]; 0 lets the method choose. */
  firstStep: number;
  /** Steps, accepted or not, after which to give up. */
  maxSteps: number;
}

/** How a stretch of integration went. `ok` false: no end was reached, y is the last good state. */
export interface Integration {
  ok: boolean;
  accepted: number;
  rejected: number;
  /** Where the stretch ended [unit of t]: the end asked for, or where the system called a stop. */
  reached: number;
  /** Step the error control would take next [unit of t]. */
  nextStep: number;
}

/** Room for the stages, so that a step allocates nothing. */
export class Rodas5PWorkspace {
  readonly u: readonly Float64Array[];
  readonly argument: Float64Array;
  readonly timeSlope: Float64Array;

  constructor(size: number) {
    this.u = Array.from({ length: 8 }, () => new Float64Array(size));
    this.argument = new Float64Array(size);
    this.timeSlope = new Float64Array(size);
  }
}

const SAFETY = 0.9;
const LEAST_FACTOR = 0.15;
const GREATEST_FACTOR = 8;
const ORDER = 5;

const R = RODAS5P;

/**
 * One step of size h from (t, y). The new state is left in `work.argument`, its error estimate in
 * `work.u[7]`. The system must have been linearised at (t, y) and factored for 1/(γ h).
 */
function step(
  system: StiffSystem,
  t: number,
  y: Float64Array,
  h: number,
  slopes: boolean,
  work: Rodas5PWorkspace,
): void {
  const n = system.size;
  const a = work.argument;
  const ft = work.timeSlope;
  const [u1, u2, u3, u4, u5, u6, u7, u8] = work.u as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const q = 1 / h;

  system.rates(t, y, u1);
  if (slopes) for (let i = 0; i < n; i++) u1[i]! += h * R.d1 * ft[i]!;
  system.solve(u1);

  for (let i = 0; i < n; i++) a[i] = y[i]! + R.a21 * u1[i]!;
  system.rates(t + R.c2 * h, a, u2);
  for (let i = 0; i < n; i++) u2[i]! += q * R.C21 * u1[i]!;
  if (slopes) for (let i = 0; i < n; i++) u2[i]! += h * R.d2 * ft[i]!;
  system.solve(u2);

  for (let i = 0; i < n; i++) a[i] = y[i]! + R.a31 * u1[i]! + R.a32 * u2[i]!;
  system.rates(t + R.c3 * h, a, u3);
  for (let i = 0; i < n; i++) u3[i]! += q * (R.C31 * u1[i]! + R.C32 * u2[i]!);
  if (slopes) for (let i = 0; i < n; i++) u3[i]! += h * R.d3 * ft[i]!;
  system.solve(u3);

  for (let i = 0; i < n; i++) a[i] = y[i]! + R.a41 * u1[i]! + R.a42 * u2[i]! + R.a43 * u3[i]!;
  system.rates(t + R.c4 * h, a, u4);
  for (let i = 0; i < n; i++) u4[i]! += q * (R.C41 * u1[i]! + R.C42 * u2[i]! + R.C43 * u3[i]!);
  if (slopes) for (let i = 0; i < n; i++) u4[i]! += h * R.d4 * ft[i]!;
  system.solve(u4);

  for (let i = 0; i < n; i++)
    a[i] = y[i]! + R.a51 * u1[i]! + R.a52 * u2[i]! + R.a53 * u3[i]! + R.a54 * u4[i]!;
  system.rates(t + R.c5 * h, a, u5);
  for (let i = 0; i < n; i++)
    u5[i]! += q * (R.C51 * u1[i]! + R.C52 * u2[i]! + R.C53 * u3[i]! + R.C54 * u4[i]!);
  if (slopes) for (let i = 0; i < n; i++) u5[i]! += h * R.d5 * ft[i]!;
  system.solve(u5);

  for (let i = 0; i < n; i++)
    a[i] =
      y[i]! + R.a61 * u1[i]! + R.a62 * u2[i]! + R.a63 * u3[i]! + R.a64 * u4[i]! + R.a65 * u5[i]!;
  system.rates(t + h, a, u6);
  for (let i = 0; i < n; i++)
    u6[i]! +=
      q * (R.C61 * u1[i]! + R.C62 * u2[i]! + R.C63 * u3[i]! + R.C64 * u4[i]! + R.C65 * u5[i]!);
  system.solve(u6);

  for (let i = 0; i < n; i++) a[i]! += u6[i]!;
  system.rates(t + h, a, u7);
  for (let i = 0; i < n; i++)
    u7[i]! +=
      q *
      (R.C71 * u1[i]! +
        R.C72 * u2[i]! +
        R.C73 * u3[i]! +
        R.C74 * u4[i]! +
        R.C75 * u5[i]! +
        R.C76 * u6[i]!);
  system.solve(u7);

  for (let i = 0; i < n; i++) a[i]! += u7[i]!;
  system.rates(t + h, a, u8);
  for (let i = 0; i < n; i++)
    u8[i]! +=
      q *
      (R.C81 * u1[i]! +
        R.C82 * u2[i]! +
        R.C83 * u3[i]! +
        R.C84 * u4[i]! +
        R.C85 * u5[i]! +
        R.C86 * u6[i]! +
        R.C87 * u7[i]!);
  system.solve(u8);
  for (let i = 0; i < n; i++) a[i]! += u8[i]!;
}

/**
 * One step of fixed size, for order tests and for callers that control the step themselves.
 *
 * @param system  rate equations
 * @param t  start [unit of t]
 * @param y  state, overwritten by the new state
 * @param h  step [unit of t], above 0
 * @param work  workspace of at least system.size
 * @returns largest error estimate [unit of y], or NaN when the linear system cannot be solved
 * @source Steinebach 2023, Rodas5P
 */
export function rodas5pStep(
  system: StiffSystem,
  t: number,
  y: Float64Array,
  h: number,
  work: Rodas5PWorkspace,
): number {
  const slopes = system.linearise(t, y, work.timeSlope);
  if (!system.factor(1 / (R.gamma * h))) return Number.NaN;
  step(system, t, y, h, slopes, work);
  let worst = 0;
  for (let i = 0; i < system.size; i++) {
    y[i] = work.argument[i]!;
    worst = Math.max(worst, Math.abs(work.u[7]![i]!));
  }
  return worst;
}

/** Step for which the first-order change is one part in a hundred of the weighted state. */
function guessStep(
  system: StiffSystem,
  t: number,
  y: Float64Array,
  control: StepControl,
  work: Rodas5PWorkspace,
): number {
  const f = work.u[0]!;
  system.rates(t, y, f);
  let size = 0;
  let speed = 0;
  for (let i = 0; i < system.size; i++) {
    const weight = 1 / (control.absolute + control.relative * Math.abs(y[i]!));
    size = Math.max(size, Math.abs(y[i]!) * weight);
    speed = Math.max(speed, Math.abs(f[i]!) * weight);
  }
  return speed > 0 ? 0.01 * (size / speed) : Number.POSITIVE_INFINITY;
}

/**
 * Carries y from t0 to t1 with error control. L-stable: stretches whose rates are far faster than
 * the step cost nothing and break nothing.
 *
 * @param system  rate equations
 * @param t0  start [unit of t]
 * @param t1  end [unit of t], at or after t0
 * @param y  state at t0, overwritten by the state at t1
 * @param control  tolerances; `firstStep` is read only
 * @param work  workspace of at least system.size
 * @param report  filled with what happened
 * @returns report
 * @source Steinebach 2023, Rodas5P; error control Hairer & Wanner 1996, Solving ODEs II, IV.7
 */
export function integrateRodas5P(
  system: StiffSystem,
  t0: number,
  t1: number,
  y: Float64Array,
  control: StepControl,
  work: Rodas5PWorkspace,
  report: Integration,
): Integration {
  report.ok = true;
  report.accepted = 0;
  report.rejected = 0;
  report.nextStep = control.firstStep;
  report.reached = t0;
  let t = t0;
  const span = t1 - t0;
  if (!(span > 0)) return report;
  let h = control.firstStep > 0 ? control.firstStep : guessStep(system, t, y, control, work);
  const least = 1e-12 * Math.max(span, Math.abs(t0), Math.abs(t1));
  const { relative, absolute } = control;
  const estimate = work.u[7]!;
  const next = work.argument;
  let fresh = false;
  let slopes = false;
  let afterRejection = false;
  while (t < t1) {
    if (report.accepted + report.rejected >= control.maxSteps || !(h > least)) {
      report.ok = false;
      return report;
    }
    const left = t1 - t;
    // A last step just short of the end is stretched or shared out rather than followed by a sliver.
    const last = h >= 0.999 * left;
    const taken = last ? left : h > 0.55 * left ? 0.5 * left : h;
    if (!fresh) slopes = system.linearise(t, y, work.timeSlope);
    fresh = true;
    let error = Number.POSITIVE_INFINITY;
    if (system.factor(1 / (R.gamma * taken))) {
      step(system, t, y, taken, slopes, work);
      let sum = 0;
      const n = system.size;
      for (let i = 0; i < n; i++) {
        const weight = absolute + relative * Math.max(Math.abs(y[i]!), Math.abs(next[i]!));
        const share = estimate[i]! / weight;
        sum += share * share;
      }
      error = Math.sqrt(sum / n);
    }
    if (error <= 1) {
      const n = system.size;
      for (let i = 0; i < n; i++) y[i] = next[i]!;
      t = last ? t1 : t + taken;
      report.accepted++;
      report.reached = t;
      const stop = system.accepted?.(t, y) ?? false;
      fresh = false;
      const factor = Math.min(GREATEST_FACTOR, Math.max(0.2, SAFETY * error ** (-1 / ORDER)));
      const grown = taken * (afterRejection ? Math.min(1, factor) : factor);
      // A step cut short by the end must not forget how long the steps could have been.
      h = taken < 0.9 * h ? Math.max(grown, Math.min(h, 2 * grown)) : grown;
      report.nextStep = h;
      if (stop) return report;
      afterRejection = false;
    } else {
      report.rejected++;
      afterRejection = true;
      const shrink = error < Number.POSITIVE_INFINITY ? SAFETY * error ** (-1 / ORDER) : 0.25;
      h = taken * Math.max(LEAST_FACTOR, Number.isNaN(shrink) ? 0.25 : Math.min(shrink, 0.9));
    }
  }
  return report;
}
