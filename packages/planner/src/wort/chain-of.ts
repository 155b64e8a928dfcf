/** The wort chain of a document: what to run off into the kettle, and the chain from there. */
import {
  type ChainDraw,
  chainDraws,
  LATER_DEFAULTS,
  type LauterIntent,
  litresAt,
  type MashWort,
  platoOf,
  platoOfWanted,
  TUN_DEFAULTS,
  type WortBody,
  type WortChain,
  type WortChainInput,
  wortChain,
  wortOf,
} from '@ladlework/brewhouse';
import { volumeAt20, volumeAtTemperature } from '@ladlework/matter';
import { findRoot } from '@ladlework/numerics';
import { bestBurner, heatUpMin } from '../timetable/heat-time.ts';
import { lauterOf } from '../timetable/stations.ts';
import { wortLitres } from '../timetable/work.ts';
import { mashDraws } from './mash-outcome.ts';
import type { MashOutcome } from './plan-types.ts';
import { READ_C, type WortSetup } from './setup.ts';

const COLD_C = 20;
/** Share of a mash's extract that reaches the tank, for volumes only. Our judgement. */
const ROUGH_YIELD = 0.88;
/** Share of the run-off after which the kettle is heated. @source field.md 2, "heat once bottom covered" */
const HEATED_FROM = 0.25;
/** A kettle that its burner never brings to the boil is reckoned with this [min]. */
const NEVER_MIN = 720;

/** What is wanted at kettle-full. */
export interface KettleWish {
  /** [L] as read at READ_C. */
  readonly kettleL: number;
  readonly targetPlato: number;
  /** Strength at the end of the boil that belongs to it [°P]. */
  readonly castOutPlato: number;
  readonly fillsL?: readonly number[];
}

/** Strength wanted in the tank [°P], however it was stated. */
export function platoWanted(setup: WortSetup): number | undefined {
  const wanted = setup.document.beer.target?.extract;
  if (wanted === undefined) return undefined;
  return platoOfWanted(wanted);
}

/** Water the boil drives off [kg]. */
const evaporated = (setup: WortSetup): number => (setup.evaporationKgH * setup.work.boilMin) / 60;

/**
 * The full kettle that the beer wanted needs; where the beer says nothing, what the sparge gives.
 * @param setup the document looked up
 * @param mash likely mash
 * @param tempC bed [°C]
 */
export function kettleWish(setup: WortSetup, mash: MashWort, tempC: number): KettleWish {
  const wanted = platoWanted(setup);
  const tankL = setup.document.beer.target?.tankL;
  const stated = setup.document.day.work?.spargeLPerKg;
  const full = tankL === undefined ? undefined : fullForTank(setup, mash, tankL, wanted);
  const kettleL =
    full === undefined || stated !== undefined
      ? wortLitres(setup.day.gristKg, setup.day.liquorKg, lauterOf(setup.day), setup.work)
          .kettleFullL
      : litresAt(full, READ_C);
  const by = setup.work.spargeBy ?? 'continuous';
  if (by === 'continuous') return withStrength(setup, mash, kettleL, wanted);
  const first = firstDrainL(setup, mash, tempC);
  const wantedL = volumeAtTemperature(kettleL, READ_C, tempC, 0.12);
  const spargeL =
    by === 'none'
      ? 0
      : stated === undefined
        ? Math.max(0, wantedL - first)
        : stated * setup.day.gristKg;
  const count = spargeL > 0.5 ? (setup.work.batches ?? 1) : 0;
  const fillsL = [0, ...Array.from({ length: count }, () => spargeL / count)];
  const drained = first + (count > 0 ? spargeL : 0);
  const readL = volumeAtTemperature(drained, tempC, READ_C, 0.12);
  return { ...withStrength(setup, mash, readL, wanted), fillsL };
}

/** Wort at kettle-full that ends as so much in the tank. */
function fullForTank(
  setup: WortSetup,
  mash: MashWort,
  tankL: number,
  wanted: number | undefined,
): WortBody {
  const { kettle, sugars, hops, cooler } = setup;
  const extract = ROUGH_YIELD * mash.extractKg + sugars.extractKg;
  const plato = wanted ?? platoOfWanted({ by: 'volume', gPer100mL: (100 * extract) / tankL });
  const hopKg = hops.reduce((sum, h) => sum + h.grams, 0) / 1000;
  const kept = hopKg * kettle.hopKeepsLPerKg + volumeAt20(kettle.deadL, 90, plato / 100);
  const castOutL = (tankL / (1 - cooler.lossShare) + kept) / (1 - kettle.trubShare);
  const castOut = wortOf({ litres: castOutL, tC: COLD_C, plato });
  return {
    extractKg: Math.max(0.1, castOut.extractKg - sugars.extractKg),
    waterKg: castOut.waterKg + evaporated(setup) - sugars.waterKg,
  };
}

/** Strength at kettle-full for the strength wanted, or what this mash gives at that volume. */
function withStrength(
  setup: WortSetup,
  mash: MashWort,
  kettleL: number,
  wanted: number | undefined,
): KettleWish {
  const after = (plato: number) => {
    const wort = wortOf({ litres: kettleL, tC: READ_C, plato });
    return platoOf({
      extractKg: wort.extractKg + setup.sugars.extractKg,
      waterKg: Math.max(1, wort.waterKg + setup.sugars.waterKg - evaporated(setup)),
    });
  };
  if (wanted === undefined) {
    const kgPer100L = (100 * 0.9 * mash.extractKg) / kettleL;
    const targetPlato = platoOfWanted({ by: 'volume', gPer100mL: Math.min(40, kgPer100L) });
    return { kettleL, targetPlato, castOutPlato: after(targetPlato) };
  }
  const root = findRoot((plato) => after(plato) - wanted, 1, 35);
  const targetPlato = root.ok ? root.x : Math.max(1, wanted - 1);
  return { kettleL, targetPlato, castOutPlato: wanted };
}

/** What drains of the mash before any liquor goes on [L at bed temperature]. */
function firstDrainL(setup: WortSetup, mash: MashWort, tempC: number): number {
  const retained = setup.spreads.retainedLPerKg?.likely ?? TUN_DEFAULTS.retainedLPerKg.likely;
  return Math.max(1, litresAt(mash, tempC) - retained * setup.day.gristKg - setup.tun.deadL);
}

/** What a running day adds to a plan's chain. */
export interface ChainChanges {
  readonly fromMin?: number;
  readonly flowLMin?: number;
  readonly shutAtL?: number;
  readonly boilMin?: number;
  readonly hops?: WortChainInput['boil']['hops'];
  /** Into the kettle beside the recipe's own sugars [kg]. */
  readonly extractKg?: number;
  readonly waterKg?: number;
  readonly liquorInC?: number;
  readonly standMin?: number;
  readonly ph?: number;
  readonly read?: WortChainInput['read'];
}

/** Minute at which the tap opens when the mash ends at this one. */
export const runOffFrom = (setup: WortSetup, mashEndMin: number): number =>
  mashEndMin + setup.work.lauterRestMin;

/**
 * The chain's input for a document and a mash.
 * @param setup the document looked up
 * @param wish kettle-full wanted
 * @param mash outcome of the mash
 * @param changes what the running day says
 * @param draws of the chain, and of the mash
 */
export function chainInput(
  setup: WortSetup,
  wish: KettleWish,
  mash: MashOutcome,
  changes: ChainChanges,
  draws: { readonly chain: readonly ChainDraw[]; readonly mash: readonly MashWort[] },
): WortChainInput {
  const { work, sugars, day } = setup;
  const target = setup.document.beer.target;
  const extractKg = sugars.extractKg + (changes.extractKg ?? 0);
  const waterKg = sugars.waterKg + (changes.waterKg ?? 0);
  const ph = changes.ph ?? target?.wortPh;
  const standMin = changes.standMin;
  return {
    mash: draws.mash,
    draws: draws.chain,
    gristKg: day.gristKg,
    malts: setup.malts,
    precursorMgKg: setup.precursorMgKg,
    tun: { tC: Math.min(95, Math.max(40, mash.tempC)), ...setup.tun },
    lauter: {
      ...intentOf(setup, wish),
      ...(changes.shutAtL === undefined ? {} : { shutAtL: changes.shutAtL }),
      fromMin: changes.fromMin ?? runOffFrom(setup, mash.endMin),
      flowLMin: changes.flowLMin ?? setup.flowLMin,
    },
    kettle: setup.kettle,
    boil: {
      startC: READ_C,
      heatUpMin: toTheBoil(setup, wish),
      minutes: changes.boilMin ?? work.boilMin,
      hops: changes.hops ?? setup.hops,
      ...(day.kit.boil?.hopFactor === undefined ? {} : { hopFactor: day.kit.boil.hopFactor }),
      stand:
        standMin === undefined
          ? setup.stand
          : setup.stand.map((s) => ({ ...s, minutes: standMin })),
      ...(ph === undefined ? {} : { ph }),
      ...(extractKg > 0 ? { extractKg } : {}),
      ...(waterKg > 0 ? { waterKg } : {}),
    },
    cooler:
      changes.liquorInC === undefined
        ? setup.cooler
        : { ...setup.cooler, liquorInC: changes.liquorInC },
    ...(changes.read === undefined ? {} : { read: changes.read }),
  };
}

/** How this document means to run off. */
function intentOf(setup: WortSetup, wish: KettleWish): LauterIntent {
  const { holdL, stopPlato } = setup.work;
  return {
    kettleL: wish.kettleL,
    readC: READ_C,
    targetPlato: wish.targetPlato,
    ...(holdL === undefined ? {} : { holdL }),
    ...(stopPlato === undefined ? {} : { stopPlato }),
    ...(wish.fillsL === undefined ? {} : { fillsL: wish.fillsL }),
  };
}

/** Minutes from the full kettle to the boil: what heating during the run-off leaves over. */
function toTheBoil(setup: WortSetup, wish: KettleWish): number {
  const { day, boilers, flowLMin } = setup;
  const room = boilers.reduce((sum, v) => sum + v.brimL, 0);
  const times = boilers.map((vessel) => {
    const burner = bestBurner(day.kit, vessel.id);
    if (!burner) return 0;
    const share = vessel.brimL / room;
    const wort = wortOf({ litres: wish.kettleL * share, tC: READ_C, plato: wish.targetPlato });
    const load = { vessel: vessel.id, burner: burner.id, fromC: READ_C, ...wort };
    return heatUpMin(day.kit, load, 'boil', day.airC) ?? NEVER_MIN;
  });
  const heated = ((1 - HEATED_FROM) * wish.kettleL) / flowLMin;
  return Math.max(0, Math.max(0, ...times) - heated);
}

/** A single draw in which everything is as likely. */
export function likelyDraws(setup: WortSetup, mash: MashOutcome) {
  const all = { ...TUN_DEFAULTS, ...LATER_DEFAULTS, ...setup.spreads };
  const still = Object.fromEntries(
    Object.entries(all).map(([key, { likely }]) => [key, { likely, lnSd: 0 }]),
  );
  const chain = chainDraws(1, 1, still).map((d): ChainDraw => ({ ...d, sample: [0, 0, 0] }));
  return { chain, mash: [mash.likely] };
}

/** The chain of the likely draw alone. */
export function likelyChain(setup: WortSetup, mash: MashOutcome): WortChain {
  const wish = kettleWish(setup, mash.likely, mash.tempC);
  return wortChain(chainInput(setup, wish, mash, {}, likelyDraws(setup, mash)));
}

/** Draws of tun, kettle and cooler, and of the mash beside them. */
export function drawsOf(setup: WortSetup, mash: MashOutcome, n: number, seed: number) {
  return { chain: chainDraws(n, seed, setup.spreads), mash: mashDraws(mash, n, seed) };
}

/**
 * The chain of a document from any mash.
 * @param setup the document looked up
 * @param mash outcome of the mash
 * @param changes what the running day says
 * @param n draws, 1-1000
 * @param seed 32-bit integer
 */
export function chainOf(
  setup: WortSetup,
  mash: MashOutcome,
  changes: ChainChanges,
  n: number,
  seed: number,
): { readonly wish: KettleWish; readonly chain: WortChain } {
  const wish = kettleWish(setup, mash.likely, mash.tempC);
  const draws = drawsOf(setup, mash, n, seed);
  return { wish, chain: wortChain(chainInput(setup, wish, mash, changes, draws)) };
}
