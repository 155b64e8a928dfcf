import { toHouse } from '@ladlework/quantity';
import { describe, expect, it } from 'vitest';
import { readTable } from '../../../reference/read.ts';
import { barrelEquivalent, barrelsForDay } from './barrels.ts';
import { OutOfRange } from './errors.ts';

// reference/data/barrel-equivalents.csv: 27 CFR 25.156 and 25.158.
describe('27 CFR 25.156 and 25.158', () => {
  it.each(
    readTable('barrel-equivalents.csv').map(
      (r) => [r.text('size'), r.text('unit'), r.num('containers'), r] as const,
    ),
  )('%s %s x %d', (size, unit, count, row) => {
    const litres = toHouse('volume', unit === 'mL' ? 'mL' : 'fl oz', Number(size));
    expect(barrelEquivalent(litres, count)).toBe(row.num('barrel_equivalent'));
  });
});

it('a keg is what it is called', () => {
  for (const n of [2, 3, 4, 6, 8]) {
    const keg = toHouse('volume', 'gal', 31 / n);
    expect(barrelEquivalent(keg, 1)).toBe(Number((1 / n).toFixed(5)));
  }
});

it('the day is summed first, then rounded: 7 halves, 3 sixths and 12 cases are 4.87', () => {
  const half = barrelEquivalent(toHouse('volume', 'gal', 15.5), 1);
  const sixth = barrelEquivalent(toHouse('volume', 'gal', 31 / 6), 1);
  const crate = barrelEquivalent(toHouse('volume', 'fl oz', 12), 24);
  const day = [...Array(7).fill(half), ...Array(3).fill(sixth), ...Array(12).fill(crate)];
  expect(barrelsForDay(day)).toBe(4.87);
  expect(barrelsForDay([])).toBe(0);
});

it('refuses half a container', () => {
  expect(() => barrelEquivalent(0.355, 1.5)).toThrow(OutOfRange);
  expect(() => barrelEquivalent(0, 1)).toThrow(OutOfRange);
});
