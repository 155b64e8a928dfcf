/** A mixed-integer solver from a library, for tests and benches to hold the timetable against. */
import highsLoader from 'highs';
import { type Compiled, compile } from './compile.ts';
import { lpOf } from './lp-testing.ts';
import type { TimetableProblem } from './problem.ts';

/**
 * With its presolve, HiGHS 1.15.3 calls a finish of 28 min optimal on `smallDay(119, 8)`, where 26
 * is feasible and where it finds 26 without; so it runs without.
 */
const OPTIONS = { presolve: 'off' } as const;

export type MipAnswer =
  | { readonly state: 'optimal'; readonly finishMin: number }
  | { readonly state: 'infeasible' }
  | { readonly state: 'out-of-time' };

/** Loads the solver. @returns a function that gives the earliest finish of a day */
export async function mipSolver(
  limitS = 120,
): Promise<(problem: TimetableProblem, horizonMin: number) => MipAnswer> {
  const highs = await highsLoader();
  return (problem, horizonMin) => {
    const c: Compiled = compile(problem);
    const answer = highs.solve(lpOf(problem, c, horizonMin), { ...OPTIONS, time_limit: limitS });
    if (answer.Status === 'Infeasible') return { state: 'infeasible' };
    // Its integers come back as 15.999999.
    if (answer.Status === 'Optimal')
      return { state: 'optimal', finishMin: Math.round(answer.ObjectiveValue) };
    return { state: 'out-of-time' };
  };
}
