/**
 * Three scales that a straight edge reads together: from many answers of the engine, two functions
 * of what is read and one of what is wanted, so that x(tun) / y(arrival) = z(litres).
 *
 * For a return without losses that is exact, K (target - tun) / (arrival - target) = litres; what
 * the kit adds bends the scales a little, and the bend is found by least squares.
 */
import { boundedLeastSquares } from '@ladlework/numerics';

/** One answer of the engine. */
export interface Answer {
  readonly tunC: number;
  readonly arrivalC: number;
  readonly litres: number;
}

/** Scale functions, each monotone over the answers they were found from. */
export interface Alignment {
  readonly x: (tunC: number) => number;
  readonly y: (arrivalC: number) => number;
  readonly z: (litres: number) => number;
}

/** Degree of the bend of each scale; the engine's own kinks show beyond it. */
const DEGREE = 3;
/** No coefficient comes near this; it only makes the problem bounded. */
const BOUND = 20;

/**
 * Fits the three scales.
 *
 * @param targetC what the tun is to reach [°C], above every `tunC` and below every `arrivalC`
 * @param answers 30 to 200 of them
 * @throws RangeError for fewer or more answers, or one beyond the target
 */
export function align(targetC: number, answers: readonly Answer[]): Alignment {
  if (answers.length < 30 || answers.length > 200)
    throw new RangeError(`answers: ${answers.length} given; give 30 to 200`);
  for (const a of answers)
    if (!(a.tunC < targetC && a.arrivalC > targetC && a.litres > 0))
      throw new RangeError(`answer ${JSON.stringify(a)}: the target ${targetC} lies between`);
  const tun = unitOf(answers.map((a) => a.tunC));
  const arrival = unitOf(answers.map((a) => a.arrivalC));
  const litres = unitOf(answers.map((a) => Math.log(a.litres)));
  // ln K + a(T) - b(A) - c(L) = ln L - ln(target - T) + ln(A - target), all but K bends.
  const rows = answers.map((a) => [
    1,
    ...powers(tun(a.tunC), 1),
    ...powers(arrival(a.arrivalC), 1).map((p) => -p),
    ...powers(litres(Math.log(a.litres)), 2).map((p) => -p),
  ]);
  const logK = Math.log(meanK(targetC, answers));
  const right = answers.map(
    (a) => Math.log(a.litres) - Math.log(targetC - a.tunC) + Math.log(a.arrivalC - targetC) - logK,
  );
  const low = (rows[0] as number[]).map(() => -BOUND);
  const { x: c } = boundedLeastSquares(
    rows,
    right,
    low,
    low.map((b) => -b),
  );
  const [shift = 0, ...bends] = c;
  const a = bends.slice(0, DEGREE);
  const b = bends.slice(DEGREE, 2 * DEGREE);
  const d = bends.slice(2 * DEGREE);
  const k = logK + shift;
  return {
    x: (tunC) => (targetC - tunC) * Math.exp(k + sum(a, powers(tun(tunC), 1))),
    y: (arrivalC) => (arrivalC - targetC) * Math.exp(sum(b, powers(arrival(arrivalC), 1))),
    z: (l) => l * Math.exp(sum(d, powers(litres(Math.log(l)), 2))),
  };
}

/** Litres times kelvin over kelvin, averaged: the mixing rule's heat capacity of the tun [L]. */
function meanK(targetC: number, answers: readonly Answer[]): number {
  const logs = answers.map((a) =>
    Math.log((a.litres * (a.arrivalC - targetC)) / (targetC - a.tunC)),
  );
  return Math.exp(logs.reduce((s, l) => s + l, 0) / logs.length);
}

/** Maps the span of some values on -1 to 1. */
function unitOf(values: readonly number[]): (value: number) => number {
  const low = Math.min(...values);
  const half = Math.max(1e-9, (Math.max(...values) - low) / 2);
  return (value) => (value - low) / half - 1;
}

const powers = (u: number, from: number): number[] =>
  Array.from({ length: DEGREE + 1 - from }, (_, n) => u ** (n + from));

const sum = (c: readonly number[], p: readonly number[]): number =>
  c.reduce((s, value, n) => s + value * (p[n] as number), 0);

/**
 * The litres the scales give for two readings.
 *
 * @param scales fitted
 * @param low, high ends of the litre scale [L]
 * @returns undefined when the straight edge passes beside the litre scale
 */
export function litresOn(
  scales: Alignment,
  tunC: number,
  arrivalC: number,
  low: number,
  high: number,
): number | undefined {
  const wanted = scales.x(tunC) / scales.y(arrivalC);
  if (wanted < scales.z(low) || wanted > scales.z(high)) return undefined;
  let a = low;
  let b = high;
  for (let i = 0; i < 60; i++) {
    const middle = (a + b) / 2;
    if (scales.z(middle) < wanted) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}
