export { binomialAtLeast } from './binomial.ts';
export { type BoundedFit, boundedLeastSquares } from './bounded-least-squares.ts';
export { type DenseEquations, denseSystem } from './dense-system.ts';
export { Dopri5Workspace, dopri5Step, integrateDopri5, type RateEquations } from './dopri5.ts';
export { drawMatrix } from './draws.ts';
export { NumericsRangeError } from './errors.ts';
export {
  type LinearAnswer,
  type LinearProgramme,
  type LinearRow,
  solveLinear,
} from './linear-programme.ts';
export { normalCdf, normalDensity, normalQuantile } from './normal.ts';
export { lognormal, normal, type Random, seededRandom, truncatedNormal } from './random.ts';
export {
  type Integration,
  integrateRodas5P,
  Rodas5PWorkspace,
  rodas5pStep,
  type StepControl,
  type StiffSystem,
} from './rodas5p.ts';
export { findRoot, type RootOptions, type RootResult, secant } from './roots.ts';
export {
  type Band,
  band,
  effectiveSampleSize,
  quantile,
  sortedQuantile,
  weightedMean,
  weightedQuantile,
  weightedSd,
} from './statistics.ts';
