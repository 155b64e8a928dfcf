export * from './api-schema.ts';
export { AppendBody, MOST_EVENTS } from './append-body.ts';
export * from './day-entries.ts';
export type { FieldError } from './errors.ts';
export { parseEvent, STREAM_NAME } from './event-schema.ts';
export { planJsonSchema } from './json-schema.ts';
export { openApiDocument } from './openapi.ts';
export {
  type Parsed,
  parseAppendBody,
  parseBeer,
  parseBrewFile,
  parseKit,
  parsePlanDocument,
} from './parse.ts';
export { type PricesFile, parsePricesFile } from './prices-file.ts';
export { probeEntries, probeEntryId } from './probe-entries.ts';
export {
  MOST_READINGS,
  type ProbeSeries,
  parseProbeReadings,
  probeContradictions,
  type SentReading,
} from './probe-schema.ts';
export { mayWrite, ROLES, type Role } from './roles.ts';
export { summaryMove, summaryOf } from './summary-of.ts';
