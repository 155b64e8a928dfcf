/** The grist against the beer wanted: kilograms, whole bags, and the extract account. */
import {
  beerFromGrist,
  beerTarget,
  type ExtractLosses,
  type GristLot,
  gristForBeer,
  inWholeBags,
  laboratoryExtract,
  type WortChain,
} from '@ladlework/brewhouse';
import type { Beer } from '../document.ts';
import { knownMalt } from '../grist.ts';
import type { GristPlan } from './plan-types.ts';

/** What a scale weighs, for a lot whose bag is not stated [kg]. */
const SCALE_KG = 0.1;

/** Rounds of sizing, and between which multiples of this grist the chain is asked. */
const SIZING_STEPS = 4;
const LEAST_SCALE = 0.4;
const MOST_SCALE = 2.5;

/** The malts as lots of a grist. */
function gristLots(beer: Beer): GristLot[] {
  const kg = beer.malts.reduce((sum, m) => sum + m.kg, 0);
  return beer.malts.map((lot) => ({
    name: lot.name,
    kind: 'malt',
    ...laboratoryExtract(knownMalt(lot).malt),
    share: lot.kg / kg,
    stepKg: lot.bagKg ?? SCALE_KG,
  }));
}

/** Losses of each stage as the likely day has them, as shares of the extract that reaches it. */
function lossesOf(
  laboratoryKg: number,
  chain: Pick<WortChain, 'stages'>,
  sugarKg: number,
): ExtractLosses {
  const at = (name: string) =>
    chain.stages.find((s) => s.stage === name)?.extractKg.likely ?? Number.NaN;
  const share = (kept: number, whole: number, most: number) =>
    Math.min(most, Math.max(0, 1 - kept / whole));
  return {
    mashAndLauter: share(at('kettle-full'), laboratoryKg, 0.6),
    kettle: share(at('knock-out'), at('kettle-full') + sugarKg, 0.4),
    transfer: share(at('tank'), at('knock-out'), 0.4),
  };
}

/**
 * The grist of a beer and what its wishes would want of it.
 * @param beer malts, and the beer wanted
 * @param chain of this grist
 * @param sugarKg extract from sugars in the kettle [kg]
 * @param likelyAt the likely chain of so many times the grist and its liquor
 */
export function gristPlan(
  beer: Beer,
  chain: Pick<WortChain, 'stages'>,
  sugarKg: number,
  likelyAt: (scale: number) => Pick<WortChain, 'stages'>,
): GristPlan {
  const malts = gristLots(beer);
  const kg = beer.malts.map((m) => m.kg);
  const tank = chain.stages.find((s) => s.stage === 'tank');
  const tankL = tank?.coldL.likely ?? 1;
  const none = { mashAndLauter: 0, kettle: 0, transfer: 0 };
  const laboratoryKg = beerFromGrist(malts, kg, tankL, none).account[0]?.extractKg ?? 0;
  // The account has no line for the wort on its way to the cooler; what the kettle keeps counts to the tank.
  const keptBackKg = chain.stages.find((s) => s.stage === 'knock-out')?.lostKg.likely ?? 0;
  const account: GristPlan['account'] = [
    { stage: 'laboratory', extractKg: laboratoryKg, lostKg: 0 },
    ...chain.stages.flatMap(({ stage, extractKg, lostKg }) =>
      stage === 'knock-out'
        ? []
        : [
            {
              stage,
              extractKg: extractKg.likely,
              lostKg:
                stage === 'kettle-full'
                  ? laboratoryKg - extractKg.likely
                  : lostKg.likely + (stage === 'tank' ? keptBackKg : 0),
            },
          ],
    ),
  ];
  const gristKg = kg.reduce((sum, x) => sum + x, 0);
  const target = beer.target;
  if (target?.extract === undefined || target.tankL === undefined) return { gristKg, account };
  const sugars = sugarLots(beer);
  const lots = withSugars(malts, sugars, beer);
  // Less grist is sparged harder: the losses are those of the grist wanted, not of this one.
  const wish = beerTarget(target.tankL, target.extract);
  let losses = lossesOf(laboratoryKg, chain, sugarKg);
  let wanted = gristForBeer(wish, lots, losses);
  for (let n = 0; n < SIZING_STEPS; n++) {
    const scale = wanted.gristKg / weightOf(beer);
    if (!(scale > LEAST_SCALE && scale < MOST_SCALE)) break;
    losses = lossesOf(scale * laboratoryKg, likelyAt(scale), scale * sugarKg);
    wanted = gristForBeer(wish, lots, losses);
  }
  const bags = inWholeBags(wanted, byTheBag(lots, wanted.lots), losses);
  const ofMalts = (all: readonly { readonly kg: number }[]) =>
    all.slice(0, malts.length).map((lot) => lot.kg);
  return {
    gristKg,
    account,
    wanted: {
      kg: ofMalts(wanted.lots),
      bagsKg: ofMalts(bags.grist.lots),
      bagsPlatoChange: bags.platoChange,
      bagsTankL: bags.tankLAtTarget,
    },
  };
}

/** Malts and sugars together [kg]. */
const weightOf = (beer: Beer): number =>
  [...beer.malts, ...(beer.sugars ?? [])].reduce((sum, x) => sum + x.kg, 0);

/** Lots of at least a bag go in by the bag; the rest is weighed and takes up what that leaves. */
function byTheBag(
  lots: readonly GristLot[],
  wanted: readonly { readonly kg: number }[],
): GristLot[] {
  return lots.map((lot, i) =>
    (wanted[i]?.kg ?? 0) < lot.stepKg ? { ...lot, stepKg: SCALE_KG } : lot,
  );
}

/** Sugars as lots: they go to the kettle and pass no bed. */
function sugarLots(beer: Beer): GristLot[] {
  return (beer.sugars ?? [])
    .filter((s) => s.kg > 0)
    .map((s) => ({
      name: s.name,
      kind: 'kettle-sugar',
      extractDry: s.extractShare,
      moisture: 0,
      share: 0,
      stepKg: SCALE_KG,
    }));
}

function withSugars(
  malts: readonly GristLot[],
  sugars: readonly GristLot[],
  beer: Beer,
): GristLot[] {
  const weights = [
    ...beer.malts.map((m) => m.kg),
    ...(beer.sugars ?? []).filter((s) => s.kg > 0).map((s) => s.kg),
  ];
  const all = weights.reduce((sum, x) => sum + x, 0);
  return [...malts, ...sugars].map((lot, i) => ({ ...lot, share: (weights[i] ?? 0) / all }));
}
