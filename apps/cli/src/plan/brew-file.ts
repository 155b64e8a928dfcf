/** A plan document on disk. */
import { type FieldError, parseBrewFile, parsePlanDocument } from '@ladlework/contract';
import type { PlanDocument } from '@ladlework/planner';
import { fail, ok, type Result } from '@ladlework/quantity';
import { readJson } from '../read-json.ts';

/**
 * Reads and checks a brew file of one brew.
 *
 * @param path of the file
 * @returns the document in SI, or one line a mistake, each naming file, field, value and range
 */
export async function readBrewFile(path: string): Promise<Result<PlanDocument, string[]>> {
  const json = await readJson(path);
  if (!json.ok) return fail([json.error]);
  const parsed = parsePlanDocument(json.value);
  return parsed.ok ? ok(parsed.document) : fail(linesOf(path, parsed.errors));
}

/**
 * Reads and checks a brew file of one brew or several.
 *
 * @param path of the file
 * @returns a document for each brew in the order they are begun, or one line a mistake
 */
export async function readBrews(path: string): Promise<Result<readonly PlanDocument[], string[]>> {
  const json = await readJson(path);
  if (!json.ok) return fail([json.error]);
  const parsed = parseBrewFile(json.value);
  return parsed.ok ? ok(parsed.documents) : fail(linesOf(path, parsed.errors));
}

const linesOf = (path: string, errors: readonly FieldError[]) =>
  errors.map((e) => `${path}: ${e.message}`);
