import { describe, expect, it } from 'vitest';
import { readTable } from '../../../reference/read.ts';
import { OutOfRange } from './errors.ts';
import { scaldTime, seriousBurnTime } from './scald.ts';

// reference/data/scald.csv: trade table (no source) and US CPSC wording (second hand).
const rows = readTable('scald.csv');

describe('burn time table', () => {
  it.each(rows.filter((r) => r.has('time_second_degree_s')).map((r) => [r.num('t_C'), r] as const))(
    '%d °C',
    (t, row) => {
      expect(scaldTime(t).secondDegreeS).toBeCloseTo(row.num('time_second_degree_s'), 9);
      expect(scaldTime(t).thirdDegreeS).toBeCloseTo(row.num('time_third_degree_or_serious_s'), 9);
    },
  );

  it.each(
    rows.filter((r) => r.text('mark').includes('CPSC')).map((r) => [r.num('t_C'), r] as const),
  )('US CPSC, %d °C', (t, row) => {
    expect(seriousBurnTime(t)).toBeCloseTo(row.num('time_third_degree_or_serious_s'), 9);
  });

  it('the trade rows for serious burns lie within a factor of two', () => {
    for (const [t, s] of [
      [52, 105],
      [54.4, 30],
      [57.2, 10],
      [62.8, 3],
      [65.6, 1.5],
      [68.3, 1],
    ] as const) {
      expect(seriousBurnTime(t) / s).toBeGreaterThan(0.5);
      expect(seriousBurnTime(t) / s).toBeLessThan(2);
    }
  });
});

it('half way between two rows is the geometric mean', () => {
  expect(scaldTime(50).secondDegreeS).toBeCloseTo(Math.sqrt(480 * 120), 9);
});

it('all mash at a rest of 62 °C or more burns in under 4 s', () => {
  expect(scaldTime(62).secondDegreeS).toBeLessThan(4);
  expect(scaldTime(98).secondDegreeS).toBeLessThan(4);
  expect(seriousBurnTime(98)).toBe(1);
});

it('hotter never burns slower; lukewarm liquor is not in the table', () => {
  let last = Infinity;
  for (let t = 45; t <= 100; t += 0.25) {
    const { secondDegreeS, thirdDegreeS } = scaldTime(t);
    expect(secondDegreeS).toBeLessThanOrEqual(last);
    expect(thirdDegreeS).toBeGreaterThanOrEqual(secondDegreeS);
    last = secondDegreeS;
  }
  expect(scaldTime(40).secondDegreeS).toBe(Infinity);
  expect(seriousBurnTime(45)).toBe(Infinity);
  expect(() => scaldTime(150)).toThrow(OutOfRange);
});
