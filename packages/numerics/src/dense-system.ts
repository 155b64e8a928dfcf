import type { StiffSystem } from './rodas5p.ts';

/** Rate equations given as plain functions, with a full matrix as Jacobian. */
export interface DenseEquations {
  readonly size: number;
  rates(t: number, y: Float64Array, out: Float64Array): void;
  /** ∂f_i/∂y_j at [i * size + j]. */
  jacobian(t: number, y: Float64Array, out: Float64Array): void;
  /** ∂f/∂t; left out when f does not depend on t. */
  timeSlope?(t: number, y: Float64Array, out: Float64Array): void;
}

/**
 * Wraps plain equations for the Rosenbrock method, solving by LU with row exchange. For small
 * systems without useful structure, and as the yardstick for those that have it.
 *
 * @param equations  rates and Jacobian
 * @returns a system that `integrateRodas5P` can carry forward
 * @source Golub & Van Loan, Matrix Computations, algorithm 3.4.1
 */
export function denseSystem(equations: DenseEquations): StiffSystem {
  const n = equations.size;
  const jacobian = new Float64Array(n * n);
  const lu = new Float64Array(n * n);
  const pivot = new Int32Array(n);
  const f = new Float64Array(n);
  return {
    size: n,
    addRates(t, y, into) {
      equations.rates(t, y, f);
      for (let i = 0; i < n; i++) into[i]! += f[i]!;
    },
    linearise(t, y, timeSlope) {
      equations.jacobian(t, y, jacobian);
      if (equations.timeSlope === undefined) timeSlope.fill(0);
      else equations.timeSlope(t, y, timeSlope);
    },
    factor(shift) {
      for (let k = 0; k < n * n; k++) lu[k] = -jacobian[k]!;
      for (let i = 0; i < n; i++) lu[i * n + i]! += shift;
      for (let k = 0; k < n; k++) {
        let best = k;
        for (let i = k + 1; i < n; i++)
          if (Math.abs(lu[i * n + k]!) > Math.abs(lu[best * n + k]!)) best = i;
        pivot[k] = best;
        if (!(Math.abs(lu[best * n + k]!) > 0)) return false;
        if (best !== k)
          for (let j = 0; j < n; j++) {
            const kept = lu[k * n + j]!;
            lu[k * n + j] = lu[best * n + j]!;
            lu[best * n + j] = kept;
          }
        for (let i = k + 1; i < n; i++) {
          const m = lu[i * n + k]! / lu[k * n + k]!;
          lu[i * n + k] = m;
          if (m !== 0) for (let j = k + 1; j < n; j++) lu[i * n + j]! -= m * lu[k * n + j]!;
        }
      }
      return true;
    },
    solve(b) {
      for (let k = 0; k < n; k++) {
        const kept = b[pivot[k]!]!;
        b[pivot[k]!] = b[k]!;
        b[k] = kept;
      }
      for (let i = 1; i < n; i++) {
        let sum = b[i]!;
        for (let j = 0; j < i; j++) sum -= lu[i * n + j]! * b[j]!;
        b[i] = sum;
      }
      for (let i = n - 1; i >= 0; i--) {
        let sum = b[i]!;
        for (let j = i + 1; j < n; j++) sum -= lu[i * n + j]! * b[j]!;
        b[i] = sum / lu[i * n + i]!;
      }
    },
  };
}
