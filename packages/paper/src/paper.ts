/** What a brew day has on paper: its sheet, then its ruler charts, one a return. */
import { summaryOf } from '@ladlework/contract';
import type { PlanSummary } from '@ladlework/log';
import { type Plan, type PlanDocument, returnRulers } from '@ladlework/planner';
import type { UnitPair } from '@ladlework/quantity';
import type { PaperPage, PaperSize } from './drawing.ts';
import { rulerChart } from './ruler-chart.ts';
import { brewSheet } from './sheet.ts';

export interface PaperFacts {
  readonly size: PaperSize;
  readonly pair: UnitPair;
  /** What the brew is told apart by, and when it was printed, as they are to be read. */
  readonly brew: string;
  readonly printed: string;
  /** Of the plan as the log keeps it; left out: made from the plan. */
  readonly summary?: PlanSummary;
}

export interface Paper {
  readonly pages: readonly PaperPage[];
  /** How many of them are the sheet; one, unless the day is too long for one. */
  readonly sheetPages: number;
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
  const { size, pair } = facts;
  const charts = rulers.map((ruler) => ({
    pull: ruler.pull,
    page: rulerChart(ruler, { size, pair, nameOf, brew, liquorLPerKg: mash.liquorLPerKg }),
  }));
  const withoutChart = charts.flatMap(({ pull, page }) => (page === undefined ? [pull] : []));
  const remarks = withoutChart.map(
    (pull) =>
      `Return ${pull} has no ruler chart: as planned, its pot reaches the target over too few readings. Return it all, read, and mend.`,
  );
  const sheet = brewSheet(document, plan, facts.summary ?? summaryOf(plan), { ...facts, remarks });
  return {
    pages: [...sheet, ...charts.flatMap(({ page }) => (page === undefined ? [] : [page]))],
    sheetPages: sheet.length,
    withoutChart,
  };
}
