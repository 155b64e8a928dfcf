import { describe, expect, it } from 'vitest';
import { readDocument } from '../../../reference/read.ts';
import { ACIDS, acidStrength } from './acids.ts';
import { OutOfRange } from './errors.ts';
import { type Ion, ionFromSalt, type SaltName } from './salts.ts';

// Derived from atomic masses, salts.json.
const NAMES: Readonly<Record<string, SaltName>> = {
  'CaSO4.2H2O': 'gypsum',
  'CaCl2 anhydrous': 'calciumChlorideAnhydrous',
  'CaCl2.2H2O': 'calciumChloride',
  'MgSO4.7H2O': 'epsomSalt',
  'MgCl2.6H2O': 'magnesiumChloride',
  NaCl: 'commonSalt',
  NaHCO3: 'bakingSoda',
  'CaCO3 (if fully dissolved by acid/CO2)': 'chalk',
  'Ca(OH)2': 'slakedLime',
};
const COLUMNS: Readonly<Record<string, Ion>> = {
  Ca_mg_per_g: 'calcium',
  Mg_mg_per_g: 'magnesium',
  Na_mg_per_g: 'sodium',
  Cl_mg_per_g: 'chloride',
  SO4_mg_per_g: 'sulphate',
  HCO3_mg_per_g: 'bicarbonate',
  'HCO3 equiv_mg_per_g': 'bicarbonate',
};

describe('ions per gram of salt', () => {
  const rows = readDocument<Record<string, string | number>[]>('salts.json').flatMap((row) => {
    const name = NAMES[String(row.salt)];
    if (name === undefined) throw new Error(`no salt for ${String(row.salt)}`);
    return Object.entries(COLUMNS).flatMap(([column, ion]) =>
      column in row ? [{ name, ion, mg: Number(row[column]) }] : [],
    );
  });

  it('covers the whole table', () => {
    expect(new Set(rows.map((r) => r.name)).size).toBe(9);
    expect(rows).toHaveLength(18);
  });

  it.each(rows)('$name gives $mg mg of $ion', ({ name, ion, mg }) => {
    expect(Math.abs(ionFromSalt(name, ion) - mg)).toBeLessThan(0.03);
  });

  it('a salt that took up water gives less, and one without the ion none', () => {
    expect(ionFromSalt('calciumChloride', 'calcium', 0.8)).toBeCloseTo(0.8 * 272.61, 1);
    expect(ionFromSalt('gypsum', 'chloride')).toBe(0);
    expect(() => ionFromSalt('gypsum', 'calcium', 0)).toThrow(OutOfRange);
  });
});

describe('acids, mEq per mL at pH 5.2, 5.4, 5.6 (derived; pK and densities from memory)', () => {
  it.each([
    ['lactic88', [11.27, 11.45, 11.57], 0.006],
    ['phosphoric10', [1.084, 1.091, 1.1], 0.001],
    ['phosphoric75', [12.2, 12.3, 12.4], 0.06],
    ['phosphoric85', [14.8, 14.8, 15.0], 0.06],
  ] as const)('%s', (acid, printed, tolerance) => {
    printed.forEach((mEq, i) => {
      const given = acidStrength(acid, 5.2 + 0.2 * i);
      expect(Math.abs(given - mEq)).toBeLessThanOrEqual(tolerance);
    });
  });

  it('none gives more than it holds', () => {
    for (const acid of Object.keys(ACIDS) as (keyof typeof ACIDS)[]) {
      const { share, kgPerL, molarMass, pk } = ACIDS[acid];
      expect(acidStrength(acid, 8)).toBeLessThan(((1000 * kgPerL * share) / molarMass) * pk.length);
    }
    expect(() => acidStrength('lactic88', 12)).toThrow(OutOfRange);
  });
});
