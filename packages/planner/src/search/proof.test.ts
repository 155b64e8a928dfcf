import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { potOf, withVessel } from '../changes.ts';
import { vesselOf } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { planDay } from '../plan-day.ts';
import { ONE_PULL, pullInto, weirsideDay } from '../three-barrels.ts';
import { canBeDone, look } from './feasible.ts';
import { doneWithout, limitsOf } from './limits.ts';
import { proofOfNo, smallestSet } from './proof.ts';

/** The pull into the stock pot alone: 28 L of it are too little for four kelvin. */
const SMALL_POT: PlanDocument = weirsideDay({
  rests: [
    { tempC: 62, minutes: 40 },
    { tempC: 66, minutes: 20 },
  ],
  raises: [pullInto('stock', 15, 'thick')],
});

const gapOf = (d: PlanDocument) => look(d).gap;

describe('the deletion filter', () => {
  it('finds a set that clashes and no part of it, whatever clashes', () => {
    const troubles = fc.array(
      fc.uniqueArray(fc.integer({ min: 0, max: 7 }), { minLength: 1, maxLength: 4 }),
      {
        minLength: 1,
        maxLength: 4,
      },
    );
    fc.assert(
      fc.property(troubles, (sets) => {
        const all = [0, 1, 2, 3, 4, 5, 6, 7];
        const possible = (kept: readonly number[]) =>
          !sets.some((set) => set.every((l) => kept.includes(l)));
        const set = smallestSet(all, possible) as number[];
        expect(possible(set)).toBe(false);
        for (const limit of set) expect(possible(set.filter((l) => l !== limit))).toBe(true);
      }),
    );
  });

  it('finds nothing where all can be kept', () => {
    expect(smallestSet([1, 2], () => true)).toBeUndefined();
  });
});

describe('a pot too small for the rest', () => {
  const proof = proofOfNo(SMALL_POT);
  const set = proof?.sets[0];
  const codes = set?.limits.map((l) => l.code) ?? [];

  it('clashes with the rest, and with what would stand in for a bigger pot', () => {
    expect(codes).toContain('pot-volume');
    expect(codes).toContain('rest-temperature');
    expect(set?.text).toMatch(/stock pot holds 40 L/);
    expect(codes).not.toContain('tun-room');
    expect(codes).not.toContain('burner');
  });

  it('is smallest: lift any one limit and the others can be kept', () => {
    const own = limitsOf(SMALL_POT).filter((l) => codes.includes(l.code));
    const others = limitsOf(SMALL_POT).filter((l) => !codes.includes(l.code));
    expect(doneWithout(SMALL_POT, others, gapOf)).toBe(false);
    for (const limit of own)
      expect(doneWithout(SMALL_POT, [...others, limit], gapOf), limit.text).toBe(true);
  });

  it('each change does, planned whole, and a step less does not', () => {
    for (const limit of set?.limits ?? []) {
      const change = limit.change;
      if (!change) {
        // Only together with another: none of its own ways does.
        const own = limitsOf(SMALL_POT).find((l) => l.text === limit.text);
        expect(own?.lifted(SMALL_POT).some(canBeDone), limit.text).toBe(false);
        continue;
      }
      expect(planDay(change.document, { draws: 2, changes: false }).feasible, change.text).toBe(
        true,
      );
    }
    expect(set?.limits.filter((l) => l.change).length).toBeGreaterThan(1);
    const pot = set?.limits.find((l) => l.code === 'pot-volume')?.change;
    const stock = vesselOf(SMALL_POT.kit, 'stock');
    const less = potOf(stock, (pot?.amount ?? 0) - 5);
    const smaller = withVessel(SMALL_POT, { ...stock, ...less });
    expect(canBeDone(smaller)).toBe(false);
    const rest = set?.limits.find((l) => l.code === 'rest-temperature')?.change;
    const warmer = { ...SMALL_POT.mash.rests[1], tempC: (rest?.amount ?? 0) + 1, minutes: 20 };
    const [first] = SMALL_POT.mash.rests;
    expect(
      canBeDone({ ...SMALL_POT, mash: { ...SMALL_POT.mash, rests: [first as never, warmer] } }),
    ).toBe(false);
  });
});

describe('an hour too early', () => {
  it('clashes alone, and the hour that can be kept is the earliest', () => {
    const document = { ...ONE_PULL, day: { ...ONE_PULL.day, finishByMin: 300 } };
    const proof = proofOfNo(document);
    expect(proof?.sets[0]?.limits.map((l) => l.code)).toEqual(['finish-by']);
    const [limit] = proof?.sets[0]?.limits ?? [];
    expect(limit?.text).toBe('the day is to end by 11:00');
    const finishByMin = limit?.change?.amount as number;
    expect(canBeDone({ ...ONE_PULL, day: { ...ONE_PULL.day, finishByMin } })).toBe(true);
    expect(canBeDone({ ...ONE_PULL, day: { ...ONE_PULL.day, finishByMin: finishByMin - 6 } })).toBe(
      false,
    );
  });
});

it('what can be done has no proof', () => {
  expect(proofOfNo(ONE_PULL)).toBeUndefined();
});
