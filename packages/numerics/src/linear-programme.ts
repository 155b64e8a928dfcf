/** Linear programmes with whole-number unknowns, by a kept library behind one face. */
import { type Constraint, solve } from 'yalps';
import { NumericsRangeError } from './errors.ts';

/** One row: sum of coefficient times unknown, between least and most. */
export interface LinearRow {
  /** One coefficient for each unknown. */
  readonly of: readonly number[];
  readonly least?: number;
  readonly most?: number;
}

/** Smallest of a linear sum under linear rows; every unknown is 0 or more. */
export interface LinearProgramme {
  /** One coefficient for each unknown, 1 to 1000 of them. */
  readonly minimise: readonly number[];
  readonly rows: readonly LinearRow[];
  /** Unknowns that take whole numbers only, by position. */
  readonly whole?: readonly number[];
}

export type LinearAnswer =
  | { readonly state: 'optimal'; readonly x: readonly number[]; readonly value: number }
  | { readonly state: 'infeasible' }
  /** The search ended before the best was proven, or rounding broke a row. */
  | { readonly state: 'gave-up' };

/** Nodes of the branch and bound before it is given up. */
const MOST_NODES = 20_000;
/** A row may be missed by this share of its largest term. */
const ROW_SLACK = 1e-6;
/** A whole number is one within this. */
const WHOLE_SLACK = 1e-6;

/**
 * Solves a linear or mixed-integer programme.
 *
 * @param programme rows and unknowns of similar size: coefficients are scaled row by row
 * @returns the unknowns and the least value; whole unknowns exactly whole
 * @throws NumericsRangeError when a row has not one finite coefficient for each unknown, or when
 *   nothing keeps the sum from falling for ever
 * @source simplex and branch and bound, Dantzig 1963 and Land & Doig 1960, by the YALPS library
 *   (docs/decisions/0024); every answer is put back into the rows before it is handed out
 * @example solveLinear({ minimise: [1, 1], rows: [{ of: [1, 2], least: 4 }] }).state // 'optimal', x [0, 2]
 */
export function solveLinear(programme: LinearProgramme): LinearAnswer {
  const { minimise, rows, whole = [] } = programme;
  const n = minimise.length;
  for (const { of } of [...rows, { of: minimise }]) {
    if (of.length !== n || !of.every(Number.isFinite))
      throw new NumericsRangeError('row', of.length, `${n} finite coefficients`);
  }
  const scaled = rows.map((row) => {
    const size = Math.max(...row.of.map(Math.abs), 1e-300);
    return {
      of: row.of.map((a) => a / size),
      ...(row.least === undefined ? {} : { min: row.least / size }),
      ...(row.most === undefined ? {} : { max: row.most / size }),
    };
  });
  const costScale = Math.max(...minimise.map(Math.abs), 1e-300);
  const answer = solve(
    {
      direction: 'minimize',
      objective: 'cost',
      constraints: scaled.map(({ min, max }, r): [string, Constraint] => [
        `r${r}`,
        { ...(min === undefined ? {} : { min }), ...(max === undefined ? {} : { max }) },
      ]),
      variables: minimise.map((c, i): [string, [string, number][]] => [
        `x${i}`,
        [
          ['cost', c / costScale],
          ...scaled.map(({ of }, r): [string, number] => [`r${r}`, of[i] as number]),
        ],
      ]),
      integers: whole.map((i) => `x${i}`),
    },
    { precision: 1e-10, checkCycles: true, maxIterations: MOST_NODES },
  );
  if (answer.status === 'infeasible') return { state: 'infeasible' };
  if (answer.status === 'unbounded')
    throw new NumericsRangeError('minimise', Number.NEGATIVE_INFINITY, 'a sum with a least value');
  if (answer.status !== 'optimal') return { state: 'gave-up' };
  const found = new Map(answer.variables);
  const x = minimise.map((_, i) => found.get(`x${i}`) ?? 0);
  for (const i of whole) {
    const near = Math.round(x[i] as number);
    if (Math.abs(near - (x[i] as number)) > WHOLE_SLACK) return { state: 'gave-up' };
    x[i] = near;
  }
  const holds = scaled.every(({ of, min = -Infinity, max = Infinity }) => {
    const terms = of.map((a, i) => a * (x[i] as number));
    const sum = terms.reduce((total, t) => total + t, 0);
    const slack =
      ROW_SLACK *
      Math.max(1e-9, ...terms.map(Math.abs), Math.abs(finite(min)), Math.abs(finite(max)));
    return sum >= min - slack && sum <= max + slack;
  });
  if (!holds) return { state: 'gave-up' };
  return {
    state: 'optimal',
    x,
    value: minimise.reduce((sum, c, i) => sum + c * (x[i] as number), 0),
  };
}

const finite = (bound: number) => (Number.isFinite(bound) ? bound : 0);
