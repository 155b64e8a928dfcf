import type { MashOptions } from '../../packages/brewhouse/src/mash/malt.ts';
import {
  KDIS_FINE_GRIST,
  type MashParameters,
  PLAIN_PARAMETERS,
  RECOMMENDED_PARAMETERS,
} from '../../packages/brewhouse/src/mash/parameters.ts';
import { shippedMash } from '../../packages/brewhouse/src/mash/validation-runs.ts';
import { type Candidate, candidateMash, NOTHING_ADDED } from './candidate.ts';
import type { FreeNumber, Variant } from './score.ts';

/** Liquor of the laboratory method at 70 °C: 100 mL to 50 g malt in 200 mL (from memory, MEBAK/EBC). */
const CONGRESS_ADD_KG = 2;

const BASE = RECOMMENDED_PARAMETERS;

function asShipped(
  id: string,
  title: string,
  parameters: MashParameters,
  counted: number,
  options: MashOptions = {},
): Variant {
  const model = shippedMash(parameters, options);
  return { id, title, numbers: [], counted, model: () => ({ brewery: model, laboratory: model }) };
}

/** The laboratory mash as its method has it: its own water, and its own grist. */
function laboratory(id: string, title: string, fine: FreeNumber | null): Variant {
  const brewery = shippedMash(BASE);
  return {
    id,
    title,
    numbers: fine === null ? [] : [fine],
    // The water is a fact of the method, not a number that was fitted.
    counted: fine === null ? 1 : 2,
    model: ([kdis = BASE.kdis]) => ({
      brewery,
      laboratory: { ...shippedMash({ ...BASE, kdis }), laboratoryAddKg: CONGRESS_ADD_KG },
    }),
  };
}

/** What a mechanism stands on: the recommended set, or the laboratory method and options with it. */
interface Under {
  /** Laboratory mashes get their water at 70 °C, and dissolve at this speed [1/min]. */
  readonly laboratoryKdis?: number;
  readonly options: MashOptions;
  readonly tilt: number;
  readonly counted: number;
}
const ON_RECOMMENDED: Under = { options: {}, tilt: 0, counted: 1 };
const ON_WATER: Under = { ...ON_RECOMMENDED, laboratoryKdis: BASE.kdis };
const ON_METHOD: Under = { ...ON_RECOMMENDED, laboratoryKdis: KDIS_FINE_GRIST, counted: 2 };
const ON_ALL: Under = {
  laboratoryKdis: BASE.kdis,
  options: { boundLimitDextrinase: true },
  tilt: 0.3,
  counted: 6,
};

function added(
  id: string,
  title: string,
  numbers: readonly FreeNumber[],
  candidate: (values: readonly number[]) => Partial<Candidate>,
  { laboratoryKdis, options, tilt, counted }: Under = ON_RECOMMENDED,
): Variant {
  const base = trioseSplit(BASE, tilt);
  return {
    id,
    title,
    numbers,
    counted: counted + numbers.length,
    model: (values) => {
      const whole = { ...NOTHING_ADDED, ...candidate(values) };
      const brewery = candidateMash(base, whole, options);
      if (laboratoryKdis === undefined) return { brewery, laboratory: brewery };
      const laboratory = candidateMash({ ...base, kdis: laboratoryKdis }, whole, options);
      return { brewery, laboratory: { ...laboratory, laboratoryAddKg: CONGRESS_ADD_KG } };
    },
  };
}

const CROWDING: readonly FreeNumber[] = [
  { name: 'per %', nothing: 0, priorSd: 0.15, grid: [0, 0.05, 0.1, 0.15, 0.2, 0.25] },
  { name: 'at %', nothing: 16, priorSd: 4, grid: [14, 15, 16, 17, 18, 20] },
];
const crowded = ([crowding = 0, crowdingAtPct = 16]: readonly number[]) => ({
  crowding,
  crowdingAtPct,
});

const BOUNDED: readonly FreeNumber[] = [
  { name: 'per %', nothing: 0, priorSd: 0.15, grid: [0, 0.05, 0.1, 0.2, 0.4] },
  { name: 'at %', nothing: 16, priorSd: 4, grid: [14, 16, 18, 20] },
];
const bounded = (values: readonly number[]) => ({
  ...crowded(values),
  crowdingLaw: 'bounded' as const,
});

const FINE_GRIST: FreeNumber = {
  name: 'kdis 1/min',
  nothing: KDIS_FINE_GRIST,
  priorSd: 0.2,
  grid: [0.12, 0.2, 0.3, KDIS_FINE_GRIST, 0.6, 0.8],
};

/** Alpha-amylase makes maltotriose and maltose in other shares; their sum stays. */
function trioseSplit(parameters: MashParameters, tilt: number): MashParameters {
  return { ...parameters, aM: parameters.aM * (1 - tilt), aT: parameters.aT * (1 + tilt) };
}

/** The questions and their candidates, cheapest first; at most five mechanisms beyond the sets there are. */
export const VARIANTS: readonly Variant[] = [
  asShipped('plain', 'plain set', PLAIN_PARAMETERS, 0),
  asShipped('recommended', 'recommended set', BASE, 1),
  asShipped('L', 'recommended with option L, bound limit dextrinase', BASE, 5, {
    boundLimitDextrinase: true,
  }),
  laboratory('water', 'Congress mash with its water at 70 °C', null),
  laboratory('method', 'the same, and fine grist in all laboratory mashes', FINE_GRIST),
  added('crowding', 'wort extract slows the enzymes', CROWDING, crowded),
  added('bounded', 'the same by a law that stops rising towards water', BOUNDED, bounded),
  added(
    'bounded on water',
    'bounded law, with the water of the Congress mash',
    BOUNDED,
    bounded,
    ON_WATER,
  ),
  added(
    'bounded on method',
    'bounded law, with that water and fine grist',
    BOUNDED,
    bounded,
    ON_METHOD,
  ),
  added(
    'granules',
    'small granules open later',
    [
      { name: 'share', nothing: 0, priorSd: 0.15, grid: [0, 0.05, 0.1, 0.2] },
      { name: 'later °C', nothing: 3, priorSd: 3, grid: [2, 4, 7] },
    ],
    ([smallShare = 0, smallLaterC = 0]) => ({ smallShare, smallLaterC }),
  ),
  added(
    'erosion',
    'erosion with an activation energy of its own',
    [
      {
        name: 'kJ/mol',
        nothing: BASE.Eg / 1000,
        priorSd: 40,
        grid: [40, 60, 75, 90, BASE.Eg / 1000, 130],
      },
    ],
    ([energy = 0]) => ({ erosionEnergy: 1000 * energy }),
  ),
  {
    id: 'triose',
    title: 'alpha-amylase makes more maltotriose, less maltose',
    numbers: [{ name: 'tilt', nothing: 0, priorSd: 0.3, grid: [0, 0.1, 0.2, 0.3, 0.4, 0.5] }],
    counted: 2,
    model: ([tilt = 0]) => {
      const model = shippedMash(trioseSplit(BASE, tilt));
      return { brewery: model, laboratory: model };
    },
  },
  added(
    'together',
    'water, option L, maltotriose and the bounded law',
    BOUNDED.map((number) => ({
      ...number,
      grid: number.grid.filter((x) => x !== 0.4 && x !== 14),
    })),
    bounded,
    ON_ALL,
  ),
];
