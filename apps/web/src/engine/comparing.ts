/** Questions about other ways, other kits and other malts, as the engine answers them for the page. */
import {
  type HelpTable,
  helpTable,
  insteadOfBoiling,
  type Menu,
  type PairedWays,
  type PlanDocument,
  type Proof,
  pairedWays,
  proofOfNo,
  type Scaling,
  type SearchProgress,
  type Substitution,
  scaleTo,
  searchPlans,
  type WhatIfPlan,
  whatIfAll,
} from '@ladlework/planner';
import type { EngineCalls } from './protocol.ts';

/** Draws behind the bands of a comparison; the brewer waits for every one of them eight times over. */
const WAY_DRAWS = 60;
/** Fewer where the page follows a slider. */
const WHAT_IF_DRAWS = 40;

export const ways = (document: PlanDocument): PairedWays =>
  pairedWays(document, { draws: WAY_DRAWS });

export const whatIf = ({ document, changes }: EngineCalls['whatIf']['ask']): WhatIfPlan =>
  whatIfAll(document, changes, { draws: WHAT_IF_DRAWS });

export const help = (document: PlanDocument): HelpTable =>
  helpTable(document, undefined, { draws: WHAT_IF_DRAWS });

/** How often the page hears of a search [ms]. */
const TELL_MS = 100;

/** The menu, told of on the way; the page ends it by ending the thread. */
export function search(
  { document, targets }: EngineCalls['search']['ask'],
  tell: (progress: SearchProgress) => void,
): Menu {
  const steps = searchPlans(document, targets);
  let toldMs = Number.NEGATIVE_INFINITY;
  let step = steps.next();
  for (; !step.done; step = steps.next()) {
    if (performance.now() - toldMs < TELL_MS) continue;
    toldMs = performance.now();
    tell(step.value);
  }
  return step.value;
}

export const no = ({ document, targets }: EngineCalls['no']['ask']): Proof | undefined =>
  proofOfNo(document, { targets });

export const instead = ({ document, options }: EngineCalls['instead']['ask']): Substitution =>
  insteadOfBoiling(document, options);

export const scale = ({ document, kit, options }: EngineCalls['scale']['ask']): Scaling =>
  scaleTo(document, kit, options);
