/** The mash kinetics behind the hook that `simulate` uses: one grist, one parameter draw. */
import type { MashEngine, MashReading } from './history.ts';
import {
  addLiquor,
  addMash,
  advanceMash,
  type CompiledMash,
  compileMash,
  emptyMash,
  evaporate,
  freeWaterKg,
  type GristPart,
  type MashBrought,
  type MashOptions,
  type MashParameters,
  type MashResults,
  MashWorkspace,
  mashResults,
  solidsKg,
  startMash,
  takeShares,
  withOptions,
} from './mash/index.ts';

/** Relative accuracy of a likely day that is shown, and of a draw in an ensemble. */
export const EXACT_MASH = 1e-6;
export const ENSEMBLE_MASH = 3e-3;

/** Less free water than this is none [kg]. */
const DRY_KG = 1e-6;

export interface MashEngineOptions {
  readonly tolerance?: number;
  readonly options?: MashOptions;
  /** Shared scratch; one for all draws of a thread. */
  readonly workspace?: MashWorkspace;
}

/** A mash engine that can also say what a vessel's mash has become. */
export class GristEngine implements MashEngine {
  private brought: MashBrought | undefined;
  private readonly parts: readonly GristPart[];
  private readonly wholeKg: number;
  private readonly parameters: MashParameters;
  private readonly compiled: CompiledMash;
  private readonly tolerance: number;
  private readonly options: MashOptions;
  private readonly workspace: MashWorkspace;

  /**
   * @param parts the grist: malts and masses as weighed
   * @param parameters a parameter set or a draw from its priors
   * @param options tolerance, kinetic options, scratch
   */
  constructor(
    parts: readonly GristPart[],
    parameters: MashParameters,
    options: MashEngineOptions = {},
  ) {
    this.parts = parts;
    this.wholeKg = parts.reduce((sum, p) => sum + p.massKg, 0);
    this.options = options.options ?? {};
    this.parameters = withOptions(parameters, this.options);
    this.compiled = compileMash(this.parameters);
    this.tolerance = options.tolerance ?? EXACT_MASH;
    this.workspace = options.workspace ?? new MashWorkspace();
  }

  start(gristKg: number, liquorKg: number): Float64Array {
    const scale = gristKg / this.wholeKg;
    const parts = this.parts.map((p) => ({ malt: p.malt, massKg: p.massKg * scale }));
    const { state, brought } = startMash(parts, liquorKg, this.parameters, this.options);
    this.brought = brought;
    return state;
  }

  advance(mash: Float64Array, timeMin: Float64Array, tempC: Float64Array, count: number): void {
    // Grist boiled dry does nothing.
    if (count > 1 && freeWaterKg(mash) > DRY_KG)
      advanceMash(mash, this.compiled, timeMin, tempC, this.tolerance, this.workspace, count);
  }

  take(mash: Float64Array, solidShare: number, liquidShare: number): Float64Array {
    const into = emptyMash();
    takeShares(mash, unit(solidShare), unit(liquidShare), into);
    return into;
  }

  add(mash: Float64Array, other: Float64Array): void {
    addMash(mash, other);
  }

  addWater(mash: Float64Array, kg: number): void {
    if (kg >= 0) {
      addLiquor(mash, kg);
      return;
    }
    // What hydrolysis has bound cannot leave: a pot boiled dry ends here.
    const free = freeWaterKg(mash);
    if (free > 0) evaporate(mash, Math.min(-kg, free * (1 - 1e-12)));
  }

  empty(): Float64Array {
    return emptyMash();
  }

  solidsKg(mash: Float64Array): number {
    return solidsKg(mash);
  }

  read(mash: Float64Array): MashReading {
    const r = this.results(mash);
    return {
      extractKg: r.extractKg,
      wortPlato: r.wortExtractPct,
      fermentableShare: r.fermentableShare,
      starchRaw: r.starchUngelatinisedShare,
      starchOpen: r.starchGelatinisedShare,
      alphaLeft: r.alphaLeft,
      betaLeft: r.betaLeft,
    };
  }

  /** What one vessel's mash has become, against what the whole grist brought. */
  results(mash: Float64Array): MashResults {
    if (!this.brought) throw new Error('no mash has been started with this engine');
    return mashResults(mash, this.brought, this.parameters);
  }
}

/** Rounding can carry a share a hair past 0 or 1. */
function unit(share: number): number {
  return Math.max(0, Math.min(1, share));
}
