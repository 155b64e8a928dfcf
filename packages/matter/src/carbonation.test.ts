import { toHouse } from '@ladlework/quantity';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTable } from '../../../reference/read.ts';
import {
  co2GramsPerLitre,
  co2Volumes,
  co2VolumesByTable,
  dissolvedCo2,
  pressureForCo2,
} from './carbonation.ts';
import { OutOfRange } from './errors.ts';

// reference/data/co2-equilibrium.csv: a printed chart of the trade, psi by °F and volumes.
const rows = readTable('co2-equilibrium.csv');

describe('printed chart', () => {
  const inBeer = rows
    .filter((r) => r.num('temp_F') <= 86)
    .map((r) => {
      const tC = toHouse('temperature', '°F', r.num('temp_F'));
      const gaugeKPa = toHouse('pressure', 'psi', r.num('psi_gauge_chart_cp'));
      return { row: r, tC, gaugeKPa, henry: co2Volumes(dissolvedCo2({ tC, gaugeKPa })) };
    });

  it('the two formulas as tabulated', () => {
    for (const { row, tC, gaugeKPa, henry } of inBeer) {
      // The table took 1.96 g/L or rounded pressures: 0.2 %.
      expect(Math.abs(henry / row.num('volumes_henry_der') - 1)).toBeLessThan(0.002);
      if (row.num('temp_F') <= 60) {
        expect(
          Math.abs(co2VolumesByTable(tC, gaugeKPa) - row.num('volumes_asbc_fit_der')),
        ).toBeLessThan(6e-4);
      }
    }
  });

  it('Henry form within 0.064 volumes, ASBC fit within 0.020 to 60 °F, root mean square', () => {
    const rms = (errors: number[]) =>
      Math.sqrt(errors.reduce((s, e) => s + e * e, 0) / errors.length);
    expect(rms(inBeer.map(({ row, henry }) => henry - row.num('volumes')))).toBeLessThan(0.07);
    const cold = inBeer.filter(({ row }) => row.num('temp_F') <= 60);
    const errors = cold.map(
      ({ row, tC, gaugeKPa }) => co2VolumesByTable(tC, gaugeKPa) - row.num('volumes'),
    );
    expect(rms(errors)).toBeLessThan(0.0205);
  });
});

// Derived from the Henry form.
it.each([
  [2, 80, 5.32],
  [10, 0, 2.27],
  [20, 0, 1.66],
])('%d °C, %d kPa: %d g/L', (tC, gaugeKPa, gPerL) => {
  expect(dissolvedCo2({ tC, gaugeKPa })).toBeCloseTo(gPerL, 1.9);
});

it('5 g/L at 20 °C stand under 2.04 bar', () => {
  expect(pressureForCo2({ tC: 20, gPerL: 5 })).toBeCloseTo(204, -0.2);
});

it('pressure and carbon dioxide undo one another; height counts', () => {
  const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  fc.assert(
    fc.property(real(0, 30), real(0, 250), real(70, 103), (tC, gaugeKPa, barometerKPa) => {
      const gPerL = dissolvedCo2({ tC, gaugeKPa, barometerKPa });
      fc.pre(gPerL <= 15);
      expect(Math.abs(pressureForCo2({ tC, gPerL, barometerKPa }) - gaugeKPa)).toBeLessThan(1e-9);
      expect(dissolvedCo2({ tC, gaugeKPa, barometerKPa: barometerKPa - 10 })).toBeLessThan(gPerL);
    }),
  );
});

it('volumes and grams', () => {
  expect(co2GramsPerLitre(2.5)).toBeCloseTo(4.9425, 10);
  expect(co2Volumes(co2GramsPerLitre(2.5))).toBeCloseTo(2.5, 12);
  expect(() => dissolvedCo2({ tC: 40, gaugeKPa: 0 })).toThrow(OutOfRange);
  expect(() => co2VolumesByTable(20, 100)).toThrow(OutOfRange);
});
