/** A scaled brew is found feasible by one timetable and planned by another; they must agree. */
import { fileURLToPath } from 'node:url';
import { dayStretch, type PlanDocument, planDay, scaleTo, timetableOf } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { readBrewFile } from '../plan/brew-file.ts';

async function example(name: string): Promise<PlanDocument> {
  const path = fileURLToPath(new URL(`../../../../examples/${name}.json`, import.meta.url));
  const read = await readBrewFile(path);
  if (!read.ok) throw new Error(read.error.join(' '));
  return read.value;
}

describe('a brew on another kit', () => {
  it.each([
    ['two-pull', 'four-vessels', 'half-bags'],
    ['two-pull', 'four-vessels', 'scale'],
    ['one-pull', 'four-vessels', 'half-bags'],
  ] as const)(
    '%s at 230 kg on %s in %s is feasible for the scaling and for its plan, or for neither',
    async (from, onto, bags) => {
      const found = scaleTo(await example(from), (await example(onto)).kit, { gristKg: 230, bags });
      if (!found.ok) throw new Error(found.whyNot);
      const { document } = found;
      const plan = planDay(document, { draws: 50, mash: 'off', changes: false });
      const day = timetableOf(document, plan, {
        draws: 0,
        restStretchMin: dayStretch([document]),
        budget: { nodes: 40_000 },
      });
      expect(plan.feasible).toBe(true);
      expect(day.proven).toBe('optimal');
      expect(found.feasible, found.whyNot).toBe(true);
    },
    60_000,
  );
});
