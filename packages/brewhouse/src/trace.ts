/** What `simulate` gives back. */

import type { MashReading } from './history.ts';
import type { MoveKind } from './moves.ts';
import type { PullWay } from './pull-way.ts';
import type { Situation } from './situation.ts';

/** Temperature and volume of one vessel over the day; same length arrays. */
export interface VesselCurve {
  readonly vessel: string;
  readonly timeMin: number[];
  readonly tempC: number[];
  readonly volumeL: number[];
}

/** The mash of one vessel, sampled while it holds any. */
export interface MashCurve {
  readonly vessel: string;
  readonly timeMin: number[];
  readonly readings: MashReading[];
}

/** What a transfer did; pulls, returns and pours. */
export interface TransferTrace {
  /** Volume and mass that left the giving vessel, true litres at its temperature. */
  readonly litres: number;
  readonly kg: number;
  /** Share of the giving vessel's solids and liquid that left. */
  readonly solidShare: number;
  readonly liquidShare: number;
  readonly portions: number;
  /** Receiving vessel just before the first portion, and giving vessel then. */
  readonly beforeC: number;
  readonly sourceC: number;
  /** Heat-weighted mean temperature of the portions as they land. */
  readonly arrivalC: number;
  /** Receiving vessel after the last portion. */
  readonly landingC: number;
  /** Left in the giving vessel [L]. */
  readonly keptL: number;
  /** Receiving vessel after each portion, for guidance ladle by ladle. */
  readonly afterPortionC: readonly number[];
  /** For a pull: what the brewer's hands do to get the thickness asked for. */
  readonly way?: PullWay;
}

export interface MoveTrace {
  readonly id: string;
  readonly kind: MoveKind;
  /** Vessels it touched. */
  readonly vessels: readonly string[];
  readonly hands: readonly string[];
  readonly startMin: number;
  readonly endMin: number;
  /** The vessel acted on (the receiving one for transfers), before and after. */
  readonly fromC: number;
  readonly toC: number;
  /** What that vessel holds when the move is over [L]. */
  readonly volumeL: number;
  readonly transfer?: TransferTrace;
  /** Water boiled off or evaporated in the vessel during the move [kg]. */
  readonly evaporatedKg: number;
}

/** Where every kilojoule and kilogram went; sums to the change in content. */
export interface Ledger {
  burnerKJ: number;
  slakingKJ: number;
  wallLossKJ: number;
  surfaceLossKJ: number;
  vapourKJ: number;
  vapourKg: number;
  /** Brought in with liquor and grist, against 0 °C. */
  inKJ: number;
  inKg: number;
  /** Left in lines, drained or rinsed away. */
  outKJ: number;
  outKg: number;
  /** Taken up by ladles, buckets and hoses. */
  carrierKJ: number;
}

/** Something the kit cannot do as asked; the simulation goes on with what it can. */
export interface Problem {
  readonly moveId: string;
  readonly code:
    | 'overfull'
    | 'headspace'
    | 'not-enough'
    | 'never-hot'
    | 'cannot-hold-boil'
    | 'missed-target'
    | 'empty';
  /** Vessel, in numbers: what was wanted and what can be. */
  readonly vessel: string;
  readonly wanted: number;
  readonly possible: number;
  readonly unit: 'L' | '°C' | 'share' | 'kW';
}

export interface Trace {
  readonly moves: readonly MoveTrace[];
  readonly curves: readonly VesselCurve[];
  /** Only where curves are kept and the mash kinetics run. */
  readonly mashCurves: readonly MashCurve[];
  readonly ledger: Readonly<Ledger>;
  readonly problems: readonly Problem[];
  readonly end: Situation;
}
