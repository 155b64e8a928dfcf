import { describe, expect, test } from 'vitest';
import { foldBrew } from './brew.ts';
import { recordOf } from './record.ts';
import { DOCUMENT, ONE_PULL, Tablet } from './testing.ts';

const told = () => {
  const tablet = new Tablet('t1', 'B');
  const planned = tablet.write('brew-planned', { document: DOCUMENT, planSummary: ONE_PULL });
  const miss = tablet.wait(70).write('miss-told', {
    code: 'burner-out',
    text: 'Kettle burner is out',
    vessel: 'pot',
    thing: 'jet',
  });
  return { tablet, planned, miss };
};

describe('something went wrong', () => {
  test('is in the brew until it is put right, and in the record with both', () => {
    const { tablet, planned, miss } = told();
    const over = tablet.wait(12).write('miss-over', { miss: miss.id });
    expect(foldBrew([planned, miss], 'b1').misses).toMatchObject([
      { code: 'burner-out', thing: 'jet', vessel: 'pot' },
    ]);
    expect(foldBrew([planned, miss], 'b1').misses[0]).not.toHaveProperty('over');
    const state = foldBrew([over, miss, planned], 'b1');
    expect(state.misses[0]?.over?.atMs).toBe(over.readAtMs);
    expect(recordOf(state).filter((r) => r.kind === 'miss')).toMatchObject([
      { code: 'Y1', text: 'Kettle burner is out' },
      { code: 'YO1', text: 'Put right: Kettle burner is out' },
    ]);
  });

  test('an undone miss is gone, and so is the plan it changed', () => {
    const { tablet, planned, miss } = told();
    const moves = [{ id: 'way-pour', kind: 'pour' }];
    const changed = tablet.wait(1).write('plan-changed', {
      document: DOCUMENT,
      planSummary: ONE_PULL,
      reason: 'Kettle burner is out: finish as an infusion',
      moves,
    });
    const log = [planned, miss, changed];
    expect(foldBrew(log, 'b1').changedMoves).toEqual(moves);
    expect(recordOf(foldBrew(log, 'b1')).find((r) => r.kind === 'change')).toMatchObject({
      code: 'V1',
      text: 'Kettle burner is out: finish as an infusion',
    });
    const undone = [miss, changed].map((e) =>
      tablet.write('withdrawn', { reason: 'undone' }, { corrects: e.id }),
    );
    const state = foldBrew([...log, ...undone], 'b1');
    expect(state.misses).toEqual([]);
    expect(state.changedMoves).toBeUndefined();
    expect(recordOf(state).some((r) => r.kind === 'change')).toBe(false);
  });
});
