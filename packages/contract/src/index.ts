export * from './api-schema.ts';
export { AppendBody, MOST_EVENTS } from './append-body.ts';
export * from './day-entries.ts';
export type { FieldError } from './errors.ts';
export { parseEvent } from './event-schema.ts';
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
export { summaryOf } from './summary-of.ts';
