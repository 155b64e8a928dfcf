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
  ask(document, answer);
  return answer;
}

function ask(document: PlanDocument, answer: Signal<PlanAnswer>): void {
  void engine.plan(document).then((result) => {
    // Kept as failed: a page that drew itself anew would otherwise ask for ever.
    answer.value = result.ok
      ? { state: 'here', plan: result.value }
      : { state: 'failed', why: result.error.message };
  });
}

/** Asks once more where there was no answer; the page that shows the failure follows. */
export function askAgain(document: PlanDocument): void {
  const answer = known.get(JSON.stringify(document));
  if (answer?.peek().state !== 'failed') return;
  answer.value = { state: 'asking' };
  ask(document, answer);
}

/** Takes in a plan that was just computed for this document. */
export function rememberPlan(document: PlanDocument, plan: Plan): void {
  known.set(JSON.stringify(document), signal<PlanAnswer>({ state: 'here', plan }));
}
