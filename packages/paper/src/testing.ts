/** Documents and plans for the tests of this room. */
import { parsePlanDocument } from '@ladlework/contract';
import { type Plan, type PlanDocument, planDay } from '@ladlework/planner';

/** A brew file's content. @throws Error when the file is wrong */
export function documentOf(json: unknown): PlanDocument {
  const parsed = parsePlanDocument(json);
  if (!parsed.ok) throw new Error(parsed.errors.map((e) => e.message).join('\n'));
  return parsed.document;
}

/** The plan of a brew file's content. @throws Error when the file is wrong */
export function planned(json: unknown): { readonly document: PlanDocument; readonly plan: Plan } {
  const document = documentOf(json);
  return { document, plan: planDay(document, { draws: 50 }) };
}
