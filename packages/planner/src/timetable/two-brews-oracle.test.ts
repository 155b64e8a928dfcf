/**
 * Two brews through one kettle and one tun, cut down to what shares them, so that a general solver
 * still answers; the two differ, since of two alike it tries every plan twice. No published project-scheduling instance stands here: none can be written down
 * from memory figure by figure; this, and every minute tried on small days, stand in for it.
 */
import { describe, expect, it } from 'vitest';
import { mipSolver } from './highs-testing.ts';
import type { Activity, Hold, Lag, TimetableProblem } from './problem.ts';
import { solve } from './solve.ts';
import { after, dayOf, faultsOf } from './testing.ts';

const finishOf = await mipSolver(110);
const HORIZON_MIN = 1500;

/** Minutes of the steps of a brew; invented, in the proportions of a day. */
interface Minutes {
  readonly strike: number;
  readonly mash: number;
  readonly pull: number;
  readonly sparge: number;
  readonly runOff: number;
  readonly boil: number;
  readonly knockOut: number;
}

type Part = Partial<Activity> & { readonly id: string; readonly min: number };

const use = (vessel: string, content: string) => ({ vessel, content });
const busy = (count: number) => [{ kind: 'busy' as const, anyOf: ['B', 'H'], count }];

/** One brew: the kettle is liquor tank, decoction pot and boiling kettle one after the other. */
function brew(n: number, m: Minutes): { parts: Part[]; lags: Lag[]; holds: Hold[] } {
  const id = (what: string) => `${n}.${what}`;
  const in_ = (vessel: string, what: string) => use(vessel, id(what));
  const parts: Part[] = [
    { id: id('strike'), min: m.strike, vessels: [in_('kettle', 'strike')], tools: ['burner'] },
    {
      id: id('mash-in'),
      min: 15,
      vessels: [in_('kettle', 'strike'), in_('tun', 'mash')],
      hands: busy(2),
    },
    { id: id('rest'), min: m.mash, stretchMin: 10, vessels: [in_('tun', 'mash')] },
    {
      id: id('pull'),
      min: m.pull,
      vessels: [in_('kettle', 'pull')],
      hands: busy(1),
      tools: ['burner'],
    },
    { id: id('sparge'), min: m.sparge, vessels: [in_('kettle', 'liquor')], tools: ['burner'] },
    {
      id: id('park'),
      min: 10,
      vessels: [in_('kettle', 'liquor'), in_('header', 'liquor')],
      hands: busy(1),
    },
    {
      id: id('run-off'),
      min: m.runOff,
      vessels: [in_('tun', 'mash'), in_('header', 'liquor'), in_('kettle', 'wort')],
    },
    { id: id('grain-out'), min: 30, vessels: [in_('tun', 'mash')], hands: busy(1) },
    { id: id('boil'), min: m.boil, vessels: [in_('kettle', 'wort')], tools: ['burner'] },
    { id: id('knock-out'), min: m.knockOut, vessels: [in_('kettle', 'wort')], hands: busy(1) },
  ];
  const lags = [
    after(id('strike'), id('mash-in'), 15),
    after(id('mash-in'), id('rest'), 0),
    after(id('rest'), id('pull'), 0),
    after(id('pull'), id('sparge')),
    after(id('sparge'), id('park'), 5),
    after(id('park'), id('run-off'), 60),
    after(id('run-off'), id('grain-out')),
    after(id('run-off'), id('boil'), 5),
    after(id('boil'), id('knock-out'), 30),
  ];
  const hold = (vessel: string, what: string, from: string, to: string): Hold => ({
    ...in_(vessel, what),
    from: id(from),
    to: id(to),
  });
  const holds = [
    hold('kettle', 'strike', 'strike', 'mash-in'),
    hold('tun', 'mash', 'mash-in', 'grain-out'),
    hold('kettle', 'liquor', 'sparge', 'park'),
    hold('header', 'liquor', 'park', 'run-off'),
    hold('kettle', 'wort', 'run-off', 'knock-out'),
  ];
  return { parts, lags, holds };
}

function twoBrews(first: Minutes, second: Minutes, rest: Partial<TimetableProblem>) {
  const both = [brew(1, first), brew(2, second)];
  return dayOf(
    both.flatMap((b) => b.parts),
    both.flatMap((b) => b.lags),
    {
      holds: both.flatMap((b) => b.holds),
      people: [
        { id: 'B', name: 'Brewer' },
        { id: 'H', name: 'Helper' },
      ],
      ...rest,
    },
  );
}

const LAGER = { strike: 65, mash: 40, pull: 60, sparge: 45, runOff: 90, boil: 75, knockOut: 45 };
const ALE = { strike: 50, mash: 60, pull: 30, sparge: 40, runOff: 70, boil: 60, knockOut: 40 };
const helperUntil = (untilMin: number): Partial<TimetableProblem> => ({
  people: [
    { id: 'B', name: 'Brewer' },
    { id: 'H', name: 'Helper', untilMin },
  ],
});

describe('two brews in a row, cut down, against a mixed-integer solver', () => {
  it.each([
    ['the short one first or last', LAGER, ALE, {}],
    ['a helper who leaves before the second mash-in', LAGER, ALE, helperUntil(200)],
    ['a helper who stays for both', ALE, LAGER, helperUntil(700)],
  ] as const)(
    '%s: the same finish, or infeasible for both',
    (_, first, second, rest) => {
      const day = twoBrews(first, second, rest);
      const ours = solve(day, String);
      const theirs = finishOf(day, HORIZON_MIN);
      expect(theirs.state).not.toBe('out-of-time');
      if (theirs.state === 'infeasible') expect(ours.proven).toBe('infeasible');
      else {
        expect(ours.proven).toBe('optimal');
        expect(theirs).toEqual({ state: 'optimal', finishMin: ours.finishMin });
        expect(faultsOf(day, ours.placed)).toEqual([]);
      }
    },
    120_000,
  );
});
