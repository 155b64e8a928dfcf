/**
 * The triangle test: three glasses, two alike; who cannot tell guesses right one time in three. All
 * numbers from the binomial distribution, none from a table.
 */
import { inRange } from '@ladlework/matter';
import { binomialAtLeast, findRoot } from '@ladlework/numerics';

const GUESS = 1 / 3;
const MOST_TASTERS = 1000;
/** Risk of calling beers different that nobody can tell apart, unless another is asked. ISO 4120, 5 %. */
export const USUAL_ALPHA = 0.05;

const tastersIn = (tasters: number) =>
  inRange(
    'number of tasters',
    Number.isInteger(tasters) ? tasters : Number.NaN,
    3,
    MOST_TASTERS,
    '',
  );
const alphaIn = (alpha: number) => inRange('risk alpha', alpha, 1e-6, 0.5, '');

/**
 * Chance that so many or more answers are right when every taster guesses.
 *
 * @param correct right answers, 0 to the number of tasters
 * @param tasters 3 to 1000
 * @returns chance [-]
 * @throws OutOfRange outside the ranges
 * @source binomial with p = 1/3: ISO 4120, ASTM E1885
 * @example triangleChance(9, 15) // 0.0308
 */
export function triangleChance(correct: number, tasters: number): number {
  const n = tastersIn(tasters);
  const right = Number.isInteger(correct) ? correct : Number.NaN;
  return binomialAtLeast(inRange('right answers', right, 0, n, ''), n, GUESS);
}

/**
 * Fewest right answers that show a difference.
 *
 * @param tasters 3 to 1000
 * @param alpha risk of calling alike beers different [-], 1e-6 to 0.5
 * @returns right answers; undefined when not even all of them would show it
 * @throws OutOfRange outside the ranges
 * @source ISO 4120 Table A.1, ASTM E1885: least x with P(X >= x | n, 1/3) <= alpha
 * @example triangleCritical(15, 0.05) // 9
 */
export function triangleCritical(tasters: number, alpha: number): number | undefined {
  const n = tastersIn(tasters);
  const risk = alphaIn(alpha);
  for (let x = Math.ceil(n / 3); x <= n; x++) if (binomialAtLeast(x, n, GUESS) <= risk) return x;
  return undefined;
}

/** What a test is asked to be able to do. */
export interface TriangleWish {
  /** Risk of calling alike beers different [-], 1e-6 to 0.5. */
  readonly alpha: number;
  /** Risk of missing a difference that so many can tell [-], 0.001 to 0.9. */
  readonly beta: number;
  /** Share of people who can tell the beers apart [-], 0.05 to 1. */
  readonly distinguishers: number;
}

/**
 * Chance that the test shows a difference which a share of people can tell.
 *
 * @param tasters 3 to 1000
 * @param alpha 1e-6 to 0.5
 * @param distinguishers 0 to 1; the others guess
 * @returns chance; 0 when the test can show nothing
 * @throws OutOfRange outside the ranges
 * @source right answers at p = d + (1 - d)/3: ISO 4120, ASTM E1885
 */
export function trianglePower(tasters: number, alpha: number, distinguishers: number): number {
  const d = inRange('share that can tell', distinguishers, 0, 1, '');
  const critical = triangleCritical(tasters, alpha);
  return critical === undefined ? 0 : binomialAtLeast(critical, tasters, d + (1 - d) * GUESS);
}

/**
 * Tasters for the risks wanted.
 *
 * @param wish alpha, beta and the share of people who can tell
 * @returns fewest tasters, the right answers that show a difference, and the power reached; undefined
 *   when a thousand are not enough
 * @throws OutOfRange outside the ranges
 * @source ISO 4120 Table A.2, ASTM E1885
 * @example triangleTasters({ alpha: 0.05, beta: 0.2, distinguishers: 0.5 })?.tasters // 16
 */
export function triangleTasters(
  wish: TriangleWish,
): { readonly tasters: number; readonly critical: number; readonly power: number } | undefined {
  const beta = inRange('risk beta', wish.beta, 0.001, 0.9, '');
  const d = inRange('share that can tell', wish.distinguishers, 0.05, 1, '');
  for (let tasters = 3; tasters <= MOST_TASTERS; tasters++) {
    const power = trianglePower(tasters, wish.alpha, d);
    if (power >= 1 - beta)
      return { tasters, critical: triangleCritical(tasters, wish.alpha) as number, power };
  }
  return undefined;
}

/** What came of a tasting. */
export interface TastingResult {
  /** Chance of so many right answers or more by guessing. */
  readonly chance: number;
  readonly critical: number | undefined;
  readonly different: boolean;
  /** At most this share of people can tell the beers apart, with confidence 1 - alpha. */
  readonly distinguishersAtMost: number;
  readonly sentence: string;
}

/**
 * The answers of a tasting.
 *
 * @param answers tasters 3 to 1000; correct among them; alpha 1e-6 to 0.5, 0.05 unless given
 * @returns chance, verdict and the most people who may be able to tell
 * @throws OutOfRange outside the ranges
 * @source ISO 4120; upper bound exact (Clopper & Pearson, Biometrika 26:404, 1934)
 */
export function tastingResult(answers: {
  readonly tasters: number;
  readonly correct: number;
  readonly alpha?: number;
}): TastingResult {
  const { tasters, correct } = answers;
  const alpha = alphaIn(answers.alpha ?? USUAL_ALPHA);
  const chance = triangleChance(correct, tasters);
  const critical = triangleCritical(tasters, alpha);
  const different = chance <= alpha;
  const most = correct === tasters ? 1 : upperBound(correct, tasters, alpha);
  const distinguishersAtMost = Math.max(0, (most - GUESS) / (1 - GUESS));
  const counted = `${correct} of ${tasters} named the odd glass. By guessing alone so many come about ${timesIn100(chance)}.`;
  const verdict = different
    ? 'The beers can be told apart; which is better is another question.'
    : `No difference was shown. That is no proof of likeness: up to ${(100 * distinguishersAtMost).toFixed(0)} % of people may still be able to tell them apart.`;
  const blind =
    critical === undefined
      ? ' With so few tasters not even all answers right would show a difference.'
      : '';
  return {
    chance,
    critical,
    different,
    distinguishersAtMost,
    sentence: `${counted} ${verdict}${blind}`,
  };
}

function timesIn100(chance: number): string {
  if (chance < 0.001) return 'less than once in 1000 tastings';
  const [often, of] = chance < 0.01 ? [1000 * chance, 1000] : [100 * chance, 100];
  const times = Math.round(often);
  return `${times === 1 ? 'once' : `${times} times`} in ${of} tastings`;
}

/** Largest chance of a right answer under which so few are not rarer than alpha. */
function upperBound(correct: number, tasters: number, alpha: number): number {
  const root = findRoot((p) => 1 - binomialAtLeast(correct + 1, tasters, p) - alpha, 0, 1, {
    fTolerance: 1e-12,
  });
  if (!root.ok) throw new Error(`no upper bound for ${correct} of ${tasters}: ${root.reason}`);
  return root.x;
}
