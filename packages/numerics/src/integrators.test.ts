import { describe, expect, it } from 'vitest';
import {
  type DenseEquations,
  Dopri5Workspace,
  denseSystem,
  dopri5Step,
  type Integration,
  integrateDopri5,
  integrateRodas5P,
  type RateEquations,
  Rodas5PWorkspace,
  rodas5pStep,
} from './index.ts';

const report = (): Integration => ({ ok: true, accepted: 0, rejected: 0, reached: 0, nextStep: 0 });

/**
 * A non-linear, non-autonomous pair made so that its solution is known: u = sin t + 2,
 * v = exp(-t/2), with forcing terms that couple both. A wrong digit in a tableau lowers the order.
 */
const known = (t: number) => [Math.sin(t) + 2, Math.exp(-t / 2)] as const;
const coupled: DenseEquations = {
  size: 2,
  rates(t, y, out) {
    const [u, v] = known(t);
    out[0] = Math.cos(t) + y[0]! * y[1]! - u * v;
    out[1] = -0.5 * v + (u * u - y[0]! * y[0]!) * y[1]!;
  },
  jacobian(_t, y, out) {
    const [u] = known(_t);
    out[0] = y[1]!;
    out[1] = y[0]!;
    out[2] = -2 * y[0]! * y[1]!;
    out[3] = u * u - y[0]! * y[0]!;
  },
  timeSlope(t, y, out) {
    const [u, v] = known(t);
    const du = Math.cos(t);
    const dv = -0.5 * v;
    out[0] = -Math.sin(t) - du * v - u * dv;
    out[1] = -0.5 * dv + 2 * u * du * y[1]!;
  },
};

function errorAt2(steps: number, take: (t: number, y: Float64Array, h: number) => number) {
  const y = Float64Array.from(known(0));
  const h = 2 / steps;
  let estimate = 0;
  for (let k = 0; k < steps; k++) estimate = Math.max(estimate, take(k * h, y, h));
  const end = known(2);
  return { error: Math.hypot(y[0]! - end[0], y[1]! - end[1]), estimate };
}

/** Plain equations in the form that adds to what is there. */
const adding = (rates: DenseEquations['rates'], n: number): RateEquations => {
  const f = new Float64Array(n);
  return {
    addRates(t, y, into) {
      rates(t, y, f);
      for (let i = 0; i < n; i++) into[i]! += f[i]!;
    },
  };
};

const methods = {
  'Dormand-Prince 5(4)': (steps: number) => {
    const work = new Dopri5Workspace(2);
    return errorAt2(steps, (t, y, h) => dopri5Step(adding(coupled.rates, 2), t, y, h, work));
  },
  Rodas5P: (steps: number) => {
    const work = new Rodas5PWorkspace(2);
    const system = denseSystem(coupled);
    return errorAt2(steps, (t, y, h) => rodas5pStep(system, t, y, h, work));
  },
};

describe('order of convergence', () => {
  for (const [name, run] of Object.entries(methods))
    it(`${name}: halving the step divides the error by 2^5, the estimate by 2^5 (local order 4 + 1)`, () => {
      const runs = [20, 40, 80].map(run);
      for (const k of [0, 1]) {
        const order = Math.log2(runs[k]!.error / runs[k + 1]!.error);
        expect(order).toBeGreaterThan(4.7);
        expect(order).toBeLessThan(5.6);
        const estimateOrder = Math.log2(runs[k]!.estimate / runs[k + 1]!.estimate);
        expect(estimateOrder).toBeGreaterThan(4.5);
        expect(estimateOrder).toBeLessThan(6.3);
      }
    });
});

/** Arenstorf orbit: a satellite comes back to where it started after one period. */
function arenstorf(_t: number, y: Float64Array, out: Float64Array): void {
  const mu = 0.012277471;
  const [x, z, vx, vz] = y as unknown as [number, number, number, number];
  const d1 = ((x + mu) ** 2 + z * z) ** 1.5;
  const d2 = ((x - 1 + mu) ** 2 + z * z) ** 1.5;
  out[0] = vx;
  out[1] = vz;
  out[2] = x + 2 * vz - ((1 - mu) * (x + mu)) / d1 - (mu * (x - 1 + mu)) / d2;
  out[3] = z - 2 * vx - ((1 - mu) * z) / d1 - (mu * z) / d2;
}

/** Robertson's reaction: three species, rates nine orders of magnitude apart. */
const robertson: DenseEquations = {
  size: 3,
  rates(_t, y, out) {
    const a = 0.04 * y[0]!;
    const b = 1e4 * y[1]! * y[2]!;
    const c = 3e7 * y[1]! * y[1]!;
    out[0] = -a + b;
    out[1] = a - b - c;
    out[2] = c;
  },
  jacobian(_t, y, out) {
    out.set([
      -0.04,
      1e4 * y[2]!,
      1e4 * y[1]!,
      0.04,
      -1e4 * y[2]! - 6e7 * y[1]!,
      -1e4 * y[1]!,
      0,
      6e7 * y[1]!,
      0,
    ]);
  },
};

describe('error control', () => {
  // Hairer, Nørsett & Wanner 1993, II.0: initial values and period of the orbit.
  it('Dormand-Prince closes the Arenstorf orbit', () => {
    const y = Float64Array.of(0.994, 0, 0, -2.0015851063790824);
    const control = { relative: 1e-10, absolute: 1e-10, firstStep: 0, maxSteps: 100000 };
    const result = integrateDopri5(
      adding(arenstorf, 4),
      0,
      17.065216560157964,
      y,
      control,
      new Dopri5Workspace(4),
      report(),
    );
    expect(result.ok).toBe(true);
    expect(y[0]).toBeCloseTo(0.994, 4);
    expect(Math.abs(y[1]!)).toBeLessThan(1e-4);
  });

  // Hairer & Wanner 1996, IV.10 test set; values at t = 40 as printed in the CVODE example.
  it('Rodas5P carries Robertson in few steps, and no mass is lost', () => {
    const y = Float64Array.of(1, 0, 0);
    const control = { relative: 1e-7, absolute: 1e-11, firstStep: 0, maxSteps: 2000 };
    const result = integrateRodas5P(
      denseSystem(robertson),
      0,
      40,
      y,
      control,
      new Rodas5PWorkspace(3),
      report(),
    );
    expect(result.ok).toBe(true);
    expect(result.accepted).toBeLessThan(80);
    expect(y[0]).toBeCloseTo(0.7158, 4);
    expect(y[1]! / 9.185e-6).toBeCloseTo(1, 3);
    expect(y[0]! + y[1]! + y[2]!).toBeCloseTo(1, 13);
  });

  it('Rodas5P damps what is infinitely fast (L-stability)', () => {
    const fast: DenseEquations = {
      size: 1,
      rates: (t, y, out) => {
        out[0] = -1e9 * (y[0]! - Math.cos(t));
      },
      jacobian: (_t, _y, out) => {
        out[0] = -1e9;
      },
      timeSlope: (t, _y, out) => {
        out[0] = -1e9 * Math.sin(t);
      },
    };
    const y = Float64Array.of(5);
    rodas5pStep(denseSystem(fast), 0, y, 0.5, new Rodas5PWorkspace(1));
    expect(y[0]).toBeCloseTo(Math.cos(0.5), 2);
  });

  it('gives up by value, not by hanging', () => {
    const control = { relative: 1e-6, absolute: 1e-9, firstStep: 0, maxSteps: 50 };
    const blowUp = (_t: number, y: Float64Array, out: Float64Array) => {
      out[0] = y[0]! ** 2;
    };
    const y = Float64Array.of(1);
    expect(
      integrateDopri5(adding(blowUp, 1), 0, 2, y, control, new Dopri5Workspace(1), report()).ok,
    ).toBe(false);
    const stiff = denseSystem({
      size: 1,
      rates: blowUp,
      jacobian: (_t, v, out) => {
        out[0] = 2 * v[0]!;
      },
    });
    const z = Float64Array.of(1);
    const result = integrateRodas5P(stiff, 0, 2, z, control, new Rodas5PWorkspace(1), report());
    expect(result.ok).toBe(false);
    expect(result.reached).toBeLessThan(1.01);
  });

  it('stops where the system calls a stop', () => {
    const system = denseSystem({
      size: 1,
      rates: (_t, _y, out) => {
        out[0] = 1;
      },
      jacobian: (_t, _y, out) => {
        out[0] = 0;
      },
    });
    system.accepted = (_t, y) => y[0]! > 3;
    const y = Float64Array.of(0);
    const control = { relative: 1e-6, absolute: 1e-9, firstStep: 0.5, maxSteps: 500 };
    const result = integrateRodas5P(system, 0, 100, y, control, new Rodas5PWorkspace(1), report());
    expect(result.ok).toBe(true);
    expect(result.reached).toBeGreaterThan(3);
    expect(result.reached).toBeLessThan(100);
    expect(y[0]).toBeCloseTo(result.reached, 9);
  });

  it('solves a full matrix that needs its rows exchanged', () => {
    const system = denseSystem({
      size: 3,
      rates: () => undefined,
      jacobian: (_t, _y, out) => out.set([1, -2, -3, -4, 1, -6, -7, -8, 1]),
    });
    system.linearise(0, new Float64Array(3), new Float64Array(3));
    expect(system.factor(1)).toBe(true);
    const b = Float64Array.of(0 + 2 * 2 + 3 * 3, 4 * 1 + 6 * 3, 7 * 1 + 8 * 2);
    system.solve(b);
    expect([...b].map((v) => Math.round(v * 1e9) / 1e9)).toEqual([1, 2, 3]);
  });
});
