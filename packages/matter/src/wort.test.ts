import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTable } from '../../../reference/read.ts';
import { OutOfRange } from './errors.ts';
import { waterDensity, waterViscosity } from './water.ts';
import { boilingRise, sucroseViscosity, wortCp, wortDensity, wortViscosity } from './wort.ts';

const extract = fc.double({ min: 0, max: 0.39, noNaN: true });
const temperature = fc.double({ min: 0, max: 104, noNaN: true });

describe('density', () => {
  // reference/data/sucrose-density.csv: ICUMSA SPS-4 (Bubnik et al. 1995).
  it.each(readTable('sucrose-density.csv').map((r) => [r.num('mass_pct'), r] as const))(
    'ICUMSA table, %d %%',
    (pct, row) => {
      for (const t of [4, 10, 15, 20, 25, 30, 40, 50, 60, 65, 70, 75, 78, 80, 90, 95, 100]) {
        expect(Math.abs(wortDensity(pct / 100, t) - row.num(`rho_${t}C`)), `${t} °C`).toBeLessThan(
          0.0051,
        );
      }
    },
  );

  // reference/data/plato-density.csv: NBS Circular 440 (1942) digits from memory, Asadi 2006 Table A.1
  // and the CRC Handbook as printed.
  it.each(readTable('plato-density.csv').map((r) => [r.num('extract_pct_mass'), r] as const))(
    'NBS Circular 440, Asadi and CRC, %d %% at 20 °C',
    (pct, row) => {
      const rho = wortDensity(pct / 100, 20);
      const sg = rho / wortDensity(0, 20);
      expect(Math.abs(sg - row.num('sg20_20_vacuum_der'))).toBeLessThan(9e-5);
      expect(Math.abs(sg - row.num('sg20_20_icumsa_polynomial_der'))).toBeLessThan(6e-6);
      expect(Math.abs(rho - row.num('rho20_crc_pub_kg_m3'))).toBeLessThan(0.11);
      if (row.has('sg20_20_asadi_2006_tableA1_pub')) {
        expect(Math.abs(sg - row.num('sg20_20_asadi_2006_tableA1_pub'))).toBeLessThan(6e-5);
      }
    },
  );

  it('water is water', () => {
    fc.assert(
      fc.property(temperature, (t) => {
        expect(wortDensity(0, t)).toBe(waterDensity(t));
      }),
    );
  });

  it('stronger is heavier, hotter above 4 °C is lighter', () => {
    fc.assert(
      fc.property(extract, fc.double({ min: 4, max: 104, noNaN: true }), (w, t) => {
        expect(wortDensity(w + 0.01, t)).toBeGreaterThan(wortDensity(w, t));
        expect(wortDensity(w, t + 1)).toBeLessThan(wortDensity(w, t));
      }),
    );
  });

  it('the shortcut rho(w,20) rho_w(t)/rho_w(20) is within 1.1 kg/m³ to 20 %', () => {
    for (const w of [0.05, 0.1, 0.15, 0.2]) {
      for (let t = 20; t <= 100; t += 10) {
        const shortcut = (wortDensity(w, 20) * waterDensity(t)) / waterDensity(20);
        expect(Math.abs(wortDensity(w, t) - shortcut)).toBeLessThan(1.15);
      }
    }
  });
});

describe('heat capacity', () => {
  // Llano Restrepo 2005, formula worked out.
  it.each([
    [0.12, 20, 3.901],
    [0.12, 65, 3.941],
    [0.12, 80, 3.955],
    [0.2, 65, 3.779],
  ])('w %d at %d °C: %d', (w, t, cp) => {
    expect(wortCp(w, t)).toBeCloseTo(cp, 2.9);
  });

  it('Bubnik/Hugot (from memory) within 0.004', () => {
    for (const pct of [5, 10, 15, 20, 30]) {
      for (const t of [20, 50, 80, 100]) {
        const other = 4.1868 - 0.0297 * pct + 4.6e-5 * pct * 100 + 7.5e-5 * pct * t;
        expect(Math.abs(wortCp(pct / 100, t) - other)).toBeLessThan(0.004);
      }
    }
  });
});

describe('boiling point rise', () => {
  // Starzak & Peacock with the published constants, algebra from memory.
  it.each([
    [0.05, 0.08],
    [0.12, 0.21],
    [0.2, 0.39],
    [0.4, 1.15],
    [0.6, 2.94],
  ])('%d: %d K', (w, rise) => {
    expect(Math.abs(boilingRise(w) - rise)).toBeLessThan(0.0051);
  });

  it('none for water, more for more', () => {
    expect(boilingRise(0)).toBe(0);
    fc.assert(
      fc.property(extract, fc.double({ min: 50, max: 110, noNaN: true }), (w, p) => {
        expect(boilingRise(w + 0.01, p)).toBeGreaterThan(boilingRise(w, p));
      }),
    );
  });
});

describe('viscosity', () => {
  // reference/data/sucrose-viscosity.csv: Perry 7th ed. Table 2-366 (Bingham & Jackson 1919).
  const rows = readTable('sucrose-viscosity.csv');
  it.each(
    rows
      .filter((r) => r.has('eta20pct_mPas_perry_pub') && r.num('t_C') >= 5 && r.num('t_C') <= 85)
      .map((r) => [r.num('t_C'), r] as const),
  )('Perry, %d °C: 20 %% within 2.6 %%, 40 %% within 6.6 %%', (t, row) => {
    expect(
      Math.abs(sucroseViscosity(0.2, t) / row.num('eta20pct_mPas_perry_pub') - 1),
    ).toBeLessThan(0.0265);
    expect(Math.abs(sucroseViscosity(0.4, t) / row.num('eta40pct_perry_pub') - 1)).toBeLessThan(
      0.0665,
    );
  });

  // The row at 0 °C lies outside the fit (5 to 85 °C) and prints the value for 1 °C.
  it.each(rows.map((r) => [r.num('t_C'), r] as const))(
    'the fit as tabulated, %d °C',
    (tabulated, row) => {
      const t = Math.max(1, tabulated);
      for (const pct of [12, 16, 20]) {
        expect(sucroseViscosity(pct / 100, t)).toBeCloseTo(row.num(`fit_${pct}pct_der`), 2.9);
      }
    },
  );

  // CRC Handbook relative viscosity at 20 °C.
  it.each([
    [5, 1.144],
    [10, 1.333],
    [12, 1.426],
    [15, 1.589],
    [20, 1.941],
  ])('CRC, %d %%: %d of water', (pct, relative) => {
    const ours = sucroseViscosity(pct / 100, 20) / waterViscosity(20);
    expect(Math.abs(ours / relative - 1)).toBeLessThan(0.026);
  });

  it('congress wort of 8.6 % at 20 °C lies in the usual 1.45 to 1.60 mPa s (EBC, from memory)', () => {
    expect(wortViscosity(0.086, 20)).toBeGreaterThan(1.45);
    expect(wortViscosity(0.086, 20)).toBeLessThan(1.6);
    expect(wortViscosity(0.12, 78)).toBeCloseTo(1.2 * sucroseViscosity(0.12, 78), 12);
  });

  it('water stays water, stronger is thicker, hotter is thinner', () => {
    fc.assert(
      fc.property(extract, temperature, (w, t) => {
        expect(wortViscosity(0, t)).toBeCloseTo(waterViscosity(t), 12);
        expect(wortViscosity(w + 0.01, t)).toBeGreaterThan(wortViscosity(w, t));
        expect(wortViscosity(w, t + 1)).toBeLessThan(wortViscosity(w, t));
      }),
    );
  });
});

it('refuses per cent where a fraction is wanted', () => {
  expect(() => wortDensity(12, 20)).toThrow(OutOfRange);
  expect(() => wortCp(12, 20)).toThrow(OutOfRange);
  expect(() => wortViscosity(12, 20)).toThrow(OutOfRange);
  expect(() => boilingRise(12)).toThrow(OutOfRange);
  expect(() => wortDensity(0.12, 150)).toThrow(OutOfRange);
});
