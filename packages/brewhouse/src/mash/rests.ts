import { MashRangeError } from './errors.ts';

/** A change in the mash that has its own temperature window. */
export interface EnzymeWindow {
  readonly name: string;
  /** Where it goes fastest [°C]. */
  readonly optimumC: readonly [number, number];
  /** Above this it is lost within minutes [°C]; absent where nothing is lost below the boil. */
  readonly lostAboveC?: number;
  readonly does: string;
  readonly source: string;
}

/**
 * Windows of the mash, for clocks and advice; the kinetics do not read them.
 *
 * @source reference/data/mash-rests.csv, marks and papers row by row
 */
export const ENZYME_WINDOWS = {
  phytase: {
    name: 'phytase',
    optimumC: [50, 53],
    lostAboveC: 65,
    does: 'makes acid from phytate, slowly',
    source: 'common practice, no source',
  },
  betaGlucanase: {
    name: 'beta-glucanase',
    optimumC: [45, 50],
    lostAboveC: 55,
    does: 'cuts soluble beta-glucan',
    source:
      'Lyons 1978 (99 % lost in 1 min at 65 °C); Kettunen et al. 1996; optimum common practice',
  },
  glucanRelease: {
    name: 'beta-glucan release',
    optimumC: [60, 65],
    lostAboveC: 73,
    does: 'keeps freeing beta-glucan after the glucanase is dead',
    source: 'J. Inst. Brew. abstract; temperatures from memory',
  },
  endopeptidase: {
    name: 'endopeptidases',
    optimumC: [45, 55],
    lostAboveC: 72,
    does: 'dissolves protein; takes foam protein when long',
    source: 'Jones & Marinac 2002; Oxford Companion to Beer',
  },
  carboxypeptidase: {
    name: 'carboxypeptidase',
    optimumC: [40, 60],
    lostAboveC: 70,
    does: 'frees amino acids',
    source: 'from memory',
  },
  limitDextrinase: {
    name: 'limit dextrinase',
    optimumC: [60, 62.5],
    lostAboveC: 65,
    does: 'debranches, raises fermentability',
    source: 'Sissons 1995; Bamforth 2003; Henson, Duke, Bockelman 2018',
  },
  alphaGlucosidase: {
    name: 'alpha-glucosidase',
    optimumC: [35, 45],
    does: 'makes a little glucose',
    source: 'Henson, Duke, Bockelman 2018; temperatures from memory',
  },
  betaAmylase: {
    name: 'beta-amylase',
    optimumC: [60, 65],
    lostAboveC: 70,
    does: 'makes maltose',
    source: 'Evans et al. 2012; common practice',
  },
  alphaAmylase: {
    name: 'alpha-amylase',
    optimumC: [70, 75],
    lostAboveC: 80,
    does: 'liquefies and makes dextrins, up to the run-off',
    source: 'common practice, no source',
  },
  lipoxygenase: {
    name: 'lipoxygenase',
    optimumC: [20, 60],
    lostAboveC: 65,
    does: 'makes precursors of stale flavour; argues for mash-in at 62 °C or above',
    source: 'from memory',
  },
} as const satisfies Readonly<Record<string, EnzymeWindow>>;

/**
 * Minutes a temperature history spends within a window.
 *
 * @param timesMin  knots [min], rising
 * @param tempsC  temperatures at the knots [°C], straight lines between
 * @param window  low and high end [°C]
 * @returns time inside, ends included [min]
 * @throws MashRangeError when the lists differ in length or times fall
 * @source geometry
 * @example minutesInWindow([0, 10, 20], [55, 65, 65], [60, 65]) // 15
 */
export function minutesInWindow(
  timesMin: ArrayLike<number>,
  tempsC: ArrayLike<number>,
  [lowC, highC]: readonly [number, number],
): number {
  if (timesMin.length !== tempsC.length)
    throw new MashRangeError('tempsC.length', tempsC.length, `${timesMin.length}`);
  let inside = 0;
  for (let i = 1; i < timesMin.length; i++) {
    const minutes = timesMin[i]! - timesMin[i - 1]!;
    if (!(minutes >= 0))
      throw new MashRangeError(`timesMin[${i}]`, timesMin[i]!, 'not before the knot ahead of it');
    const from = tempsC[i - 1]!;
    const to = tempsC[i]!;
    const low = Math.min(from, to);
    const high = Math.max(from, to);
    if (high === low) inside += low >= lowC && low <= highC ? minutes : 0;
    else
      inside += (minutes * Math.max(0, Math.min(high, highC) - Math.max(low, lowC))) / (high - low);
  }
  return inside;
}
