import type { Plan, PlanDocument } from '@ladlework/planner';
import { type Signal, signal } from '@preact/signals';
import { engine } from './client.ts';

export type PlanAnswer =
  | { readonly state: 'asking' }
  | { readonly state: 'here'; readonly plan: Plan }
  | { readonly state: 'failed'; readonly why: string };

const known = new Map<string, Signal<PlanAnswer>>();
/** Plans kept in memory; a day looks at one, a comparison at a few. */
const KEPT = 8;

/** The plan of a document, computed once while the page is open. */
export function planOf(document: PlanDocument): Signal<PlanAnswer> {
  const key = JSON.stringify(document);
  const found = known.get(key);
  if (found !== undefined) return found;
  const answer = signal<PlanAnswer>({ state: 'asking' });
  known.set(key, answer);
  const oldest = known.keys().next().value;
  if (known.size > KEPT && oldest !== undefined) known.delete(oldest);
  void engine.plan(document).then((result) => {
    if (result.ok) {
      answer.value = { state: 'here', plan: result.value };
      return;
    }
    // Kept as failed: a page that drew itself anew would otherwise ask for ever.
    answer.value = { state: 'failed', why: result.error.message };
  });
  return answer;
}

/** Forgets a failure, so that the next look asks again. */
export function askAgain(document: PlanDocument): void {
  const key = JSON.stringify(document);
  if (known.get(key)?.peek().state === 'failed') known.delete(key);
}

/** Takes in a plan that was just computed for this document. */
export function rememberPlan(document: PlanDocument, plan: Plan): void {
  known.set(JSON.stringify(document), signal<PlanAnswer>({ state: 'here', plan }));
}
