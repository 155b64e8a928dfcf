export * from './brands.ts';
export * from './clock.ts';
export { EXTRACT_LIMITS, type Extract, type ExtractNotation, parseExtract } from './extract.ts';
export {
  type Band,
  type FormatOptions,
  format,
  formatBand,
  formatDuration,
  formatExtract,
} from './format.ts';
export { entryUnit, type PairOverrides, type UnitPair, type UnitStep, unitPair } from './pair.ts';
export { type ParseOptions, parseQuantity } from './parse.ts';
export * from './result.ts';
export { gravitiesIn, sentenceIn } from './sentence.ts';
export {
  findUnit,
  fromHouse,
  KINDS,
  type Kind,
  type KindMap,
  toHouse,
  type Unit,
} from './units.ts';
