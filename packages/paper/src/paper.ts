/** What a brew day has on paper: its ruler charts, one a return. */
import { type Plan, type PlanDocument, returnRulers } from '@ladlework/planner';
import type { UnitPair } from '@ladlework/quantity';
import type { PaperPage, PaperSize } from './drawing.ts';
import { rulerChart } from './ruler-chart.ts';

export interface PaperFacts {
  readonly size: PaperSize;
  readonly pair: UnitPair;
  /** What the brew is told apart by, and when it was printed, as they are to be read. */
  readonly brew: string;
  readonly printed: string;
}

export interface Paper {
  readonly pages: readonly PaperPage[];
  /** Returns without a chart: their pot does not reach the target over readings worth one. */
  readonly withoutChart: readonly number[];
}

/**
 * The pages of a brew day.
 *
 * @param document kit, beer, mash and day
 * @param plan made from it, feasible
 * @param facts paper, units, names
 * @throws UnknownName when the document names what its kit does not have
 */
export function paperOf(document: PlanDocument, plan: Plan, facts: PaperFacts): Paper {
  const { kit, beer, mash } = document;
  const nameOf = (id: string) => kit.vessels.find((v) => v.id === id)?.name ?? id;
  const brew = [`${beer.name} on ${kit.name}`, facts.brew, `printed ${facts.printed}`]
    .filter((part) => part !== '')
    .join(' · ');
  const rulers = returnRulers(
    document,
    plan.moves.map((m) => m.move),
  );
  const charts = rulers.map((ruler) => {
    const { size, pair } = facts;
    const page = rulerChart(ruler, { size, pair, nameOf, brew, liquorLPerKg: mash.liquorLPerKg });
    return { pull: ruler.pull, page };
  });
  return {
    pages: charts.flatMap(({ page }) => (page === undefined ? [] : [page])),
    withoutChart: charts.flatMap(({ pull, page }) => (page === undefined ? [pull] : [])),
  };
}
