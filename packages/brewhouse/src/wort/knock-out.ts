/** Knock-out: how fast today's cold liquor cools the wort, what arrives in the tank, and pitching it. */
import {
  counterflowEffectiveness,
  immersionTemperature,
  immersionTime,
  inRange,
  OutOfRange,
  oxygenSaturation,
  type PropagationStep,
  pitchCells,
  propagationSteps,
  slurryVolume,
  WORT_OXYGEN,
  waterCp,
  waterDensity,
  wortCp,
  wortDensity,
} from '@ladlework/matter';
import { findRoot } from '@ladlework/numerics';
import { COLD_C, litresAt, platoOf, type WortBody } from './body.ts';
import type { HotStay } from './hops.ts';

/** A counter-flow cooler with today's liquor. */
export interface PlateCooler {
  readonly uaWK: number;
  readonly liquorLMin: number;
  readonly liquorInC: number;
  /** Most the pump and hoses pass [L/min into the tank]. */
  readonly mostWortLMin: number;
}

interface Streams {
  readonly wortLMin: number;
  readonly plato: number;
  readonly fromC: number;
  /** Wort out, for the heat capacity at the mean and the volume that arrives [°C]. */
  readonly toC: number;
  readonly liquorLMin: number;
  readonly liquorInC: number;
}

/** Heat capacity rates [kW/K] of wort and liquor. */
function rates(s: Streams): { wort: number; liquor: number } {
  const w = s.plato / 100;
  const wortKgS = (s.wortLMin * wortDensity(w, s.toC)) / 60000;
  const liquorKgS = (s.liquorLMin * waterDensity(s.liquorInC)) / 60000;
  return {
    wort: wortKgS * wortCp(w, (s.fromC + s.toC) / 2),
    liquor: liquorKgS * waterCp(s.liquorInC + 15),
  };
}

/** Heat passed on [kW]. */
function passed(uaWK: number, s: Streams): number {
  const { wort, liquor } = rates(s);
  const least = Math.min(wort, liquor);
  const ntu = Math.min(1000, uaWK / 1000 / least);
  return (
    counterflowEffectiveness(ntu, least / Math.max(wort, liquor)) * least * (s.fromC - s.liquorInC)
  );
}

/** Where a knock-out through a plate cooler ends. */
export interface PlateRun {
  /** Flow into the tank [L/min] and minutes for all of it. */
  readonly wortLMin: number;
  readonly minutes: number;
  readonly outC: number;
  readonly liquorOutC: number;
  /** Flow of liquor to set [L/min]: throttled where all of it would chill the wort too far. */
  readonly liquorLMin: number;
  readonly liquorL: number;
  /** True when the tank gets the temperature wanted. */
  readonly reached: boolean;
  readonly whyNot?: string;
  /** Heat still to be taken out in the tank when it is not reached [kWh]. */
  readonly leftKWh: number;
}

/** Liquor is not throttled under this share of its flow. */
const LEAST_LIQUOR_SHARE = 0.02;
/** A knock-out that runs slower than this is none: better run it warm and chill in the tank (judgement). */
const LEAST_FLOW_SHARE = 0.05;

/**
 * Knock-out through a counter-flow cooler at the greatest flow that still reaches the temperature.
 *
 * @param cooler uaWK 10 to 1e6 [W/K]; liquorLMin 0.1 to 1e4 [L/min]; liquorInC 0 to 40 [°C];
 *   mostWortLMin 0.1 to 1e4 [L/min]
 * @param wort what goes through it; fromC 40 to 105 [°C]; toC 2 to 40 [°C]
 * @returns flow, minutes, liquor, and the heat left over when today's liquor is too warm
 * @throws OutOfRange outside the ranges
 * @source effectiveness-NTU for counter-flow; enthalpy balance
 */
export function plateRun(
  cooler: PlateCooler,
  wort: { readonly body: WortBody; readonly fromC: number; readonly toC: number },
): PlateRun {
  const ua = inRange('heat transfer of the cooler', cooler.uaWK, 10, 1e6, 'W/K');
  inRange('flow of liquor', cooler.liquorLMin, 0.1, 1e4, 'L/min');
  const into = inRange('liquor temperature', cooler.liquorInC, 0, 40, '°C');
  const most = inRange('greatest flow of wort', cooler.mostWortLMin, 0.1, 1e4, 'L/min');
  const fromC = inRange('wort temperature before', wort.fromC, 40, 105, '°C');
  const toC = inRange('wort temperature wanted', wort.toC, 2, 40, '°C');
  const plato = platoOf(wort.body);
  const at = (wortLMin: number, liquorLMin = cooler.liquorLMin): Streams => ({
    wortLMin,
    plato,
    fromC,
    toC,
    liquorLMin,
    liquorInC: into,
  });
  const outOf = (streams: Streams) => fromC - passed(ua, streams) / rates(streams).wort;
  const outAt = (wortLMin: number) => outOf(at(wortLMin));
  const least = LEAST_FLOW_SHARE * most;
  let wortLMin = most;
  let liquorLMin = cooler.liquorLMin;
  let whyNot: string | undefined;
  if (toC <= into) {
    whyNot = `Liquor comes at ${into.toFixed(1)} °C: no flow brings wort under it. Chill in the tank, or ice the liquor.`;
  } else if (outAt(most) > toC) {
    const root = findRoot((flow) => outAt(flow) - toC, least, most);
    if (root.ok) wortLMin = root.x;
    else {
      wortLMin = least;
      whyNot = `Even at ${least.toFixed(1)} L/min it comes out at ${outAt(least).toFixed(1)} °C. More liquor, colder liquor, or chill in the tank.`;
    }
  } else if (outAt(most) < toC) {
    const root = findRoot(
      (flow) => outOf(at(most, flow)) - toC,
      LEAST_LIQUOR_SHARE * cooler.liquorLMin,
      cooler.liquorLMin,
    );
    if (root.ok) liquorLMin = root.x;
  }
  const streams = at(wortLMin, liquorLMin);
  const outC = outOf(streams);
  const minutes = litresAt(wort.body, toC) / wortLMin;
  const mass = wort.body.extractKg + wort.body.waterKg;
  const leftKWh =
    whyNot === undefined ? 0 : (mass * wortCp(plato / 100, toC) * (outC - toC)) / 3600;
  return {
    wortLMin,
    minutes,
    outC,
    liquorOutC: into + passed(ua, streams) / rates(streams).liquor,
    liquorLMin,
    liquorL: liquorLMin * minutes,
    reached: whyNot === undefined,
    ...(whyNot === undefined ? {} : { whyNot }),
    leftKWh,
  };
}

/**
 * Heat transfer of a plate cooler from one knock-out that was logged.
 *
 * @param log wortLMin, liquorLMin 0.1 to 1e4 [L/min]; plato 0 to 40; fromC 40 to 105; toC above
 *   liquorInC; liquorInC 0 to 40 [°C]
 * @returns [W/K]; a fouled cooler shows here first
 * @throws OutOfRange outside the ranges, or when no cooler could have done that with that liquor
 * @source effectiveness-NTU for counter-flow, inverted
 */
export function plateUa(log: Streams): number {
  inRange('flow of wort', log.wortLMin, 0.1, 1e4, 'L/min');
  inRange('flow of liquor', log.liquorLMin, 0.1, 1e4, 'L/min');
  inRange('wort temperature before', log.fromC, 40, 105, '°C');
  inRange('liquor temperature', log.liquorInC, 0, 40, '°C');
  inRange('wort temperature after', log.toC, log.liquorInC + 0.05, log.fromC, '°C');
  const taken = rates(log).wort * (log.fromC - log.toC);
  const root = findRoot((lnUa) => passed(Math.exp(lnUa), log) - taken, Math.log(1), Math.log(1e6));
  if (root.ok) return Math.exp(root.x);
  throw new OutOfRange('heat taken by the liquor', taken, passed(1, log), passed(1e6, log), 'kW');
}

/** Parts in which the fall of the temperature is told, and what counts as hot. */
const COURSE_PARTS = 40;
const HOT_C = 70;

/**
 * Cooling in the kettle with an immersed coil.
 *
 * @param run body; kettleKJK 0 to 1e5 [kJ/K]; fromC, toC [°C]; uaWK, liquorLMin, liquorInC of the coil
 * @returns minutes and liquor to the temperature wanted, or where it stands after two hours and why
 * @throws OutOfRange outside the ranges
 * @source matter's `immersionTime`
 */
export function coilRun(run: {
  readonly body: WortBody;
  readonly kettleKJK: number;
  readonly fromC: number;
  readonly toC: number;
  readonly uaWK: number;
  readonly liquorLMin: number;
  readonly liquorInC: number;
}): {
  readonly minutes: number;
  readonly outC: number;
  readonly liquorL: number;
  readonly reached: boolean;
  readonly whyNot?: string;
  /** The wort while it is still hot enough for hops and DMS to go on. */
  readonly course: readonly HotStay[];
} {
  const mass = run.body.extractKg + run.body.waterKg;
  const kettle = inRange('heat capacity of the kettle', run.kettleKJK, 0, 1e5, 'kJ/K');
  const from = inRange('wort temperature before', run.fromC, 0, 105, '°C');
  const to = inRange('wort temperature wanted', run.toC, 0, from, '°C');
  const coil = {
    wortKJK: mass * wortCp(platoOf(run.body) / 100, (from + to) / 2) + kettle,
    uaWK: run.uaWK,
    liquorLMin: run.liquorLMin,
    liquorInC: run.liquorInC,
    fromC: from,
  };
  const courseTo = (minutes: number): HotStay[] => {
    const part = minutes / COURSE_PARTS;
    return Array.from({ length: COURSE_PARTS }, (_, i) => ({
      tC: immersionTemperature({ ...coil, minutes: (i + 0.5) * part }),
      minutes: part,
    })).filter((stay) => stay.tC > HOT_C);
  };
  if (to < run.liquorInC + 0.5) {
    const minutes = 120;
    return {
      minutes,
      outC: immersionTemperature({ ...coil, minutes }),
      liquorL: minutes * run.liquorLMin,
      reached: false,
      whyNot: `Liquor comes at ${run.liquorInC.toFixed(1)} °C: the coil ends there. Ice the liquor for the last part, or chill in the tank.`,
      course: courseTo(minutes),
    };
  }
  const minutes = immersionTime({ ...coil, toC: to });
  return {
    minutes,
    outC: to,
    liquorL: minutes * run.liquorLMin,
    reached: true,
    course: courseTo(minutes),
  };
}

/** Yeast to pitch. */
export interface YeastLot {
  readonly kind: 'ale' | 'lager';
  /** Rate [million living cells/(mL °P)]. */
  readonly rate: number;
  readonly cellsPerML: number;
  readonly viability: number;
  /** Times it has been used before. */
  readonly generation: number;
}

/** Pitching and aeration of a tank. */
export interface Pitching {
  readonly cells: number;
  readonly slurryL: number;
  /** Living cells in a millilitre of wort once pitched. */
  readonly millionPerML: number;
  /** Oxygen for the whole tank [g] and what air alone can reach [mg/L]. */
  readonly oxygenG: number;
  readonly airReachesMgL: number;
  readonly needsPureOxygen: boolean;
  readonly cautions: readonly string[];
}

/** Above these: cells weaken and wild yeast gathers; pitch fresh (common practice, no source). */
const OLDEST_GENERATION = 10;
const GOOD_VIABILITY = 0.95;

/**
 * Yeast and oxygen for a tank.
 *
 * @param tank body; tC of the wort 0 to 40 [°C]; pressureKPa of the air 50 to 110; oxygenMgL wanted, 0
 *   to 40, the middle of what is usual unless given
 * @param yeast rate 0.1 to 5; cellsPerML 1e6 to 1e10; viability 0.3 to 1; generation 0 to 100
 * @returns cells, slurry, oxygen, and what speaks against this yeast
 * @throws OutOfRange outside the ranges
 * @source matter's `pitchCells`, `slurryVolume`, `oxygenSaturation`; viability over 95 % (common practice)
 */
export function pitching(
  tank: {
    readonly body: WortBody;
    readonly tC: number;
    readonly pressureKPa: number;
    readonly oxygenMgL?: number;
  },
  yeast: YeastLot,
): Pitching {
  const volumeL = litresAt(tank.body, COLD_C);
  const plato = platoOf(tank.body);
  const usual = yeast.kind === 'lager' ? WORT_OXYGEN.lager : WORT_OXYGEN.usual;
  const wanted = inRange(
    'oxygen wanted',
    tank.oxygenMgL ?? (usual.low + usual.high) / 2,
    0,
    40,
    'mg/L',
  );
  const air = oxygenSaturation({ tC: tank.tC, plato, pressureKPa: tank.pressureKPa });
  const cells = pitchCells({ volumeL, plato, rate: yeast.rate });
  const generation = inRange('generation of the yeast', yeast.generation, 0, 100, '');
  const cautions: string[] = [];
  if (yeast.viability < GOOD_VIABILITY)
    cautions.push(
      `${Math.round(100 * yeast.viability)} % living: under 95 % the dead part tastes; take fresher yeast if there is any.`,
    );
  if (generation > OLDEST_GENERATION)
    cautions.push(`Generation ${generation}: grow fresh yeast from the culture.`);
  if (tank.tC > 24)
    cautions.push(`${tank.tC.toFixed(1)} °C is too warm to pitch: chill in the tank first.`);
  return {
    cells,
    slurryL: slurryVolume({ cells, cellsPerML: yeast.cellsPerML, viability: yeast.viability }),
    millionPerML: volumeL > 0 ? cells / (volumeL * 1000) / 1e6 : 0,
    oxygenG: (wanted * volumeL) / 1000,
    airReachesMgL: air,
    needsPureOxygen: air < wanted,
    cautions,
  };
}

/**
 * Steps to grow the yeast for a pitching from a small culture.
 *
 * @param cells living cells wanted, 1e6 to 1e18
 * @param startL culture at hand, grown out [L], 1e-4 to 1e5
 * @returns steps and the day each ends, counted from the start
 * @throws OutOfRange outside the ranges
 * @source matter's `propagationSteps`
 */
export function starterSteps(
  cells: number,
  startL: number,
): readonly (PropagationStep & { readonly endsAfterH: number })[] {
  let hours = 0;
  return propagationSteps({ cells, startL }).map((step) => {
    hours += step.hours;
    return { ...step, endsAfterH: hours };
  });
}
