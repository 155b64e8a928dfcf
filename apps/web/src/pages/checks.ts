/** What is wrong with what was typed, in the contract's words: one check for page, file and server. */
import type { Kit } from '@ladlework/brewhouse';
import { type FieldError, parseBeer, parseKit, parsePlanDocument } from '@ladlework/contract';
import type { Beer, PlanDocument } from '@ladlework/planner';

export type Complaint = FieldError;

export function checkKit(kit: Kit): readonly Complaint[] {
  const parsed = parseKit(kit);
  return parsed.ok ? [] : parsed.errors;
}

export function checkBeer(beer: Beer): readonly Complaint[] {
  const parsed = parseBeer(beer);
  return parsed.ok ? [] : parsed.errors;
}

export function checkDocument(document: PlanDocument): readonly Complaint[] {
  const parsed = parsePlanDocument(document);
  return parsed.ok ? [] : parsed.errors;
}
