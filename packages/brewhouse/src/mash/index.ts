export { advanceMash, MashStepError, MashWorkspace } from './advance.ts';
export {
  betaGlucanLight,
  FAN_IN_MALT,
  fanEstimate,
  type RestAdvice,
  restAdvice,
  type SheetFinding,
} from './advice.ts';
export {
  addedMaltFromCertificate,
  checkCertificate,
  laboratoryExtract,
  type MaltCertificate,
  maltFromCertificate,
  type UsefulField,
  wkFromLintner,
} from './certificate.ts';
export { type CompiledMash, compileMash } from './compile.ts';
export { drawMalt, drawMashParameters, MASH_DRAW_DIMS, type MaltSpread } from './draws.ts';
export { MashRangeError } from './errors.ts';
export {
  DIFFERENCE_LIMIT_SD_POINTS,
  type MashCircumstances,
  mashValidity,
  STRUCTURAL_EXTRACT_SD_PCT,
  structuralLimitSd,
  type ValidityReason,
} from './honesty.ts';
export * as mashLayout from './layout.ts';
export { emptyMash, MASH_SIZE } from './layout.ts';
export {
  type AddedMalt,
  BOUND_LIMIT_DEXTRINASE,
  checkMalt,
  DEXTRIN_MALT,
  type GristPart,
  type Malt,
  type MashBrought,
  type MashedMalt,
  type MashOptions,
  STANDARD_MALT,
  startMash,
  withOptions,
} from './malt.ts';
export {
  addLiquor,
  addMash,
  clearMash,
  dryMatterKg,
  evaporate,
  extractKg,
  freeWaterKg,
  liquidKg,
  mashedExtractKg,
  rawStarchKg,
  solidsKg,
  takeShares,
  totalKg,
  wortExtractPct,
} from './mixing.ts';
export {
  BIN_SCORES,
  BIN_WEIGHTS,
  KDIS_FINE_GRIST,
  MASH_PARAMETER_SETS,
  type MashParameterSet,
  type MashParameters,
  PLAIN_PARAMETERS,
  RECOMMENDED_PARAMETERS,
} from './parameters.ts';
export { MASH_PRIORS, type Prior, SPLIT_PRIOR } from './priors.ts';
export { ENZYME_WINDOWS, type EnzymeWindow, minutesInWindow } from './rests.ts';
export { IODINE_NORMAL_BELOW, type MashResults, mashResults } from './results.ts';
export { runTrace, type TraceRecord } from './trace.ts';
export { readTraces, type TraceFault, type TraceInput, type TraceStep } from './trace-input.ts';
