import { readdirSync, readFileSync } from 'node:fs';
import { planDay } from '@ladlework/planner';
import * as v from 'valibot';
import { expect, test } from 'vitest';
import { MoveSchema } from './move-schema.ts';
import { parsePlanDocument } from './parse.ts';

const folder = new URL('../../../examples/', import.meta.url);
const files = readdirSync(folder).filter((f) => f.endsWith('-pull.json') || f.startsWith('kettle'));

// What the planner makes must come through the wire as it was, field by field.
test.each(files)('every move of %s is taken as it is', (file) => {
  const read = parsePlanDocument(JSON.parse(readFileSync(new URL(file, folder), 'utf8')));
  if (!read.ok) throw new Error(JSON.stringify(read));
  const { moves } = planDay(read.document, { draws: 1, changes: false, mash: 'off' });
  expect(moves.length).toBeGreaterThan(5);
  for (const { move } of moves) expect(v.parse(MoveSchema, move)).toEqual(move);
});
