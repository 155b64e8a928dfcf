import type { Plan, PlannedReturn } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { returnOrder } from './return-order.ts';

const ret = (needL: number): PlannedReturn =>
  ({
    pullL: { low: needL, likely: needL, high: needL },
    moveIds: { pull: ['pull-1'], return: ['return-1'] },
  }) as unknown as PlannedReturn;
const plan = (afterPortionC: readonly number[]): Plan =>
  ({ trace: { moves: [{ id: 'return-1', transfer: { afterPortionC } }] } }) as unknown as Plan;

describe('the order of a return', () => {
  it('puts four fifths back at most, then counts in half kelvins', () => {
    const order = returnOrder(ret(40), 5, plan([63, 64, 65, 66, 67, 68, 69, 70]));
    expect(order).toEqual({ first: 6, firstL: 30, firstC: 68, stepL: 2.5 });
  });

  it('never asks for less than one portion', () => {
    const order = returnOrder(ret(2), 8, plan([66]));
    expect(order.first).toBe(1);
    expect(order.stepL).toBeUndefined();
  });
});
