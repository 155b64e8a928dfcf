/**
 * The timetable of a day against a mixed-integer solver on the same day: the same finish, proven
 * by both. The solver runs without its presolve, which answers some of these days wrongly.
 */
import type { PlanDocument } from '../packages/planner/src/document.ts';
import { TWO_PULLS } from '../packages/planner/src/live-testing.ts';
import { planDay } from '../packages/planner/src/plan-day.ts';
import { compile } from '../packages/planner/src/timetable/compile.ts';
import { dayProblem } from '../packages/planner/src/timetable/day-problem.ts';
import { mipSolver } from '../packages/planner/src/timetable/highs-testing.ts';
import type { TimetableProblem } from '../packages/planner/src/timetable/problem.ts';
import { search } from '../packages/planner/src/timetable/search.ts';
import { smallDay } from '../packages/planner/src/timetable/small-days-testing.ts';
import { timetableOf } from '../packages/planner/src/timetable/timetable-of.ts';
import type { Bench, Ratio } from './support/measure.ts';

/** The other solver is given up after this [s]. */
const LIMIT_S = 20;
const SMALL_DAYS = 15;
const RUNS = 5;

const DAY: PlanDocument = {
  ...TWO_PULLS,
  kit: {
    ...TWO_PULLS.kit,
    vessels: [
      ...TWO_PULLS.kit.vessels,
      {
        id: 'tank',
        name: 'Tank 1',
        role: 'fermenter',
        brimL: 900,
        diameterM: 0.8,
        wallKJK: 30,
        lossWK: 8,
        lid: true,
        deadL: 2,
      },
    ],
  },
};

async function run(): Promise<readonly Ratio[]> {
  const finishOf = await mipSolver(LIMIT_S);
  const plan = planDay(DAY, { draws: 50, changes: false });
  const days = Array.from({ length: SMALL_DAYS }, (_, k) => smallDay(k + 1, 6));
  // The tank takes the first wort, so a second brew's sparge liquor stands outside the kit.
  const choices = [
    { withStrike: false, standMin: 170, parkIn: 'tank' },
    { withStrike: false, standMin: 170 },
  ];
  const problem = (brews: number) =>
    dayProblem(Array(brews).fill(DAY), Array(brews).fill(plan), {}, choices.slice(0, brews))
      .problem;

  const both = (what: string, problems: readonly TimetableProblem[], horizonMin: number): Ratio => {
    let ms = Number.POSITIVE_INFINITY;
    let answers: ReturnType<typeof search>[] = [];
    for (let k = 0; k < RUNS; k++) {
      const start = performance.now();
      answers = problems.map((p) => search(compile(p)));
      ms = Math.min(ms, performance.now() - start);
    }
    const start = performance.now();
    const theirs = problems.map((p) => finishOf(p, horizonMin));
    const baselineMs = performance.now() - start;
    let same = 0;
    let open = 0;
    let infeasible = 0;
    theirs.forEach((t, k) => {
      const a = answers[k];
      if (a?.state === 'infeasible') infeasible++;
      if (t.state === 'out-of-time') open++;
      else if (t.state === 'infeasible') same += Number(a?.state === 'infeasible');
      else if (a?.state === 'solved') same += Number(a.levels[0]?.value === t.finishMin);
    });
    const gaps = answers.map((a) =>
      a.state === 'solved' ? (a.levels[0]?.value ?? 0) - (a.levels[0]?.bound ?? 0) : 0,
    );
    const limit = open > 0 ? `; ${open} not answered in ${LIMIT_S} s` : '';
    return {
      what,
      ms,
      baseline: 'HiGHS 1.15.3, finish only',
      baselineMs,
      note: `${same} of ${problems.length} the same answer (${infeasible} infeasible)${limit}; largest gap ${Math.max(...gaps)} min`,
    };
  };

  const rows = [
    both(`${SMALL_DAYS} random days of 6`, days, 200),
    both('one brew, two pulls, all aims', [problem(1)], 1500),
    both('two brews, four pulls, all aims', [problem(2)], 2500),
  ];
  // As the page asks: every way to heat and to park, until temperatures and times agree.
  const best = (run: () => void): number => {
    let ms = Number.POSITIVE_INFINITY;
    for (let k = 0; k < RUNS; k++) {
      const start = performance.now();
      run();
      ms = Math.min(ms, performance.now() - start);
    }
    return ms;
  };
  const whole = (brews: number, quick: boolean): Ratio => {
    const documents = Array<PlanDocument>(brews).fill(DAY);
    const plans = Array<typeof plan>(brews).fill(plan);
    const options = { draws: 0, quick };
    const day = timetableOf(documents, plans, options);
    const ms = best(() => timetableOf(documents, plans, options));
    const what = `${brews === 1 ? 'one brew' : 'two brews'}, ${quick ? 'finish only, for comparing' : 'all ways, all aims'}`;
    return {
      what,
      ms,
      baseline: 'the 2 s the page allows',
      baselineMs: 2000,
      note: `proven ${day.proven}, done at minute ${day.finishMin}, gap ${day.gapMin} min`,
    };
  };
  return [...rows, whole(1, true), whole(1, false), whole(2, true), whole(2, false)];
}

export const bench: Bench = {
  about: 'the day solved exactly; how long against a general solver, and is it the same finish?',
  run,
};
