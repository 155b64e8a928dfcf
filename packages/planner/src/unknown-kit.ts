/**
 * A small kit about which nothing is known but the size of its batch, and where a pull lands on
 * it. Its route and tun are set so that, over the ensemble, the boiled part arrives at 90 ± 4 °C
 * and the resting mash slips 3 ± 2 K (docs/decisions/0005-prior-spreads.md).
 */
import {
  type Draw,
  type Kit,
  type Move,
  NOMINAL,
  type Situation,
  simulate,
  type Thickness,
  type Trace,
  thermalOf,
  volumeOf,
} from '@ladlework/brewhouse';
import { band } from '@ladlework/numerics';
import { DEFAULT_SPREADS, drawsFor, type Spreads } from './ensemble.ts';
import { stateIn } from './moves-of.ts';
import { textbookLanding } from './textbook.ts';

/** Batch when nobody says [L of beer]. */
const USUAL_BATCH_L = 40;
/** Grist of a litre of beer and liquor of a kilogram of grist, a usual strength. Our judgement. */
const GRIST_KG_PER_L = 0.21;
const LIQUOR_L_PER_KG = 3.5;
const MOISTURE = 0.045;
/** Share of the dry grist dissolved by the time of a pull. Our judgement. */
const DISSOLVED = 0.5;
/** Freeboard over a mash, and over a boiling pull. @source physics.md 4.4 */
const TUN_FREEBOARD = 0.2;
const POT_FREEBOARD = 0.3;
/** A typical pull brought from a rest to the boil [min]; our judgement. */
const HEAT_UP_MIN = 17;
/** What an open pot loses on its way from 85 °C to the boil. @source physics.md 3.5 */
const STEAM_KW_M2 = 9;
/** Share of the burner that keeps a pull boiling. */
const BOIL_POWER = 0.6;
/** Hot surface a litre shows on its way, pouring and splashing counted; set by the 90 °C [m2/L]. */
const OPEN_M2_PER_L = 0.22;
/** Wall loss of a 50 L tun, jacketed or boxed; set by the 3 K [W/K]. */
const TUN_LOSS_WK = 1.7;
/** Nobody has said how the tun is jacketed or the jug poured: wider than for a described kit. */
const UNDESCRIBED: Spreads = { ...DEFAULT_SPREADS, lossLn: 0.75, transferLn: 0.58 };
const DRAWS = 400;
const SEED = 20;

/**
 * A typical small kit for a batch: a jacketed tun, a pot with room for half the mash on a hob,
 * jugs in between.
 * @param batchL beer [L], 10-2000
 * @param boilC boiling point there [°C], 85-101; left out: sea level
 * @returns the kit
 * @throws RangeError outside the ranges
 * @source our judgement, set by the published small-batch figures of physics.md 8.6
 */
export function unknownKit(batchL: number, boilC?: number): Kit {
  need('batchL', batchL, 10, 2000);
  if (boilC !== undefined) need('boilC', boilC, 85, 101);
  const mashL = batchL * GRIST_KG_PER_L * (LIQUOR_L_PER_KG + NOMINAL.displacementLKg);
  const tunL = mashL / (1 - TUN_FREEBOARD);
  const potL = (0.5 * mashL) / (1 - POT_FREEBOARD);
  // Walls and losses go with the surface, diameters with its root.
  const size = (litres: number) => (litres / 50) ** (1 / 3);
  const potM = 0.38 * size(potL);
  // Enough to heat it in that time and to feed the steam off an open pot near the boil.
  const netKW =
    ((mashL / 3) * 3.85 * 38) / (HEAT_UP_MIN * 60) + STEAM_KW_M2 * (Math.PI / 4) * potM ** 2;
  const portionL = Math.min(8, Math.max(1, mashL / 20));
  return {
    id: 'unknown-kit',
    name: 'A small kit, not described',
    altitudeM: 0,
    ...(boilC === undefined ? {} : { boilingPointC: boilC }),
    airC: 18,
    vessels: [
      {
        id: 'tun',
        name: 'Mash tun',
        role: 'mash-tun',
        brimL: tunL,
        diameterM: 0.4 * size(tunL),
        wallKJK: 3 * size(tunL) ** 2,
        lossWK: TUN_LOSS_WK * size(tunL) ** 2,
        lid: true,
        deadL: 0,
      },
      {
        id: 'pot',
        name: 'Pot',
        role: 'pot',
        brimL: potL,
        diameterM: potM,
        wallKJK: 2.5 * size(potL) ** 2,
        lossWK: 4 * size(potL) ** 2,
        lid: true,
        deadL: 0,
      },
    ],
    burners: [{ id: 'hob', name: 'Hob', kind: 'gas-hob', heats: ['pot'], ratedKW: netKW / 0.4 }],
    routes: [
      {
        id: 'jug',
        name: 'Jug',
        how: 'bucket',
        portionL,
        minutesPerPortion: 0.4,
        openAreaM2: OPEN_M2_PER_L * portionL ** (2 / 3),
        carrierKJK: 0.15 * portionL,
        lineL: 0,
        hands: 1,
      },
    ],
    hands: [{ id: 'B', name: 'Brewer' }],
    burnersIndoors: true,
  };
}

export interface UnknownPull {
  /** Share of the mash, by volume, 0.02-0.6. */
  readonly pullFraction: number;
  /** The rest it is pulled from [°C], 30-80. */
  readonly fromC: number;
  /** From the first portion out to the first portion back [min], 5-240. */
  readonly minutesAway: number;
  readonly boilC?: number;
  /** Beer [L]; default 40. */
  readonly batchL?: number;
  readonly thickness?: Thickness;
}

/** One draw's pull on the unknown kit. */
export interface UnknownReturn {
  readonly landingC: number;
  readonly arrivalC: number;
  /** What the resting mash lost while it was away [K]. */
  readonly slipK: number;
}

/**
 * Where a pull lands on a small kit about which nothing is known.
 * @param pull share, rest, minutes away and, where known, boiling point, batch and thickness
 * @returns an 80 % band of the landing, and where the textbook puts it [°C]
 * @throws RangeError naming the field outside its range
 * @source `simulate` over the default ensemble
 * @example landingOnUnknownKit({ pullFraction: 1 / 3, fromC: 62, minutesAway: 50 }) // about 69 °C, textbook 74.7
 */
export function landingOnUnknownKit(pull: UnknownPull): {
  readonly lowC: number;
  readonly likelyC: number;
  readonly highC: number;
  readonly textbookC: number;
} {
  const returns = returnsOnUnknownKit(pull);
  const b = band(returns.map((r) => r.landingC));
  const boilC = pull.boilC ?? 100;
  return {
    lowC: b.low,
    likelyC: b.likely,
    highC: b.high,
    textbookC: textbookLanding(pull.pullFraction, pull.fromC, boilC),
  };
}

/** The same, draw by draw. */
export function returnsOnUnknownKit(pull: UnknownPull): UnknownReturn[] {
  need('pullFraction', pull.pullFraction, 0.02, 0.6);
  need('fromC', pull.fromC, 30, 80);
  need('minutesAway', pull.minutesAway, 5, 240);
  const kit = unknownKit(pull.batchL ?? USUAL_BATCH_L, pull.boilC);
  return drawsFor(kit, DRAWS, SEED, UNDESCRIBED).map((draw) => oneReturn(kit, pull, draw));
}

function oneReturn(kit: Kit, pull: UnknownPull, draw: Draw): UnknownReturn {
  const options = { draw, moisture: MOISTURE };
  const start = restingMash(kit, pull);
  const tun = kit.vessels[0] as Kit['vessels'][number];
  const mashL = volumeOf(stateIn(start, 'tun'), thermalOf(tun, draw, kit.airC, MOISTURE));
  const litres = pull.pullFraction * mashL;
  const up = simulate(kit, start, upToBoil(litres, pull), options);
  const usedMin = endOf(up);
  const boilMin = Math.max(0, pull.minutesAway - usedMin);
  const done = simulate(kit, up.end, backAgain(boilMin), options);
  const back = done.moves[1]?.transfer;
  if (!back) throw new Error('the pull was not returned');
  return {
    landingC: back.landingC,
    arrivalC: back.arrivalC,
    slipK: pull.fromC - back.beforeC,
  };
}

function upToBoil(litres: number, pull: UnknownPull): Move[] {
  const thickness = pull.thickness ?? 'as-it-comes';
  // A burner that only creeps to the boil is given up when the pull was to go back.
  const maxMinutes = pull.minutesAway;
  return [
    {
      id: 'pull',
      kind: 'pull',
      from: 'tun',
      to: 'pot',
      route: 'jug',
      litres,
      thickness,
      hands: [],
    },
    {
      id: 'up',
      kind: 'heat',
      vessel: 'pot',
      burner: 'hob',
      to: 'boil',
      maxMinutes,
      lidOn: false,
      hands: [],
    },
  ];
}

function backAgain(minutes: number): Move[] {
  return [
    {
      id: 'boil',
      kind: 'boil',
      vessel: 'pot',
      burner: 'hob',
      minutes,
      power: BOIL_POWER,
      hands: [],
    },
    { id: 'return', kind: 'return', from: 'pot', to: 'tun', route: 'jug', hands: [] },
  ];
}

function restingMash(kit: Kit, pull: UnknownPull): Situation {
  const gristKg = (pull.batchL ?? USUAL_BATCH_L) * GRIST_KG_PER_L;
  const dryKg = gristKg * (1 - MOISTURE);
  const empty = { clockMin: 0, tempC: kit.airC, waterKg: 0, solidsKg: 0, extractKg: 0 };
  return {
    vessels: [
      {
        vessel: 'tun',
        clockMin: 0,
        tempC: pull.fromC,
        waterKg: gristKg * (LIQUOR_L_PER_KG + MOISTURE),
        solidsKg: dryKg * (1 - DISSOLVED),
        extractKg: dryKg * DISSOLVED,
      },
      { vessel: 'pot', ...empty },
    ],
    freeAtMin: {},
  };
}

function endOf(trace: Trace): number {
  return trace.moves.reduce((end, m) => Math.max(end, m.endMin), 0);
}

function need(field: string, value: number, low: number, high: number): void {
  if (!(value >= low && value <= high))
    throw new RangeError(`${field} ${value}: allowed ${low} to ${high}`);
}
