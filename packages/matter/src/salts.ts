import { inRange } from './errors.ts';

/** Molar masses of the ions a brewer counts [g/mol], from atomic masses, and their charge. */
export const IONS = {
  calcium: { molarMass: 40.078, charge: 2 },
  magnesium: { molarMass: 24.305, charge: 2 },
  sodium: { molarMass: 22.99, charge: 1 },
  potassium: { molarMass: 39.098, charge: 1 },
  chloride: { molarMass: 35.453, charge: -1 },
  sulphate: { molarMass: 96.056, charge: -2 },
  nitrate: { molarMass: 62.004, charge: -1 },
  bicarbonate: { molarMass: 61.016, charge: -1 },
} as const;
export type Ion = keyof typeof IONS;

/** What a mole of a salt gives, bicarbonate standing for all alkalinity; carbonate moles apart. */
interface Salt {
  /** As it is sold. */
  readonly name: string;
  readonly formula: string;
  readonly molarMass: number;
  readonly gives: Readonly<Partial<Record<Ion, number>>>;
  /** Moles of carbonate that come with it once dissolved (chalk takes up one more from the air). */
  readonly carbonate: number;
}

/** Salts of the brewhouse. */
export const SALTS = {
  gypsum: {
    name: 'gypsum',
    formula: 'CaSO4·2H2O',
    molarMass: 172.164,
    gives: { calcium: 1, sulphate: 1 },
    carbonate: 0,
  },
  calciumChloride: {
    name: 'calcium chloride',
    formula: 'CaCl2·2H2O',
    molarMass: 147.014,
    gives: { calcium: 1, chloride: 2 },
    carbonate: 0,
  },
  calciumChlorideAnhydrous: {
    name: 'calcium chloride, anhydrous',
    formula: 'CaCl2',
    molarMass: 110.984,
    gives: { calcium: 1, chloride: 2 },
    carbonate: 0,
  },
  epsomSalt: {
    name: 'Epsom salt',
    formula: 'MgSO4·7H2O',
    molarMass: 246.466,
    gives: { magnesium: 1, sulphate: 1 },
    carbonate: 0,
  },
  magnesiumChloride: {
    name: 'magnesium chloride',
    formula: 'MgCl2·6H2O',
    molarMass: 203.301,
    gives: { magnesium: 1, chloride: 2 },
    carbonate: 0,
  },
  commonSalt: {
    name: 'common salt',
    formula: 'NaCl',
    molarMass: 58.443,
    gives: { sodium: 1, chloride: 1 },
    carbonate: 0,
  },
  bakingSoda: {
    name: 'baking soda',
    formula: 'NaHCO3',
    molarMass: 84.006,
    gives: { sodium: 1, bicarbonate: 1 },
    carbonate: 1,
  },
  /** Stirred in without carbon dioxide it falls far short, above all beyond 400 to 500 mg/L. */
  chalk: {
    name: 'chalk',
    formula: 'CaCO3',
    molarMass: 100.086,
    gives: { calcium: 1, bicarbonate: 2 },
    carbonate: 2,
  },
  slakedLime: {
    name: 'slaked lime',
    formula: 'Ca(OH)2',
    molarMass: 74.092,
    gives: { calcium: 1, bicarbonate: 2 },
    carbonate: 0,
  },
} as const satisfies Readonly<Record<string, Salt>>;
export type SaltName = keyof typeof SALTS;

/**
 * What a salt gives of an ion once dissolved; bicarbonate stands for the alkalinity.
 *
 * @param salt name of the salt
 * @param ion name of the ion
 * @param purity share of the weight that is the salt [-], 0.3 to 1: calcium chloride takes up water
 * @returns [mg per g], 0 when the salt holds none
 * @throws OutOfRange outside the range
 * @source derived from atomic masses
 * @example ionFromSalt('gypsum', 'calcium') // 232.79
 */
export function ionFromSalt(salt: SaltName, ion: Ion, purity = 1): number {
  const { molarMass, gives } = SALTS[salt];
  const moles = (gives as Readonly<Partial<Record<Ion, number>>>)[ion] ?? 0;
  return (
    ((1000 * moles * IONS[ion].molarMass) / molarMass) *
    inRange('purity of the salt', purity, 0.3, 1, '')
  );
}
