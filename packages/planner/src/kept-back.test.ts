import { SETTLE_MIN } from '@ladlework/brewhouse';
import { describe, expect, test } from 'vitest';
import type { PlanDocument, Raise } from './document.ts';
import { isSettling } from './kept-back.ts';
import { TWO_PULLS } from './live-testing.ts';
import { planDay } from './plan-day.ts';

/** The two-pull brew with its second pull, and the rest before it, as given. */
function moves(thickness: 'thick' | 'thin' | 'as-it-comes', restMin = 20) {
  const { mash } = TWO_PULLS;
  const raises = mash.raises.map(
    (r, k): Raise => (k === 1 && r.by === 'decoction' ? { ...r, thickness } : r),
  );
  const rests = mash.rests.map((r, k) =>
    k === 1 ? { ...r, minutes: restMin + 10, pullAfterMin: restMin } : r,
  );
  const document: PlanDocument = { ...TWO_PULLS, mash: { ...mash, raises, rests } };
  const plan = planDay(document, { draws: 1, changes: false });
  return plan.moves.map((m) => m.move);
}

/** From the landing of the first pull to the second pull. */
function between(all: ReturnType<typeof moves>) {
  const from = all.findIndex((m) => m.id === 'rest-2');
  const to = all.findIndex((m) => m.kind === 'pull' && m.id.startsWith('pull-2'));
  return all.slice(from, to);
}

describe('what was kept back of a pull', () => {
  // Settling takes 5-10 min of quiet: field.md 18, common practice, no source.
  test.each(['thick', 'thin'] as const)(
    'goes back before the mash settles for a %s pull',
    (how) => {
      const rest = between(moves(how));
      expect(rest.map((m) => m.id)).toEqual(['rest-2', 'kept-cool-1', 'kept-1', 'settle-2']);
      const minutes = rest.map((m) => ('minutes' in m ? m.minutes : 0));
      expect(minutes).toEqual([20 - SETTLE_MIN, 20 - SETTLE_MIN, 0, SETTLE_MIN]);
      expect(rest.filter(isSettling).map((m) => m.kind)).toEqual(['rest']);
    },
  );

  test('goes back at the end of the rest when the pull is stirred up anyway', () => {
    const rest = between(moves('as-it-comes'));
    expect(rest.map((m) => m.id)).toEqual(['rest-2', 'kept-cool-1', 'kept-1']);
    expect(rest[0]).toMatchObject({ minutes: 20 });
  });

  test('cools for half of a rest too short for both', () => {
    const rest = between(moves('thin', 12));
    expect(rest[0]).toMatchObject({ id: 'rest-2', minutes: 6 });
    expect(rest[1]).toMatchObject({ id: 'kept-cool-1', minutes: 6 });
    expect(rest.at(-1)).toMatchObject({ id: 'settle-2', minutes: SETTLE_MIN });
  });
});
