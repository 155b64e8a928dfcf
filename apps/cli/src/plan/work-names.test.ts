/** The record names work by what was logged, the timetable by what it planned: the same words. */
import { fileURLToPath } from 'node:url';
import { workText } from '@ladlework/log';
import { planDay, timetableOf } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { readBrewFile } from './brew-file.ts';

/** Nobody taps these, so the record never names them. */
const UNTAPPED = /^(event-|break-|read-|foam)/;
/** The record stands alone and leaves out vessel and additions, so only the first word is held. */
const firstWord = (text: string) => text.toLowerCase().split(/[\s,:]/)[0];

describe('work of the timetable', () => {
  it.each(['two-pull', 'four-vessels', 'kettle-mash'])(
    'of %s has a name in the record, beginning with the same word',
    async (name) => {
      const path = fileURLToPath(new URL(`../../../../examples/${name}.json`, import.meta.url));
      const read = await readBrewFile(path);
      if (!read.ok) throw new Error(read.error.join(' '));
      const plan = planDay(read.value, { draws: 50, mash: 'off', changes: false });
      const { activities } = timetableOf(read.value, plan, { draws: 0 });
      const work = activities.filter((a) => a.moveId === undefined && !UNTAPPED.test(a.id));
      expect(work.length).toBeGreaterThan(8);
      expect(work.map((a) => [a.id, firstWord(workText(a.id) ?? '')])).toEqual(
        work.map((a) => [a.id, firstWord(a.name)]),
      );
    },
    60_000,
  );
});
