/** The document the ways are asked about: a planned brew's, or that of the brew being written down. */
import type { PlanDocument } from '@ladlework/planner';
import { brewById } from '../../data/house.ts';
import { readKept, writeKept } from '../../shell/kept.ts';
import { checkDocument } from '../checks.ts';

const KEY = 'ways.document';

/** Lays down the brew being written, for the page that is opened next. */
export function keepForWays(document: PlanDocument): void {
  writeKept(KEY, document);
}

/**
 * @param id of a brew, or `new`
 * @returns nothing when there is no such brew, or nothing was laid down
 */
export function documentForWays(id: string): PlanDocument | undefined {
  // What is in the log was checked by the contract before it came there.
  if (id !== 'new') return brewById(id)?.document as PlanDocument | undefined;
  return readKept<PlanDocument | undefined>(KEY, undefined, (raw) => {
    const kept = raw as PlanDocument;
    return checkDocument(kept).length === 0 ? kept : undefined;
  });
}
