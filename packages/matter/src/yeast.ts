import { inRange } from './errors.ts';

/** Pitching rates on record [million cells/(mL °P)]. */
export const PITCH_RATES = {
  /** G. Fix, second hand. */
  ale: 0.75,
  /** Common practice, no source. */
  commercial: 1,
  /** Narziss, second hand: half a litre of thick slurry per hL at 12 °P. */
  thickSlurry: 1.25,
  /** G. Fix, second hand. */
  lager: 1.5,
} as const;

/** Cells in a mL of slurry by its look: thick by Narziss (second hand), thin as used in the trade. */
export const SLURRY_CELLS_PER_ML = { thin: 1e9, thick: 3e9 } as const;

/**
 * Living cells to pitch.
 *
 * @param wort volumeL [L], 0 to 1e6; plato [°P], 1 to 40; rate [million cells/(mL °P)], 0.1 to 5
 * @returns cells
 * @throws OutOfRange outside the ranges
 * @source cells = rate x °P x mL (G. Fix, second hand)
 * @example pitchCells({ volumeL: 1000, plato: 12, rate: 1.5 }) // 1.8e13
 */
export function pitchCells(wort: {
  readonly volumeL: number;
  readonly plato: number;
  readonly rate: number;
}): number {
  const mL = inRange('wort', wort.volumeL, 0, 1e6, 'L') * 1000;
  const plato = inRange('extract', wort.plato, 1, 40, '°P');
  return mL * plato * inRange('pitching rate', wort.rate, 0.1, 5, 'million/(mL °P)') * 1e6;
}

/**
 * Slurry that holds a number of living cells.
 *
 * @param slurry cells living, 0 to 1e18; cellsPerML counted [1/mL], 1e6 to 1e10; viability living
 *   share [-], 0.3 to 1
 * @returns slurry [L]
 * @throws OutOfRange outside the ranges
 * @source definition
 * @example slurryVolume({ cells: 1.8e13, cellsPerML: 1e9, viability: 0.9 }) // 20.0
 */
export function slurryVolume(slurry: {
  readonly cells: number;
  readonly cellsPerML: number;
  readonly viability: number;
}): number {
  const cells = inRange('living cells', slurry.cells, 0, 1e18, '');
  const count = inRange('cell count of the slurry', slurry.cellsPerML, 1e6, 1e10, '1/mL');
  return cells / (count * inRange('living share', slurry.viability, 0.3, 1, '')) / 1000;
}

/** One vessel of a propagation. */
export interface PropagationStep {
  readonly volumeL: number;
  readonly hours: number;
  /** Cells at its end. */
  readonly cells: number;
}

/** Growth in wort without good gas transfer stops here [1/mL]. Brewing Microbiology, Table 3.3. */
const GROWN_CELLS_PER_ML = 50e6;
const STEP_HOURS = 72;

/**
 * Steps from a small culture to enough yeast, each at most so many times the last.
 *
 * @param grow cells living cells wanted, 1e6 to 1e18; startL volume of the culture at hand, grown out
 *   [L], 1e-4 to 1e5; mostTimes greatest step, 2 to 30, 10 unless given; cellsPerML at the end of a
 *   step, 1e6 to 3e8, 5e7 unless given
 * @returns the steps in order, volumes even in ratio; empty when the culture is enough
 * @throws OutOfRange outside the ranges
 * @source at most tenfold a step in the brewery (from memory); 72 h and 50 million/mL: Brewing
 *   Microbiology ch. 3, Table 3.3
 */
export function propagationSteps(grow: {
  readonly cells: number;
  readonly startL: number;
  readonly mostTimes?: number;
  readonly cellsPerML?: number;
}): readonly PropagationStep[] {
  const cells = inRange('living cells wanted', grow.cells, 1e6, 1e18, '');
  const start = inRange('culture at hand', grow.startL, 1e-4, 1e5, 'L');
  const most = inRange('greatest step', grow.mostTimes ?? 10, 2, 30, '');
  const perML = inRange('cells grown', grow.cellsPerML ?? GROWN_CELLS_PER_ML, 1e6, 3e8, '1/mL');
  const wantedL = cells / perML / 1000;
  if (wantedL <= start) return [];
  const count = Math.ceil(Math.log(wantedL / start) / Math.log(most) - 1e-9);
  const ratio = (wantedL / start) ** (1 / count);
  return Array.from({ length: count }, (_, i) => {
    const volumeL = start * ratio ** (i + 1);
    return { volumeL, hours: STEP_HOURS, cells: volumeL * 1000 * perML };
  });
}
