import { inRange } from './errors.ts';

/** An acid as it is sold: strength by weight, density, and the protons it can give. */
interface SoldAcid {
  readonly name: string;
  readonly share: number;
  readonly kgPerL: number;
  readonly molarMass: number;
  readonly pk: readonly number[];
}

/** Acids of the brewhouse. Densities and pK from memory; checked against the strengths in use. */
export const ACIDS = {
  lactic88: {
    name: 'lactic acid, 88 %',
    share: 0.88,
    kgPerL: 1.206,
    molarMass: 90.078,
    pk: [3.86],
  },
  phosphoric10: {
    name: 'phosphoric acid, 10 %',
    share: 0.1,
    kgPerL: 1.053,
    molarMass: 97.994,
    pk: [2.15, 7.2],
  },
  phosphoric75: {
    name: 'phosphoric acid, 75 %',
    share: 0.75,
    kgPerL: 1.579,
    molarMass: 97.994,
    pk: [2.15, 7.2],
  },
  phosphoric85: {
    name: 'phosphoric acid, 85 %',
    share: 0.85,
    kgPerL: 1.685,
    molarMass: 97.994,
    pk: [2.15, 7.2],
  },
} as const satisfies Readonly<Record<string, SoldAcid>>;
export type Acid = keyof typeof ACIDS;

/**
 * Protons that a millilitre of acid gives to a mash or liquor that ends at a pH.
 *
 * @param acid name of the acid
 * @param ph pH at the end, 3 to 8
 * @returns strength [mEq/mL]
 * @throws OutOfRange outside the range
 * @source dissociation, pK 3.86 (lactic), 2.15 and 7.20 (phosphoric); densities from memory
 * @example acidStrength('lactic88', 5.4) // 11.45
 */
export function acidStrength(acid: Acid, ph: number): number {
  const { share, kgPerL, molarMass, pk } = ACIDS[acid];
  const h = 10 ** -inRange('pH', ph, 3, 8, '');
  let term = 1;
  let sum = 1;
  let given = 0;
  pk.forEach((constant, i) => {
    term *= 10 ** -constant / h;
    sum += term;
    given += (i + 1) * term;
  });
  return (((1000 * kgPerL * share) / molarMass) * given) / sum;
}

/**
 * Protons that a kilogram of acid malt gives to a mash, by the acid of the lot. The trade's rule (one
 * per cent of the grist for a tenth of pH) does not fit the acid usually printed: ask for it.
 *
 * @param lacticShare lactic acid in the malt [kg/kg], 0 to 0.1
 * @param ph pH at the end, 3 to 8
 * @returns strength [mEq/kg]
 * @throws OutOfRange outside the ranges
 * @source dissociation of lactic acid, pK 3.86
 * @example acidMaltStrength(0.037, 5.5) // 401
 */
export function acidMaltStrength(lacticShare: number, ph: number): number {
  const share = inRange('lactic acid in the malt', lacticShare, 0, 0.1, 'kg/kg');
  const { kgPerL, share: sold } = ACIDS.lactic88;
  return (acidStrength('lactic88', ph) / kgPerL / sold) * share * 1000;
}
