/** A plan document on disk. */
import { parsePlanDocument } from '@ladlework/contract';
import type { PlanDocument } from '@ladlework/planner';
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
