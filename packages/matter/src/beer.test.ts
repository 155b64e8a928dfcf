import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument, readTable } from '../../../reference/read.ts';
import {
  alcoholByWeight,
  BALLING,
  beerFromExtracts,
  originalExtract,
  realDegreeOfFermentation,
  realExtractShort,
} from './beer.ts';
import { OutOfRange } from './errors.ts';
import { ethanolDensity, ethanolMassFraction, ethanolSg } from './ethanol.ts';
import { platoFromSg } from './plato.ts';

interface Check {
  readonly id: string;
  readonly inp: {
    readonly OE: number;
    readonly AE: number;
    readonly density_kg_m3: number;
    readonly t_C: number;
  };
  readonly out: readonly number[] | number;
  readonly tol: number;
}
const checks = readDocument<Check[]>('wort-checks.json');

describe('ethanol, OIML R22 (1975)', () => {
  it('printed check: 789.24 kg/m³ at 20 °C', () => {
    expect(ethanolDensity(1, 20)).toBeCloseTo(789.24, 2);
  });

  // reference/data/ethanol-oiml-r22.csv.
  it.each(readTable('ethanol-oiml-r22.csv').map((r) => [r.num('ethanol_mass_pct'), r] as const))(
    '%d %%',
    (pct, row) => {
      expect(ethanolDensity(pct / 100, 20)).toBeCloseTo(row.num('density_20C_kg_m3'), 3.9);
      expect(ethanolSg(pct / 100)).toBeCloseTo(row.num('sg_20_20'), 5.9);
      const abv = (pct * ethanolDensity(pct / 100, 20)) / 789.24;
      expect(Math.abs(abv - row.num('ethanol_vol_pct_20C'))).toBeLessThan(1.1e-4);
      const at60F = ethanolDensity(pct / 100, 15.56) / ethanolDensity(0, 15.56);
      expect(Math.abs(at60F - row.num('sg_15p56_15p56'))).toBeLessThan(1.1e-6);
    },
  );

  it('mass fraction from density', () => {
    const check = checks.find((c) => c.id === 'oiml-2');
    if (check === undefined) throw new Error('no check oiml-2');
    const p = ethanolMassFraction(check.inp.density_kg_m3, check.inp.t_C);
    expect(Math.abs(p - Number(check.out))).toBeLessThan(check.tol);
  });

  it('there and back', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 5, max: 40, noNaN: true }),
        (p, t) => {
          expect(Math.abs(ethanolMassFraction(ethanolDensity(p, t), t) - p)).toBeLessThan(1e-9);
        },
      ),
    );
  });
});

describe('Balling', () => {
  it('extract goes to alcohol, gas and yeast without loss', () => {
    expect(1 + BALLING.carbonDioxide + BALLING.yeast).toBeCloseTo(BALLING.extract, 12);
  });

  it('alcohol and original extract undo one another', () => {
    expect(alcoholByWeight(originalExtract(4, 4.5), 4.5)).toBeCloseTo(4, 9);
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 12, noNaN: true }),
        (a, re) => {
          expect(Math.abs(alcoholByWeight(originalExtract(a, re), re) - a)).toBeLessThan(1e-9);
        },
      ),
    );
  });

  // Cutaia, Reid & Speers, J. Inst. Brew. 115(4):318-327 (2009), Table III means: OE, A, RE, AE measured;
  // then OE by Balling, RE by the short form, AE by the sum of densities (derived).
  it.each([
    ['RPB-I', 14.08, 4.72, 5.28, 3.11, 14.31, 5.09, 3.17],
    ['proprietary', 17.67, 6.56, 5.38, 2.45, 17.7, 5.2, 2.53],
    ['Navarro', 12.75, 4.21, 4.74, 2.79, 12.86, 4.59, 2.84],
  ])('Cutaia et al. 2009, %s', (_, oe, a, re, ae, oeBalling, reShort, aeSum) => {
    expect(originalExtract(a, re)).toBeCloseTo(oeBalling, 1.9);
    expect(realExtractShort(oe, ae)).toBeCloseTo(reShort, 1.9);
    // The beer with this alcohol and real extract, by Balling's own original extract.
    const ours = beerFromExtracts(oeBalling, aeSum);
    expect(Math.abs(ours.abwPct - a)).toBeLessThan(0.02);
    expect(Math.abs(ours.rePlato - re)).toBeLessThan(0.02);
    expect(Math.abs(oeBalling - oe)).toBeLessThan(0.24);
    expect(Math.abs(aeSum - ae)).toBeLessThan(0.085);
  });

  // Tolman & Riley 1917, USDA Bulletin 493, beers with their own worts; g/100 cc and SG at 60 °F.
  it('USDA Bulletin 493: back to the wort within 0.33 °P root mean square', () => {
    const rows = readTable('usda493-wort-beer.csv');
    const errors: number[] = [];
    for (const beer of rows.filter((r) => r.has('alcohol_g100cc'))) {
      const wort = rows.find(
        (r) => r.text('pair') === beer.text('pair') && r.text('product') === 'wort',
      );
      if (wort === undefined) throw new Error(`no wort for ${beer.text('pair')}`);
      const sg = beer.num('sg_15p6');
      const abw = beer.num('alcohol_g100cc') / (sg * 0.99904);
      // Their extract is the gravity of the de-alcoholised beer read in a table of its own: use the gravity.
      const re = platoFromSg(sg + 1 - ethanolSg(abw / 100));
      errors.push(originalExtract(abw, re) - platoFromSg(wort.num('sg_15p6')));
    }
    expect(errors.length).toBe(17);
    const mean = errors.reduce((s, e) => s + e, 0) / errors.length;
    const rmse = Math.sqrt(errors.reduce((s, e) => s + e * e, 0) / errors.length);
    expect(Math.abs(mean - -0.25)).toBeLessThan(0.03);
    expect(Math.abs(rmse - 0.33)).toBeLessThan(0.03);
  });
});

describe('Balling and the sum of densities solved together (derived)', () => {
  it.each([
    [10, 2, 3.304, 3.525, 4.21],
    [12.8, 4.2, 3.61, 5.833, 4.64],
    [16, 4, 5.136, 6.263, 6.6],
    [18, 5, 5.632, 7.443, 7.26],
  ])('%d to %d °P', (oe, ae, abw, re, abv) => {
    const beer = beerFromExtracts(oe, ae);
    expect(Math.abs(beer.abwPct - abw)).toBeLessThan(0.0015);
    expect(Math.abs(beer.rePlato - re)).toBeLessThan(0.003);
    expect(beer.abvPct).toBeCloseTo(abv, 1.9);
  });

  it.each(checks.filter((c) => c.id.startsWith('consistent')).map((c) => [c.id, c] as const))(
    '%s',
    (_, check) => {
      const beer = beerFromExtracts(check.inp.OE, check.inp.AE);
      const out = check.out as readonly number[];
      for (const [i, value] of [beer.abwPct, beer.rePlato, beer.abvPct].entries()) {
        expect(Math.abs(value - (out[i] ?? Number.NaN))).toBeLessThan(check.tol);
      }
    },
  );

  it('a documented Dunkel of common practice: 12.8 to 4.2 °P is 67 % apparent', () => {
    expect(beerFromExtracts(12.8, 4.2).adfPct).toBeCloseTo(67.2, 1);
  });

  it('wort that has not fermented is wort', () => {
    const beer = beerFromExtracts(12, 12);
    expect(beer.abwPct).toBeCloseTo(0, 9);
    expect(beer.rePlato).toBeCloseTo(12, 9);
    expect(beer.rdfPct).toBeCloseTo(0, 9);
  });

  it('further down means more alcohol, less real extract', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 6, max: 25, noNaN: true }),
        fc.double({ min: 0.05, max: 0.8, noNaN: true }),
        (oe, left) => {
          const more = beerFromExtracts(oe, oe * left);
          const less = beerFromExtracts(oe, oe * (left + 0.1));
          expect(more.abwPct).toBeGreaterThan(less.abwPct);
          expect(more.rePlato).toBeLessThan(less.rePlato);
          expect(more.rdfPct).toBeCloseTo(realDegreeOfFermentation(oe, more.rePlato), 9);
        },
      ),
    );
  });

  it('refuses a beer lighter than all its extract could make it', () => {
    expect(() => beerFromExtracts(2, -4)).toThrow(OutOfRange);
    expect(() => beerFromExtracts(2, -4)).toThrow(/apparent extract is -4 °P/);
    expect(() => beerFromExtracts(12, 13)).toThrow(OutOfRange);
  });
});
