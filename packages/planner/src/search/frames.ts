/**
 * Frames: the ways to brew a beer before their free choices are made. A frame fixes layout, rests
 * and which raises are pulls; pots, boils, thickness and so on are then varied in it.
 */
import { METHODS, recipeFor } from '../compare/methods.ts';
import type { Recipe } from '../compare/outcome.ts';
import { burnerFor } from '../day.ts';
import type { PlanDocument, Raise } from '../document.ts';
import { asked, restChoices, type Targets } from './targets.ts';

export interface Frame {
  readonly recipe: Recipe;
  /** Indices of the raises that are pulls. */
  readonly pulls: readonly number[];
}

/**
 * Every frame of a beer on its kit; doubles left out.
 * @param document the brewer's own plan; its own way is the first frame where it may be
 * @param targets which rests and how many pulls there may be
 */
export function framesOf(document: PlanDocument, targets: Targets): Frame[] {
  const found = new Map<string, Frame>();
  const add = (recipe: Recipe) => {
    const pulls = recipe.document.mash.raises.flatMap((r, i) => (r.by === 'decoction' ? [i] : []));
    if (pulls.length > (targets.mostPulls ?? MOST_PULLS)) return;
    const key = JSON.stringify([recipe.document.mash, recipe.finish]);
    if (!found.has(key)) found.set(key, { recipe, pulls });
  };
  for (const own of restChoices(asked(document, targets), targets.rests)) {
    add({ document: own, finish: [] });
    for (const method of METHODS) {
      if (method === 'no-pull-kilned-malts') continue;
      const way = recipeFor(own, method);
      if ('whyNot' in way) continue;
      add(way);
      for (const other of otherRaises(way.document)) add({ ...way, document: other });
    }
  }
  return [...found.values()];
}

/** Pulls at most, unless the brewer says fewer. */
const MOST_PULLS = 3;

/** The same way with what is not pulled raised by liquor, and by the burner of the vessel. */
function otherRaises(document: PlanDocument): PlanDocument[] {
  const { mash, kit } = document;
  if (!mash.raises.some((r) => r.by === 'decoction')) return [];
  if (mash.raises.every((r) => r.by === 'decoction')) return [];
  const holds = mash.layout === 'kettle-mash' ? (mash.park ?? mash.tun) : mash.tun;
  const others: Raise[] = [{ by: 'liquor' }];
  if (burnerFor(kit, holds)) others.push({ by: 'direct-heat' });
  return others.map((other) => ({
    ...document,
    mash: { ...mash, raises: mash.raises.map((r) => (r.by === 'decoction' ? r : other)) },
  }));
}
