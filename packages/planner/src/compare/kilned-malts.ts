/**
 * Instead of boiling: a grist from the brewer's own lots, mashed without a pull, so that wort colour
 * and extract come out like the decocted wort's. An alternative, never an equivalent: nothing here
 * speaks of flavour.
 */
import { forecastMashPh, NOMINAL } from '@ladlework/brewhouse';
import type { WaterReport } from '@ladlework/matter';
import { band } from '@ladlework/numerics';
import type { MaltLot, PlanDocument, StockLot } from '../document.ts';
import { drawsFor } from '../ensemble.ts';
import type { Band } from '../plan.ts';
import { planDay } from '../plan-day.ts';
import { colourUnitsFor, comparedL, gristColour, lovibond, potential } from './grist-colour.ts';
import { liquorOf, type MashLiquor, phMash, protonsOf } from './liquor-of.ts';
import { CONVERTS_WK, gristPower, KILNED_FROM_EBC, mostShareOf, powerOf } from './malt-kinds.ts';
import type { NoRecipe } from './methods.ts';
import { recipeFor } from './methods.ts';
import { playWay, type Recipe } from './outcome.ts';
import { maltCost, maltPrice, pricesOf } from './prices.ts';
import { type Ask, type Choice, nearestShares, sharesFor } from './substitute.ts';
import { whyNone } from './why-none.ts';

/** Mash pH at room temperature that is kept. @source field.md 6.21, common practice */
const MASH_PH = { low: 5.2, high: 5.6 } as const;
/** What counts as a match, as shares, from the scale and in bags; our choice. */
const TOLERANCE = {
  scale: { extract: 0.001, colour: 0.003 },
  'half-bags': { extract: 0.02, colour: 0.08 },
  bags: { extract: 0.03, colour: 0.1 },
} as const;
/** Passes over the yield, which moves a little with the grist, until it moves by less than this. */
const MOST_PASSES = 5;
const SAME_YIELD = 5e-4;
/** Draws behind the band of what the boils colour. */
const COLOUR_DRAWS = 40;
/** Draws behind the landings of a change that is not shown. */
const FREED_DRAWS = 50;

export interface SubstituteOptions {
  /** Weighed, or every lot with a bag in whole or half ones; default weighed. */
  readonly steps?: 'scale' | 'half-bags' | 'bags';
  /**
   * Colour and extract are met first, whatever is aimed at: then the grist nearest to the brewer's
   * own, or the cheapest, or the fewest lots. Default own-grist.
   */
  readonly aim?: 'own-grist' | 'price' | 'fewest-lots';
  /** Share of the extract that may be missed, 0.0001-0.2. */
  readonly extractTolerance?: number;
  /** Share of the colour that may be missed, 0.0001-0.5. */
  readonly colourTolerance?: number;
  /** Least diastatic power of the grist [°WK], 0-400; default 40 °Lintner. */
  readonly leastWk?: number;
  /** Mash pH kept at room temperature, 4.8-6.5; default 5.2-5.6 and what the own grist has. */
  readonly ph?: { readonly low: number; readonly high: number };
  /** Mash liquor, where it is known. */
  readonly report?: WaterReport;
}

export interface KilnedGrist {
  readonly malts: readonly {
    readonly name: string;
    readonly lot?: string;
    readonly kg: number;
    readonly wasKg: number;
    /** Of the grist, and the most this lot may be, 0-1. */
    readonly share: number;
    readonly mostShare: number;
    readonly bags?: number;
    readonly cost?: number;
  }[];
  /** Extract of the decocted wort and of this one, likely kit [kg]. */
  readonly extractKg: { readonly wanted: number; readonly got: number };
  /** Colour at 12 °P, malts and boils together [EBC]; within 20 % or worse in the absolute. */
  readonly colourEbc: {
    readonly wanted: number;
    readonly got: number;
    /** What of the wanted colour the boils gave, which is known within a factor of two. */
    readonly boils: Band;
  };
  /** Of the grist [°WK], the least asked for, and the lots counted at the least their kind must have. */
  readonly diastaticWk: {
    readonly got: number;
    readonly least: number;
    readonly assumed: readonly string[];
  };
  /** Mash pH at room temperature of the own grist and of this one, and how well that is known. */
  readonly ph: { readonly own: number; readonly got: number; readonly band: Band };
  /** Left out when a lot has no price. */
  readonly cost?: { readonly got: number; readonly was: number; readonly currency: string };
  /** What it is, and what it is not. */
  readonly text: string;
  /** What was assumed for want of figures. */
  readonly notes: readonly string[];
}

export type Substitution =
  | { readonly ok: true; readonly grist: KilnedGrist; readonly document: PlanDocument }
  | {
      readonly ok: false;
      readonly whyNot: string;
      /** A lot that, bought, would do it; checked by the same solver. */
      readonly wouldDo?: string;
      /** The grist that misses extract and colour by least, where the other limits can be kept. */
      readonly nearest?: KilnedGrist;
    };

/**
 * The grist without a pull that matches the decocted wort in extract and colour.
 * @param document the brewer's own plan, with the lots in store; where it has no pull, its one-pull way
 *   is the wort to match
 * @param options steps, aim, tolerances and limits
 * @returns the grist and its single infusion, or why not, what would do, and the nearest there is
 * @source mixed-integer programme over the kilograms; colour by Morey's power law plus the boils' load;
 *   mash pH by the proton balance
 * @example two lots are two equations in two unknowns: kilned-malts.test.ts solves one by hand
 */
export function insteadOfBoiling(
  document: PlanDocument,
  options: SubstituteOptions = {},
): Substitution {
  const found = substitution(document, options);
  return 'recipe' in found
    ? { ok: true, grist: found.grist, document: found.recipe.document }
    : { ok: false, ...found };
}

/** The same with default options as one of the ways to brew: a recipe, or why there is none. */
export function kilnedRecipe(
  document: PlanDocument,
): { readonly recipe: Recipe; readonly grist: KilnedGrist } | NoRecipe {
  const found = substitution(document, {});
  if ('recipe' in found) return found;
  return { whyNot: [found.whyNot, found.wouldDo].filter((s) => s !== undefined).join(' ') };
}

type Refusal = Omit<Extract<Substitution, { ok: false }>, 'ok'>;

function substitution(
  document: PlanDocument,
  options: SubstituteOptions,
): { readonly recipe: Recipe; readonly grist: KilnedGrist } | Refusal {
  const { malts } = document.beer;
  const silent = malts.filter((m) => m.certificate?.colourEbc === undefined);
  if (silent.length > 0)
    return { whyNot: `No colour on the sheet of ${names(silent)}; enter it from the malt sheet.` };
  const lots = lotsOf(document);
  if (!lots.some((m) => (m.certificate?.colourEbc as number) >= KILNED_FROM_EBC))
    return {
      whyNot: `There is no kilned malt lot: none of the beer or in store states a colour of ${KILNED_FROM_EBC} EBC or more.`,
    };
  const wanted = decocted(document);
  if (!wanted)
    return { whyNot: 'The decocted wort cannot be made on this kit, so there is none to match.' };
  const unpriced = lots.filter((m) => maltPrice(m, pricesOf(document)) === undefined);
  if (options.aim === 'price' && unpriced.length > 0)
    return {
      whyNot: `${names(unpriced)} ${unpriced.length > 1 ? 'have' : 'has'} no price; name one, or a price for all malt.`,
    };
  const infusion = recipeFor(document, 'infusion') as Recipe;
  const liquor = liquorOf(document, infusion.document.mash.liquorLPerKg, options.report);
  const potentialKg = (kg: readonly number[]) =>
    lots.reduce((sum, m, i) => sum + (kg[i] as number) * potential(m), 0);
  let kg: readonly number[] = lots.map((m) => m.kg);
  let extractKg = infused(infusion, lots, kg);
  let missed: Refusal | undefined;
  for (let pass = 0; extractKg !== undefined && pass < MOST_PASSES; pass++) {
    const yieldShare: number = extractKg / potentialKg(kg);
    const { ask, choiceOf } = askOf(document, lots, wanted, yieldShare, liquor, options);
    const shares = sharesFor(ask);
    if (shares.state === 'gave-up')
      return { whyNot: 'The solver came to no proven answer; ask for fewer lots or without bags.' };
    const nearest = shares.state === 'found' ? shares : nearestShares(ask);
    missed = shares.state === 'found' ? undefined : whyNone(ask, lots, choiceOf);
    if (nearest.state !== 'found') return missed as Refusal;
    kg = nearest.kg;
    extractKg = infused(infusion, lots, kg);
    if (extractKg && Math.abs(extractKg / (yieldShare * potentialKg(kg)) - 1) < SAME_YIELD) break;
  }
  if (extractKg === undefined)
    return { whyNot: 'The grist that matches cannot be mashed on this kit.' };
  const grist = told(document, lots, kg, { wanted, extractKg, liquor, options });
  if (missed) return { ...missed, nearest: grist };
  const beer = { ...document.beer, malts: withKg(lots, kg) };
  return { recipe: { ...infusion, document: { ...infusion.document, beer } }, grist };
}

/** Lots of the beer, then those in store that are not of it; a lot without a colour cannot be chosen. */
function lotsOf({ beer, stock = [] }: PlanDocument): MaltLot[] {
  const key = (m: StockLot) => m.lot ?? m.name;
  const own = new Set(beer.malts.map(key));
  const more = stock.filter((m) => !own.has(key(m)) && m.certificate?.colourEbc !== undefined);
  return [...beer.malts, ...more.map((m) => ({ ...m, kg: 0 }))];
}

interface WantedWort {
  readonly extractKg: number;
  /** Malts and boils [EBC]. */
  readonly colourEbc: number;
  readonly boilsEbc: Band;
  /** The change of kit it was reckoned with, where the own kit cannot boil it. */
  readonly freedBy?: string;
}

/** The wort to match: likely kit, with the band of what the boils colour. */
function decocted(document: PlanDocument): WantedWort | undefined {
  const pulled = document.mash.raises.some((r) => r.by === 'decoction');
  const recipe = pulled ? { document, finish: [] } : recipeFor(document, 'one-pull');
  if ('whyNot' in recipe) return undefined;
  const own = wortOf(recipe);
  if (own) return own;
  // Who cannot boil asks this most: the wort is then that of the kit with one thing changed.
  const freed = planDay(recipe.document, { draws: FREED_DRAWS, mash: 'off' }).changes;
  for (const change of freed) {
    const wort = wortOf({ document: change.document, finish: [] });
    if (wort) return { ...wort, freedBy: change.text };
  }
  return undefined;
}

function wortOf(recipe: Recipe): WantedWort | undefined {
  const { document } = recipe;
  const draws = [NOMINAL, ...drawsFor(document.kit, COLOUR_DRAWS, 1)];
  const { worts } = playWay(recipe, draws, pricesOf(document));
  const [likely] = worts;
  if (!likely) return undefined;
  const spread = band(worts.slice(1).map((w) => w.colourEbc));
  const { malts } = document.beer;
  const kg = malts.map((m) => m.kg);
  return {
    extractKg: likely.extractKg,
    colourEbc: gristColour(malts, kg, likely.extractKg) + likely.colourEbc,
    boilsEbc: { ...spread, likely: likely.colourEbc },
  };
}

/** Extract of the likely infusion with these kilograms; undefined where it clashes [kg]. */
function infused(
  infusion: Recipe,
  lots: readonly MaltLot[],
  kg: readonly number[],
): number | undefined {
  const beer = { ...infusion.document.beer, malts: withKg(lots, kg) };
  const recipe = { ...infusion, document: { ...infusion.document, beer } };
  return playWay(recipe, [NOMINAL], pricesOf(infusion.document)).worts[0]?.extractKg;
}

const withKg = (lots: readonly MaltLot[], kg: readonly number[]): MaltLot[] =>
  lots.map((m, i) => ({ ...m, kg: kg[i] as number })).filter((m) => m.kg > 0);

function askOf(
  document: PlanDocument,
  lots: readonly MaltLot[],
  wanted: WantedWort,
  yieldShare: number,
  liquor: MashLiquor,
  options: SubstituteOptions,
): { readonly ask: Ask; readonly choiceOf: (lot: MaltLot) => Choice } {
  const steps = options.steps ?? 'scale';
  const usual = TOLERANCE[steps];
  const total = document.beer.malts.reduce((sum, m) => sum + m.kg, 0);
  const tolerance = options.colourTolerance ?? usual.colour;
  const prices = pricesOf(document);
  const ph = phLimits(liquor, options);
  const choiceOf = (lot: MaltLot): Choice => {
    const price = maltPrice(lot, prices);
    const step = steps === 'scale' ? undefined : lot.bagKg;
    return {
      extractKgKg: yieldShare * potential(lot),
      lovibond: lovibond(lot),
      wk: powerOf(lot).wk,
      ...(ph ? { protons: protonsOf(lot, liquor, ph) } : {}),
      ...(price === undefined ? {} : { pricePerKg: price }),
      ...(step === undefined ? {} : { stepKg: steps === 'bags' ? step : step / 2 }),
      ...(lot.inStoreKg === undefined ? {} : { mostKg: lot.inStoreKg }),
      mostShare: mostShareOf(lot, lot.kg / total),
      ownKg: lot.kg,
    };
  };
  const ask: Ask = {
    choices: lots.map(choiceOf),
    extractKg: wanted.extractKg,
    extractTolerance: options.extractTolerance ?? usual.extract,
    units: {
      low: colourUnitsFor(wanted.colourEbc * (1 - tolerance)),
      high: colourUnitsFor(wanted.colourEbc * (1 + tolerance)),
    },
    litresPerKg: comparedL(1),
    leastWk: options.leastWk ?? CONVERTS_WK,
    aim: options.aim ?? 'own-grist',
  };
  return { ask, choiceOf };
}

/** Limits of the mash pH: an own grist that lies outside the usual is not to be made worse. */
function phLimits(liquor: MashLiquor, { ph }: SubstituteOptions) {
  if (ph) return ph;
  return liquor.known
    ? { low: Math.min(MASH_PH.low, liquor.ownPh), high: Math.max(MASH_PH.high, liquor.ownPh) }
    : undefined;
}

interface Found {
  readonly wanted: WantedWort;
  readonly extractKg: number;
  readonly liquor: MashLiquor;
  readonly options: SubstituteOptions;
}

/** The grist in figures and words. */
function told(
  document: PlanDocument,
  lots: readonly MaltLot[],
  kg: readonly number[],
  { wanted, extractKg, liquor, options }: Found,
): KilnedGrist {
  const prices = pricesOf(document);
  const used = withKg(lots, kg);
  const total = used.reduce((sum, m) => sum + m.kg, 0);
  const ownKg = document.beer.malts.reduce((sum, m) => sum + m.kg, 0);
  const ph = forecastMashPh(phMash(used, liquor)).ph;
  const cost = maltCost(used, prices);
  const was = maltCost(document.beer.malts, prices);
  const assumed = used.filter((m) => !powerOf(m).printed).map((m) => m.name);
  const malts = lots.flatMap((m, i) => {
    const now = kg[i] as number;
    if (now === 0 && m.kg === 0) return [];
    const price = maltPrice(m, prices);
    return [
      {
        name: m.name,
        ...(m.lot === undefined ? {} : { lot: m.lot }),
        kg: now,
        wasKg: m.kg,
        share: now / total,
        mostShare: mostShareOf(m, m.kg / ownKg),
        ...(m.bagKg === undefined ? {} : { bags: now / m.bagKg }),
        ...(price === undefined ? {} : { cost: price * now }),
      },
    ];
  });
  const notes = [
    ...(wanted.freedBy === undefined
      ? []
      : [`This kit cannot make the decocted wort; it is reckoned for ${wanted.freedBy}.`]),
    ...(assumed.length > 0
      ? [
          `No diastatic power on the sheet of ${assumed.join(' and ')}: counted at the least its kind must have.`,
        ]
      : []),
    ...liquor.notes,
    ...(ph.low < MASH_PH.low || ph.high > MASH_PH.high
      ? [`Mash pH is known to ${((ph.high - ph.low) / 2).toFixed(1)} only; read it.`]
      : []),
    'Extract that the decoction won from the grain is put back by weight of malt; limit of attenuation is not matched.',
  ];
  return {
    malts,
    extractKg: { wanted: wanted.extractKg, got: extractKg },
    colourEbc: {
      wanted: wanted.colourEbc,
      got: gristColour(
        used,
        used.map((m) => m.kg),
        extractKg,
      ),
      boils: wanted.boilsEbc,
    },
    diastaticWk: { got: gristPower(used), least: options.leastWk ?? CONVERTS_WK, assumed },
    ph: { own: liquor.ownPh, got: ph.likely, band: ph },
    ...(cost === undefined || was === undefined
      ? {}
      : { cost: { got: cost, was, currency: prices.currency } }),
    text: `Like the decocted wort in colour and extract only: an alternative, not an equivalent. ${mostKilned(used, total)}Taste them blind side by side to settle it in-house.`,
    notes,
  };
}

/** "Melanoidin malt is 4 % of it. " */
function mostKilned(used: readonly MaltLot[], total: number): string {
  const kilned = used.filter((m) => (m.certificate?.colourEbc ?? 0) >= KILNED_FROM_EBC);
  if (kilned.length === 0) return '';
  const each = kilned.map((m) => `${m.name} ${((100 * m.kg) / total).toFixed(1)} %`);
  return `Of it ${each.join(', ')}. `;
}

const names = (malts: readonly StockLot[]) => malts.map((m) => m.name).join(' and ');
