/** Outcome of a root search. A failure is a value: the caller knows what it means for the brewer. */
export type RootResult =
  | { readonly ok: true; readonly x: number; readonly evaluations: number }
  | { readonly ok: false; readonly reason: 'not-bracketed' | 'not-converged' | 'not-finite' };

export interface RootOptions {
  /** Width of x at which the search may stop; default 1e-10 of the size of x plus 1e-12. */
  readonly xTolerance?: number;
  /** Size of f at which the search may stop; default 0. */
  readonly fTolerance?: number;
  /** Default 300 for a bracket (a flat triple root takes about 150), 50 for the secant. */
  readonly maxEvaluations?: number;
}

/**
 * Root of a continuous function between two points where it has opposite signs. Never leaves the
 * bracket; a smooth single root takes 6 to 10 evaluations, a flat multiple one many more.
 *
 * @param f  function of one number
 * @param low  one end of the bracket
 * @param high  the other end
 * @param options  tolerances
 * @returns the root, or why there is none
 * @source Brent 1973, Algorithms for Minimization without Derivatives, ch. 4
 * @example findRoot((x) => x * x - 2, 0, 2) // { ok: true, x: 1.41421356..., evaluations: ... }
 */
export function findRoot(
  f: (x: number) => number,
  low: number,
  high: number,
  options: RootOptions = {},
): RootResult {
  const fTolerance = options.fTolerance ?? 0;
  const maxEvaluations = options.maxEvaluations ?? 300;
  let a = low;
  let b = high;
  let fa = f(a);
  let fb = f(b);
  let evaluations = 2;
  if (!Number.isFinite(fa) || !Number.isFinite(fb)) return { ok: false, reason: 'not-finite' };
  if (Math.abs(fa) <= fTolerance) return { ok: true, x: a, evaluations };
  if (Math.abs(fb) <= fTolerance) return { ok: true, x: b, evaluations };
  if (fa > 0 === fb > 0) return { ok: false, reason: 'not-bracketed' };
  let c = a;
  let fc = fa;
  let step = b - a;
  let before = step;
  for (;;) {
    if (fb > 0 === fc > 0) {
      c = a;
      fc = fa;
      step = b - a;
      before = step;
    }
    if (Math.abs(fc) < Math.abs(fb)) {
      a = b;
      b = c;
      c = a;
      fa = fb;
      fb = fc;
      fc = fa;
    }
    const tolerance =
      2 * Number.EPSILON * Math.abs(b) + 0.5 * (options.xTolerance ?? 1e-10 * Math.abs(b) + 1e-12);
    const half = 0.5 * (c - b);
    if (Math.abs(half) <= tolerance || Math.abs(fb) <= fTolerance)
      return { ok: true, x: b, evaluations };
    if (evaluations >= maxEvaluations) return { ok: false, reason: 'not-converged' };
    if (Math.abs(before) >= tolerance && Math.abs(fa) > Math.abs(fb)) {
      const s = fb / fa;
      let p: number;
      let q: number;
      if (a === c) {
        p = 2 * half * s;
        q = 1 - s;
      } else {
        const r = fb / fc;
        const t = fa / fc;
        p = s * (2 * half * t * (t - r) - (b - a) * (r - 1));
        q = (t - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      p = Math.abs(p);
      if (2 * p < Math.min(3 * half * q - Math.abs(tolerance * q), Math.abs(before * q))) {
        before = step;
        step = p / q;
      } else {
        step = half;
        before = half;
      }
    } else {
      step = half;
      before = half;
    }
    a = b;
    fa = fb;
    b += Math.abs(step) > tolerance ? step : half > 0 ? tolerance : -tolerance;
    fb = f(b);
    evaluations++;
    if (!Number.isFinite(fb)) return { ok: false, reason: 'not-finite' };
  }
}

/**
 * Root of a smooth function near two guesses, where no bracket is known. Fast when the guesses are
 * good (a pull size from the last pull size); gives up rather than wander.
 *
 * @param f  function of one number
 * @param x0  first guess
 * @param x1  second guess, different from the first
 * @param options  tolerances
 * @returns the root, or why there is none
 * @source secant method, textbook
 * @example secant((x) => x * x - 2, 1, 1.5) // { ok: true, x: 1.41421356..., evaluations: ... }
 */
export function secant(
  f: (x: number) => number,
  x0: number,
  x1: number,
  options: RootOptions = {},
): RootResult {
  const fTolerance = options.fTolerance ?? 0;
  const maxEvaluations = options.maxEvaluations ?? 50;
  let a = x0;
  let b = x1;
  let fa = f(a);
  let fb = f(b);
  let evaluations = 2;
  for (;;) {
    if (!Number.isFinite(fa) || !Number.isFinite(fb)) return { ok: false, reason: 'not-finite' };
    const tolerance = options.xTolerance ?? 1e-10 * Math.abs(b) + 1e-12;
    if (Math.abs(fb) <= fTolerance || fb === 0) return { ok: true, x: b, evaluations };
    if (fb === fa || evaluations >= maxEvaluations) return { ok: false, reason: 'not-converged' };
    const next = b - (fb * (b - a)) / (fb - fa);
    if (Math.abs(next - b) <= tolerance) return { ok: true, x: next, evaluations };
    a = b;
    fa = fb;
    b = next;
    fb = f(b);
    evaluations++;
  }
}
