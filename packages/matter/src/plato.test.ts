import { fromHouse, plato, specificGravity, gramsPer100mL as wv } from '@ladlework/quantity';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDocument, readTable } from '../../../reference/read.ts';
import { OutOfRange } from './errors.ts';
import {
  gramsPer100mL,
  platoFromGramsPer100mL,
  platoFromSg,
  sgFromPlato,
  toPlato,
  toSg,
} from './plato.ts';

describe('NBS Circular 440 (1942), SG 20/20 in air', () => {
  it.each(readTable('plato-density.csv').map((r) => [r.num('extract_pct_mass'), r] as const))(
    '%d °P',
    (p, row) => {
      const error = Math.abs(platoFromSg(row.num('sg20_20_in_air_der')) - p);
      // Five decimals of SG are worth 0.0013 °P either way.
      expect(error).toBeLessThan(p <= 20 ? 0.002 + 0.0013 : 0.025 + 0.0013);
    },
  );

  it.each([
    [10, 1.04003],
    [12, 1.04837],
    [16, 1.06542],
    [20, 1.08297],
  ])('%d °P is %d', (p, sg) => {
    expect(sgFromPlato(p).toFixed(5)).toBe(sg.toFixed(5));
  });
});

// reference/data/plato-extract.csv, derived from the two cubics.
it.each(readTable('plato-extract.csv').map((r) => [r.num('plato'), r] as const))(
  'extract by volume, %d °P',
  (p, row) => {
    expect(Math.abs(sgFromPlato(p) - row.num('sg_20_20_asbc_cubic_der'))).toBeLessThan(1.1e-5);
    expect(Math.abs(gramsPer100mL(p) - row.num('g_per_100mL_20C_der'))).toBeLessThan(
      p <= 20 ? 0.001 : 0.005,
    );
    const lbPerBarrel = fromHouse('mass', 'lb', (gramsPer100mL(p) / 100) * 117.347765304);
    expect(Math.abs(lbPerBarrel - row.num('lb_per_US_bbl_der'))).toBeLessThan(
      p <= 20 ? 0.002 : 0.013,
    );
  },
);

// MEBAK B-400.32.530, second hand.
interface Check {
  readonly id: string;
  readonly inp: number;
  readonly out: number;
  readonly tol: number;
}
it.each(
  readDocument<Check[]>('wort-checks.json')
    .filter((c) => c.id.startsWith('wv-'))
    .map((c) => [c.inp, c.out, c.tol] as const),
)('MEBAK: %d %% w/w is %d g/100 mL', (inp, out, tol) => {
  expect(Math.abs(gramsPer100mL(inp) - out)).toBeLessThanOrEqual(tol);
});

// ASBC prints 32.45 lb of extract in a US barrel of 12 °P, second hand; weighed in air, which takes
// 0.0012 kg from every litre of wort's 1.0464.
it('12 °P: 12.557 kg/hL and 32.46 lb in a US barrel', () => {
  const checks = readDocument<{
    readonly 'K2 extract': {
      readonly kg_extract_per_hL: number;
      readonly lb_per_US_bbl_in_air: number;
      readonly published_lb_per_bbl: number;
    };
  }>('physics-checks.json')['K2 extract'];
  expect(Math.abs(gramsPer100mL(12) - checks.kg_extract_per_hL)).toBeLessThan(0.0015);
  const inAir = (1.0464 - 0.0012) / 1.0464;
  const lb = fromHouse('mass', 'lb', (gramsPer100mL(12) / 100) * 117.347765304) * inAir;
  expect(Math.abs(lb - checks.lb_per_US_bbl_in_air)).toBeLessThan(0.015);
  expect(Math.abs(lb - checks.published_lb_per_bbl)).toBeLessThan(0.015);
});

describe('there and back', () => {
  const anyP = fc.double({ min: -4.9, max: 39.9, noNaN: true });
  it('°P and SG', () => {
    fc.assert(
      fc.property(anyP, (p) => {
        expect(Math.abs(platoFromSg(sgFromPlato(p)) - p)).toBeLessThan(1e-9);
      }),
    );
  });
  it('°P and g/100 mL', () => {
    fc.assert(
      fc.property(anyP, (p) => {
        expect(Math.abs(platoFromGramsPer100mL(gramsPer100mL(p)) - p)).toBeLessThan(1e-9);
      }),
    );
  });
  it('heavier is stronger', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.98, max: 1.179, noNaN: true }), (sg) => {
        expect(platoFromSg(sg + 0.001)).toBeGreaterThan(platoFromSg(sg));
      }),
    );
  });
  it('a tagged extract in any notation', () => {
    expect(toPlato({ notation: 'sg', value: specificGravity(1.04837) })).toBeCloseTo(12, 2);
    expect(toPlato({ notation: 'g/100mL', value: wv(12.558) })).toBeCloseTo(12, 2);
    expect(toPlato({ notation: 'plato', value: plato(12) })).toBe(12);
    expect(toSg({ notation: 'plato', value: plato(12) })).toBeCloseTo(1.04837, 5);
    expect(toSg({ notation: 'sg', value: specificGravity(1.05) })).toBe(1.05);
  });
});

it('refuses what is neither beer nor wort', () => {
  expect(() => platoFromSg(12)).toThrow(OutOfRange);
  expect(() => sgFromPlato(77)).toThrow(OutOfRange);
  expect(() => platoFromGramsPer100mL(60)).toThrow(OutOfRange);
});
