import type { BrewState } from '@ladlework/log';
import type { PlanDocument, WortDay } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { afterKettle } from './after-kettle.ts';
import { wortAlarms } from './alarms.ts';
import { lineAt } from './line-of-gravities.ts';
import { fallCmPerH, hopsOfBoil } from './timed.ts';

const hop = (name: string, boilMin: number | 'stand', atMin: number) =>
  ({ name, kg: 0.3, alphaPct: 5, boilMin, atMin, ibu: 6, otherIbu: 6 }) as const;
const HOPS = [hop('Weirside', 60.2, 440), hop('Tarn Golding', 60, 440), hop('Late', 'stand', 500)];
const DAY = {
  at: 'boil',
  boil: { begunMin: 430, endMin: { low: 500, likely: 500, high: 500 }, hops: HOPS },
} as unknown as WortDay;
const at = (minute: number, done: readonly string[] = [], seen: readonly string[] = []) =>
  wortAlarms(
    DAY,
    {
      startedAtMs: 0,
      moves: done.map((moveId) => ({ moveId, doneAtMs: 1 })) as unknown as BrewState['moves'],
    },
    minute * 60_000,
    new Set(seen),
  );

describe('the hops of a boil', () => {
  it('go in together where their minute is the same on the clock', () => {
    const [first, second] = hopsOfBoil(HOPS);
    expect(first).toMatchObject({ boilMin: 60, atMin: 440, ibu: 12 });
    expect(first?.names.map((n) => n.name)).toEqual(['Weirside', 'Tarn Golding']);
    expect(second?.boilMin).toBe('stand');
  });

  it('are called for two minutes ahead and on their minute, until they are in', () => {
    expect(at(437)).toEqual([]);
    expect(at(438.5).map((a) => a.stage)).toEqual(['soon']);
    const [now] = at(441);
    expect(now).toMatchObject({ stage: 'now', dueAtMs: 440 * 60_000 });
    expect(at(441, ['hops-60'])).toEqual([]);
    expect(at(441, [], [now?.key ?? ''])).toEqual([]);
  });

  it('leave the end of the boil its own call', () => {
    const late = at(500, ['hops-60']);
    expect(late.map((a) => a.hops.length)).toEqual([1, 0]);
    expect(at(500, ['hops-60', 'hops-stand', 'boil-wort'])).toEqual([]);
  });
});

describe('the timetable after the full kettle', () => {
  const document = {
    beer: { hops: [{ boilMin: 60 }, { boilMin: 10 }, { boilMin: 'stand' }] },
    day: { work: { boilMin: 75, standMin: 20 } },
  } as unknown as PlanDocument;

  it('goes by the boil that was chosen and the hops re-timed for it', () => {
    const boil = { hops: [hop('A', 51.6, 0), hop('B', 8.4, 0), hop('C', 'stand', 0)] };
    const after = afterKettle(document, { minutes: 92.4 }, boil);
    expect(after.day.work).toEqual({ boilMin: 92, standMin: 20 });
    expect(after.beer.hops?.map((h) => h.boilMin)).toEqual([52, 8, 'stand']);
  });

  it('keeps no hop longer in the kettle than it boils', () => {
    const after = afterKettle(document, { minutes: 45 }, undefined);
    expect(after.beer.hops?.map((h) => h.boilMin)).toEqual([45, 10, 'stand']);
  });

  it('is what it was while no way was taken', () => {
    expect(afterKettle(document, undefined, undefined)).toBe(document);
  });
});

describe('the fall of the level', () => {
  it('is the steam over the width of the kettle', () => {
    // Geometry: 34 kg of boiling wort an hour out of a vessel of 0.636 m2.
    const kit = {
      vessels: [
        { name: 'Kettle', diameterM: 0.9 },
        { name: 'Pot', diameterM: 0.9 },
      ],
    } as never;
    expect(fallCmPerH(kit, 'Kettle', 34)).toBeCloseTo(5.34, 2);
    expect(fallCmPerH(kit, 'Kettle, Pot', 34)).toBeCloseTo(2.67, 2);
    expect(fallCmPerH(kit, 'Other', 34)).toBeUndefined();
  });
});

describe('the line of gravities', () => {
  const b = (likely: number) => ({ low: likely, likely, high: likely });
  const course = [
    { collectedL: 0, tapPlato: b(20), kettlePlato: b(20) },
    { collectedL: 100, tapPlato: b(16), kettlePlato: b(18) },
  ];

  it('is straight between two of its points, and ends where they end', () => {
    expect(lineAt(course, 25)).toEqual({ kettlePlato: 19.5, tapPlato: 19 });
    expect(lineAt(course, 101)).toBeUndefined();
    expect(lineAt(course.slice(1), 50)).toBeUndefined();
  });
});
