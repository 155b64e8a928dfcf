/**
 * Instead of boiling: the brewer's own malts in other shares, mashed without a pull, so that wort
 * colour and extract come out like the decocted wort's. An alternative, never an equivalent: nothing
 * here speaks of flavour.
 */
import { NOMINAL, wkFromLintner } from '@ladlework/brewhouse';
import {
  ebcFromSrm,
  lovibondFromSheetEbc,
  maltColourUnits,
  srmFromColourUnits,
} from '@ladlework/matter';
import { boundedLeastSquares, findRoot } from '@ladlework/numerics';
import type { MaltLot, PlanDocument } from '../document.ts';
import type { NoRecipe } from './methods.ts';
import { recipeFor } from './methods.ts';
import { playWay, type Recipe } from './outcome.ts';
import { DEFAULT_PRICES } from './prices.ts';

/** A lot at or above this colours; under it is a pale malt [EBC]. Common practice, no source. */
const KILNED_FROM_EBC = 5;
/** Colour is compared in wort of this strength [°P] and density [kg/L]; the usual lager's. */
const COMPARED_AT = { plato: 12, kgL: 1.048 } as const;
/** Extract and moisture of a lot whose sheet is silent [%], a usual pale malt's. Common practice, no source. */
const TYPICAL = { extractFinePct: 80, moisturePct: 4.5 } as const;
/** Diastatic power under which a grist is not trusted to convert itself [°Lintner]. Common practice, no source. */
const CONVERTS_LINTNER = 35;
/** Weight of extract and colour over staying near the brewer's grist: they are met, the rest is free. */
const MEET = 1e4;
/** A miss of extract or colour above this share counts as no match; our choice. */
const MATCHED = 0.02;
/** Passes over the yield, which moves a little with the grist. */
const PASSES = 3;

export interface KilnedGrist {
  readonly malts: readonly { readonly name: string; readonly kg: number; readonly wasKg: number }[];
  /** Extract of the decocted wort and of this one, likely kit [kg]. */
  readonly extractKg: { readonly wanted: number; readonly got: number };
  /** Colour at 12 °P, malts and boils together [EBC]; within 20 % or worse in the absolute. */
  readonly colourEbc: { readonly wanted: number; readonly got: number };
  /** Of the grist by its sheets [°WK]; left out when a base malt's sheet does not print it. */
  readonly diastaticWk?: number;
  /** What it is and what was not checked. */
  readonly text: string;
}

/**
 * The grist without a pull that matches the decocted wort in extract and colour.
 * @param document the brewer's own plan; where it has no pull, its one-pull way is the wort to match
 * @returns single infusion with the changed grist, or why these malts cannot
 * @source bounded least squares over the kilograms; colour by Morey's power law plus the boils' load
 * @example two lots are two equations in two unknowns: kilned-malts.test.ts solves one by hand
 */
export function kilnedRecipe(
  document: PlanDocument,
): { readonly recipe: Recipe; readonly grist: KilnedGrist } | NoRecipe {
  const { malts } = document.beer;
  const silent = malts.filter((m) => m.certificate?.colourEbc === undefined);
  const kilned = malts.filter((m) => (m.certificate?.colourEbc ?? 0) >= KILNED_FROM_EBC);
  if (kilned.length === 0)
    return {
      whyNot: `The beer has no kilned malt lot: none states a colour of ${KILNED_FROM_EBC} EBC or more.${silent.length > 0 ? ` ${names(silent)} ${silent.length > 1 ? 'state' : 'states'} no colour; enter it from the malt sheet.` : ''}`,
    };
  if (silent.length > 0)
    return { whyNot: `No colour on the sheet of ${names(silent)}; enter it from the malt sheet.` };
  if (kilned.length === malts.length)
    return { whyNot: 'Every lot of the beer is kilned; a pale lot is needed to mix with.' };
  const wanted = decocted(document);
  if (!wanted)
    return { whyNot: 'The decocted wort cannot be made on this kit, so there is none to match.' };
  const infusion = recipeFor(document, 'infusion') as Recipe;
  let kg = malts.map((m) => m.kg);
  let extractKg = infused(infusion, malts, kg);
  for (let pass = 0; extractKg !== undefined && pass < PASSES; pass++) {
    const potentialKg = malts.reduce((sum, m, i) => sum + (kg[i] as number) * potential(m), 0);
    kg = sharesFor(malts, wanted, extractKg / potentialKg);
    extractKg = infused(infusion, malts, kg);
  }
  if (extractKg === undefined)
    return { whyNot: 'The grist that matches cannot be mashed on this kit.' };
  const colourEbc = gristColour(malts, kg, extractKg);
  const miss = (got: number, want: number) => Math.abs(got - want) > MATCHED * want;
  if (miss(extractKg, wanted.extractKg) || miss(colourEbc, wanted.colourEbc))
    return {
      whyNot: `These malts reach ${colourEbc.toFixed(1)} EBC and ${extractKg.toFixed(1)} kg of extract; the decocted wort has ${wanted.colourEbc.toFixed(1)} EBC and ${wanted.extractKg.toFixed(1)} kg.`,
    };
  const power = diastaticWk(malts, kg);
  if (power !== undefined && power < wkFromLintner(CONVERTS_LINTNER))
    return {
      whyNot: `The grist that matches has ${power.toFixed(0)} °WK; under ${wkFromLintner(CONVERTS_LINTNER).toFixed(0)} °WK it is not trusted to convert itself.`,
    };
  const lots = malts.map((m, i) => ({ ...m, kg: kg[i] as number }));
  return {
    recipe: {
      ...infusion,
      document: {
        ...infusion.document,
        beer: { ...document.beer, malts: lots.filter((m) => m.kg > 0) },
      },
    },
    grist: {
      malts: lots.map((m, i) => ({ name: m.name, kg: m.kg, wasKg: (malts[i] as MaltLot).kg })),
      extractKg: { wanted: wanted.extractKg, got: extractKg },
      colourEbc: { wanted: wanted.colourEbc, got: colourEbc },
      ...(power === undefined ? {} : { diastaticWk: power }),
      text: `Like the decocted wort in colour and extract only: an alternative, not an equivalent.${power === undefined ? ' Diastatic power was not checked: a sheet does not print it.' : ''} Mash pH was not checked.`,
    },
  };
}

interface WantedWort {
  readonly extractKg: number;
  /** Malts and boils [EBC]. */
  readonly colourEbc: number;
}

/** The wort to match, on the likely kit. */
function decocted(document: PlanDocument): WantedWort | undefined {
  const pulled = document.mash.raises.some((r) => r.by === 'decoction');
  const recipe = pulled ? { document, finish: [] } : recipeFor(document, 'one-pull');
  if ('whyNot' in recipe) return undefined;
  const wort = playWay(recipe, [NOMINAL], DEFAULT_PRICES).worts[0];
  if (!wort) return undefined;
  const { malts } = document.beer;
  const own = malts.map((m) => m.kg);
  return {
    extractKg: wort.extractKg,
    colourEbc: gristColour(malts, own, wort.extractKg) + wort.colourEbc,
  };
}

/** Extract of the likely infusion with these kilograms; undefined where it clashes [kg]. */
function infused(
  infusion: Recipe,
  malts: readonly MaltLot[],
  kg: readonly number[],
): number | undefined {
  const lots = malts.map((m, i) => ({ ...m, kg: kg[i] as number })).filter((m) => m.kg > 0);
  const beer = { ...infusion.document.beer, malts: lots };
  const recipe = { ...infusion, document: { ...infusion.document, beer } };
  return playWay(recipe, [NOMINAL], DEFAULT_PRICES).worts[0]?.extractKg;
}

/**
 * Kilograms of each lot that give the extract and colour, as near the brewer's grist as they allow.
 * @param malts the lots, with the brewer's kg
 * @param wanted extract [kg] and colour at 12 °P [EBC]
 * @param yieldShare what of the sheets' extract the mash gives, 0-1
 */
export function sharesFor(
  malts: readonly MaltLot[],
  wanted: WantedWort,
  yieldShare: number,
): number[] {
  const total = malts.reduce((sum, m) => sum + m.kg, 0);
  const volumeL = comparedL(wanted.extractKg);
  const units = colourUnitsFor(wanted.colourEbc);
  const perKg = malts.map((m) => maltColourUnits([{ kg: 1, lovibond: lovibond(m) }], volumeL));
  const extract = malts.map((m) => (MEET * yieldShare * potential(m)) / wanted.extractKg);
  const near = malts.map((_, i) => malts.map((__, j) => (i === j ? 1 / total : 0)));
  const a = [extract, perKg.map((u) => (MEET * u) / units), ...near];
  const b = [MEET, MEET, ...malts.map((m) => m.kg / total)];
  const zero = malts.map(() => 0);
  return [
    ...boundedLeastSquares(
      a,
      b,
      zero,
      malts.map(() => MOST_GROWN * total),
    ).x,
  ];
}

/** No lot grows beyond so many times the whole grist. */
const MOST_GROWN = 3;

/** Colour the malts alone give at 12 °P [EBC]. */
export function gristColour(
  malts: readonly MaltLot[],
  kg: readonly number[],
  extractKg: number,
): number {
  const coloured = malts.map((m, i) => ({ kg: kg[i] as number, lovibond: lovibond(m) }));
  return ebcFromSrm(srmFromColourUnits(maltColourUnits(coloured, comparedL(extractKg))));
}

function colourUnitsFor(ebc: number): number {
  const root = findRoot((units) => ebcFromSrm(srmFromColourUnits(units)) - ebc, 0, 160, {
    fTolerance: 1e-9,
  });
  if (!root.ok) throw new Error(`no malt colour gives ${ebc} EBC: ${root.reason}`);
  return root.x;
}

/** Litres the extract makes at 12 °P. */
function comparedL(extractKg: number): number {
  return extractKg / (COMPARED_AT.plato / 100) / COMPARED_AT.kgL;
}

const lovibond = (m: MaltLot) => lovibondFromSheetEbc(m.certificate?.colourEbc as number);

/** Extract of a kilogram as it comes [kg/kg]. */
function potential({ certificate }: MaltLot): number {
  const dry = 1 - (certificate?.moisturePct ?? TYPICAL.moisturePct) / 100;
  return (dry * (certificate?.extractFinePct ?? TYPICAL.extractFinePct)) / 100;
}

/** Mean over the grist; caramel and roast have none. Undefined when a sheet is silent. */
function diastaticWk(malts: readonly MaltLot[], kg: readonly number[]): number | undefined {
  let sum = 0;
  let total = 0;
  for (const [i, m] of malts.entries()) {
    const hasEnzymes = m.type === 'base' || m.type === 'wheat';
    const wk = hasEnzymes ? m.certificate?.diastaticWk : 0;
    if (wk === undefined && (kg[i] as number) > 0) return undefined;
    sum += (kg[i] as number) * (wk ?? 0);
    total += kg[i] as number;
  }
  return sum / total;
}

const names = (malts: readonly MaltLot[]) => malts.map((m) => m.name).join(' and ');
