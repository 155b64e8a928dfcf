/**
 * The ways to brew one beer, each derived from the brewer's own plan document: same grist, same
 * first and last rest, the rests between as the way needs them. The rules are those of the comments
 * below; where none is published they are common practice or our choice, and say so.
 */
import type { Kit, Move, Vessel } from '@ladlework/brewhouse';
import { burnerFor, type Decoction, vesselOf } from '../day.ts';
import type { Mash, MashRest, PlanDocument, Raise } from '../document.ts';
import type { Recipe } from './outcome.ts';

export const METHODS = [
  'infusion',
  'step-infusion',
  'direct-heat',
  'one-pull',
  'two-pulls',
  'three-pulls',
  'kettle-mash',
  'no-pull-kilned-malts',
] as const;
export type Method = (typeof METHODS)[number];

/** A way that cannot even be written down for this kit, and why. */
export interface NoRecipe {
  readonly whyNot: string;
}

/** Rests that convert; what a single infusion stands at is their mean. @source docs/science/mash.md windows of alpha and beta amylase */
const CONVERTS_C = { low: 60, high: 74 } as const;
/** Single infusion where the brewer has no rest that converts. Common practice, no source. */
const SINGLE_REST: MashRest = { tempC: 66, minutes: 60 };
/** Mash-out where the brewer has one rest only. @source field.md 6.17 */
const MASH_OUT: MashRest = { tempC: 76, minutes: 10 };
/** Rests of the handbooks, put in where a way needs more rests than the brewer has [°C]. @source field.md 6.12 */
const LADDER_C = [52, 63, 72] as const;
/** A rest put in keeps this far from its neighbours [K]; our choice. */
const APART_K = 4;
/** Mash-in thickness when liquor is still to be poured in [L/kg]. Common practice, no source. */
const THICK_FOR_LIQUOR = 2.5;
/** A pull where the brewer has none of his own. @source field.md 6.8 to 6.10 */
const THICK_PULL = {
  thickness: 'thick',
  pullRest: { tempC: 71, minutes: 10 },
  boilMinutes: 15,
} as const;
const THIN_PULL = { thickness: 'thin', boilMinutes: 5 } as const;

/**
 * The plan document of one method.
 * @param document the brewer's own
 * @param method any but the kilned-malt one, which needs the decocted wort first (kilned-malts.ts)
 * @returns document and moves after it, or why the kit has no such way
 */
export function recipeFor(
  document: PlanDocument,
  method: Exclude<Method, 'no-pull-kilned-malts'>,
): Recipe | NoRecipe {
  switch (method) {
    case 'infusion':
      return plain(withMash(carried(document), { rests: [singleRest(document)], raises: [] }));
    case 'step-infusion':
      return plain(stepInfusion(document));
    case 'direct-heat':
      return directHeat(document);
    case 'one-pull':
      return pulls(document, 1);
    case 'two-pulls':
      return pulls(document, 2);
    case 'three-pulls':
      return pulls(document, 3);
    case 'kettle-mash':
      return kettleMash(document);
  }
}

/**
 * One rest at the minute-weighted mean of the rests that convert, for as long as they last in all.
 * @example rests 62 °C 40 min, 72 °C 20 min, 77 °C 10 min: 65.3 °C for 60 min
 */
export function singleRest(document: PlanDocument): MashRest {
  const rests = document.mash.rests.filter(
    (r) => r.tempC >= CONVERTS_C.low && r.tempC <= CONVERTS_C.high,
  );
  const minutes = rests.reduce((sum, r) => sum + r.minutes, 0);
  if (minutes === 0) return SINGLE_REST;
  return { tempC: rests.reduce((sum, r) => sum + r.tempC * r.minutes, 0) / minutes, minutes };
}

/**
 * The brewer's rests with so many raises at least: a rest put in takes half the minutes of the one
 * before it, at a temperature of the handbooks, else half way in the widest step.
 */
export function restsFor(rests: readonly MashRest[], raises: number): MashRest[] {
  const all = rests.length === 1 ? [...rests, MASH_OUT] : [...rests];
  while (all.length < raises + 1) {
    let at = 0;
    const step = (i: number) => (all[i + 1] as MashRest).tempC - (all[i] as MashRest).tempC;
    for (let i = 1; i < all.length - 1; i++) if (step(i) > step(at)) at = i;
    const before = all[at] as MashRest;
    const { tempC: after } = all[at + 1] as MashRest;
    const ladder = LADDER_C.find((c) => c - before.tempC >= APART_K && after - c >= APART_K);
    const minutes = before.minutes / 2;
    all.splice(
      at,
      1,
      { ...before, minutes, pullAfterMin: Math.min(minutes, before.pullAfterMin ?? minutes) },
      { tempC: ladder ?? (before.tempC + after) / 2, minutes },
    );
  }
  return all;
}

function stepInfusion(document: PlanDocument): PlanDocument {
  const own = carried(document);
  const rests = restsFor(own.mash.rests, 1);
  return withMash(own, {
    rests,
    raises: rests.slice(1).map(() => ({ by: 'liquor' })),
    liquorLPerKg: Math.min(own.mash.liquorLPerKg, THICK_FOR_LIQUOR),
  });
}

function directHeat(document: PlanDocument): Recipe | NoRecipe {
  const own = carried(document);
  const rests = restsFor(own.mash.rests, 1);
  const raises = rests.slice(1).map((): Raise => ({ by: 'direct-heat' }));
  const tun = vesselOf(own.kit, own.mash.tun);
  if (burnerFor(own.kit, tun.id)) return plain(withMash(own, { rests, raises }));
  const kettle = heatedVessels(own.kit, tun.id)[0];
  if (!kettle) return { whyNot: `No burner heats ${tun.name} or any other vessel of this kit.` };
  return {
    document: withMash(own, { rests, raises, tun: kettle.id }),
    finish: [
      {
        id: 'over-to-run-off',
        kind: 'return',
        from: kettle.id,
        to: tun.id,
        route: routeOf(own),
        hands: handsOf(own),
        note: `The mash over to ${tun.name} to be run off`,
      },
    ],
  };
}

/**
 * So many pulls. The brewer's own pulls stay; one too many gives way, one missing is put in at the
 * widest step. What is then not pulled is raised by the burner of the tun, or by boiling liquor.
 */
function pulls(document: PlanDocument, count: number): Recipe | NoRecipe {
  const own = document;
  const isKettleMash = own.mash.layout === 'kettle-mash';
  if (own.mash.raises.filter((r) => r.by === 'decoction').length === count && !isKettleMash)
    return plain(own);
  const base = carried(own);
  const pot = heatedVessels(base.kit, base.mash.tun)[0];
  if (!pot)
    return {
      whyNot: `No burner of this kit heats a vessel besides ${vesselOf(base.kit, base.mash.tun).name} to boil a pull in.`,
    };
  const rests = restsFor(base.mash.rests, count);
  const ownRaise = (i: number) =>
    rests.length === base.mash.rests.length ? base.mash.raises[i] : undefined;
  const steps = rests
    .slice(1)
    .map((r, i) => ({ i, stepK: r.tempC - (rests[i] as MashRest).tempC }));
  const chosen = new Set(
    steps
      .sort(
        (a, b) =>
          Number(ownRaise(b.i)?.by === 'decoction') - Number(ownRaise(a.i)?.by === 'decoction') ||
          b.stepK - a.stepK ||
          b.i - a.i,
      )
      .slice(0, count)
      .map((s) => s.i),
  );
  const ownPulls = base.mash.raises.filter((r): r is Decoction => r.by === 'decoction');
  const other: Raise = burnerFor(base.kit, base.mash.tun)
    ? { by: 'direct-heat' }
    : { by: 'liquor' };
  const raises = rests.slice(1).map((_, i): Raise => {
    const mine = ownRaise(i);
    if (!chosen.has(i)) return mine && mine.by !== 'decoction' ? mine : other;
    if (mine?.by === 'decoction') return mine;
    const tempC = (rests[i] as MashRest).tempC;
    return pullAt(pot, tempC, count > 1 && i === rests.length - 2, ownPulls[0]);
  });
  return plain(withMash(base, { rests, raises }));
}

/** A pull like the brewer's own where there is one, else like the handbooks'; the last of several thin. */
function pullAt(pot: Vessel, fromC: number, thin: boolean, own: Decoction | undefined): Decoction {
  const places = { pots: own?.pots ?? [pot.id], order: own?.order ?? ('in-turn' as const) };
  if (thin) return { by: 'decoction', ...places, ...THIN_PULL };
  const { pullRest, ...kind } = own
    ? { thickness: own.thickness, boilMinutes: own.boilMinutes, pullRest: own.pullRest }
    : THICK_PULL;
  return {
    by: 'decoction',
    ...places,
    ...kind,
    ...(pullRest && pullRest.tempC > fromC ? { pullRest } : {}),
  };
}

/** Mash in the kettle, park, boil what stays: the brewer's own pulls, or one. */
function kettleMash(document: PlanDocument): Recipe | NoRecipe {
  if (document.mash.layout === 'kettle-mash') return plain(document);
  const { kit, mash } = document;
  const kettle = heatedVessels(kit, mash.tun)[0];
  if (!kettle)
    return { whyNot: `No vessel besides ${vesselOf(kit, mash.tun).name} has a burner to mash in.` };
  const count = mash.raises.filter((r) => r.by === 'decoction').length;
  const base = pulls(document, Math.max(1, count));
  if ('whyNot' in base) return base;
  const raises = base.document.mash.raises.map((r, i): Raise => {
    if (r.by === 'decoction') return { ...r, pots: [kettle.id], order: 'in-turn' };
    if (i > 0) return r;
    return pullAt(kettle, (base.document.mash.rests[0] as MashRest).tempC, false, undefined);
  });
  return plain(
    withMash(base.document, { layout: 'kettle-mash', tun: kettle.id, park: mash.tun, raises }),
  );
}

/** The document with its mash in the tun throughout. */
function carried(document: PlanDocument): PlanDocument {
  const { layout, tun, park, ...rest } = document.mash;
  if (layout === 'carry') return document;
  return { ...document, mash: { ...rest, layout: 'carry', tun: park ?? tun } };
}

/** Vessels with a burner under them that mash may boil in, but the one named, biggest first. */
export function heatedVessels(kit: Kit, but: string): Vessel[] {
  return kit.vessels
    .filter((v) => v.id !== but && !NO_MASH.has(v.role) && burnerFor(kit, v.id))
    .sort((a, b) => b.brimL - a.brimL);
}

/** Mash boiled in a liquor tank taints every liquor after it. Common practice, no source. */
const NO_MASH: ReadonlySet<Vessel['role']> = new Set(['fermenter', 'liquor-tank']);

const plain = (document: PlanDocument): Recipe => ({ document, finish: [] });

function withMash(document: PlanDocument, mash: Partial<Mash>): PlanDocument {
  return { ...document, mash: { ...document.mash, ...mash } };
}

function routeOf(document: PlanDocument): string {
  return document.mash.pullRoute ?? (document.kit.routes[0] as { id: string }).id;
}

function handsOf(document: PlanDocument): Move['hands'] {
  const { kit, day } = document;
  const route = kit.routes.find((r) => r.id === routeOf(document)) as { hands: number };
  return (day.hands ?? kit.hands.map((h) => h.id)).slice(0, route.hands);
}
