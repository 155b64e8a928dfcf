import {
  distanceOf,
  type MeasuredRow,
  WORST_SD,
  YARDSTICK_ROWS,
} from '../../packages/brewhouse/src/mash/validation-rows.ts';
import type { MashModel } from '../../packages/brewhouse/src/mash/validation-runs.ts';
import { readTable } from '../../reference/read.ts';

/** One free number of a variant. */
export interface FreeNumber {
  readonly name: string;
  /** Value at which the variant is its base, and how far from it one would go without data (1 sd). */
  readonly nothing: number;
  readonly priorSd: number;
  readonly grid: readonly number[];
}

/** A question answered one way. */
export interface Variant {
  readonly id: string;
  readonly title: string;
  readonly numbers: readonly FreeNumber[];
  /** Numbers counted against it (2k): its own, and those fitted in what it stands on. */
  readonly counted: number;
  /** Kinetics for rows of a brewery grist, and for those mashed by a laboratory method. */
  model(values: readonly number[]): {
    readonly brewery: MashModel;
    readonly laboratory: MashModel;
  };
}

/** Rows mashed by a laboratory method with finely milled malt: micro-mash, Congress, ASBC, Hartong. */
const LABORATORY = /^(RI|DH|LP|VZ45)/;
/** Rows no variant may lose. */
const KEPT = ['AAT-65', 'AAT-70', 'AAT-80', 'HM-1', 'EN-1', 'MU-b10'];

const kindOf = new Map(
  readTable('mash-validation.csv').map((row) => [row.text('id'), row.text('group')]),
);
/** Kind of measurement of a row, as the table of rows groups them. */
const kind = (row: MeasuredRow) => kindOf.get(row.id) ?? row.id;
/** Laboratory or paper a row comes from. */
const source = (row: MeasuredRow) => row.id.replace(/-.*/, '');

/** A variant at one set of values: what it answers, and how far off that is [sd]. */
interface Point {
  readonly values: readonly number[];
  readonly answers: readonly number[];
  readonly squares: readonly number[];
  readonly prior: number;
}

/** How a variant stands. */
export interface Score {
  readonly variant: Variant;
  readonly values: readonly number[];
  readonly answers: readonly number[];
  readonly distances: readonly number[];
  /** Sum of squares, each row at most WORST_SD; the same without that bound. */
  readonly chi2: number;
  readonly chi2Uncapped: number;
  /** Each kind of measurement, and each source, foretold by a fit that never saw it. */
  readonly outOfKind: number;
  readonly outOfSource: number;
  readonly lost: readonly string[];
}

function products(grids: readonly (readonly number[])[]): number[][] {
  return grids.reduce<number[][]>(
    (sets, grid) => sets.flatMap((set) => grid.map((value) => [...set, value])),
    [[]],
  );
}

function evaluate(variant: Variant, values: readonly number[]): Point {
  const { brewery, laboratory } = variant.model(values);
  const answers = YARDSTICK_ROWS.map((row) =>
    row.value(LABORATORY.test(row.id) ? laboratory : brewery),
  );
  const squares = YARDSTICK_ROWS.map(
    (row, i) => Math.min(distanceOf(row, answers[i]!), WORST_SD) ** 2,
  );
  const prior = variant.numbers.reduce(
    (sum, { nothing, priorSd }, i) => sum + ((values[i]! - nothing) / priorSd) ** 2,
    0,
  );
  return { values, answers, squares, prior };
}

const total = (squares: readonly number[], use: (row: MeasuredRow) => boolean) =>
  squares.reduce((sum, square, i) => sum + (use(YARDSTICK_ROWS[i]!) ? square : 0), 0);

/** The point that lies nearest to the rows in use, and to nothing where they do not say. */
function best(points: readonly Point[], use: (row: MeasuredRow) => boolean): Point {
  const cost = (point: Point) => total(point.squares, use) + point.prior;
  return points.reduce((found, point) => (cost(point) < cost(found) ? point : found));
}

function leftOut(points: readonly Point[], groupOf: (row: MeasuredRow) => string): number {
  const groups = [...new Set(YARDSTICK_ROWS.map(groupOf))];
  return groups.reduce((sum, group) => {
    const inGroup = (row: MeasuredRow) => groupOf(row) === group;
    const fit = best(points, (row) => !inGroup(row));
    return sum + total(fit.squares, inGroup);
  }, 0);
}

/**
 * Fits a variant on its grid and tells how it stands by the yardstick.
 *
 * @param variant  the variant; every point of its grid is run on every row
 * @returns its best point, in and out of the sample, and which of the rows to be kept it loses
 */
export function score(variant: Variant): Score {
  const points = products(variant.numbers.map(({ grid }) => grid)).map((values) =>
    evaluate(variant, values),
  );
  const fit = best(points, () => true);
  const distances = YARDSTICK_ROWS.map((row, i) => distanceOf(row, fit.answers[i]!));
  return {
    variant,
    values: fit.values,
    answers: fit.answers,
    distances,
    chi2: total(fit.squares, () => true),
    chi2Uncapped: distances.reduce((sum, d) => sum + d * d, 0),
    outOfKind: leftOut(points, kind),
    outOfSource: leftOut(points, source),
    lost: YARDSTICK_ROWS.filter(({ id }, i) => KEPT.includes(id) && distances[i]! > 2).map(
      ({ id }) => id,
    ),
  };
}
