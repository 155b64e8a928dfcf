/** `compare FILE`: the ways to brew one beer on one kit, side by side; or one question about them. */
import { type PricesFile, parseBrewFile, parseKit, parsePricesFile } from '@ladlework/contract';
import {
  type BagSteps,
  helpTable,
  insteadOfBoiling,
  menuOf,
  type PlanDocument,
  proofOfNo,
  type SubstituteOptions,
  scaleTo,
  waysOf,
} from '@ladlework/planner';
import { fail, ok, type Result, unitPair } from '@ladlework/quantity';
import { EXIT, type ExitCode, type Output, refuse, writeJson } from '../output.ts';
import { readBrewFile } from '../plan/brew-file.ts';
import { readJson } from '../read-json.ts';
import { compareJson } from './compare-json.ts';
import { insteadJson, insteadText } from './instead.ts';
import { helpJson, helpText, scaleJson, scaleText } from './kit-change-text.ts';
import { comparePage } from './page.ts';
import { publishedCommand, tastingCommand } from './tasting.ts';

export interface CompareCommandOptions {
  readonly json: boolean;
  readonly draws: number;
  readonly seed: number;
  readonly units: 'us' | 'metric';
  /** File of prices and offers. */
  readonly prices?: string;
  readonly instead?: boolean;
  readonly bags?: BagSteps;
  readonly aim?: NonNullable<SubstituteOptions['aim']>;
  readonly whatIf?: boolean;
  /** File of the other kit, and kilograms of malt there. */
  readonly toKit?: string;
  readonly grist?: number;
  /** Tasters of a blind tasting, and the right answers once it is over. */
  readonly tasting?: number;
  readonly right?: number;
  readonly published?: boolean;
}

/**
 * Compares the ways to brew a brew file, or answers the one question an option asks.
 *
 * @returns 0 when the kit can do it, 3 when it cannot, 2 when a file or an option is wrong
 */
export async function compareCommand(
  output: Output,
  file: string,
  options: CompareCommandOptions,
): Promise<ExitCode> {
  const read = await readBrewFile(file);
  if (!read.ok) return refuse(output, ...read.error);
  const priced = await readPrices(options.prices);
  if (!priced.ok) return refuse(output, ...priced.error);
  const { prices = read.value.prices, offers } = priced.value;
  const document: PlanDocument = { ...read.value, ...(prices ? { prices } : {}) };
  const { tasting } = options;
  if (options.right !== undefined && tasting === undefined)
    return refuse(output, '--right is of a tasting; say with --tasting how many tasted.');
  if (options.published) return publishedCommand(output, options.json);
  if (tasting !== undefined) return tastingCommand(output, document, { ...options, tasting });
  if (options.instead) return insteadCommand(output, document, options);
  if (options.toKit !== undefined) return scaleCommand(output, document, options.toKit, options);
  if (options.whatIf) {
    const table = helpTable(document, offers, options);
    if (options.json) writeJson(output, helpJson(table));
    else output.out(helpText(document, table, unitPair(options.units)));
    return table.rows.some((r) => r.feasible) ? EXIT.ok : EXIT.notFeasible;
  }
  const doubt = { draws: options.draws, seed: options.seed };
  const ways = waysOf(document, doubt);
  const menu = menuOf(document, doubt);
  const proof = proofOfNo(document);
  if (options.json) writeJson(output, compareJson(ways, menu, proof));
  else output.out(comparePage(document, ways, menu, proof, unitPair(options.units)));
  return ways.some((w) => w.feasible) ? EXIT.ok : EXIT.notFeasible;
}

function insteadCommand(
  output: Output,
  document: PlanDocument,
  { json, units, bags = 'scale', aim = 'own-grist' }: CompareCommandOptions,
): ExitCode {
  const found = insteadOfBoiling(document, { steps: bags, aim });
  if (json) writeJson(output, insteadJson(found));
  else output.out(insteadText(document, found, unitPair(units)));
  return found.ok ? EXIT.ok : EXIT.notFeasible;
}

async function scaleCommand(
  output: Output,
  document: PlanDocument,
  path: string,
  { json, units, bags, grist, draws, seed }: CompareCommandOptions,
): Promise<ExitCode> {
  const kit = await readKit(path);
  if (!kit.ok) return refuse(output, ...kit.error);
  const scaled = scaleTo(document, kit.value, {
    draws,
    seed,
    ...(bags === undefined ? {} : { bags }),
    ...(grist === undefined ? {} : { gristKg: grist }),
  });
  if (!scaled.ok) {
    if (json) writeJson(output, { feasible: false, why_not: scaled.whyNot });
    else output.out(`${scaled.whyNot}\n`);
    return EXIT.notFeasible;
  }
  if (json) writeJson(output, scaleJson(scaled));
  else output.out(scaleText(document, scaled, unitPair(units)));
  return scaled.feasible ? EXIT.ok : EXIT.notFeasible;
}

/** Prices and offers of a file; none when no file is named. */
async function readPrices(path: string | undefined): Promise<Result<PricesFile, string[]>> {
  if (path === undefined) return ok({});
  const json = await readJson(path);
  if (!json.ok) return fail([json.error]);
  const parsed = parsePricesFile(json.value);
  return parsed.ok ? ok(parsed.file) : fail(parsed.errors.map((e) => `${path}: ${e.message}`));
}

/** The kit of a kit file or of a brew file. */
async function readKit(path: string): Promise<Result<PlanDocument['kit'], string[]>> {
  const json = await readJson(path);
  if (!json.ok) return fail([json.error]);
  const isBrew = typeof json.value === 'object' && json.value !== null && 'kit' in json.value;
  const told = (errors: readonly { readonly message: string }[]) =>
    fail(errors.map((e) => `${path}: ${e.message}`));
  if (!isBrew) {
    const parsed = parseKit(json.value);
    return parsed.ok ? ok(parsed.kit) : told(parsed.errors);
  }
  const parsed = parseBrewFile(json.value);
  if (!parsed.ok) return told(parsed.errors);
  const [first] = parsed.documents;
  return first ? ok(first.kit) : fail([`${path} has no brew.`]);
}
