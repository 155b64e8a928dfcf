/** Which faults a rehearsal is asked for. */
import {
  brewDay,
  FAULTS,
  type FaultName,
  type PlanDocument,
  surpriseFaults,
} from '@ladlework/planner';
import { fail, ok, type Result } from '@ladlework/quantity';

const SURPRISE = 'surprise';

/**
 * Reads a list of faults.
 *
 * @param text names with commas between, or `surprise` for what the seed chooses; empty for none
 * @param document the day, which decides what a surprise can be
 * @param seed of the surprise
 * @returns the names, each once, or what is wrong with the first that is none
 */
export function readFaults(
  text: string,
  document: PlanDocument,
  seed: number,
): Result<FaultName[], string> {
  const names = new Set<FaultName>();
  for (const part of text.split(',').map((p) => p.trim())) {
    if (part === '') continue;
    if (part === SURPRISE) {
      for (const name of surpriseFaults(brewDay(document), seed)) names.add(name);
      continue;
    }
    const known = FAULTS.find((name) => name === part);
    if (known === undefined)
      return fail(`--faults: ${part} is no fault; allowed: ${FAULTS.join(', ')}, or ${SURPRISE}.`);
    names.add(known);
  }
  return ok([...names]);
}
