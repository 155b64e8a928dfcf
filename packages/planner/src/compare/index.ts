export type { MenuAxes } from './candidates.ts';
export type { KilnedGrist } from './kilned-malts.ts';
export { type Menu, type MenuOptions, type MenuPlan, menuOf } from './menu.ts';
export { METHODS, type Method } from './methods.ts';
export { DEFAULT_PRICES, type Outcome, type Prices } from './outcome.ts';
export { type CompareOptions, type Differences, type Figures, type Way, waysOf } from './ways.ts';
