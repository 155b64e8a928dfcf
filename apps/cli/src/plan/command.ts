/** `plan FILE`: plans a brew day and says whether the kit can do it. */
import { planDay, timetableOf } from '@ladlework/planner';
import { unitPair } from '@ladlework/quantity';
import { EXIT, type ExitCode, type Output, refuse, writeJson } from '../output.ts';
import { readBrewFile } from './brew-file.ts';
import { planPage } from './page.ts';
import { planJson } from './plan-json.ts';

export interface PlanCommandOptions {
  readonly json: boolean;
  readonly draws: number;
  readonly seed: number;
  readonly units: 'us' | 'metric';
}

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
  const document = await readBrewFile(file);
  if (!document.ok) return refuse(output, ...document.error);
  const plan = planDay(document.value, { draws: options.draws, seed: options.seed });
  if (options.json) {
    // A mash the kit cannot do has no day to be timed.
    const timetable = plan.feasible ? timetableOf(document.value, plan, { draws: 0 }) : undefined;
    writeJson(output, planJson(document.value, plan, timetable));
  } else output.out(planPage(document.value, plan, unitPair(options.units)));
  return plan.feasible ? EXIT.ok : EXIT.notFeasible;
}
