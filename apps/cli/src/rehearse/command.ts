/** `rehearse FILE`: a brew day on a kit nobody knows, played by the tool's own advice. */
import {
  type Plan,
  type PlanDocument,
  planDay,
  type Rehearsal,
  rehearse,
} from '@ladlework/planner';
import { formatClock, unitPair } from '@ladlework/quantity';
import { EXIT, type ExitCode, type Output, refuse, writeJson } from '../output.ts';
import { readBrews } from '../plan/brew-file.ts';
import { jsonNames } from '../plan/json-names.ts';
import { readFaults } from './faults.ts';
import { rehearsalPage } from './page.ts';

export interface RehearseCommandOptions {
  readonly json: boolean;
  readonly seed: number;
  readonly faults: string;
  readonly draws: number;
  readonly units: 'us' | 'metric';
}

/**
 * Rehearses the brews of a file.
 *
 * @returns 0 when it was played, 3 when the kit cannot do the day, 2 when file or faults are wrong
 */
export async function rehearseCommand(
  output: Output,
  file: string,
  options: RehearseCommandOptions,
): Promise<ExitCode> {
  const read = await readBrews(file);
  if (!read.ok) return refuse(output, ...read.error);
  const played: { document: PlanDocument; plan: Plan; rehearsal: Rehearsal }[] = [];
  for (const document of read.value) {
    const faults = readFaults(options.faults, document, options.seed);
    if (!faults.ok) return refuse(output, faults.error);
    const plan = planDay(document, { draws: options.draws, changes: false, wort: false });
    if (!plan.feasible) return impossible(output, document, plan, options.json);
    const moves = plan.moves.map((m) => m.move);
    const { seed, draws } = options;
    const rehearsal = rehearse(document, moves, { seed, faults: faults.value, draws });
    played.push({ document, plan, rehearsal });
  }
  if (options.json) {
    const [first, ...more] = played.map((p) => rehearsalJson(p.document, p.plan, p.rehearsal));
    writeJson(output, more.length === 0 ? first : { feasible: true, brews: [first, ...more] });
  } else {
    const pair = unitPair(options.units);
    const pages = played.map((p) => rehearsalPage(p.document, p.plan, p.rehearsal, pair));
    output.out(pages.join('\n'));
  }
  return EXIT.ok;
}

function impossible(output: Output, document: PlanDocument, plan: Plan, json: boolean): ExitCode {
  if (json) writeJson(output, { feasible: false, clashes: plan.clashes, returns: [] });
  else {
    output.err(`${document.beer.name} cannot be rehearsed: ${document.kit.name} cannot do it.\n`);
    for (const clash of plan.clashes) output.err(`  ${clash.text}\n`);
    output.err('ladlework plan says what would free it.\n');
  }
  return EXIT.notFeasible;
}

function rehearsalJson(document: PlanDocument, plan: Plan, rehearsal: Rehearsal) {
  const { seed, returns, finishMin, readings, faults } = rehearsal;
  return {
    feasible: true,
    seed,
    returns: returns.map((r) => ({
      pull: r.pull,
      target_C: r.targetC,
      landed_C: r.landedC,
      textbook_C: r.textbookC,
      returned_C: r.returnedC,
      at_min: r.atMin,
      mends: r.mends.map((m) => ({ code: m.code, text: m.text, minutes: m.minutes })),
      ...(r.forecast === undefined
        ? {}
        : { forecast_C: r.forecast.bandC, unread_C: r.forecast.trulyC }),
    })),
    finish_min: finishMin,
    finish: formatClock(document.day.startMin + finishMin),
    planned_finish_min: plan.mashEndMin,
    readings,
    faults: faults.map((f) => ({
      fault: f.fault.name,
      pull: f.fault.pull,
      size: f.fault.size,
      met: f.met,
      text: f.text,
      ...(f.atMin === undefined ? {} : { at_min: f.atMin }),
      ...(f.how === undefined ? {} : { how: f.how }),
    })),
    hidden_kit: jsonNames(rehearsal.truth),
  };
}
