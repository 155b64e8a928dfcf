/** The free choices of a plan, and the values of each that are tried. */
import type { Thickness } from '@ladlework/brewhouse';
import { heatedVessels } from '../compare/methods.ts';
import type { Decoction } from '../day.ts';
import type { PlanDocument } from '../document.ts';

/** The choices that are varied; every combination is a candidate. */
export interface SearchAxes {
  /** Liquor to grist at mash-in [L/kg], 1.5-10. */
  readonly liquorLPerKg: readonly number[];
  /** Rest lengths as a share of the brewer's, 0.3-2. */
  readonly restShare: readonly number[];
  /** Boil of a pull [min], 1-60. */
  readonly boilMinutes: readonly number[];
  readonly thickness: readonly Thickness[];
  /** Rest inside the pull on the way up; undefined: none. */
  readonly pullRest: readonly (Decoction['pullRest'] | undefined)[];
  /** Pots of a pull and how they share it; undefined: as the way has it. */
  readonly places: readonly (Places | undefined)[];
  /** Reserve above the need, as a share of it, 0-0.5. */
  readonly reserve: readonly number[];
  /** Boiling liquor beside a pull, in litres to a kilogram of grist, 0-1. */
  readonly besideLPerKg: readonly number[];
}

/** Pots, their order, and how several share a pull. */
export type Places = Pick<Decoction, 'pots' | 'order' | 'split'>;

/** Around the brewer's own choices. */
export function usualAxes(document: PlanDocument): SearchAxes {
  const { mash } = document;
  const own = mash.raises.find((r): r is Decoction => r.by === 'decoction');
  return {
    liquorLPerKg: around(mash.liquorLPerKg, [2.7, 3.4, 4.2], 0.3),
    restShare: [1, 0.75, 0.5],
    boilMinutes: around(own?.boilMinutes ?? 15, [5, 10, 15, 20, 30], 4),
    thickness: ['thick', 'as-it-comes', 'thin'],
    pullRest: restsInPull(own),
    places: placesOf(document),
    reserve: [...new Set([mash.reserve ?? 0.15, 0.1, 0.25])],
    besideLPerKg: [0, 0.15, 0.3],
  };
}

/** The brewer's own value and those of the list that are not close to it, in order. */
function around(own: number, list: readonly number[], apart: number): number[] {
  return [own, ...list.filter((x) => Math.abs(x - own) >= apart)].sort((a, b) => a - b);
}

/** None, the brewer's own, and the handbooks'. @source field.md 6.7, 10 min at 70-72 °C */
function restsInPull(own: Decoction | undefined): (Decoction['pullRest'] | undefined)[] {
  const usual = { tempC: 71, minutes: 10 };
  return [undefined, own?.pullRest ?? usual];
}

/** Most pots tried together. */
const MOST_POTS = 3;

/**
 * Where a pull can be boiled: each heated vessel alone, once or twice in turn, and several together
 * in turn from the biggest or from the smallest, or side by side, shared by room or by burner.
 */
function placesOf({ kit, mash }: PlanDocument): (Places | undefined)[] {
  const tun = mash.layout === 'kettle-mash' ? (mash.park ?? mash.tun) : mash.tun;
  const pots = heatedVessels(kit, tun)
    .map((v) => v.id)
    .slice(0, MOST_POTS + 1);
  if (pots.length === 0) return [undefined];
  const inTurn = (list: readonly string[]): Places => ({ pots: list, order: 'in-turn' });
  const places: Places[] = pots.map((p) => inTurn([p]));
  const smallest = pots.at(-1) as string;
  places.push(inTurn([smallest, smallest]));
  for (const together of setsOf(pots)) {
    places.push(inTurn(together), inTurn(together.toReversed()));
    // Two pots at once want two burners.
    const burners = kit.burners.filter((b) => b.heats.some((v) => together.includes(v)));
    if (burners.length < together.length) continue;
    for (const split of ['by-room', 'by-power'] as const)
      places.push({ pots: together, order: 'side-by-side', split });
  }
  return places;
}

/** The two smallest pots, the three smallest, and the biggest with the next. */
function setsOf(pots: readonly string[]): (readonly string[])[] {
  const sets = new Map<string, readonly string[]>();
  for (const set of [pots.slice(0, 2), pots.slice(-2), pots.slice(-MOST_POTS)])
    if (set.length > 1) sets.set(set.join(' '), set);
  return [...sets.values()];
}
