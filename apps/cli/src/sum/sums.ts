/** Every sum, in the order of a brew day. */
import { BEER_SUMS } from './beer-sums.ts';
import { BOIL_SUMS } from './boil-sums.ts';
import { CELLAR_SUMS } from './cellar-sums.ts';
import { LIQUOR_SUMS } from './liquor-sums.ts';
import { MASH_SUMS } from './mash-sums.ts';
import type { Sum } from './sum.ts';
import { WORT_SUMS } from './wort-sums.ts';

export const SUMS: readonly Sum[] = [
  ...LIQUOR_SUMS,
  ...MASH_SUMS,
  ...WORT_SUMS,
  ...BOIL_SUMS,
  ...CELLAR_SUMS,
  ...BEER_SUMS,
];
