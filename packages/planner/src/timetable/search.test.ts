/** The search against two solvers that share nothing with it. */
import { describe, expect, it } from 'vitest';
import { compile } from './compile.ts';
import { mipSolver } from './highs-testing.ts';
import type { TimetableProblem } from './problem.ts';
import { search } from './search.ts';
import { smallDay } from './small-days-testing.ts';
import { solve } from './solve.ts';
import { bruteBest, faultsOf } from './testing.ts';

const finishOf = await mipSolver();
const HORIZON_MIN = 200;

describe('random small days against a mixed-integer solver', () => {
  it('finishes at the same minute, or is infeasible for both, on 220 days', () => {
    let feasible = 0;
    for (let seed = 1; seed <= 220; seed++) {
      const day = smallDay(seed, 3 + (seed % 5));
      const c = compile(day);
      const ours = search(c);
      const theirs = finishOf(day, HORIZON_MIN);
      if (theirs.state === 'infeasible') {
        expect(ours.state, `day ${seed}`).toBe('infeasible');
        continue;
      }
      feasible++;
      expect(ours.state, `day ${seed}`).toBe('solved');
      if (ours.state === 'solved')
        expect({ state: 'optimal', finishMin: ours.levels[0]?.value }, `day ${seed}`).toEqual(
          theirs,
        );
    }
    expect(feasible).toBeGreaterThan(100);
    expect(feasible).toBeLessThan(215);
  });
});

/** Two or three activities with short minutes, so that every minute can be tried. */
function tinyDay(seed: number): TimetableProblem {
  const day = smallDay(seed, 3);
  const shorter = (m: number) => Math.max(1, Math.ceil(m / 3));
  return {
    ...day,
    activities: day.activities.slice(0, 4).map((a) => ({
      ...a,
      minutes: { low: 1, likely: shorter(a.minutes.likely), high: 4 },
      ...(a.stretchMin === undefined ? {} : { stretchMin: shorter(a.stretchMin) }),
      ...(a.earliestMin === undefined ? {} : { earliestMin: shorter(a.earliestMin) }),
      ...(a.fixedStartMin === undefined ? {} : { fixedStartMin: shorter(a.fixedStartMin) }),
      ...(a.latestEndMin === undefined ? {} : { latestEndMin: shorter(a.latestEndMin) }),
    })),
    people: day.people.map((p) => (p.untilMin ? { ...p, untilMin: shorter(p.untilMin) } : p)),
  };
}

describe('random tiny days against trying every minute', () => {
  it('reaches the same finish and the same hours of each person on 200 days', () => {
    let feasible = 0;
    for (let seed = 1000; seed < 1200; seed++) {
      const day = tinyDay(seed);
      const s = solve(day, String);
      const best = bruteBest(day, 16);
      if (best === undefined) {
        expect(s.proven, `day ${seed}`).toBe('infeasible');
        continue;
      }
      feasible++;
      expect(s.proven, `day ${seed}`).toBe('optimal');
      expect(
        s.levels.map((l) => l.value),
        `day ${seed}`,
      ).toEqual(best);
    }
    expect(feasible).toBeGreaterThan(120);
  });
});

describe('any day', () => {
  it('keeps every lag, shares no vessel, tool or pair of hands, on 300 days of up to 14', () => {
    for (let seed = 2000; seed < 2300; seed++) {
      const day = smallDay(seed, 5 + (seed % 10));
      const s = solve(day, String, { nodes: 3000 });
      if (s.placed.length > 0) expect(faultsOf(day, s.placed), `day ${seed}`).toEqual([]);
    }
  });
});
