import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument } from '../../../reference/read.ts';
import { ebcFromSrm, srmFromColourUnits } from './colour.ts';
import { volumeAt20 } from './contraction.ts';
import { OutOfRange } from './errors.ts';
import { DEFAULT_BUFFERS, gristBuffer } from './grist-buffer.ts';
import { lovibondFromSheetEbc, srmFromAbsorbance, srmFromLovibond } from './malt-colour.ts';
import {
  congressExtract,
  extractAsIs,
  extractDryFrom,
  litreDegreesFromExtract,
} from './malt-extract.ts';
import { type MaltBuffer, mashPh, protonsWanted } from './mash-ph.ts';
import { gramsPer100mL, platoFromGramsPer100mL, sgFromPlato } from './plato.ts';

describe('extract of malt', () => {
  // Derived from the congress definition (from memory).
  it('8.9 °P at 4.2 % moisture is 78.57 % as it is, 82.01 % dry', () => {
    expect(congressExtract(8.9, 0.042)).toBeCloseTo(0.7857, 4);
    expect(extractDryFrom(congressExtract(8.9, 0.042), 0.042)).toBeCloseTo(0.8201, 4);
  });

  it('80.5 % fine, 1.5 points coarser, 4.5 % moisture: 76.88 and 75.44 as it is (derived)', () => {
    expect(extractAsIs(0.805, 0.045)).toBeCloseTo(0.7688, 4);
    expect(extractAsIs(0.805 - 0.015, 0.045)).toBeCloseTo(0.7544, 3.9);
  });

  // Noonan, New Brewing Lager Beer p. 13, second hand: 0.752 by the variant; we use the product.
  it('the product lies a tenth of a point over the printed variant', () => {
    const check = readDocument<{ id: string; out: number }[]>('wort-checks.json').find(
      (c) => c.id === 'coarse-as-is-variant',
    );
    const product = extractAsIs(0.78, 0.035);
    expect(product).toBeCloseTo(0.7527, 4);
    expect(product - (check?.out ?? Number.NaN)).toBeCloseTo(0.0007, 4);
  });

  it('80 % is 302.8 litre degrees (common practice; printed 302 for one malt)', () => {
    expect(litreDegreesFromExtract(80)).toBeCloseTo(302.8, 1);
    expect(() => extractAsIs(1.2, 0.04)).toThrow(OutOfRange);
  });
});

describe('colour of malt and wort', () => {
  // Pairs seen in use (common practice); formula from memory.
  it.each([
    [10, 12.79, 12.7],
    [40, 53.42, 53.4],
  ])('%f °L is %f SRM', (lovibond, srm, printed) => {
    expect(srmFromLovibond(lovibond)).toBeCloseTo(srm, 1.9);
    expect(Math.abs(srmFromLovibond(lovibond) - printed)).toBeLessThan(0.1);
  });

  it('a sheet in EBC goes over by the scale alone', () => {
    expect(ebcFromSrm(srmFromLovibond(lovibondFromSheetEbc(15)))).toBeCloseTo(15, 9);
    // Oxford Companion to Beer: SRM is 12.7 times, EBC 25 times the absorbance.
    expect(srmFromAbsorbance(1)).toBe(12.7);
    expect(ebcFromSrm(srmFromAbsorbance(1))).toBeCloseTo(25, 9);
    expect(() => lovibondFromSheetEbc(0)).toThrow(OutOfRange);
  });

  // Derived: the power law crosses SRM = MCU at 3.58.
  it('the colour law crosses at 3.58', () => {
    expect(srmFromColourUnits(3.58)).toBeCloseTo(3.58, 1.9);
    expect(srmFromColourUnits(3)).toBeGreaterThan(3);
  });
});

describe('buffer of a grist', () => {
  const WHEAT: MaltBuffer = { ph: 6.07, slope: -44.9, curvature: -6, third: 1.5 };
  const liquor = {
    liquorL: 3,
    liquorPh: 7.5,
    alkalinityMgLCaCO3: 80,
    calciumMgL: 40,
    magnesiumMgL: 5,
  };

  it('one malt is itself', () => {
    const alone = gristBuffer([{ kg: 4, buffer: WHEAT }]);
    expect(alone.ph).toBeCloseTo(6.07, 9);
    expect(alone.slope).toBeCloseTo(-44.9, 6);
    expect(alone.curvature).toBeCloseTo(-6, 6);
    expect(alone.third).toBe(1.5);
  });

  it('stands for the sum of the malts at every pH', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 2, noNaN: true }),
        fc.double({ min: 5, max: 6.2, noNaN: true }),
        (wheat, roast, ph) => {
          const malts = [
            { kg: wheat, buffer: WHEAT },
            { kg: roast, buffer: DEFAULT_BUFFERS.roast },
          ];
          const parts = malts.reduce((sum, { kg, buffer }) => {
            const own = { gristKg: 1, buffer, ...liquor };
            const water = protonsWanted({ ...own, buffer: { ph, slope: -40 } }, ph);
            return sum + kg * (protonsWanted(own, ph) - water);
          }, 0);
          const kg = wheat + roast;
          const all = { gristKg: 1, buffer: gristBuffer(malts), ...liquor };
          const water = protonsWanted({ ...all, buffer: { ph, slope: -40 } }, ph);
          expect(kg * (protonsWanted(all, ph) - water)).toBeCloseTo(parts, 6);
        },
      ),
    );
  });

  it('acid in the amount wanted brings the mash there', () => {
    const mash = {
      gristKg: 10,
      buffer: gristBuffer([{ kg: 1, buffer: WHEAT }]),
      ...liquor,
      liquorL: 35,
    };
    expect(mashPh({ ...mash, acidMEq: protonsWanted(mash, 5.4) })).toBeCloseTo(5.4, 9);
    // The wheat lot's own published figure: 27.4 mEq/kg to pH 5.4 (derived from its terms).
    const lot = { ...mash, gristKg: 1, buffer: { ph: 6.07, slope: -44.9, curvature: -6 } };
    const pure = { ...lot, alkalinityMgLCaCO3: 0, calciumMgL: 0, magnesiumMgL: 0 };
    expect(protonsWanted(pure, 5.4)).toBeCloseTo(27.4, 1);
    expect(() => gristBuffer([])).toThrow(OutOfRange);
  });
});

describe('the trade’s figures for extract by volume', () => {
  // 1 lb sucrose in a US gallon: 46.21 points in the trade (common practice), 46.17 by the NBS cubic
  // (derived).
  it('a pound in a gallon is 46.2 points', () => {
    const points = 1000 * (sgFromPlato(platoFromGramsPer100mL(45.3592 / 3.785412)) - 1);
    expect(Math.abs(points - 46.17)).toBeLessThan(0.03);
    expect(Math.abs(points / 46.21 - 1)).toBeLessThan(0.002);
  });

  // (259 + P) P/100 lb in a US barrel (common practice): 12 °P 32.52, exact 32.49 (derived).
  it('the barrel rule is a tenth of a per cent off', () => {
    const exact = (gramsPer100mL(12) / 100) * 117.3478 * 2.204623;
    expect(exact).toBeCloseTo(32.49, 1.9);
    expect(((259 + 12) * 12) / 100 / exact).toBeCloseTo(1.001, 3);
  });

  // Derived from ICUMSA: shrinkage 4.0 % from 100 °C, 1.8 % from 65.
  it.each([
    [100, 4.0],
    [65, 1.8],
  ])('from %f °C wort shrinks %f %%', (tC, pct) => {
    expect(100 * (1 - volumeAt20(1, tC, 0.12))).toBeCloseTo(pct, 0.9);
  });
});
