/** Reading a JSON document a person wrote. */
import { readFile, stat } from 'node:fs/promises';
import { fail, ok, type Result } from '@ladlework/quantity';

/** No brew file is longer [bytes]; a larger one is another file named by mistake. */
const MOST_BYTES = 5_000_000;

/**
 * Parsed JSON of a file.
 *
 * @param path as given on the command line
 * @returns the value, or one sentence that names the file and what is wrong with it
 */
export async function readJson(path: string): Promise<Result<unknown, string>> {
  let text: string;
  try {
    const { size } = await stat(path);
    if (size > MOST_BYTES)
      return fail(`${path} is ${size} bytes; allowed: up to ${MOST_BYTES}. Name a brew file.`);
    text = await readFile(path, 'utf8');
  } catch (thrown) {
    return fail(`${path} cannot be read: ${reason(thrown)}. Check the name.`);
  }
  try {
    return ok(JSON.parse(text) as unknown);
  } catch (thrown) {
    return fail(`${path} is not JSON: ${reason(thrown)}. Mend it there.`);
  }
}

const reason = (thrown: unknown): string =>
  thrown instanceof Error ? thrown.message : String(thrown);
