export type { BagEffect, BagSteps } from './bags.ts';
export {
  type HelpRow,
  type HelpTable,
  helpTable,
  type Offer,
  type PayBack,
  payBackOf,
  usualOffers,
} from './help-table.ts';
export {
  insteadOfBoiling,
  type KilnedGrist,
  type SubstituteOptions,
  type Substitution,
} from './kilned-malts.ts';
export { changedDocument, changeText, type KitChange } from './kit-change.ts';
export { METHODS, type Method } from './methods.ts';
export type { NotKept } from './not-kept.ts';
export type { Outcome } from './outcome.ts';
export { type HousePrices, maltCost, type Prices, pricesOf } from './prices.ts';
export {
  type Contradiction,
  contradictions,
  type FindingTopic,
  type PublishedFinding,
  publishedComparisons,
} from './published.ts';
export { type Scaled, type ScaleOptions, type Scaling, scaleTo } from './scale.ts';
export {
  type CompareOptions,
  type Differences,
  type Figures,
  type PairedWays,
  pairedWays,
  type Way,
  waysOf,
} from './ways.ts';
export {
  type KitDifference,
  type KitFigures,
  type WhatIf,
  type WhatIfOptions,
  type WhatIfPlan,
  whatIf,
  whatIfAll,
} from './what-if.ts';
