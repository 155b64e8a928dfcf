/** The sheets of a blind tasting: who gets which glasses in which order, under which numbers. */
import { inRange, OutOfRange } from '@ladlework/matter';
import { type Random, seededRandom } from '@ladlework/numerics';
import { triangleCritical, trianglePower, USUAL_ALPHA } from './triangle.ts';

type Sample = 'A' | 'B';

/** The six orders of two and one. @source ISO 4120: each as often as the others */
const ORDERS = ['AAB', 'ABA', 'BAA', 'ABB', 'BAB', 'BBA'] as const;
const FIRST_CODE = 100;
const CODES = 900;
/** Share of people who can tell that the power is told for, unless another is asked; our choice. */
const USUAL_DISTINGUISHERS = 0.5;
/** Beer in a glass [mL]; common practice, no source. */
const GLASS_ML = 60;

export interface TastingWish {
  /** Names of the two beers, which the tasters do not see. */
  readonly a: string;
  readonly b: string;
  /** 3 to 300. */
  readonly tasters: number;
  /** 32-bit integer; the same seed gives the same sheet. */
  readonly seed: number;
  /** 1e-6 to 0.5, 0.05 unless given. */
  readonly alpha?: number;
  /** Share of people who can tell, for which the power is told, 0-1; 0.5 unless given. */
  readonly distinguishers?: number;
}

export interface TasterSheet {
  readonly number: number;
  /** From left to right. */
  readonly glasses: readonly { readonly code: string; readonly sample: Sample }[];
  /** Code of the glass that stands alone. */
  readonly odd: string;
}

export interface TastingSheet {
  readonly a: string;
  readonly b: string;
  readonly seed: number;
  readonly tasters: readonly TasterSheet[];
  /** Glasses of each beer. */
  readonly pours: { readonly A: number; readonly B: number };
  readonly alpha: number;
  /** Right answers that show a difference; left out when so few tasters cannot show one. */
  readonly critical?: number;
  /** Chance to show a difference that this share of people can tell. */
  readonly power: number;
  readonly distinguishers: number;
  /** For the one who pours, and no one else. */
  readonly keyText: string;
  /** One for each taster, to be cut apart. */
  readonly slipTexts: readonly string[];
  readonly notes: readonly string[];
}

/**
 * The sheets of a triangle test.
 *
 * The six orders are dealt in rounds of six, each round shuffled, so that none comes more than once
 * oftener than another. Codes are three digits, none used twice.
 *
 * @param wish names, tasters 3 to 300, seed, risk
 * @returns glasses and codes of each taster, what shows a difference, texts to print
 * @throws OutOfRange outside the ranges
 * @source ISO 4120, ASTM E1885: balanced random orders, three-digit codes, forced choice
 */
export function tastingSheet(wish: TastingWish): TastingSheet {
  const count = Number.isInteger(wish.tasters) ? wish.tasters : Number.NaN;
  inRange('number of tasters', count, 3, CODES / 3, '');
  if ((wish.seed | 0) !== wish.seed)
    throw new OutOfRange('seed', wish.seed, -(2 ** 31), 2 ** 31 - 1, '');
  const alpha = wish.alpha ?? USUAL_ALPHA;
  const distinguishers = wish.distinguishers ?? USUAL_DISTINGUISHERS;
  const random = seededRandom(wish.seed);
  const codes = shuffled(
    Array.from({ length: CODES }, (_, i) => String(FIRST_CODE + i)),
    random,
  );
  const orders: string[] = [];
  while (orders.length < count) orders.push(...shuffled(ORDERS, random));
  const tasters = orders.slice(0, count).map((order, i): TasterSheet => {
    const glasses = [...order].map((sample, k) => ({
      code: codes[3 * i + k] as string,
      sample: sample as Sample,
    }));
    const alone = glasses.find((g) => glasses.filter((h) => h.sample === g.sample).length === 1);
    return { number: i + 1, glasses, odd: alone?.code as string };
  });
  const glassesOf = (sample: Sample) =>
    tasters.reduce((sum, t) => sum + t.glasses.filter((g) => g.sample === sample).length, 0);
  const pours = { A: glassesOf('A'), B: glassesOf('B') };
  const critical = triangleCritical(count, alpha);
  const power = trianglePower(count, alpha, distinguishers);
  const sheet = {
    a: wish.a,
    b: wish.b,
    seed: wish.seed,
    tasters,
    pours,
    alpha,
    ...(critical === undefined ? {} : { critical }),
    power,
    distinguishers,
    notes: NOTES,
  };
  return { ...sheet, keyText: keyOf(sheet), slipTexts: tasters.map(slipOf) };
}

const NOTES: readonly string[] = [
  'Same age, carbonation, temperature and fill in glasses alike; where colour could tell, dark glasses or red light.',
  `About ${GLASS_ML} mL a glass. Whoever drives or works on hot vessels afterwards spits out.`,
  'Who pours does not serve, and who serves does not know the key. Nobody speaks until all slips are in.',
  'An answer is always given: who cannot tell guesses.',
];

function keyOf(sheet: Omit<TastingSheet, 'keyText' | 'slipTexts'>): string {
  const { a, b, pours, critical, tasters, power, alpha, distinguishers } = sheet;
  const percent = (share: number) => `${(100 * share).toFixed(0)} %`;
  return [
    'Key of the tasting: for the one who pours',
    `A is ${a}: ${pours.A} glasses. B is ${b}: ${pours.B} glasses.`,
    '',
    ...tasters.map(({ number, glasses, odd }) => {
      const row = glasses.map((g) => `${g.code} ${g.sample}`).join('   ');
      return `${String(number).padStart(3)}   ${row}   odd ${odd}`;
    }),
    '',
    critical === undefined
      ? `${tasters.length} tasters cannot show a difference at a risk of ${percent(alpha)}.`
      : `${critical} or more of ${tasters.length} right: the beers can be told apart, at a risk of ${percent(alpha)} of saying so of beers alike. If ${percent(distinguishers)} of people can tell, this tasting shows it ${(100 * power).toFixed(0)} times in 100.`,
  ].join('\n');
}

function slipOf({ number, glasses }: TasterSheet): string {
  return [
    `Taster ${number}   name ____________________   date __________`,
    'Three glasses: two hold the same beer, one another. Taste from left to right,',
    'go back as often as you like. Mark the glass that is different.',
    'If you cannot tell, guess.',
    '',
    glasses.map((g) => `[  ] ${g.code}`).join('        '),
    '',
    'How sure: [  ] guessed  [  ] fairly  [  ] sure   What differed: ______________',
  ].join('\n');
}

function shuffled<T>(items: readonly T[], random: Random): T[] {
  const all = [...items];
  for (let i = all.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [all[i], all[j]] = [all[j] as T, all[i] as T];
  }
  return all;
}
