/** `compare FILE`: the ways to brew one beer on one kit, side by side. */
import { menuOf, waysOf } from '@ladlework/planner';
import { unitPair } from '@ladlework/quantity';
import { EXIT, type ExitCode, type Output, refuse, writeJson } from '../output.ts';
import { readBrewFile } from '../plan/brew-file.ts';
import type { PlanCommandOptions } from '../plan/command.ts';
import { compareJson } from './compare-json.ts';
import { comparePage } from './page.ts';

/**
 * Compares the ways to brew a brew file.
 *
 * @returns 0 when the kit can do one of them, 3 when it can do none, 2 when the file is wrong
 */
export async function compareCommand(
  output: Output,
  file: string,
  options: PlanCommandOptions,
): Promise<ExitCode> {
  const document = await readBrewFile(file);
  if (!document.ok) return refuse(output, ...document.error);
  const doubt = { draws: options.draws, seed: options.seed };
  const ways = waysOf(document.value, doubt);
  const menu = menuOf(document.value, doubt);
  if (options.json) writeJson(output, compareJson(ways, menu));
  else output.out(comparePage(document.value, ways, menu, unitPair(options.units)));
  return ways.some((w) => w.feasible) ? EXIT.ok : EXIT.notFeasible;
}
