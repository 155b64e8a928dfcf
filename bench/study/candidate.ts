import {
  type DenseEquations,
  denseSystem,
  type Integration,
  integrateRodas5P,
  Rodas5PWorkspace,
  type StepControl,
  type StiffSystem,
} from '@ladlework/numerics';
import { compileMash } from '../../packages/brewhouse/src/mash/compile.ts';
import { MashSystem } from '../../packages/brewhouse/src/mash/kinetics.ts';
import * as at from '../../packages/brewhouse/src/mash/layout.ts';
import { type MashOptions, withOptions } from '../../packages/brewhouse/src/mash/malt.ts';
import type { MashParameters } from '../../packages/brewhouse/src/mash/parameters.ts';
import * as u from '../../packages/brewhouse/src/mash/unknowns.ts';
import type { Line, MashModel } from '../../packages/brewhouse/src/mash/validation-runs.ts';

/**
 * A mechanism the shipped kinetics lack, laid over them. Nothing is written twice: every rate comes
 * from the shipped equations, asked again with other enzymes, another access temperature or no
 * erosion, and put together. With the values of `NOTHING_ADDED` the shipped kinetics come back.
 */
export interface Candidate {
  /**
   * Wort extract slows all catalysis, by one of two laws [1/%]: exp(-c X), without bound towards
   * water, or 1/(1 + (c X)^2), which stops rising there.
   */
  readonly crowding: number;
  readonly crowdingLaw: 'exponential' | 'bounded';
  /** Extract at which the fitted speeds hold [%]. */
  readonly crowdingAtPct: number;
  /** Small granules: share of the starch [-] and how much later they open [°C]. */
  readonly smallShare: number;
  readonly smallLaterC: number;
  /** Activation energy of erosion below the access temperature [J/mol]; null: that of opening. */
  readonly erosionEnergy: number | null;
}

export const NOTHING_ADDED: Candidate = {
  crowding: 0,
  crowdingLaw: 'exponential',
  crowdingAtPct: 16,
  smallShare: 0,
  smallLaterC: 0,
  erosionEnergy: null,
};

/** Pieces so fine that transport through them takes no time: the coarse slots serve small granules. */
const NO_TRANSPORT = 1e12;

const CATALYSTS = [u.A, u.BL, u.BT, u.LD];
const PRODUCTS = [u.SG, u.D, u.L, u.G, u.M, u.T3];
const LAST = u.MASH_UNKNOWNS;
/** Relative and absolute error per step: a tenth of a millesimal of any figure scored. */
const RELATIVE = 1e-5;
const ABSOLUTE = 1e-8;

/** Rates of the candidate as plain equations with a Jacobian by differences. */
class CandidateEquations {
  readonly asShipped = new MashSystem();
  private readonly unEroded = new MashSystem();
  private readonly later = new MashSystem();
  private readonly other = new Float64Array(LAST);
  private readonly moved = new Float64Array(LAST);
  private readonly rates0 = new Float64Array(LAST);
  private readonly rates1 = new Float64Array(LAST);
  private readonly systems = new Map<number, StiffSystem>();
  private readonly compiled;
  private readonly compiledUnEroded;
  private readonly compiledLater;
  private solubles = 0;
  private waterKg = 1;
  private extended = false;
  private t0 = 0;
  private fromC = 0;
  private slope = 0;

  private readonly candidate: Candidate;
  private readonly parameters: MashParameters;

  constructor(candidate: Candidate, parameters: MashParameters) {
    this.candidate = candidate;
    this.parameters = parameters;
    this.compiled = compileMash(parameters);
    this.compiledUnEroded = compileMash({ ...parameters, kraw: 0 });
    this.compiledLater = compileMash({
      ...parameters,
      mu: parameters.mu + candidate.smallLaterC,
    });
  }

  /** Takes up a vessel for one straight line. */
  load(
    state: Float64Array,
    y: Float64Array,
    t0: number,
    fromC: number,
    slope: number,
  ): StiffSystem {
    const { candidate } = this;
    this.asShipped.load(state, this.compiled, y, 0);
    if (candidate.erosionEnergy !== null)
      this.unEroded.load(state, this.compiledUnEroded, this.other, 0);
    if (candidate.smallShare > 0) this.later.load(state, this.compiledLater, this.other, 0);
    for (const system of [this.asShipped, this.unEroded, this.later])
      system.setLine(t0, fromC, slope, false, false);
    this.t0 = t0;
    this.fromC = fromC;
    this.slope = slope;
    this.waterKg = state[at.WATER]!;
    this.solubles = 0;
    for (const i of [at.PS, at.OS, at.COARSE + at.PS, at.COARSE + at.OS, at.PREFORMED, at.OTHER])
      this.solubles += state[i]!;
    const n = this.asShipped.size;
    this.extended = n > u.EXTENDED;
    let system = this.systems.get(n);
    if (system === undefined) {
      system = denseSystem(this.equations(n));
      this.systems.set(n, system);
    }
    return system;
  }

  private equations(size: number): DenseEquations {
    const { rates0, rates1, moved } = this;
    return {
      size,
      rates: (t, y, out) => this.rates(t, y, out),
      jacobian: (t, y, out) => {
        this.rates(t, y, rates0);
        moved.set(y);
        for (let j = 0; j < size; j++) {
          const step = 1e-7 * Math.max(Math.abs(y[j]!), 1e-4);
          moved[j] = y[j]! + step;
          this.rates(t, moved, rates1);
          moved[j] = y[j]!;
          for (let i = 0; i < size; i++) out[i * size + j] = (rates1[i]! - rates0[i]!) / step;
        }
      },
      timeSlope: (t, y, out) => {
        if (this.slope === 0) {
          out.fill(0);
          return;
        }
        const step = 1e-5;
        this.rates(t, y, rates0);
        this.rates(t + step, y, rates1);
        for (let i = 0; i < size; i++) out[i] = (rates1[i]! - rates0[i]!) / step;
      },
    };
  }

  private rates(t: number, y: Float64Array, out: Float64Array): void {
    const { candidate, other, parameters } = this;
    out.fill(0);
    this.asShipped.addRates(t, y, out);
    const tail = this.extended ? u.EXTENDED : u.CORE;
    if (candidate.erosionEnergy !== null) {
      // What kraw opens is the difference to the same rates without it, and is linear in kraw.
      other.fill(0);
      this.unEroded.addRates(t, y, other);
      const kelvin = this.fromC + this.slope * (t - this.t0) + 273.15;
      const x = 1 / kelvin - 1 / (parameters.T_ref_C + 273.15);
      const change = Math.exp(((parameters.Eg - candidate.erosionEnergy) / parameters.R) * x) - 1;
      this.shift(out, other, tail, -change);
    }
    if (candidate.smallShare > 0) {
      other.fill(0);
      this.later.addRates(t, y, other);
      this.shift(out, other, u.SC, 1);
    }
    if (candidate.crowding !== 0) {
      const slowed = this.slowed(y);
      other.fill(0);
      const opened = out[u.SG]!;
      const before = this.catalysed(t, y);
      this.asShipped.addRates(t, slowed, other);
      for (const i of PRODUCTS) out[i] = i === u.SG ? opened - before + other[i]! : other[i]!;
    }
  }

  /** Starch bins from `first` on move towards the other rates by `part`; what opens goes to Sg. */
  private shift(out: Float64Array, other: Float64Array, first: number, part: number): void {
    for (let i = first; i < first + at.BINS; i++) {
      const more = part * (other[i]! - out[i]!);
      out[i]! += more;
      out[u.SG]! -= more;
    }
  }

  private readonly slowedY = new Float64Array(LAST);
  private slowed(y: Float64Array): Float64Array {
    const { slowedY } = this;
    slowedY.set(y);
    let extract = this.solubles - y[u.Q]! - (this.extended ? y[u.QC]! : 0);
    for (const i of PRODUCTS) extract += y[i]!;
    const X = (100 * extract) / (extract + this.waterKg);
    const { crowding: c, crowdingLaw, crowdingAtPct } = this.candidate;
    const factor =
      crowdingLaw === 'exponential'
        ? Math.exp(-c * (X - crowdingAtPct))
        : (1 + (c * crowdingAtPct) ** 2) / (1 + (c * X) ** 2);
    for (const i of CATALYSTS) slowedY[i]! *= factor;
    return slowedY;
  }

  private readonly plainSg = new Float64Array(LAST);
  /** Rate of gelatinised starch as shipped, which the other mechanisms may have changed by now. */
  private catalysed(t: number, y: Float64Array): number {
    this.plainSg.fill(0);
    this.asShipped.addRates(t, y, this.plainSg);
    return this.plainSg[u.SG]!;
  }
}

/**
 * Kinetics with a mechanism added, for the measured rows.
 *
 * @param base  parameter set under it
 * @param candidate  what is added
 * @param options  options of the shipped kinetics; small granules take the slots of option C
 * @returns kinetics as the rows take them
 * @throws Error when coarse pieces and small granules are asked for together
 */
export function candidateMash(
  base: MashParameters,
  candidate: Candidate,
  options: MashOptions = {},
): MashModel {
  if (candidate.smallShare > 0 && options.coarseShare !== undefined)
    throw new Error('small granules use the slots of coarse pieces; ask for one of them');
  const small = candidate.smallShare > 0;
  const parameters = { ...withOptions(base, options), ...(small ? { kc: NO_TRANSPORT } : {}) };
  const equations = new CandidateEquations(candidate, parameters);
  const y = new Float64Array(LAST);
  const work = new Rodas5PWorkspace(LAST);
  const control: StepControl = {
    relative: RELATIVE,
    absolute: ABSOLUTE,
    firstStep: 0,
    maxSteps: 20000,
  };
  const report: Integration = { ok: true, accepted: 0, rejected: 0, reached: 0, nextStep: 0 };
  const advance = (state: Float64Array, line: Line) => {
    for (let i = 1; i < line.length; i++) {
      const [t0, fromC] = line[i - 1]!;
      const [t1, toC] = line[i]!;
      if (!(t1 > t0)) continue;
      const system = equations.load(state, y, t0, fromC, (toC - fromC) / (t1 - t0));
      control.firstStep = 0;
      integrateRodas5P(system, t0, t1, y, control, work, report);
      if (!report.ok) throw new Error(`candidate stuck at minute ${report.reached}`);
      equations.asShipped.store(y, state);
    }
  };
  return {
    parameters,
    options: small ? { ...options, coarseShare: candidate.smallShare } : options,
    advance,
  };
}
