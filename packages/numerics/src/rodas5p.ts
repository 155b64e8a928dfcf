import { RODAS5P } from './rodas5p-coefficients.ts';

/**
 * A set of rate equations dy/dt = f(t, y) that can solve its own linearised form. The system owns
 * its linear algebra, so a sparse one can be solved in a handful of operations per unknown.
 */
export interface StiffSystem {
  /** Number of unknowns in use; it may shrink between steps, never grow. */
  readonly size: number;
  /** Adds f(t, y) to `into`. */
  addRates(t: number, y: Float64Array, into: Float64Array): void;
  /** Stores the Jacobian at (t, y); writes ∂f/∂t into `timeSlope`. */
  linearise(t: number, y: Float64Array, timeSlope: Float64Array): void;
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
  /** Stage j of unknown i at [8 i + j - 1]. */
  readonly stages: Float64Array;
  /** Right side and solution of the stage in hand; after the last one, the error estimate. */
  readonly b: Float64Array;
  readonly argument: Float64Array;
  readonly timeSlope: Float64Array;

  constructor(size: number) {
    this.stages = new Float64Array(8 * size);
    this.b = new Float64Array(size);
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
 * `work.b`. The system must have been linearised at (t, y) and factored for 1/(γ h).
 *
 * Written out stage by stage, the stages of one unknown side by side in memory: each loop reads the
 * earlier stages once, for the argument of the next rates and for the right side those are added to.
 */
function step(
  system: StiffSystem,
  t: number,
  y: Float64Array,
  h: number,
  work: Rodas5PWorkspace,
): void {
  const n = system.size;
  const { argument: a, b, timeSlope: ft, stages: u } = work;
  const q = 1 / h;

  const e1 = h * R.d1;
  for (let i = 0; i < n; i++) b[i] = e1 * ft[i]!;
  system.addRates(t, y, b);
  system.solve(b);

  const a21 = R.a21;
  const C21 = q * R.C21;
  const e2 = h * R.d2;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s1 = b[i]!;
    u[k] = s1;
    a[i] = y[i]! + a21 * s1;
    b[i] = C21 * s1 + e2 * ft[i]!;
  }
  system.addRates(t + R.c2 * h, a, b);
  system.solve(b);

  const a31 = R.a31;
  const a32 = R.a32;
  const C31 = q * R.C31;
  const C32 = q * R.C32;
  const e3 = h * R.d3;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s1 = u[k]!;
    const s2 = b[i]!;
    u[k + 1] = s2;
    a[i] = y[i]! + a31 * s1 + a32 * s2;
    b[i] = C31 * s1 + C32 * s2 + e3 * ft[i]!;
  }
  system.addRates(t + R.c3 * h, a, b);
  system.solve(b);

  const a41 = R.a41;
  const a42 = R.a42;
  const a43 = R.a43;
  const C41 = q * R.C41;
  const C42 = q * R.C42;
  const C43 = q * R.C43;
  const e4 = h * R.d4;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s1 = u[k]!;
    const s2 = u[k + 1]!;
    const s3 = b[i]!;
    u[k + 2] = s3;
    a[i] = y[i]! + a41 * s1 + a42 * s2 + a43 * s3;
    b[i] = C41 * s1 + C42 * s2 + C43 * s3 + e4 * ft[i]!;
  }
  system.addRates(t + R.c4 * h, a, b);
  system.solve(b);

  const a51 = R.a51;
  const a52 = R.a52;
  const a53 = R.a53;
  const a54 = R.a54;
  const C51 = q * R.C51;
  const C52 = q * R.C52;
  const C53 = q * R.C53;
  const C54 = q * R.C54;
  const e5 = h * R.d5;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s1 = u[k]!;
    const s2 = u[k + 1]!;
    const s3 = u[k + 2]!;
    const s4 = b[i]!;
    u[k + 3] = s4;
    a[i] = y[i]! + a51 * s1 + a52 * s2 + a53 * s3 + a54 * s4;
    b[i] = C51 * s1 + C52 * s2 + C53 * s3 + C54 * s4 + e5 * ft[i]!;
  }
  system.addRates(t + R.c5 * h, a, b);
  system.solve(b);

  const a61 = R.a61;
  const a62 = R.a62;
  const a63 = R.a63;
  const a64 = R.a64;
  const a65 = R.a65;
  const C61 = q * R.C61;
  const C62 = q * R.C62;
  const C63 = q * R.C63;
  const C64 = q * R.C64;
  const C65 = q * R.C65;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s1 = u[k]!;
    const s2 = u[k + 1]!;
    const s3 = u[k + 2]!;
    const s4 = u[k + 3]!;
    const s5 = b[i]!;
    u[k + 4] = s5;
    a[i] = y[i]! + a61 * s1 + a62 * s2 + a63 * s3 + a64 * s4 + a65 * s5;
    b[i] = C61 * s1 + C62 * s2 + C63 * s3 + C64 * s4 + C65 * s5;
  }
  system.addRates(t + h, a, b);
  system.solve(b);

  const C71 = q * R.C71;
  const C72 = q * R.C72;
  const C73 = q * R.C73;
  const C74 = q * R.C74;
  const C75 = q * R.C75;
  const C76 = q * R.C76;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s1 = u[k]!;
    const s2 = u[k + 1]!;
    const s3 = u[k + 2]!;
    const s4 = u[k + 3]!;
    const s5 = u[k + 4]!;
    const s6 = b[i]!;
    u[k + 5] = s6;
    a[i]! += s6;
    b[i] = C71 * s1 + C72 * s2 + C73 * s3 + C74 * s4 + C75 * s5 + C76 * s6;
  }
  system.addRates(t + h, a, b);
  system.solve(b);

  const C81 = q * R.C81;
  const C82 = q * R.C82;
  const C83 = q * R.C83;
  const C84 = q * R.C84;
  const C85 = q * R.C85;
  const C86 = q * R.C86;
  const C87 = q * R.C87;
  for (let i = 0, k = 0; i < n; i++, k += 8) {
    const s1 = u[k]!;
    const s2 = u[k + 1]!;
    const s3 = u[k + 2]!;
    const s4 = u[k + 3]!;
    const s5 = u[k + 4]!;
    const s6 = u[k + 5]!;
    const s7 = b[i]!;
    a[i]! += s7;
    b[i] = C81 * s1 + C82 * s2 + C83 * s3 + C84 * s4 + C85 * s5 + C86 * s6 + C87 * s7;
  }
  system.addRates(t + h, a, b);
  system.solve(b);
  for (let i = 0; i < n; i++) a[i]! += b[i]!;
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
  system.linearise(t, y, work.timeSlope);
  if (!system.factor(1 / (R.gamma * h))) return Number.NaN;
  step(system, t, y, h, work);
  let worst = 0;
  for (let i = 0; i < system.size; i++) {
    y[i] = work.argument[i]!;
    worst = Math.max(worst, Math.abs(work.b[i]!));
  }
  return worst;
}

/** First step to try: one relative change of the fastest unknown, scaled as the error of order 5. */
function guessStep(
  system: StiffSystem,
  t: number,
  y: Float64Array,
  control: StepControl,
  work: Rodas5PWorkspace,
): number {
  const f = work.b;
  f.fill(0);
  system.addRates(t, y, f);
  let size = 0;
  let speed = 0;
  for (let i = 0; i < system.size; i++) {
    const weight = 1 / (control.absolute + control.relative * Math.abs(y[i]!));
    size = Math.max(size, Math.abs(y[i]!) * weight);
    speed = Math.max(speed, Math.abs(f[i]!) * weight);
  }
  return speed > 0 ? 0.5 * control.relative ** 0.2 * (size / speed) : Number.POSITIVE_INFINITY;
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
  const estimate = work.b;
  const next = work.argument;
  let fresh = false;
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
    if (!fresh) system.linearise(t, y, work.timeSlope);
    fresh = true;
    let error = Number.POSITIVE_INFINITY;
    if (system.factor(1 / (R.gamma * taken))) {
      step(system, t, y, taken, work);
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
