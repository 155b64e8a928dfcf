/** What is uncertain between tun and tank, drawn together so that one forecast rests on one set of doubts. */
import { inRange } from '@ladlework/matter';
import { drawMatrix } from '@ladlework/numerics';
import type { LauterBed } from './lauter.ts';

/** A figure with its doubt: e^(lnSd) is one standard deviation as a factor; 0 for what is known. */
export interface Spread {
  readonly likely: number;
  readonly lnSd: number;
}

/**
 * A tun of which nothing is measured. Stages that lose what 4 to 8 equal mixed run-offs lose (judgement);
 * retention 0.75 to 1.7 L/kg (published).
 */
export const TUN_DEFAULTS = {
  stages: { likely: 1.6, lnSd: 0.2 },
  retainedLPerKg: { likely: 1.1, lnSd: 0.15 },
  floodedLPerKg: { likely: 1.8, lnSd: 0.08 },
} as const satisfies Readonly<Record<string, Spread>>;

/** Doubts of the later stages (our judgement until the kit has its own log). */
export const LATER_DEFAULTS = {
  dip: { likely: 1, lnSd: 0.01 },
  netKW: { likely: 1, lnSd: 0.06 },
  trub: { likely: 1, lnSd: 0.35 },
  hops: { likely: 1, lnSd: 0.12 },
  /** Colour laws are within 20 % or worse. */
  colour: { likely: 1, lnSd: 0.12 },
  cooler: { likely: 1, lnSd: 0.1 },
  flow: { likely: 1, lnSd: 0.15 },
  transfer: { likely: 1, lnSd: 0.3 },
  precursor: { likely: 1, lnSd: 0.35 },
} as const satisfies Readonly<Record<string, Spread>>;

/** One draw: bed figures and factors, and scores for readings. */
export interface ChainDraw {
  readonly stages: number;
  readonly retainedLPerKg: number;
  readonly floodedLPerKg: number;
  readonly dip: number;
  readonly netKW: number;
  readonly trub: number;
  readonly hops: number;
  readonly colour: number;
  readonly cooler: number;
  readonly flow: number;
  readonly transfer: number;
  readonly precursor: number;
  /** Standard scores of the errors of the two samples that may be read [-]. */
  readonly sample: readonly [number, number, number];
}

export type ChainSpreads = {
  readonly [K in keyof typeof TUN_DEFAULTS | keyof typeof LATER_DEFAULTS]?: Spread;
};

const ORDER = [
  'stages',
  'retainedLPerKg',
  'floodedLPerKg',
  'dip',
  'netKW',
  'trub',
  'hops',
  'colour',
  'cooler',
  'flow',
  'transfer',
  'precursor',
] as const;
const SAMPLES = 3;

/**
 * Draws for a wort chain, by Latin hypercube.
 *
 * @param n number of draws, 1 to 1e5
 * @param seed 32-bit integer
 * @param spreads the kit's own, where it has them; lnSd 0 to 2
 * @returns the draws
 * @throws OutOfRange outside the ranges
 * @source lognormal about each likely value
 */
export function chainDraws(n: number, seed: number, spreads: ChainSpreads = {}): ChainDraw[] {
  inRange('number of draws', n, 1, 1e5, '');
  const dims = ORDER.length + SAMPLES;
  const z = drawMatrix(n, dims, seed);
  const defaults: Readonly<Record<(typeof ORDER)[number], Spread>> = {
    ...TUN_DEFAULTS,
    ...LATER_DEFAULTS,
  };
  return Array.from({ length: n }, (_, i) => {
    const score = (j: number) => z[i * dims + j] as number;
    const value = (name: (typeof ORDER)[number]) => {
      const { likely, lnSd } = spreads[name] ?? defaults[name];
      const sd = inRange(`spread of ${name}`, lnSd, 0, 2, '');
      return likely * Math.exp(sd * score(ORDER.indexOf(name)));
    };
    const retained = Math.min(2, Math.max(0.5, value('retainedLPerKg')));
    return {
      stages: Math.min(20, Math.max(0.5, value('stages'))),
      retainedLPerKg: retained,
      // A flooded bed holds more than a drained one, whatever the two draws say.
      floodedLPerKg: Math.min(4, Math.max(retained + 0.1, value('floodedLPerKg'))),
      dip: Math.min(1.15, Math.max(0.85, value('dip'))),
      netKW: value('netKW'),
      trub: value('trub'),
      hops: value('hops'),
      colour: value('colour'),
      cooler: value('cooler'),
      flow: value('flow'),
      transfer: value('transfer'),
      precursor: value('precursor'),
      sample: [score(ORDER.length), score(ORDER.length + 1), score(ORDER.length + 2)],
    };
  });
}

/**
 * The bed of one draw.
 *
 * @param draw stages, retention and flooding
 * @param bed everything else
 * @returns the bed for `runOff`
 * @source none: puts the two together
 */
export function bedOfDraw(
  draw: ChainDraw,
  bed: Pick<LauterBed, 'gristKg' | 'mash' | 'tC' | 'underL' | 'deadL'>,
): LauterBed {
  return {
    ...bed,
    stages: draw.stages,
    retainedLPerKg: draw.retainedLPerKg,
    floodedLPerKg: draw.floodedLPerKg,
  };
}
