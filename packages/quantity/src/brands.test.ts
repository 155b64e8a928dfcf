import { expect, expectTypeOf, it } from 'vitest';
import type { GramsPer100mL, Plato } from './brands.ts';
import {
  type Celsius,
  celsius,
  type KelvinDifference,
  kelvinDifference,
  rise,
  warmer,
} from './brands.ts';

it('a difference moves a temperature and is not one', () => {
  expect(warmer(celsius(62), kelvinDifference(8))).toBe(70);
  expect(rise(celsius(62), celsius(70))).toBe(8);
  expectTypeOf<Celsius>().not.toExtend<KelvinDifference>();
  expectTypeOf<Plato>().not.toExtend<GramsPer100mL>();
  expectTypeOf<Celsius>().toExtend<number>();
});
