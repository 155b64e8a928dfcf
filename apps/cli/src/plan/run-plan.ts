/** A plan document on disk, planned with the mash kinetics. */
import { parsePlanDocument } from '@ladlework/contract';
import { type Plan, type PlanDocument, planDay } from '@ladlework/planner';
import { fail, ok, type Result } from '@ladlework/quantity';
import { readJson } from '../read-json.ts';

/**
 * Reads and checks a brew file.
 *
 * @param path of the file
 * @returns the document in SI, or one line a mistake, each naming file, field, value and range
 */
export async function readBrewFile(path: string): Promise<Result<PlanDocument, string[]>> {
  const json = await readJson(path);
  if (!json.ok) return fail([json.error]);
  const parsed = parsePlanDocument(json.value);
  return parsed.ok ? ok(parsed.document) : fail(parsed.errors.map((e) => `${path}: ${e.message}`));
}

/**
 * Plans a brew day with the mash kinetics in every draw.
 *
 * @param document from {@link readBrewFile}
 * @param draws behind every band, 50-5000
 * @param seed 32-bit integer; the same gives the same plan
 */
export function planDocument(document: PlanDocument, draws: number, seed: number): Plan {
  return planDay(document, { draws, seed });
}
