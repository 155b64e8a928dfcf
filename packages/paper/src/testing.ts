/** Invented days for the tests of this room. */

import { parsePlanDocument } from '@ladlework/contract';
import { type Plan, type PlanDocument, planDay } from '@ladlework/planner';

/** The plan of a brew file's text. @throws Error when the file is wrong */
export function planned(json: unknown): { readonly document: PlanDocument; readonly plan: Plan } {
  const parsed = parsePlanDocument(json);
  if (!parsed.ok) throw new Error(parsed.errors.map((e) => e.message).join('\n'));
  return { document: parsed.document, plan: planDay(parsed.document, { draws: 50 }) };
}
