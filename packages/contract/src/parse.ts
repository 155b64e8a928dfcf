/** From JSON that anybody may have written to documents the engine can trust. */
import type { Beer, PlanDocument } from '@ladlework/planner';
import * as v from 'valibot';
import { AppendBody } from './append-body.ts';
import { BeerSchema, BrewsFileSchema, KitSchema, PlanDocumentSchema } from './brew-file.ts';
import { contradiction, type FieldError, fieldErrors } from './errors.ts';
import { kitContradictions } from './kit-check.ts';
import { documentContradictions } from './mash-check.ts';
import type { Kit } from './parts.ts';

/** More mistakes than this are not a slip; the first ones tell enough. */
const MOST_ERRORS = 40;

export type Parsed<K extends string, T> =
  | ({ readonly ok: true } & { readonly [P in K]: T })
  | { readonly ok: false; readonly errors: readonly FieldError[] };

/**
 * Checks a plan document: shape, units and ranges first, then whether it contradicts itself.
 *
 * @param json parsed JSON; quantities as numbers in SI or text with a unit
 * @returns the document in SI, or every mistake found (at most 40)
 */
export function parsePlanDocument(json: unknown): Parsed<'document', PlanDocument> {
  const parsed = v.safeParse(PlanDocumentSchema, json);
  if (!parsed.success) return refuse(fieldErrors(json, parsed.issues));
  const { $schema: _schema, ...document } = parsed.output;
  const errors = documentContradictions(document);
  return errors.length > 0 ? refuse(errors) : { ok: true, document };
}

/**
 * Checks a brew file, of one brew or of several over one kit (`brews`).
 *
 * @param json parsed JSON; quantities as numbers in SI or text with a unit
 * @returns a document for each brew in the order they are begun, or every mistake found (at most 40)
 */
export function parseBrewFile(json: unknown): Parsed<'documents', readonly PlanDocument[]> {
  if (typeof json !== 'object' || json === null || !Object.hasOwn(json, 'brews')) {
    const one = parsePlanDocument(json);
    return one.ok ? { ok: true, documents: [one.document] } : one;
  }
  const parsed = v.safeParse(BrewsFileSchema, json);
  if (!parsed.success) return refuse(fieldErrors(json, parsed.issues));
  const { $schema: _schema, brews, ...house } = parsed.output;
  const documents = brews.map((brew): PlanDocument => ({ ...house, ...brew }));
  const errors = documents.flatMap((document, n) => [
    ...documentContradictions(document).flatMap((e) => inBrew(e, n)),
    ...minuteZeroErrors(documents, n),
  ]);
  return errors.length > 0 ? refuse(errors) : { ok: true, documents };
}

/** A mistake of one brew, told where it stands in the file; those of the kit only once. */
function inBrew(error: FieldError, n: number): FieldError[] {
  if (/^kit\b/.test(error.field)) return n === 0 ? [error] : [];
  const at = `brews[${n}].`;
  return [{ ...error, field: `${at}${error.field}`, message: `${at}${error.message}` }];
}

/** All minutes of a day count from one hour, whichever brew they belong to. */
function minuteZeroErrors(documents: readonly PlanDocument[], n: number): FieldError[] {
  const first = documents[0]?.day.startMin;
  const own = documents[n]?.day.startMin;
  if (own === first) return [];
  const allowed = `${first} min, as the first brew`;
  const why = `the day begins ${first} min after midnight with its first brew, and a later brew begins when the timetable has room for it; allowed: ${allowed}.`;
  return [contradiction({ brews: documents }, ['brews', n, 'day', 'startMin'], own, allowed, why)];
}

/** Checks a kit by itself. */
export function parseKit(json: unknown): Parsed<'kit', Kit> {
  const parsed = v.safeParse(KitSchema, json);
  if (!parsed.success) return refuse(fieldErrors(json, parsed.issues));
  const errors = kitContradictions(parsed.output);
  return errors.length > 0 ? refuse(errors) : { ok: true, kit: parsed.output };
}

/** Checks a beer by itself. */
export function parseBeer(json: unknown): Parsed<'beer', Beer> {
  const parsed = v.safeParse(BeerSchema, json);
  if (!parsed.success) return refuse(fieldErrors(json, parsed.issues));
  return { ok: true, beer: parsed.output };
}

/**
 * Opens a batch of events. The events themselves are left to `parseEvent`, one by one.
 *
 * @param json body of a request
 */
export function parseAppendBody(json: unknown): Parsed<'events', readonly unknown[]> {
  const parsed = v.safeParse(AppendBody, json);
  if (!parsed.success) return refuse(fieldErrors(json, parsed.issues));
  return { ok: true, events: parsed.output.events };
}

function refuse(errors: readonly FieldError[]) {
  return { ok: false as const, errors: errors.slice(0, MOST_ERRORS) };
}
