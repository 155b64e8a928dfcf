import { inRange } from './errors.ts';

/** Empirical utilisation of kettle hops; only `ceiling` is meant to be calibrated. Common practice, no source. */
const KETTLE = { gravityFactor: 1.65, gravityBase: 0.000125, perMin: 0.04, ceiling: 4.15 } as const;
/** Isomerisation of alpha acid, first order: k = a exp(-b/T) per minute. Malowicki & Shellhammer 2005. */
const ISOMERISATION = { a: 7.9e11, b: 11858 } as const;
const BOIL_C = 100;

/**
 * Rate at which alpha acids turn into the bitter iso form.
 *
 * @param tC wort temperature [°C], 80 to 130; measured from 90 up
 * @returns first-order rate [1/min]
 * @throws OutOfRange outside the range
 * @source Malowicki & Shellhammer, J. Agric. Food Chem. 53:4434 (2005)
 * @example isomerisationRate(100) // 0.0125
 */
export function isomerisationRate(tC: number): number {
  const t = inRange('wort temperature', tC, 80, 130, '°C') + 273.15;
  return ISOMERISATION.a * Math.exp(-ISOMERISATION.b / t);
}

/**
 * Share of the alpha acids in the hops that ends as bitterness in the beer.
 *
 * @param addition sg mean gravity of the boil, 1 to 1.13; minutes in hot wort [min], 0 to 600; tC
 *   [°C], 80 to 105, 100 unless given: off the boil the clock of the formula is slowed by the ratio
 *   of the isomerisation rates
 * @returns utilisation [fraction], at most 0.4
 * @throws OutOfRange outside the ranges
 * @source Tinseth's empirical formula (common practice, no source), temperature by
 *   {@link isomerisationRate}
 * @example hopUtilisation({ sg: 1.05, minutes: 60 }) // 0.231
 */
export function hopUtilisation(addition: {
  readonly sg: number;
  readonly minutes: number;
  readonly tC?: number;
}): number {
  const sg = inRange('gravity of the boil', addition.sg, 1, 1.13, '');
  const minutes = inRange('time in hot wort', addition.minutes, 0, 600, 'min');
  const t = inRange('wort temperature', addition.tC ?? BOIL_C, 80, 105, '°C');
  const boilMin = (minutes * isomerisationRate(t)) / isomerisationRate(BOIL_C);
  return (
    (KETTLE.gravityFactor *
      KETTLE.gravityBase ** (sg - 1) *
      (1 - Math.exp(-KETTLE.perMin * boilMin))) /
    KETTLE.ceiling
  );
}

/**
 * Bitterness of one hop addition.
 *
 * @param hops grams [g], 0 to 1e6; alphaPct alpha acids [%], 0 to 30; utilisation [fraction], 0 to 1;
 *   volumeL finished beer [L], 0.1 to 1e6
 * @returns bitterness [mg iso-alpha acids per litre, IBU]
 * @throws OutOfRange outside the ranges
 * @source mass balance of the alpha acids
 * @example bitterness({ grams: 100, alphaPct: 5, utilisation: 0.231, volumeL: 50 }) // 23.1
 */
export function bitterness(hops: {
  readonly grams: number;
  readonly alphaPct: number;
  readonly utilisation: number;
  readonly volumeL: number;
}): number {
  const alphaMg =
    inRange('hops', hops.grams, 0, 1e6, 'g') *
    inRange('alpha acids', hops.alphaPct, 0, 30, '%') *
    10;
  const share = inRange('utilisation', hops.utilisation, 0, 1, '');
  return (alphaMg * share) / inRange('volume of beer', hops.volumeL, 0.1, 1e6, 'L');
}
