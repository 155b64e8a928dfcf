/** From JSON that anybody may have written to documents the engine can trust. */
import type { Beer, PlanDocument } from '@ladlework/planner';
import * as v from 'valibot';
import { AppendBody } from './append-body.ts';
import { BeerSchema, KitSchema, PlanDocumentSchema } from './brew-file.ts';
import { type FieldError, fieldErrors } from './errors.ts';
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
  const { kit, beer, mash, day } = parsed.output;
  const document: PlanDocument = { kit, beer, mash, day };
  const errors = documentContradictions(document);
  return errors.length > 0 ? refuse(errors) : { ok: true, document };
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
