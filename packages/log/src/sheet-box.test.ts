import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findBox, sheetBoxes, sheetMark } from './sheet-box.ts';
import type { PlanSummary, SummaryMove } from './summary.ts';

const sharp = (x: number) => ({ low: x, likely: x, high: x });
const move = (
  id: string,
  kind: string,
  vessel: string,
  start: number,
  end: number,
): SummaryMove => ({
  id,
  kind,
  vessel,
  text: id,
  hands: ['B'],
  startMin: sharp(start),
  endMin: sharp(end),
  fromC: sharp(60),
  toC: sharp(62),
  volumeL: 200,
});
/** An invented day of one pull; the plan lists the rest that goes on beside it after the boil. */
const DAY: PlanSummary = {
  moves: [
    move('heat-liquor', 'heat', 'kettle', 0, 60),
    move('mash-in', 'mash-in', 'tun', 60, 75),
    move('rest-1', 'rest', 'tun', 75, 95),
    move('pull-1', 'pull', 'kettle', 95, 101),
    move('boil-up-1', 'heat', 'kettle', 101, 125),
    move('boil-1', 'boil', 'kettle', 125, 140),
    move('rest-on-1', 'rest', 'tun', 101, 115),
    move('return-1', 'return', 'tun', 140, 146),
    move('rest-2', 'rest', 'tun', 146, 176),
  ],
  returns: [
    {
      pull: 1,
      moveIds: { pull: ['pull-1'], return: ['return-1'] },
      restC: 62,
      targetC: 72,
      takeL: 80,
      portions: 8,
      tunBeforeC: sharp(60),
      arrivalC: sharp(92),
      landingC: { low: 71, likely: 72, high: 72.4 },
    },
  ],
  strike: { litres: 200, tempC: sharp(69) },
  mashEndMin: sharp(176),
  addedMin: sharp(51),
};
const boxes = sheetBoxes(DAY);
const kinds = boxes.map((b) => b.code[0]).join('');

describe('the boxes of a sheet', () => {
  test('stand in the order of the screen', () => {
    const moves = boxes.flatMap((b) => ('moveId' in b.entry ? [b.entry.moveId ?? ''] : []));
    expect([...new Set(moves)]).toEqual([
      'heat-liquor',
      'mash-in',
      'rest-1',
      'pull-1',
      'boil-up-1',
      'rest-on-1',
      'boil-1',
      'return-1',
      'rest-2',
    ]);
  });

  test('begin with the day, tick the gates before the mash is in, and end with notes', () => {
    expect(kinds).toBe('AMDTKKMDTHDTMDLDTDTDMDPLDTJKKWWWWNN');
  });

  test('have a clock to begin where nothing ended, as the screen has a button', () => {
    const begun = boxes.flatMap((b) => (b.entry.as === 'begun' ? [b.entry.moveId] : []));
    expect(begun).toEqual(['heat-liquor', 'mash-in', 'pull-1', 'return-1']);
  });

  test('give the landing its planned band and the vessel it is read in', () => {
    const landing = boxes.find((b) => b.code.startsWith('P1'));
    expect(landing?.planned).toEqual({ low: 71, likely: 72, high: 72.4 });
    expect(landing?.entry).toMatchObject({ as: 'reading', what: 'temp', vessel: 'tun' });
  });

  test('number moves as the record does, by their place in the plan', () => {
    const boil = boxes.find((b) => b.entry.as === 'done' && b.entry.moveId === 'boil-1');
    expect(boil?.code).toMatch(/^D6[A-Z]$/);
  });
});

describe('codes', () => {
  test('differ from one another, and carry no letter taken for a digit', () => {
    expect(new Set(boxes.map((b) => b.code)).size).toBe(boxes.length);
    for (const { code } of boxes) expect(code).toMatch(/^[ADEHJKLMNPTVW]\d+[ACDEFHJKLMNPRTUVWXY]$/);
  });

  test('are found in any case, with spaces, and with O and I for digits', () => {
    for (const box of boxes) {
      const typed = ` ${box.code.toLowerCase()[0]}-${box.code.slice(1).replaceAll('0', 'o').replaceAll('1', 'i')} `;
      expect(findBox(boxes, typed)).toEqual({ ok: true, box });
    }
  });

  test('refuse any one wrong sign and any two swapped ones, and name the one meant', () => {
    const signs = [...'ACDEFHJKLMNPRTUVWXY0123456789'];
    fc.assert(
      fc.property(
        fc.constantFrom(...boxes),
        fc.nat(3),
        fc.constantFrom(...signs),
        fc.boolean(),
        ({ code }, at, sign, swap) => {
          const i = at % code.length;
          const k = (i + 1) % code.length;
          const letters = [...code];
          if (swap) [letters[i], letters[k]] = [letters[k] as string, letters[i] as string];
          else letters[i] = sign;
          const wrong = letters.join('');
          if (wrong === code) return;
          const found = findBox(boxes, wrong);
          expect(found.ok, `${code} typed as ${wrong}`).toBe(false);
          if (!found.ok) expect(found.nearest.length).toBeGreaterThan(0);
        },
      ),
      { numRuns: 3000 },
    );
  });

  test('name the nearest when one sign is wrong', () => {
    const landing = boxes.find((b) => b.code.startsWith('P1'));
    const wrong = `${landing?.code.slice(0, 2)}${landing?.code[2] === 'A' ? 'C' : 'A'}`;
    const found = findBox(boxes, wrong);
    expect(found.ok).toBe(false);
    if (!found.ok) expect(found.nearest).toContainEqual(landing);
  });

  test('are those of this plan: the sheet of another is refused', () => {
    const other = {
      ...DAY,
      moves: DAY.moves.map((m) => ({ ...m, endMin: sharp(m.endMin.likely + 1), toC: sharp(63) })),
    };
    expect(sheetMark(other)).not.toBe(sheetMark(DAY));
    const known = sheetBoxes(other).filter((b) => findBox(boxes, b.code).ok);
    expect(known.length).toBeLessThan(boxes.length / 4);
  });
});
