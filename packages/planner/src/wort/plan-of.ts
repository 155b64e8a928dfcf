/** The plan from the mash to the pitched wort. */
import {
  bedDepth,
  DMS_TASTED_UG_L,
  expectedFlow,
  pitching,
  starterSteps,
  USUAL_PERMEABILITY_M2,
  type WortChain,
  wortBoilsAt,
  wortOf,
} from '@ladlework/brewhouse';
import { standardPressure } from '@ladlework/matter';
import { normalQuantile } from '@ladlework/numerics';
import type { PlanDocument } from '../document.ts';
import type { Band } from '../plan.ts';
import { pitchC, yeastLot } from './cellar.ts';
import { chainOf, type KettleWish, likelyChain, runOffFrom } from './chain-of.ts';
import { gristPlan } from './grist-plan.ts';
import { liquorPlan } from './liquor-plan.ts';
import type {
  BoilPlanned,
  HopLine,
  KnockOutPlan,
  LauterPlan,
  MashOutcome,
  PitchPlan,
  WortPlan,
} from './plan-types.ts';
import { READ_C, type WortSetup, wortSetup } from './setup.ts';
import { wishesOf } from './wishes.ts';

export interface WortPlanOptions {
  /** Draws behind the bands, 20-1000; default 200. */
  readonly draws?: number;
  readonly seed?: number;
}

/** Run off to these (common practice, no source). */
const STOP_PLATO = 2;
const STOP_PH = 6;
/** A head over the bed that no bed minds [kPa]: 10 cm of water. */
const EASY_HEAD_KPA = 0.981;
const P90 = normalQuantile(0.9);

/**
 * The way from a mash to the pitched wort.
 * @param document the brew, checked by the contract
 * @param mash outcome of its mash: from the plan, or from the running day
 * @param options draws and seed
 * @throws UnknownName when the document names what its kit does not have; NoKettle when nothing in the
 *   kit boils wort; OutOfRange when a stage is outside what physics allows, as a kettle boiled dry
 * @source wortChain; docs/science/wort.md
 */
export function wortPlan(
  document: PlanDocument,
  mash: MashOutcome,
  options: WortPlanOptions = {},
): WortPlan {
  const setup = wortSetup(document);
  const { wish, chain } = chainOf(setup, mash, {}, options.draws ?? 200, options.seed ?? 1);
  const liquor = liquorPlan(document, setup.day.liquorKg, chain.lauter.spargeLeftL.likely);
  const grist = gristPlan(document.beer, chain, setup.sugars.extractKg, (scale) =>
    likelyChain(scaledSetup(setup, scale), scaledMash(mash, scale)),
  );
  const boil = boilPlanned(setup, wish, chain);
  const pitch = pitchPlan(setup, chain);
  const notes = [...setup.notes, ...chain.notes, ...cautionNotes(setup, chain)];
  return {
    mash,
    stages: chain.stages,
    wishes: wishesOf(setup, {
      chain,
      mash,
      grist,
      ...attenuationOf(mash),
      ...(liquor === undefined ? {} : { liquor }),
      ...(boil.hopsForWishKg === undefined ? {} : { hopsKg: boil.hopsForWishKg }),
    }),
    grist,
    ...(liquor === undefined ? {} : { liquor }),
    lauter: lauterPlan(setup, wish, mash, chain),
    boil,
    knockOut: knockOutPlan(setup, chain),
    ...(pitch === undefined ? {} : { pitch }),
    ...(chain.beer === undefined ? {} : { beer: chain.beer }),
    assumed: setup.assumed,
    notes,
  };
}

/** The same brew with so many times the grist, its liquor and its sugars. */
function scaledSetup(setup: WortSetup, scale: number): WortSetup {
  const { day, sugars, malts } = setup;
  return {
    ...setup,
    day: { ...day, gristKg: scale * day.gristKg, liquorKg: scale * day.liquorKg },
    sugars: { extractKg: scale * sugars.extractKg, waterKg: scale * sugars.waterKg },
    malts: malts.map((m) => ({ ...m, kg: scale * m.kg })),
  };
}

function scaledMash(mash: MashOutcome, scale: number): MashOutcome {
  const { likely } = mash;
  const extractKg = scale * likely.extractKg;
  return { ...mash, likely: { ...likely, extractKg, waterKg: scale * likely.waterKg } };
}

/** The limit of attenuation with its doubt. */
export function attenuationOf(mash: MashOutcome): { readonly attenuation?: Band } {
  const likely = mash.likely.limitApparentPct;
  if (likely === undefined) return {};
  const half = P90 * mash.sd.limitApparentPct;
  return { attenuation: { low: likely - half, likely, high: likely + half } };
}

function lauterPlan(
  setup: WortSetup,
  wish: KettleWish,
  mash: MashOutcome,
  chain: WortChain,
): LauterPlan {
  const { lauter, day, work, flowLMin } = setup;
  const from = runOffFrom(setup, mash.endMin);
  const full = chain.stages[0]?.endMin ?? { low: from, likely: from, high: from };
  const areaM2 = (Math.PI / 4) * lauter.diameterM ** 2;
  const shape = { areaM2, depthM: bedDepth(day.gristKg, areaM2) };
  const first = chain.lauter.course[0];
  const state = {
    headKPa: EASY_HEAD_KPA,
    plato: first?.tapPlato.likely ?? 12,
    tC: mash.tempC,
  };
  const k = day.kit.lauter?.permeabilityM2 ?? USUAL_PERMEABILITY_M2.likely;
  const { stopAtL } = chain.lauter;
  return {
    by: work.spargeBy ?? 'continuous',
    readC: READ_C,
    fromMin: { low: from, likely: from, high: from },
    flowLMin,
    minutes: { low: full.low - from, likely: full.likely - from, high: full.high - from },
    kettleL: wish.kettleL,
    targetPlato: wish.targetPlato,
    firstPlato: chain.lauter.nowTapPlato,
    lastPlato: chain.lauter.lastPlato,
    spargeL: chain.lauter.spargeLeftL,
    shutAtL: chain.lauter.shutAtL,
    stopPlato: work.stopPlato ?? STOP_PLATO,
    stopPh: work.stopPh ?? STOP_PH,
    ...(stopAtL === undefined ? {} : { stopAtL }),
    ...(wish.fillsL === undefined ? {} : { fillsL: wish.fillsL }),
    bedDepthM: shape.depthM,
    bedFlowLMin: expectedFlow(shape, k, state),
    course: chain.lauter.course,
  };
}

/** The additions with what each gives. */
function hopLines(setup: WortSetup, chain: WortChain): HopLine[] {
  return setup.hops.map((hop, i) => ({
    name: hop.name,
    kg: hop.grams / 1000,
    alphaPct: hop.alphaPct,
    boilMin: hop.boilMin,
    ibu: chain.boil.hops[i]?.ibu.likely ?? 0,
    otherIbu: chain.boil.hops[i]?.otherIbu.likely ?? 0,
  }));
}

/** Foam of most of the draws. */
export function foamOf(chain: WortChain): BoilPlanned['foam'] {
  if (chain.boil.boilOverShare >= 0.5) return 'will-boil-over';
  return chain.boil.headspace.likely < 0.15 || chain.boil.boilOverShare > 0.05 ? 'watch' : 'room';
}

function boilPlanned(setup: WortSetup, wish: KettleWish, chain: WortChain): BoilPlanned {
  const wanted = setup.document.beer.target?.ibu;
  const ibu = chain.stages[1]?.ibu?.likely ?? 0;
  const hops = hopLines(setup, chain);
  const caution = dmsCaution(chain.stages[3]?.freeDmsUgL);
  return {
    vessel: setup.boilers.map((v) => v.name).join(', '),
    boilC: wortBoilsAt(setup.kettle.site, wish.targetPlato),
    netKW: setup.kettle.netKW,
    minutes: setup.work.boilMin,
    heatUpMin: chain.boil.heatUpMin,
    evaporationKgH: chain.boil.evaporationKgH,
    headspace: chain.boil.headspace,
    foam: foamOf(chain),
    boilOverShare: chain.boil.boilOverShare,
    hops,
    // Bitterness goes with the weight.
    ...(wanted === undefined || ibu <= 0
      ? {}
      : { hopsForWishKg: hops.map((h) => (h.kg * wanted) / ibu) }),
    ...(caution === undefined ? {} : { dmsCaution: caution }),
  };
}

/**
 * What to say of DMS before the wort is in the tank.
 *
 * @param free DMS of the wort in the tank [µg/L]; left out where it is not known
 * @returns one or two sentences, or nothing while it is likely under what is tasted
 * @source `DMS_TASTED_UG_L` of brewhouse
 */
export function dmsCaution(free: Band | undefined): string | undefined {
  if (free === undefined || free.likely <= DMS_TASTED_UG_L.low) return undefined;
  return `${Math.round(free.likely)} µg/L of DMS in the tank; it is tasted from ${DMS_TASTED_UG_L.low} to ${DMS_TASTED_UG_L.high}. Boil longer or harder, shorten the hot stand, or cool faster.`;
}

function knockOutPlan(setup: WortSetup, chain: WortChain): KnockOutPlan {
  const { how, liquorInC, toC } = setup.cooler;
  return { how, liquorInC, toC, ...chain.knockOut };
}

/** Yeast, oxygen and starter for the tank as forecast; undefined when the beer names no yeast. */
export function pitchPlan(
  setup: WortSetup,
  chain: Pick<WortChain, 'stages'>,
): PitchPlan | undefined {
  const { beer, kit } = setup.document;
  const { yeast } = beer;
  const tank = chain.stages[3];
  if (yeast === undefined || tank === undefined) return undefined;
  const lot = yeastLot(yeast);
  const tC = pitchC(beer);
  const body = wortOf({ litres: tank.coldL.likely, tC: 20, plato: tank.plato.likely });
  const pitch = pitching(
    {
      body,
      tC,
      pressureKPa: standardPressure(kit.altitudeM),
      ...(yeast.oxygenMgL === undefined ? {} : { oxygenMgL: yeast.oxygenMgL }),
    },
    lot,
  );
  return {
    ...pitch,
    tC,
    rate: lot.rate,
    ...(yeast.cultureL === undefined ? {} : { starter: starterSteps(pitch.cells, yeast.cultureL) }),
  };
}

/** Cautions of the boil and the cooler, where they apply. */
function cautionNotes(setup: WortSetup, chain: WortChain): string[] {
  const notes: string[] = [];
  const foam = foamOf(chain);
  const free = Math.round(100 * chain.boil.headspace.likely);
  if (foam === 'will-boil-over')
    notes.push(
      `${free} % of the kettle is free when it comes to the boil: it goes over the brim. Less wort, or a second vessel.`,
    );
  else if (foam === 'watch')
    notes.push(
      `${free} % of the kettle is free when it comes to the boil: stand by it, heat down, water to hand.`,
    );
  if (chain.knockOut.reachedShare < 0.5)
    notes.push(
      `Liquor at ${setup.cooler.liquorInC.toFixed(0)} °C does not bring the wort to ${setup.cooler.toC.toFixed(0)} °C: ${chain.knockOut.leftKWh.likely.toFixed(1)} kWh are left for the tank.`,
    );
  return notes;
}
