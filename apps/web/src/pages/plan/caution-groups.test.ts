import type { Move } from '@ladlework/brewhouse';
import type { Caution, PlannedMove } from '@ladlework/planner';
import { describe, expect, it } from 'vitest';
import { cautionGroups } from './caution-groups.ts';

const move = (id: string): PlannedMove => {
  const rest: Move = { id, kind: 'rest', vessel: 'tun', minutes: 1, hands: [] };
  const none = { low: 0, likely: 0, high: 0 };
  return { move: rest, startMin: none, endMin: none, fromC: none, toC: none, volumeL: 0 };
};
const planned = ['pull-1', 'boil-1', 'return-1'].map(move);

describe('cautions of a plan', () => {
  it('reads the same caution once, at its worst, with every move', () => {
    const cautions: Caution[] = [
      { moveId: 'pull-1', code: 'scald', text: 'at 67', severity: 67 },
      { moveId: 'boil-1', code: 'boil-over', text: 'foams' },
      { moveId: 'return-1', code: 'scald', text: 'at 99', severity: 99 },
    ];
    const groups = cautionGroups(cautions, planned);
    expect(groups.map((g) => g.text)).toEqual(['at 99', 'foams']);
    expect(groups[0]?.moves.map((m) => [m.move.id, m.severity])).toEqual([
      ['pull-1', 67],
      ['return-1', 99],
    ]);
  });

  it('loses nothing that cannot be ranked', () => {
    const cautions: Caution[] = [
      { moveId: 'pull-1', code: 'ph', text: 'one' },
      { moveId: 'boil-1', code: 'ph', text: 'other' },
      { moveId: 'gone', code: 'scorch', text: 'kept' },
    ];
    expect(cautionGroups(cautions, planned).map((g) => g.text)).toEqual(['one', 'other', 'kept']);
  });
});
