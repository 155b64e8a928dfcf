import { expect, it } from 'vitest';
import { readDocument } from '../../../reference/read.ts';
import { OutOfRange } from './errors.ts';
import { residualAlkalinity } from './liquor.ts';

interface Check {
  readonly id: string;
  readonly inp: {
    readonly Ca_mg_L: number;
    readonly Mg_mg_L: number;
    readonly KS43_mmol_L: number;
  };
  readonly out: number;
  readonly tol: number;
}

it('a worked water report of the trade: 1.1 °dH', () => {
  const check = readDocument<Check[]>('wort-checks.json').find((c) => c.id === 'ra-dH');
  if (check === undefined) throw new Error('no check ra-dH');
  const ra = residualAlkalinity({
    calciumMgL: check.inp.Ca_mg_L,
    magnesiumMgL: check.inp.Mg_mg_L,
    alkalinityMgLCaCO3: check.inp.KS43_mmol_L * 50.04,
  });
  expect(Math.abs(ra.dH - check.out)).toBeLessThan(check.tol);
});

// Derived: an invented report with HCO3 159 mg/L.
it('1.72 mEq/L is 86 mg/L CaCO3 is 4.8 °dH', () => {
  const ra = residualAlkalinity({
    calciumMgL: 52,
    magnesiumMgL: 12,
    alkalinityMgLCaCO3: (159 / 61.02) * 50.04,
  });
  expect(ra.mEqL).toBeCloseTo(1.72, 1.9);
  expect(ra.mgLCaCO3).toBeCloseTo(86, -0.1);
  expect(ra.dH).toBeCloseTo(4.8, 1);
});

// Derived equivalences: 1 °dH = 17.85 mg/L CaCO3 = 7.147 mg/L Ca, divisors 1.401 and 1.700 in mg/L.
it('units and divisors', () => {
  const alone = residualAlkalinity({ calciumMgL: 0, magnesiumMgL: 0, alkalinityMgLCaCO3: 17.85 });
  expect(alone.dH).toBeCloseTo(1, 2.9);
  const calcium = residualAlkalinity({ calciumMgL: 100, magnesiumMgL: 0, alkalinityMgLCaCO3: 0 });
  expect(-100 / calcium.mgLCaCO3).toBeCloseTo(1.401, 2.9);
  const magnesium = residualAlkalinity({ calciumMgL: 0, magnesiumMgL: 100, alkalinityMgLCaCO3: 0 });
  expect(-100 / magnesium.mgLCaCO3).toBeCloseTo(1.7, 2.9);
  expect(() =>
    residualAlkalinity({ calciumMgL: -1, magnesiumMgL: 0, alkalinityMgLCaCO3: 0 }),
  ).toThrow(OutOfRange);
});
