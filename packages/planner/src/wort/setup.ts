/** Everything the wort engine needs of a document, with the figures of the trade where it is silent. */
import {
  type BoilKettle,
  burnerPowerKW,
  type ChainSpreads,
  type HopAddition,
  type HotStay,
  KETTLE_DEFAULTS,
  plateUa,
  type Vessel,
  type WortBody,
  type WortChainInput,
} from '@ladlework/brewhouse';
import { boilOffRate, type ColouredMalt, waterCp, wortCp, wortDensity } from '@ladlework/matter';
import { type BrewDay, brewDay } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { bestBurner } from '../timetable/heat-time.ts';
import { boilersOf, lauterOf } from '../timetable/stations.ts';
import { TYPICAL_WORK, type Work, wortLitres } from '../timetable/work.ts';
import { colouredMalts, hopAdditions, pitchC, precursorOf, sugarsOf } from './cellar.ts';

/** Wort as it comes over and is dipped in the kettle [°C]; our judgement. */
export const READ_C = 70;
/** Mean of a hot stand under the boil, and the wort when the cooling begins [K]; our judgement. */
const STAND_UNDER_BOIL_K = 3;
const COOLER_UNDER_BOIL_K = 6;
/** Transfer units of a plate cooler, and of a coil, sized for its kettle; our judgement. */
const PLATE_NTU = 3.5;
const COIL_NTU = 2;
/** Liquor to wort in a cooler (common practice, no source), and what hoses and cold trub keep. */
const LIQUOR_TO_WORT = 2;
const COOLER_KEEPS = 0.02;
/** Cold liquor when the day's liquor is no cooling liquor [°C]. */
const COLD_LIQUOR_C = 15;
const WARMEST_LIQUOR_C = 40;
/** Spread (ln) of a figure the kit has measured, beside that of one it has not. Our judgement. */
const MEASURED_LN = {
  stages: 0.08,
  retainedLPerKg: 0.05,
  floodedLPerKg: 0.04,
  netKW: 0.03,
  trub: 0.15,
  hops: 0.06,
  colour: 0.06,
  cooler: 0.04,
} as const;

export interface WortSetup {
  readonly document: PlanDocument;
  readonly day: BrewDay;
  /** The work with what the document says elsewhere filled in, and without what it leaves to the wish. */
  readonly work: Work;
  readonly lauter: Vessel;
  readonly boilers: readonly Vessel[];
  readonly kettle: BoilKettle;
  readonly evaporationKgH: number;
  readonly tun: { readonly underL: number; readonly deadL: number };
  readonly flowLMin: number;
  readonly hops: readonly HopAddition[];
  readonly sugars: WortBody;
  readonly malts: readonly ColouredMalt[];
  readonly precursorMgKg: number;
  readonly stand: readonly HotStay[];
  readonly cooler: WortChainInput['cooler'];
  readonly spreads: ChainSpreads;
  readonly assumed: readonly string[];
  readonly notes: readonly string[];
}

/** The kit has no vessel that could boil the wort. */
export class NoKettle extends Error {}

/**
 * Looks up what the way from tun to tank needs.
 * @param document a document that passed the contract's checks
 * @throws UnknownName when the document names what its kit does not have, NoKettle when nothing boils
 */
export function wortSetup(document: PlanDocument): WortSetup {
  const day = brewDay(document);
  const assumed: string[] = [];
  const stated = document.day.work ?? {};
  const listed = document.beer.hops?.flatMap((h) => (h.boilMin === 'stand' ? [] : [h.boilMin]));
  const work: Work = {
    ...TYPICAL_WORK,
    ...(listed === undefined
      ? {}
      : { hopsBeforeEndMin: [...new Set(listed)].sort((a, b) => b - a) }),
    ...(stated.spargeBy === 'none' ? { spargeLPerKg: 0 } : {}),
    ...stated,
  };
  const lauter = lauterOf(day);
  const litres = wortLitres(day.gristKg, day.liquorKg, lauter, work);
  const boilers = kettlesOf(day, work, litres.kettleFullL);
  const kettle = kettleOf(day, boilers, work, litres.kettleFullL, assumed);
  const { boil, lauter: bed } = document.kit;
  if (bed?.stages === undefined)
    assumed.push(
      'Bed of 1.6 ideal stages, as 4 to 8 equal run-offs lose; log a run-off to fit it.',
    );
  if (document.beer.precursorMgKg === undefined)
    assumed.push('DMS precursor by the colour of the base malts: 5 mg/kg pale, 1.5 darker.');
  if (document.beer.malts.some((m) => m.certificate?.colourEbc === undefined))
    assumed.push('Malts without a colour on their sheet count as usual for their kind.');
  if (document.beer.hops === undefined) assumed.push('No hops are listed: no bitterness.');
  const deadL = lauter.deadL;
  return {
    document,
    day,
    work,
    lauter,
    boilers,
    kettle,
    evaporationKgH: boilOffRate(kettle.netKW, day.boilC),
    tun: { underL: Math.max(deadL, bed?.underL ?? deadL), deadL },
    flowLMin: litres.runOffLPerMin,
    hops: hopAdditions(document.beer),
    sugars: sugarsOf(document.beer),
    malts: colouredMalts(document.beer),
    precursorMgKg: precursorOf(document.beer),
    stand:
      work.standMin > 0 ? [{ tC: day.boilC - STAND_UNDER_BOIL_K, minutes: work.standMin }] : [],
    cooler: coolerOf(day, work, litres.castOutL, assumed),
    spreads: spreadsOf(document.kit, boil),
    assumed,
    notes:
      boilers.length > 1
        ? [`Boiled in ${boilers.map((v) => v.name).join(' and ')}, reckoned as one kettle.`]
        : [],
  };
}

/** The vessels that boil; where one vessel is all there is, it boils what ran off its own bed. */
function kettlesOf(day: BrewDay, work: Work, kettleFullL: number): readonly Vessel[] {
  const chosen = boilersOf(day, work, kettleFullL);
  if (chosen.length > 0) return chosen;
  const own = lauterOf(day);
  if (bestBurner(day.kit, own.id)) return [own];
  throw new NoKettle(`kit ${day.kit.name} has no vessel that could boil the wort`);
}

function kettleOf(
  day: BrewDay,
  boilers: readonly Vessel[],
  work: Work,
  kettleFullL: number,
  assumed: string[],
): BoilKettle {
  const { kit } = day;
  const { boil } = kit;
  const sum = (of: (v: Vessel) => number) => boilers.reduce((s, v) => s + of(v), 0);
  if (boil?.trubShare === undefined) assumed.push('Hot trub keeps 2 % of the wort.');
  if (boil?.hopKeepsLPerKg === undefined && (day.document.beer.hops ?? []).length > 0)
    assumed.push('Hops keep 6 L of wort a kilogram.');
  return {
    netKW: netPower(day, boilers, work, kettleFullL, assumed),
    site:
      kit.boilingPointC === undefined
        ? { altitudeM: kit.altitudeM }
        : { waterBoilsC: kit.boilingPointC },
    wallKJK: sum((v) => v.wallKJK),
    brimL: sum((v) => v.brimL),
    deadL: sum((v) => v.deadL),
    trubShare: boil?.trubShare ?? KETTLE_DEFAULTS.trubShare.likely,
    hopKeepsLPerKg: boil?.hopKeepsLPerKg ?? KETTLE_DEFAULTS.hopKeepsLPerKg.likely,
  };
}

/** Power into the boil: measured, or what the usual boil-off takes as far as the burners reach. */
function netPower(
  day: BrewDay,
  boilers: readonly Vessel[],
  work: Work,
  kettleFullL: number,
  assumed: string[],
): number {
  const { boil } = day.kit;
  if (boil?.netKW !== undefined) return boil.netKW;
  const perKW = boilOffRate(1, day.boilC);
  if (boil?.boilOffKgPerH !== undefined) return boil.boilOffKgPerH / perKW;
  const usual = (work.boilOffPerHour * kettleFullL) / perKW;
  const burners = new Map(boilers.map((v) => [bestBurner(day.kit, v.id)?.id, v]));
  let reach = 0;
  for (const [id, vessel] of burners) {
    const burner = day.kit.burners.find((b) => b.id === id);
    if (burner)
      reach += burnerPowerKW(burner, day.kit) - (vessel.lossWK * (day.boilC - day.airC)) / 1000;
  }
  const netKW = Math.max(0.1, reach > 0 ? Math.min(usual, reach) : usual);
  const pct = Math.round((100 * netKW * perKW) / kettleFullL);
  assumed.push(
    usual > reach && reach > 0
      ? `The burner drives off ${pct} % an hour at most.`
      : `The boil is turned down to ${pct} % an hour.`,
  );
  return netKW;
}

function coolerOf(
  day: BrewDay,
  work: Work,
  castOutL: number,
  assumed: string[],
): WortChainInput['cooler'] {
  const { kit, document } = day;
  const cooler = kit.cooler;
  const cold = document.day.liquorC <= WARMEST_LIQUOR_C;
  if (!cold)
    assumed.push(`Cooling liquor of ${COLD_LIQUOR_C} °C: the day's liquor is too warm for it.`);
  const common = {
    liquorInC: cold ? document.day.liquorC : COLD_LIQUOR_C,
    toC: pitchC(document.beer),
    fromC: day.boilC - COOLER_UNDER_BOIL_K,
    lossShare: cooler?.lossShare ?? COOLER_KEEPS,
  };
  if (cooler === undefined)
    assumed.push('A plate cooler sized for the wort, with twice its flow of liquor.');
  if (cooler?.how === 'coil') {
    const liquorLMin = cooler.liquorLMin ?? Math.max(5, castOutL / 20);
    const liquorWK = (liquorLMin / 60) * 1000 * waterCp(common.liquorInC);
    return { ...common, how: 'coil', liquorLMin, uaWK: cooler.uaWK ?? COIL_NTU * liquorWK };
  }
  const mostWortLMin = cooler?.mostWortLMin ?? work.knockOutLPerMin;
  const wortWK = (mostWortLMin / 60) * wortDensity(0.12, 60) * wortCp(0.12, 60);
  const uaWK = cooler?.uaWK ?? (cooler?.log ? plateUa(cooler.log) : PLATE_NTU * wortWK);
  const liquorLMin = cooler?.liquorLMin ?? LIQUOR_TO_WORT * mostWortLMin;
  return { ...common, how: 'plate', uaWK, liquorLMin, mostWortLMin };
}

/** What the kit has measured is known better than what the trade would say. */
function spreadsOf(kit: PlanDocument['kit'], boil: PlanDocument['kit']['boil']): ChainSpreads {
  const { lauter: bed, cooler } = kit;
  const power = boil?.netKW ?? boil?.boilOffKgPerH;
  const cooled = cooler?.uaWK ?? (cooler?.how === 'plate' ? cooler.log : undefined);
  const own = <K extends keyof typeof MEASURED_LN>(key: K, likely: number | undefined) =>
    likely === undefined ? {} : { [key]: { likely, lnSd: MEASURED_LN[key] } };
  return {
    ...own('stages', bed?.stages),
    ...own('retainedLPerKg', bed?.retainedLPerKg),
    ...own('floodedLPerKg', bed?.floodedLPerKg),
    ...own('netKW', power === undefined ? undefined : 1),
    ...own('trub', boil?.trubShare === undefined ? undefined : 1),
    ...own('hops', boil?.hopFactor === undefined ? undefined : 1),
    ...own('colour', boil?.colourFactor),
    ...own('cooler', cooled === undefined ? undefined : 1),
  };
}
