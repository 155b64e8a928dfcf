export type { SearchAxes } from './axes.ts';
export type { Freed, LimitCode } from './limits.ts';
export type { Landing, Menu, MenuPlan, SearchProgress } from './menu.ts';
export { type ClashLimit, type ClashSet, type Proof, proofOfNo } from './proof.ts';
export { type MenuOptions, menuOf, type SearchOptions, searchPlans } from './search.ts';
export type { RestWish, Targets } from './targets.ts';
