/**
 * Temperature history of one vessel since its mash was last brought up to date, and the hook by
 * which the mash kinetics follow it. Heat does not wait for the kinetics: dissolving a solid does
 * not change the heat capacity of a vessel, so the two run one after the other between transfers.
 */
import type { VesselState } from './situation.ts';

/** What the mash kinetics must be able to do for `simulate`; mash/ has the one implementation. */
export interface MashEngine {
  /** Fresh mash: all grist wet at once in this much liquor. */
  start(gristKg: number, liquorKg: number): Float64Array;
  /** Runs one vessel's mash along `count` points of piecewise-linear temperature. */
  advance(mash: Float64Array, timeMin: Float64Array, tempC: Float64Array, count: number): void;
  /** Moves shares of the solid and the liquid phase into a new array. */
  take(mash: Float64Array, solidShare: number, liquidShare: number): Float64Array;
  add(mash: Float64Array, other: Float64Array): void;
  addWater(mash: Float64Array, kg: number): void;
  /** An array with nothing in it. */
  empty(): Float64Array;
  /** Undissolved dry matter [kg]. */
  solidsKg(mash: Float64Array): number;
  /** What the mash of a vessel is like, for curves. */
  read?(mash: Float64Array): MashReading;
}

/** What one vessel's mash is like. Enzymes and starch are shares of what the whole grist brought. */
export interface MashReading {
  readonly extractKg: number;
  readonly wortPlato: number;
  readonly fermentableShare: number;
  /** Raw starch, and starch opened but not yet split. */
  readonly starchRaw: number;
  readonly starchOpen: number;
  readonly alphaLeft: number;
  readonly betaLeft: number;
}

const ROOM = 256;
/** A stretch of history is kept as one straight line while no point is further off than this [K]. */
const STRAIGHT_K = 0.02;

const NONE = new Float64Array(0);

/** Points of one vessel's history that its mash has not seen yet; frost counts as 0 °C. */
export class History {
  /** Made when the vessel first holds mash: an ensemble without kinetics never needs them. */
  timeMin = NONE;
  tempC = NONE;
  count = 0;
  /** Water booked in the mash species when last up to date [kg]. */
  private waterKg = 0;
  /** Slopes that keep every point since the last kept one within STRAIGHT_K [K/min]. */
  private lowSlope = Number.NEGATIVE_INFINITY;
  private highSlope = Number.POSITIVE_INFINITY;

  /** Forgets the past: the mash is up to date with this state. */
  restart(state: VesselState): void {
    this.waterKg = state.waterKg;
    this.count = 0;
    if (!state.mash) return;
    if (this.timeMin === NONE) {
      this.timeMin = new Float64Array(ROOM);
      this.tempC = new Float64Array(ROOM);
    }
    this.timeMin[0] = state.clockMin;
    this.tempC[0] = Math.max(0, state.tempC);
    this.count = 1;
    this.freeSlopes();
  }

  /** Water that came or went with its own species, not by evaporation [kg]. */
  moved(kg: number): void {
    this.waterKg += kg;
  }

  /** Notes the state at the end of a step; runs the mash first when there is no more room. */
  note(state: VesselState, engine: MashEngine | undefined): void {
    const last = this.count - 1;
    const t = state.clockMin;
    const tempC = Math.max(0, state.tempC);
    if (t <= (this.timeMin[last] as number)) {
      // Content was mixed at this minute: a jump, kept as two points at one time.
      if (tempC === this.tempC[last]) return;
      this.push(state, engine);
      return;
    }
    const anchor = Math.max(0, last - 1);
    const run = t - (this.timeMin[anchor] as number);
    if (this.count > 1 && (this.timeMin[last] as number) > (this.timeMin[anchor] as number)) {
      const slope = (tempC - (this.tempC[anchor] as number)) / run;
      if (slope >= this.lowSlope && slope <= this.highSlope) {
        this.narrow(tempC, anchor, run);
        this.timeMin[last] = t;
        this.tempC[last] = tempC;
        return;
      }
    }
    this.push(state, engine);
  }

  private push(state: VesselState, engine: MashEngine | undefined): void {
    if (this.count === ROOM) this.sync(state, engine);
    else {
      this.timeMin[this.count] = state.clockMin;
      this.tempC[this.count] = Math.max(0, state.tempC);
      this.count++;
    }
    this.freeSlopes();
    const anchor = this.count - 2;
    if (anchor < 0) return;
    const run = state.clockMin - (this.timeMin[anchor] as number);
    if (run > 0) this.narrow(Math.max(0, state.tempC), anchor, run);
  }

  private narrow(tempC: number, anchor: number, run: number): void {
    const from = this.tempC[anchor] as number;
    this.lowSlope = Math.max(this.lowSlope, (tempC - STRAIGHT_K - from) / run);
    this.highSlope = Math.min(this.highSlope, (tempC + STRAIGHT_K - from) / run);
  }

  private freeSlopes(): void {
    this.lowSlope = Number.NEGATIVE_INFINITY;
    this.highSlope = Number.POSITIVE_INFINITY;
  }

  /** Books what evaporated since, so that a share of the species is a share of the content. */
  settleWater(state: VesselState, engine: MashEngine): void {
    if (!state.mash) return;
    engine.addWater(state.mash, state.waterKg - this.waterKg);
    this.waterKg = state.waterKg;
  }

  /** Brings the vessel's mash up to date and takes over what it dissolved. */
  sync(state: VesselState, engine: MashEngine | undefined): void {
    const mash = state.mash;
    if (mash && engine && this.count > 0) {
      engine.advance(mash, this.timeMin, this.tempC, this.count);
      this.settleWater(state, engine);
      const dry = state.solidsKg + state.extractKg;
      const solids = engine.solidsKg(mash);
      state.solidsKg = Math.min(dry, solids);
      state.extractKg = dry - state.solidsKg;
    }
    this.restart(state);
  }
}
