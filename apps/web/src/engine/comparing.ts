/** Questions about other ways, other kits and other malts, as the engine answers them for the page. */
import { type PairedWays, type PlanDocument, pairedWays } from '@ladlework/planner';

/** Draws behind the bands of a comparison; the brewer waits for every one of them eight times over. */
const WAY_DRAWS = 60;

export const ways = (document: PlanDocument): PairedWays =>
  pairedWays(document, { draws: WAY_DRAWS });
