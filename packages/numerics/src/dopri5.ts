import { DOPRI5 } from './dopri5-coefficients.ts';
import type { Integration, StepControl } from './rodas5p.ts';

/** dy/dt = f(t, y), written into `out`. */
export type Rates = (t: number, y: Float64Array, out: Float64Array) => void;

/** Room for the stages, so that a step allocates nothing. */
export class Dopri5Workspace {
  readonly k: readonly Float64Array[];
  readonly argument: Float64Array;
  readonly next: Float64Array;

  constructor(size: number) {
    this.k = Array.from({ length: 7 }, () => new Float64Array(size));
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
 * One step of size h. `work.k[0]` must hold f(t, y); afterwards `work.next` is the new state,
 * `work.k[6]` its rates and `work.argument` the error estimate.
 */
function step(
  rates: Rates,
  t: number,
  y: Float64Array,
  h: number,
  n: number,
  work: Dopri5Workspace,
): void {
  const a = work.argument;
  const next = work.next;
  const [k1, k2, k3, k4, k5, k6, k7] = work.k as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  for (let i = 0; i < n; i++) a[i] = y[i]! + h * P.a21 * k1[i]!;
  rates(t + P.c2 * h, a, k2);
  for (let i = 0; i < n; i++) a[i] = y[i]! + h * (P.a31 * k1[i]! + P.a32 * k2[i]!);
  rates(t + P.c3 * h, a, k3);
  for (let i = 0; i < n; i++) a[i] = y[i]! + h * (P.a41 * k1[i]! + P.a42 * k2[i]! + P.a43 * k3[i]!);
  rates(t + P.c4 * h, a, k4);
  for (let i = 0; i < n; i++)
    a[i] = y[i]! + h * (P.a51 * k1[i]! + P.a52 * k2[i]! + P.a53 * k3[i]! + P.a54 * k4[i]!);
  rates(t + P.c5 * h, a, k5);
  for (let i = 0; i < n; i++)
    a[i] =
      y[i]! +
      h * (P.a61 * k1[i]! + P.a62 * k2[i]! + P.a63 * k3[i]! + P.a64 * k4[i]! + P.a65 * k5[i]!);
  rates(t + h, a, k6);
  for (let i = 0; i < n; i++)
    next[i] =
      y[i]! + h * (P.b1 * k1[i]! + P.b3 * k3[i]! + P.b4 * k4[i]! + P.b5 * k5[i]! + P.b6 * k6[i]!);
  rates(t + h, next, k7);
  for (let i = 0; i < n; i++)
    a[i] =
      h *
      (P.e1 * k1[i]! +
        P.e3 * k3[i]! +
        P.e4 * k4[i]! +
        P.e5 * k5[i]! +
        P.e6 * k6[i]! +
        P.e7 * k7[i]!);
}

/**
 * One step of fixed size, for order tests.
 *
 * @param rates  right side
 * @param t  start [unit of t]
 * @param y  state, overwritten by the new state
 * @param h  step [unit of t]
 * @param work  workspace of at least y.length
 * @returns largest error estimate [unit of y]
 * @source Dormand & Prince 1980
 */
export function dopri5Step(
  rates: Rates,
  t: number,
  y: Float64Array,
  h: number,
  work: Dopri5Workspace,
): number {
  const n = y.length;
  rates(t, y, work.k[0]!);
  step(rates, t, y, h, n, work);
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
 * @param rates  right side
 * @param t0  start [unit of t]
 * @param t1  end [unit of t], at or after t0
 * @param y  state at t0, overwritten by the state at t1
 * @param control  tolerances; `firstStep` is read only
 * @param work  workspace of at least y.length
 * @param report  filled with what happened
 * @returns report
 * @source Dormand & Prince 1980; step control Hairer, Nørsett & Wanner 1993, Solving ODEs I, II.4
 */
export function integrateDopri5(
  rates: Rates,
  t0: number,
  t1: number,
  y: Float64Array,
  control: StepControl,
  work: Dopri5Workspace,
  report: Integration,
): Integration {
  report.ok = true;
  report.accepted = 0;
  report.rejected = 0;
  report.reached = t0;
  report.nextStep = control.firstStep;
  const span = t1 - t0;
  if (!(span > 0)) return report;
  const n = y.length;
  const { relative, absolute } = control;
  let t = t0;
  rates(t, y, work.k[0]!);
  let h = control.firstStep > 0 ? control.firstStep : firstStep(y, work.k[0]!, control);
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
    step(rates, t, y, taken, n, work);
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const weight = absolute + relative * Math.max(Math.abs(y[i]!), Math.abs(work.next[i]!));
      const share = work.argument[i]! / weight;
      sum += share * share;
    }
    const error = Math.sqrt(sum / n);
    if (error <= 1) {
      const factor = (SAFETY * before ** MEMORY) / Math.max(error, 1e-10) ** EXPONENT;
      y.set(work.next);
      work.k[0]!.set(work.k[6]!);
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

function firstStep(y: Float64Array, f: Float64Array, control: StepControl): number {
  let size = 0;
  let speed = 0;
  for (let i = 0; i < y.length; i++) {
    const weight = 1 / (control.absolute + control.relative * Math.abs(y[i]!));
    size = Math.max(size, Math.abs(y[i]!) * weight);
    speed = Math.max(speed, Math.abs(f[i]!) * weight);
  }
  return size > 0 && speed > 0 ? 0.01 * (size / speed) : 1e-6;
}
