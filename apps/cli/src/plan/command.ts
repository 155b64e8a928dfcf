/** `plan FILE`: plans a brew day and says whether the kit can do it. */
import {
  dayStretch,
  type Plan,
  type PlanDocument,
  planDay,
  type Timetable,
  timetableOf,
} from '@ladlework/planner';
import { type UnitPair, unitPair } from '@ladlework/quantity';
import { EXIT, type ExitCode, type Output, refuse, writeJson } from '../output.ts';
import { readBrews } from './brew-file.ts';
import type { CalendarDay } from './calendar-day.ts';
import { planPage } from './page.ts';
import { planJson } from './plan-json.ts';
import { timetableJson, wholeDayText, writeCalendar } from './whole-day.ts';

export interface PlanCommandOptions {
  readonly json: boolean;
  readonly draws: number;
  readonly seed: number;
  readonly units: 'us' | 'metric';
  /** File the calendar goes to. */
  readonly ics?: string;
  /** File the brew sheet and the ruler charts go to, and the paper they are for. */
  readonly paper?: string;
  readonly letter?: boolean;
  /** Day of the brew, for the calendar and the sheet; left out: tomorrow, and none on the sheet. */
  readonly on?: CalendarDay;
}

/** Longer than this nobody waits for a proof; what was found by then is told as not proven. */
const PROOF_MS = 20_000;

/**
 * Plans the day of a brew file.
 *
 * @returns 0 when the kit can do it, 3 when it cannot, 2 when the file is wrong
 */
export async function planCommand(
  output: Output,
  file: string,
  options: PlanCommandOptions,
): Promise<ExitCode> {
  const read = await readBrews(file);
  if (!read.ok) return refuse(output, ...read.error);
  const documents = read.value;
  const plans = documents.map((d) => planDay(d, { draws: options.draws, seed: options.seed }));
  const brews = documents.map((document, n) => ({ document, plan: plans[n] as Plan }));
  // A mash the kit cannot do has no day to be timed.
  const mashes = plans.every((plan) => plan.feasible);
  const timetable = mashes
    ? timetableOf(documents, plans, {
        seed: options.seed,
        restStretchMin: dayStretch(documents),
        budget: { ms: PROOF_MS, nowMs: () => performance.now() },
      })
    : undefined;
  const feasible = mashes && timetable?.proven !== 'infeasible';
  if (options.json) writeJson(output, dayJson(brews, feasible, timetable));
  else output.out(dayPage(brews, timetable, unitPair(options.units)));
  if (options.ics !== undefined && timetable !== undefined && timetable.activities.length > 0) {
    const name = documents.map((d) => d.beer.name).join(', ');
    await writeCalendar(options.ics, timetable, name, options.on, Date.now());
  } else if (options.ics !== undefined) {
    output.err(`${options.ics} is not written: this day has no timetable.\n`);
  }
  if (options.paper !== undefined && feasible) {
    const { writePaper } = await import('./paper-file.ts');
    const written = await writePaper(brews, {
      path: options.paper,
      letter: options.letter ?? false,
      pair: unitPair(options.units),
      on: options.on,
      printedAt: new Date(),
    });
    if (!options.json) output.out(`\n${written}\n`);
  } else if (options.paper !== undefined) {
    output.err(`${options.paper} is not written: a day that cannot be done has no sheet.\n`);
  }
  return feasible ? EXIT.ok : EXIT.notFeasible;
}

interface Brew {
  readonly document: PlanDocument;
  readonly plan: Plan;
}

/** One brew is its plan; several stand in a list, over one timetable. */
function dayJson(brews: readonly Brew[], feasible: boolean, timetable: Timetable | undefined) {
  const times = timetable === undefined ? {} : { timetable: timetableJson(timetable) };
  const plans = brews.map((b) => planJson(b.document, b.plan));
  return plans.length === 1
    ? { ...plans[0], feasible, ...times }
    : { feasible, brews: plans, ...times };
}

function dayPage(brews: readonly Brew[], timetable: Timetable | undefined, pair: UnitPair): string {
  const pages = brews.map((b) => planPage(b.document, b.plan, pair));
  const [first] = brews;
  if (timetable !== undefined && first !== undefined)
    pages.push(`${wholeDayText(first.document, timetable, pair)}\n`);
  return pages.join('\n');
}
