/** Divisions of a printed scale: ones, twos and fives, no closer than the eye parts them. */

export interface Tick {
  readonly value: number;
  /** 0 carries a number, 1 is half long, 2 is short. */
  readonly rank: 0 | 1 | 2;
}

export interface ScaleEnds {
  /** Ends of the scale, in the unit printed. */
  readonly low: number;
  readonly high: number;
  /** Where a value stands along the scale [mm]. */
  readonly at: (value: number) => number;
}

/** Two strokes nearer than this run together when the paper is wet; our judgement [mm]. */
const STROKE_GAP_MM = 1.7;
/** Numbers need this much to stand apart; our judgement [mm]. */
const NUMBER_GAP_MM = 8;

/**
 * The divisions of a scale.
 *
 * @param ends what the scale runs over and where values stand
 * @param whole only whole numbers, as of buckets
 * @returns ascending; empty for a scale too short for a single division
 */
export function ticksOf(ends: ScaleEnds, whole = false): Tick[] {
  const steps = STEPS.filter((s) => !whole || Number.isInteger(s));
  const minor = steps.find((s) => leastGap(ends, s) >= STROKE_GAP_MM);
  if (minor === undefined) return [];
  const major =
    steps.find((s) => multiple(s, minor) && leastGap(ends, s) >= NUMBER_GAP_MM) ?? minor;
  const middle = steps.find((s) => s > minor && multiple(s, minor) && multiple(major, s)) ?? major;
  return multiplesOf(ends, minor).map((value) => ({
    value,
    rank: multiple(value, major) ? 0 : multiple(value, middle) && middle < major ? 1 : 2,
  }));
}

/** Decimals a division of this step is written with. */
export function digitsOf(ticks: readonly Tick[]): number {
  const numbers = ticks.filter((t) => t.rank === 0).map((t) => t.value);
  return numbers.every((n) => multiple(n, 1)) ? 0 : numbers.every((n) => multiple(n, 0.1)) ? 1 : 2;
}

const STEPS = [-2, -1, 0, 1, 2, 3].flatMap((e) => [1, 2, 5].map((m) => Number(`${m}e${e}`)));

const multiple = (value: number, step: number): boolean =>
  Math.abs(value / step - Math.round(value / step)) < 1e-6;

function multiplesOf({ low, high }: ScaleEnds, step: number): number[] {
  const values: number[] = [];
  for (let n = Math.ceil(low / step - 1e-9); n * step <= high + 1e-9 * step; n++)
    values.push(Number((n * step).toFixed(6)));
  return values;
}

function leastGap(ends: ScaleEnds, step: number): number {
  const values = multiplesOf(ends, step);
  if (values.length > 400) return 0;
  if (values.length < 2) return Math.abs(ends.at(ends.high) - ends.at(ends.low));
  let least = Infinity;
  for (let i = 1; i < values.length; i++)
    least = Math.min(
      least,
      Math.abs(ends.at(values[i] as number) - ends.at(values[i - 1] as number)),
    );
  return least;
}
