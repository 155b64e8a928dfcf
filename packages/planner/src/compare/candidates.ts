/** What the menu chooses from: every way of methods.ts, with the free choices of the brewer varied. */
import type { PlanDocument, Raise } from '../document.ts';
import { heatedVessels, METHODS, recipeFor } from './methods.ts';
import type { Recipe } from './outcome.ts';

/** The choices that are varied; every combination is a candidate. */
export interface MenuAxes {
  /** Liquor to grist at mash-in [L/kg], 1.5-10. */
  readonly liquorLPerKg: readonly number[];
  /** Boil of every pull but a thin last one [min]. */
  readonly boilMinutes: readonly number[];
  readonly thickness: readonly ('thick' | 'as-it-comes')[];
  /** Rest lengths as a share of the brewer's. */
  readonly restShare: readonly number[];
  /** Pull into one pot, or into all that are heated: in turn and side by side. */
  readonly morePots: boolean;
}

/** Around the brewer's own choices. */
export function usualAxes(document: PlanDocument): MenuAxes {
  return {
    liquorLPerKg: [...new Set([2.7, document.mash.liquorLPerKg])],
    boilMinutes: [10, 20, 30],
    thickness: ['thick', 'as-it-comes'],
    restShare: [1, 0.75],
    morePots: true,
  };
}

/**
 * Every candidate, each a plan document of its own; doubles left out.
 * @param document the brewer's own plan, always the first candidate
 * @param axes what is varied
 */
export function candidatesOf(document: PlanDocument, axes: MenuAxes): Recipe[] {
  const found = new Map<string, Recipe>();
  const add = (recipe: Recipe) => {
    const key = JSON.stringify([recipe.document.mash, recipe.finish]);
    if (!found.has(key)) found.set(key, recipe);
  };
  add({ document, finish: [] });
  for (const method of METHODS) {
    if (method === 'no-pull-kilned-malts') continue;
    const way = recipeFor(document, method);
    if ('whyNot' in way) continue;
    for (const liquorLPerKg of axes.liquorLPerKg)
      for (const restShare of axes.restShare)
        for (const boilMinutes of axes.boilMinutes)
          for (const thickness of axes.thickness)
            for (const places of placesOf(way.document, axes))
              add(varied(way, { liquorLPerKg, restShare, boilMinutes, thickness, places }));
  }
  return [...found.values()];
}

/** Pots and order of every pull; undefined keeps what the way has. */
type Places = { readonly pots: readonly string[]; readonly order: 'in-turn' | 'side-by-side' };

function placesOf({ kit, mash }: PlanDocument, axes: MenuAxes): (Places | undefined)[] {
  const pulled = mash.raises.some((r) => r.by === 'decoction');
  if (!axes.morePots || !pulled || mash.layout === 'kettle-mash') return [undefined];
  const pots = heatedVessels(kit, mash.tun).map((v) => v.id);
  if (pots.length < 2) return [undefined];
  return [
    ...pots.map((pot) => ({ pots: [pot], order: 'in-turn' as const })),
    { pots, order: 'in-turn' },
    { pots, order: 'side-by-side' },
  ];
}

interface Choice {
  readonly liquorLPerKg: number;
  readonly restShare: number;
  readonly boilMinutes: number;
  readonly thickness: 'thick' | 'as-it-comes';
  readonly places: Places | undefined;
}

function varied({ document, finish }: Recipe, choice: Choice): Recipe {
  const { mash } = document;
  const raises = mash.raises.map((r): Raise => {
    if (r.by !== 'decoction') return r;
    const placed = { ...r, ...choice.places };
    return r.thickness === 'thin'
      ? placed
      : { ...placed, boilMinutes: choice.boilMinutes, thickness: choice.thickness };
  });
  const rests = mash.rests.map((r) => ({
    ...r,
    minutes: r.minutes * choice.restShare,
    ...(r.pullAfterMin === undefined ? {} : { pullAfterMin: r.pullAfterMin * choice.restShare }),
  }));
  const { liquorLPerKg } = choice;
  return { document: { ...document, mash: { ...mash, raises, rests, liquorLPerKg } }, finish };
}
