/** Questions about other ways, other kits and other malts, as the engine answers them for the page. */
import {
  type HelpTable,
  helpTable,
  type PairedWays,
  type PlanDocument,
  pairedWays,
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
