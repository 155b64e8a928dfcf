/**
 * The mash of a whole day, all species and vessels, by our integrator, a textbook library solver
 * and compiled CVODE, each at the loosest tolerance that reaches the same error.
 *
 * `npx tsx bench/mash-solver.ts` prints error, steps and time of each.
 */
import { pathToFileURL } from 'node:url';
import {
  compileMash,
  drawMashParameters,
  MASH_DRAW_DIMS,
  RECOMMENDED_PARAMETERS,
} from '../packages/brewhouse/src/mash/index.ts';
import { drawMatrix } from '../packages/numerics/src/index.ts';
import { type Day, INFUSION_DAY, THREE_PULL_DAY } from './mash/days.ts';
import {
  buildCvode,
  cvode,
  type Kink,
  largestError,
  odex,
  ours,
  oursForDraws,
  type Rows,
  reference,
} from './mash/solvers.ts';
import type { Bench, Ratio } from './support/measure.ts';

/** Error every solver must reach on every figure. */
const GOALS = [1e-6, 1e-3];
/** Finer than the goal by these factors until the error is reached. */
const LADDER = [1, 0.6, 0.4, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001];
/** 400 draws of a full day shall take at most this on one core [ms]. */
const DRAWS = 400;
const DRAWS_ALLOWED_MS = 500;
/** Tolerance of an ensemble: a thirtieth of the spread between draws and less. */
const DRAWS_TOLERANCE = 3e-3;

interface Result {
  readonly solver: string;
  readonly tolerance: number;
  readonly error: number;
  readonly steps: number;
  readonly us: number;
}

/** Processor time of this process [ms]: what other work on the machine cannot take away. */
function cpuMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** Best of several batches [µs of processor time], after the machine code has settled. */
function timeOf(run: () => void, batches = 12): number {
  const start = cpuMs();
  run();
  const once = Math.max(0.01, cpuMs() - start);
  const repeats = Math.max(1, Math.min(60, Math.round(60 / once)));
  let best = Number.POSITIVE_INFINITY;
  for (let b = 0; b < batches; b++) {
    const from = cpuMs();
    for (let i = 0; i < repeats; i++) run();
    best = Math.min(best, (cpuMs() - from) / repeats);
    if (once > 1000 || (once > 300 && b >= 4)) break;
  }
  return 1000 * best;
}

function inProcess(
  solver: string,
  run: (day: Day, tolerance: number, rows?: Rows) => number,
  day: Day,
  goal: number,
  exact: Rows,
): Result | undefined {
  for (const factor of LADDER) {
    const tolerance = goal * factor;
    const rows: Rows = [];
    const steps = run(day, tolerance, rows);
    const error = largestError(rows, exact, day);
    if (error <= goal)
      return { solver, tolerance, error, steps, us: timeOf(() => void run(day, tolerance)) };
  }
  return undefined;
}

function compiledRun(program: string, day: Day, goal: number, exact: Rows): Result | undefined {
  let best: Result | undefined;
  for (const kink of ['restart', 'continue'] satisfies Kink[]) {
    for (const factor of LADDER) {
      const tolerance = goal * factor;
      const error = largestError(cvode(program, day, tolerance, 1, kink).rows, exact, day);
      if (error > goal) continue;
      let us = Number.POSITIVE_INFINITY;
      let steps = 0;
      for (let round = 0; round < 5; round++) {
        const run = cvode(program, day, tolerance, 20, kink);
        us = Math.min(us, run.us);
        steps = run.steps;
      }
      if (best === undefined || us < best.us)
        best = { solver: `CVODE BDF, ${kink} at kinks`, tolerance, error, steps, us };
      break;
    }
  }
  return best;
}

/** All solvers on one day at one error. */
function contest(day: Day, goal: number, exact: Rows, program: string | undefined): Result[] {
  const mine = inProcess('ours', ours, day, goal, exact);
  const textbook = inProcess('odex (library)', odex, day, goal, exact);
  const compiled = program === undefined ? undefined : compiledRun(program, day, goal, exact);
  return [mine, textbook, compiled].filter((result) => result !== undefined);
}

function drawsMs(): number {
  const normals = drawMatrix(DRAWS, MASH_DRAW_DIMS, 1);
  const sets = Array.from({ length: DRAWS }, (_, i) =>
    compileMash(drawMashParameters(RECOMMENDED_PARAMETERS, normals, { from: i * MASH_DRAW_DIMS })),
  );
  return timeOf(() => oursForDraws(THREE_PULL_DAY, sets, DRAWS_TOLERANCE), 5) / 1000;
}

const e = (x: number) => x.toExponential(1);

function note(mine: Result, other: Result): string {
  return `error ${e(mine.error)} in ${mine.steps} steps against ${e(other.error)} in ${other.steps}`;
}

async function run(): Promise<Ratio[]> {
  const built = buildCvode();
  const program = 'program' in built ? built.program : undefined;
  if ('absent' in built) console.log(`  ${built.absent}`);
  const ratios: Ratio[] = [];
  for (const day of [THREE_PULL_DAY, INFUSION_DAY]) {
    const exact = reference(day);
    if (program !== undefined) {
      const apart = largestError(cvode(program, day, 1e-12, 1, 'restart').rows, exact, day);
      console.log(`  ${day.name}: our reference and CVODE at 1e-12 differ by ${e(apart)}`);
    }
    for (const goal of GOALS) {
      const [mine, ...others] = contest(day, goal, exact, program);
      if (mine === undefined || mine.solver !== 'ours')
        throw new Error(`our integrator does not reach ${goal} on the ${day.name}`);
      for (const other of others)
        ratios.push({
          what: `${day.name} at ${e(goal)}`,
          ms: mine.us / 1000,
          baseline: other.solver,
          baselineMs: other.us / 1000,
          note: note(mine, other),
        });
    }
  }
  ratios.push({
    what: `three-pull day, ${DRAWS} draws at ${e(DRAWS_TOLERANCE)}`,
    ms: drawsMs(),
    baseline: 'allowed',
    baselineMs: DRAWS_ALLOWED_MS,
  });
  return ratios;
}

export const bench: Bench = {
  about: 'kinetics of a day, all vessels, at equal error against a 1e-12 reference.',
  run,
};

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href)
  for (const row of await run())
    console.log(
      [
        row.what.padEnd(38),
        `${(row.ms * 1000).toFixed(0)} µs`.padStart(10),
        row.baseline.padEnd(28),
        `${(row.baselineMs * 1000).toFixed(0)} µs`.padStart(12),
        `ratio ${(row.ms / row.baselineMs).toPrecision(2)}`,
        row.note ?? '',
      ].join('  '),
    );
