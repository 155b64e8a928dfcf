import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alkalinityRemoved, carbonateCharge, liquorPh, totalCarbonate } from './carbonate.ts';
import { OutOfRange } from './errors.ts';
import { residualAlkalinity } from './liquor.ts';
import {
  acidToPh,
  addAcid,
  addSalts,
  alkalinityFromBicarbonate,
  DISTILLED,
  ionBalance,
  mixLiquors,
  type WaterReport,
} from './water-report.ts';

/** An invented report; its sums are derived. */
const REPORT: WaterReport = {
  calciumMgL: 52,
  magnesiumMgL: 12,
  sodiumMgL: 18,
  potassiumMgL: 2,
  chlorideMgL: 24,
  sulphateMgL: 45,
  nitrateMgL: 4,
  alkalinityMgLCaCO3: alkalinityFromBicarbonate(159),
  ph: 7.6,
};

describe('ion balance by Standard Methods 1030E (bands from memory)', () => {
  it('4.416 against 4.284 mEq/L, 1.5 %, passes', () => {
    const balance = ionBalance(REPORT);
    expect(balance.cationsMEqL).toBeCloseTo(4.416, 2.9);
    expect(balance.anionsMEqL).toBeCloseTo(4.284, 2.9);
    expect(balance.differencePct).toBeCloseTo(1.5, 1);
    expect(balance.believable).toBe(true);
  });

  it('its residual alkalinity is 1.72 mEq/L, 86 mg/L CaCO3, 4.8 °dH', () => {
    const ra = residualAlkalinity(REPORT);
    expect(ra.mEqL).toBeCloseTo(1.72, 1.9);
    expect(ra.dH).toBeCloseTo(4.8, 1);
  });

  it('a slip of the pen does not pass', () => {
    expect(ionBalance({ ...REPORT, calciumMgL: 25 }).believable).toBe(false);
    expect(ionBalance({ ...REPORT, sulphateMgL: 145 }).believable).toBe(false);
  });

  it('soft water may be 0.2 mEq/L off, hard water 5 %', () => {
    const soft = { ...DISTILLED, calciumMgL: 20.039 * 0.19 };
    expect(ionBalance(soft).believable).toBe(true);
    expect(ionBalance({ ...DISTILLED, calciumMgL: 20.039 * 0.21 }).believable).toBe(false);
    const hard = { ...DISTILLED, calciumMgL: 12.4 * 20.039, sulphateMgL: 48.028 * 11.5 };
    expect(ionBalance(hard).believable).toBe(true);
    expect(ionBalance({ ...hard, calciumMgL: 13 * 20.039 }).believable).toBe(false);
    expect(ionBalance(DISTILLED).differencePct).toBe(0);
  });

  it('refuses what is no water', () => {
    expect(() => ionBalance({ ...REPORT, ph: 12 })).toThrow(OutOfRange);
    expect(() => ionBalance({ ...REPORT, sodiumMgL: -1 })).toThrow(OutOfRange);
  });
});

describe('carbonate', () => {
  // Derived, pK1 6.38: share of the alkalinity that goes on the way to pH 5.4; trade figure 0.90.
  it.each([
    [7, 0.89],
    [7.5, 0.91],
    [8.3, 0.91],
  ])('from pH %f to 5.4 goes %f', (from, share) => {
    expect(Math.abs(alkalinityRemoved(from, 5.4) - share)).toBeLessThan(0.005);
  });

  it('pH and carbonate are each other’s inverse', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 20, noNaN: true }),
        fc.double({ min: 5, max: 10, noNaN: true }),
        (alkalinity, ph) => {
          expect(liquorPh(alkalinity, totalCarbonate(alkalinity, ph))).toBeCloseTo(ph, 6);
        },
      ),
    );
  });

  it('half charged at its constants, refused where it cannot be', () => {
    expect(carbonateCharge(6.38)).toBeCloseTo(0.5, 3);
    expect(carbonateCharge(10.33)).toBeCloseTo(1.5, 3);
    expect(liquorPh(0, 0)).toBe(7);
    expect(() => liquorPh(5, 1)).toThrow(OutOfRange);
    expect(() => alkalinityRemoved(6, 7)).toThrow(OutOfRange);
  });
});

describe('mixing', () => {
  const SOFT: WaterReport = { ...DISTILLED, calciumMgL: 8, alkalinityMgLCaCO3: 20, ph: 6.8 };

  it('keeps every ion', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1000, noNaN: true }),
        fc.double({ min: 1, max: 1000, noNaN: true }),
        (a, b) => {
          const mixed = mixLiquors([
            { litres: a, report: REPORT },
            { litres: b, report: SOFT },
          ]);
          expect(mixed.litres).toBe(a + b);
          for (const key of ['calciumMgL', 'chlorideMgL', 'alkalinityMgLCaCO3'] as const) {
            expect(mixed.litres * mixed.report[key]).toBeCloseTo(
              a * REPORT[key] + b * SOFT[key],
              6,
            );
          }
        },
      ),
    );
  });

  it('with itself is itself, with pure water halves', () => {
    const same = mixLiquors([
      { litres: 3, report: REPORT },
      { litres: 5, report: REPORT },
    ]);
    expect(same.report.ph).toBeCloseTo(REPORT.ph, 9);
    expect(same.report.alkalinityMgLCaCO3).toBeCloseTo(REPORT.alkalinityMgLCaCO3, 9);
    const half = mixLiquors([
      { litres: 5, report: REPORT },
      { litres: 5, report: DISTILLED },
    ]);
    expect(half.report.calciumMgL).toBeCloseTo(26, 9);
    expect(half.report.ph).toBeCloseTo(REPORT.ph, 6);
    expect(() => mixLiquors([{ litres: 0, report: REPORT }])).toThrow(OutOfRange);
  });
});

describe('salts and acid in liquor', () => {
  // Derived: 0.1 g/L gypsum is 23.3 mg/L Ca and 55.8 mg/L SO4; the carbonate does not notice.
  it('gypsum', () => {
    const after = addSalts(REPORT, [{ salt: 'gypsum', gPerL: 0.1 }]);
    expect(after.calciumMgL - 52).toBeCloseTo(23.28, 2);
    expect(after.sulphateMgL - 45).toBeCloseTo(55.79, 2);
    expect(after.ph).toBeCloseTo(REPORT.ph, 6);
  });

  it('any dose of salts leaves a balanced report as balanced as it was', () => {
    const salts = ['gypsum', 'calciumChloride', 'epsomSalt', 'commonSalt', 'bakingSoda'] as const;
    fc.assert(
      fc.property(
        fc.tuple(...salts.map(() => fc.double({ min: 0, max: 0.5, noNaN: true }))),
        (doses) => {
          const after = ionBalance(
            addSalts(
              REPORT,
              salts.map((salt, i) => ({ salt, gPerL: doses[i] ?? 0 })),
            ),
          );
          const before = ionBalance(REPORT);
          expect(after.cationsMEqL - after.anionsMEqL).toBeCloseTo(
            before.cationsMEqL - before.anionsMEqL,
            3,
          );
        },
      ),
    );
  });

  it('acid to a pH brings it there, chalk and soda raise it', () => {
    const mEqL = acidToPh(REPORT, 5.6);
    expect(addAcid(REPORT, mEqL).ph).toBeCloseTo(5.6, 6);
    expect(mEqL).toBeLessThan(REPORT.alkalinityMgLCaCO3 / 50.0435);
    const soda = addSalts(REPORT, [{ salt: 'bakingSoda', gPerL: 0.2 }]);
    expect(soda.alkalinityMgLCaCO3 - REPORT.alkalinityMgLCaCO3).toBeCloseTo(
      ((0.2 * 726.33) / 61.016) * 50.0435,
      1,
    );
    expect(soda.ph).toBeGreaterThan(REPORT.ph);
    expect(() => addAcid(REPORT, 50)).toThrow(OutOfRange);
    expect(() => addSalts(DISTILLED, [{ salt: 'slakedLime', gPerL: 1 }])).toThrow(OutOfRange);
  });
});
