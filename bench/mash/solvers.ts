import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  addMash,
  advanceMash,
  mashLayout as at,
  BIN_WEIGHTS,
  type CompiledMash,
  clearMash,
  compileMash,
  emptyMash,
  evaporate,
  type MashParameters,
  MashWorkspace,
  RECOMMENDED_PARAMETERS,
  STANDARD_MALT,
  startMash,
  takeShares,
} from '../../packages/brewhouse/src/mash/index.ts';
import { MashSystem } from '../../packages/brewhouse/src/mash/kinetics.ts';
import { MASH_UNKNOWNS } from '../../packages/brewhouse/src/mash/unknowns.ts';
import { integrateRodas5P, Rodas5PWorkspace } from '../../packages/numerics/src/index.ts';
import type { Day } from './days.ts';

const parameters: MashParameters = RECOMMENDED_PARAMETERS;
const compiled: CompiledMash = compileMash(parameters);

/** Figures compared: the sum of raw starch, all species, all enzymes. One row per stretch run. */
export type Rows = number[][];

const RAW = Array.from({ length: 18 }, (_, i) => at.S + i);
const SINGLE = [
  at.AS,
  at.ALPHA,
  at.BS,
  at.BETA_LABILE,
  at.BETA_STABLE,
  at.LS,
  at.LIMIT_DEXTRINASE,
  at.PS,
  at.PREFORMED,
  at.OS,
  at.OTHER,
  at.SG,
  at.GLUCOSE,
  at.MALTOSE,
  at.MALTOTRIOSE,
  at.DEXTRIN,
  at.LIMIT_DEXTRIN,
];

function readings(state: Float64Array): number[] {
  const raw = RAW.reduce((sum, i) => sum + state[i]!, 0);
  return [raw, ...SINGLE.map((i) => state[i]!)];
}

/**
 * Largest error of any figure at any stretch end: relative above one part in a thousand of the
 * malt, absolute below, as the published traces are compared.
 */
export function largestError(rows: Rows, reference: Rows, day: Day): number {
  const floor = 1e-3 * day.maltKg;
  let worst = 0;
  rows.forEach((row, i) => {
    row.forEach((value, j) => {
      const want = reference[i]![j]!;
      worst = Math.max(worst, Math.abs(value - want) / Math.max(Math.abs(want), floor));
    });
  });
  return worst;
}

/** Carries one vessel from (t0, T0) to (t1, T1). */
type Carry = (s: Float64Array, t0: number, T0: number, t1: number, T1: number) => void;

/** Plays a day; `rows` is filled when given. */
function play(day: Day, carry: Carry, rows?: Rows): void {
  const grist = [{ malt: STANDARD_MALT, massKg: day.maltKg }];
  const { state: tun } = startMash(grist, day.liquorKg, parameters);
  const pot = emptyMash();
  for (const move of day.moves) {
    if (move.op === 'run') {
      const vessel = move.vessel === 'tun' ? tun : pot;
      for (let i = 1; i < move.line.length; i++) {
        const [t0, T0] = move.line[i - 1]!;
        const [t1, T1] = move.line[i]!;
        carry(vessel, t0, T0, t1, T1);
        rows?.push(readings(vessel));
      }
    } else if (move.op === 'pull') takeShares(tun, move.solid, move.liquid, pot);
    else if (move.op === 'evaporate') evaporate(pot, move.waterKg);
    else {
      addMash(tun, pot);
      clearMash(pot);
    }
  }
}

const workspace = new MashWorkspace();
const times = new Float64Array(2);
const temps = new Float64Array(2);

/** Our integrator at a tolerance. */
export function ours(day: Day, tolerance: number, rows?: Rows): number {
  workspace.accepted = 0;
  workspace.rejected = 0;
  play(
    day,
    (state, t0, T0, t1, T1) => {
      times[0] = t0;
      times[1] = t1;
      temps[0] = T0;
      temps[1] = T1;
      advanceMash(state, compiled, times, temps, tolerance, workspace);
    },
    rows,
  );
  return workspace.accepted + workspace.rejected;
}

/** The day once per parameter set, for an ensemble. */
export function oursForDraws(day: Day, draws: readonly CompiledMash[], tolerance: number): void {
  for (const draw of draws)
    play(day, (state, t0, T0, t1, T1) => {
      times[0] = t0;
      times[1] = t1;
      temps[0] = T0;
      temps[1] = T1;
      advanceMash(state, draw, times, temps, tolerance, workspace);
    });
}

/** Reference: the same rates carried by Rodas5P alone at 1e-12, nothing dropped, nothing special. */
export function reference(day: Day): Rows {
  const system = new MashSystem();
  const y = new Float64Array(MASH_UNKNOWNS);
  const work = new Rodas5PWorkspace(MASH_UNKNOWNS);
  const report = { ok: true, accepted: 0, rejected: 0, reached: 0, nextStep: 0 };
  const rows: Rows = [];
  const control = {
    relative: 1e-12,
    absolute: 1e-15 * day.maltKg,
    firstStep: 0,
    maxSteps: 1e6,
  };
  play(
    day,
    (state, t0, T0, t1, T1) => {
      system.load(state, compiled, y, 0);
      system.setLine(t0, T0, (T1 - T0) / (t1 - t0), false, false);
      integrateRodas5P(system, t0, t1, y, control, work, report);
      if (!report.ok) throw new Error(`reference stopped at minute ${report.reached}`);
      system.store(y, state);
    },
    rows,
  );
  return rows;
}

interface OdexSolver {
  absoluteTolerance: number;
  relativeTolerance: number;
  maxSteps: number;
  solve(
    f: (x: number, y: number[]) => number[],
    x: number,
    y: number[],
    xEnd: number,
  ): { y: number[]; outcome: number; nStep: number };
}
const require = createRequire(import.meta.url);
const { Solver } = require('odex') as { Solver: new (n: number) => OdexSolver };

/** Textbook solver from a library: extrapolated midpoint rule of Hairer's ODEX, on our rates. */
export function odex(day: Day, relative: number, rows?: Rows): number {
  const system = new MashSystem();
  const y = new Float64Array(MASH_UNKNOWNS);
  const f = new Float64Array(MASH_UNKNOWNS);
  let steps = 0;
  play(
    day,
    (state, t0, T0, t1, T1) => {
      system.load(state, compiled, y, 0);
      system.setLine(t0, T0, (T1 - T0) / (t1 - t0), false, false);
      const n = system.size;
      const solver = new Solver(n);
      solver.relativeTolerance = relative;
      solver.absoluteTolerance = 1e-3 * relative * day.maltKg;
      solver.maxSteps = 1e6;
      const result = solver.solve(
        (t, values) => {
          for (let i = 0; i < n; i++) {
            y[i] = values[i]!;
            f[i] = 0;
          }
          system.addRates(t, y, f);
          return Array.from(f.subarray(0, n));
        },
        t0,
        Array.from(y.subarray(0, n)),
        t1,
      );
      y.set(result.y);
      steps += result.nStep;
      system.store(y, state);
    },
    rows,
  );
  return steps;
}

// Not a dependency: the bench says so where there is none.
const COMPILER = 'cc';
const CVODE_LIBRARIES = ['cvode', 'nvecserial', 'sunlinsoldense', 'sunmatrixdense'];

/** Builds the CVODE program; a sentence when it cannot be built here. */
export function buildCvode(): { readonly program: string } | { readonly absent: string } {
  const source = new URL('../cvode/mash.c', import.meta.url).pathname;
  const program = join(mkdtempSync(join(tmpdir(), 'ladlework-cvode-')), 'mash');
  const libraries = CVODE_LIBRARIES.map((name) => `-lsundials_${name}`);
  const flags = ['-O3', '-march=native', '-o', program, source, ...libraries, '-lm'];
  const built = spawnSync(COMPILER, flags, { encoding: 'utf8' });
  if (built.status !== 0 || !existsSync(program))
    return { absent: 'CVODE is absent here (install a C compiler and libsundials-dev)' };
  return { program };
}

const CVODE_PARAMETERS = [
  'mu',
  'sig',
  'sG',
  'X0',
  'width',
  'fd',
  'Tfd',
  'kg65',
  'Eg',
  'kraw',
  'ka65',
  'kb65',
  'rD',
  'ka2',
  'kl65',
  'Ea_act',
  'aG',
  'aM',
  'aT',
  'aD',
  'bM',
  'kda65',
  'Eda',
  'kdb65',
  'Edb',
  'fst',
  'kds_ratio',
  'cprot',
  'Xref',
  'kdis',
  'Edis',
] as const;

/** How CVODE treats a kink between two stretches of one vessel: starts afresh, or steps on. */
export type Kink = 'restart' | 'continue';

/** Runs CVODE on a day. */
export function cvode(
  program: string,
  day: Day,
  relative: number,
  repeats: number,
  kink: Kink,
): { readonly rows: Rows; readonly us: number; readonly steps: number } {
  const { moisture, starch, preformed, other } = STANDARD_MALT;
  const lines = [
    `${relative} ${1e-3 * relative} ${repeats} ${kink === 'restart' ? 1 : 0}`,
    CVODE_PARAMETERS.map((name) => parameters[name]).join(' '),
    BIN_WEIGHTS.join(' '),
    [day.maltKg, moisture, starch, preformed, other, day.liquorKg].join(' '),
  ];
  for (const move of day.moves) {
    if (move.op === 'run')
      for (let i = 1; i < move.line.length; i++)
        lines.push(
          `run ${move.vessel === 'tun' ? 0 : 1} ${move.line[i - 1]!.join(' ')} ${move.line[i]!.join(' ')}`,
        );
    else if (move.op === 'pull') lines.push(`pull ${move.solid} ${move.liquid}`);
    else if (move.op === 'evaporate') lines.push(`evaporate ${move.waterKg}`);
    else lines.push('return');
  }
  const input = `${lines.join('\n')}\nend\n`;
  const run = spawnSync(program, { input, encoding: 'utf8' });
  if (run.status !== 0) throw new Error(`CVODE failed: ${run.stderr}`);
  const out = run.stdout.trim().split('\n');
  const [, us, , steps] = out.pop()!.split(' ');
  const rows = out.map((line) => {
    const v = line.trim().split(/\s+/).map(Number);
    return [v.slice(0, 18).reduce((sum, s) => sum + s, 0), ...v.slice(18)];
  });
  return { rows, us: Number(us), steps: Number(steps) };
}
