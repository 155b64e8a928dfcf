/** Minutes to heat and degrees to park, from the one simulation of the brewhouse. */
import {
  burnerPowerKW,
  type Draw,
  emptyBrewhouse,
  type Kit,
  kitBoilingPoint,
  type Move,
  NOMINAL,
  type Route,
  type Situation,
  simulate,
  type VesselCurve,
  type VesselState,
} from '@ladlework/brewhouse';
import { waterDensity, waterEnthalpy } from '@ladlework/matter';
import { findRoot } from '@ladlework/numerics';

/** What stands in a vessel that is to be heated. */
export interface Load {
  readonly vessel: string;
  readonly burner: string;
  readonly waterKg: number;
  readonly extractKg?: number;
  readonly fromC: number;
}

/**
 * Minutes to heat a load.
 * @param kit the kit
 * @param load what stands there
 * @param toC target [°C], or the boil
 * @param airC brewhouse air [°C]
 * @param draw what is uncertain
 * @returns minutes; undefined when the burner never gets there
 */
export function heatUpMin(
  kit: Kit,
  load: Load,
  toC: number | 'boil',
  airC: number,
  draw: Draw = NOMINAL,
): number | undefined {
  if (load.waterKg <= 0) return 0;
  const start = standing(kit, airC, load.vessel, load.fromC, load.waterKg, load.extractKg ?? 0);
  const move: Move = {
    id: 'heat',
    kind: 'heat',
    vessel: load.vessel,
    burner: load.burner,
    to: toC,
    lidOn: true,
    hands: [],
  };
  const trace = simulate(kit, start, [move], { airC, draw });
  if (trace.problems.some((p) => p.code === 'never-hot')) return undefined;
  return trace.moves[0]?.endMin ?? 0;
}

function standing(
  kit: Kit,
  airC: number,
  vessel: string,
  tempC: number,
  waterKg: number,
  extractKg: number,
): Situation {
  const empty = emptyBrewhouse(kit, airC);
  return {
    ...empty,
    vessels: empty.vessels.map(
      (v): VesselState => (v.vessel === vessel ? { ...v, tempC, waterKg, extractKg } : v),
    ),
  };
}

/** Hot liquor on its way into a vessel and out again; one vessel twice: it stands where it is. */
export interface ParkWish {
  readonly from: string;
  readonly to: string;
  readonly route: Route;
  readonly litres: number;
  /** Minutes between the end of the transfer and the first use, and the use itself. */
  readonly standMin: number;
  readonly useMin: number;
  /** Wanted half way through the use [°C]. */
  readonly wantedC: number;
}

export interface ParkTemperature {
  /** Heat to this before the transfer [°C]. */
  readonly heatToC: number;
  readonly parkedC: number;
  readonly firstC: number;
  readonly lastC: number;
  /** Lost to wall and surface while it stands [kWh]. */
  readonly lostKWh: number;
  /** Heat the liquor is given above what it would hold at the wanted temperature [kWh]. */
  readonly extraKWh: number;
}

/**
 * Temperature hot liquor must have so that it is still hot enough when it is wanted.
 * @param kit the kit
 * @param wish how it is parked, how long, and what is wanted
 * @param airC brewhouse air [°C]
 * @returns the temperature; undefined when it would have to be above the boil
 */
export function parkTemperature(
  kit: Kit,
  wish: ParkWish,
  airC: number,
  draw: Draw = NOMINAL,
): ParkTemperature | undefined {
  const run = (heatToC: number) => parked(kit, wish, airC, draw, heatToC);
  const boilC = kitBoilingPoint(kit);
  if (run(boilC).halfC < wish.wantedC) return undefined;
  const root = findRoot((t) => run(t).halfC - wish.wantedC, wish.wantedC - 1, boilC, {
    fTolerance: 0.005,
  });
  if (!root.ok) return undefined;
  const { parkedC, firstC, lastC, lostKWh } = run(root.x);
  const kg = (wish.litres * waterDensity(wish.wantedC)) / 1000;
  const extraKWh = (kg * (waterEnthalpy(root.x) - waterEnthalpy(wish.wantedC))) / 3600;
  return { heatToC: root.x, parkedC, firstC, lastC, lostKWh, extraKWh };
}

/** What standing costs, by how long it lasts. */
export interface StandTable {
  /** Heat above the wanted temperature for so many whole minutes of standing [Wh]. */
  readonly heatWh: readonly number[];
  /** Longest stand that liquor at the boil bears [min]. */
  readonly longestMin: number;
}

/** Stands the table is computed at [min]; straight lines between, the curve bends little. */
const KNOTS_MIN = [0, 30, 90, 180, 360, 720];

/**
 * Heat that hot liquor needs beforehand, for every whole minute it may stand.
 * @param kit the kit
 * @param wish how it is parked and what is wanted; its stand is not looked at
 * @param airC brewhouse air [°C]
 * @param mostMin longest stand looked at [min]
 */
export function standTable(kit: Kit, wish: ParkWish, airC: number, mostMin: number): StandTable {
  const longestMin = Math.floor(longestStand(kit, wish, airC, mostMin));
  const knots: { readonly minute: number; readonly wh: number }[] = [];
  for (const minute of [...KNOTS_MIN.filter((m) => m < longestMin), longestMin]) {
    const found = parkTemperature(kit, { ...wish, standMin: minute }, airC);
    if (found) knots.push({ minute, wh: 1000 * found.extraKWh });
  }
  const heatWh: number[] = [];
  let k = 0;
  for (let minute = 0; minute <= longestMin; minute++) {
    while (k + 2 < knots.length && (knots[k + 1]?.minute ?? 0) < minute) k++;
    const a = knots[k];
    const b = knots[k + 1] ?? a;
    if (!a || !b) break;
    const part = b.minute > a.minute ? (minute - a.minute) / (b.minute - a.minute) : 0;
    const wh = Math.round(a.wh + part * (b.wh - a.wh));
    heatWh.push(Math.max(0, wh, heatWh.at(-1) ?? 0));
  }
  return { heatWh, longestMin };
}

/**
 * Temperature of liquor that has stood in a vessel, lid on.
 * @param kit the kit
 * @param load what stands there; its burner is off
 * @param minutes how long it stood
 * @param airC brewhouse air [°C]
 */
export function cooledC(
  kit: Kit,
  load: Omit<Load, 'burner'>,
  minutes: number,
  airC: number,
): number {
  const start = standing(kit, airC, load.vessel, load.fromC, load.waterKg, load.extractKg ?? 0);
  const wait: Move = {
    id: 'stand',
    kind: 'wait',
    vessel: load.vessel,
    minutes,
    lidOn: true,
    hands: [],
  };
  return simulate(kit, start, [wait], { airC }).moves[0]?.toC ?? load.fromC;
}

/** The burner that heats a vessel fastest. */
export function bestBurner(kit: Kit, vessel: string) {
  const fit = kit.burners.filter((b) => b.heats.includes(vessel));
  return fit.reduce<(typeof fit)[number] | undefined>(
    (best, b) => (!best || burnerPowerKW(b, kit) > burnerPowerKW(best, kit) ? b : best),
    undefined,
  );
}

/**
 * Longest stand after which liquor parked at the boil is still as hot as wanted, half way through
 * its use.
 * @param kit the kit
 * @param wish how it is parked and what is wanted; its stand is not looked at
 * @param airC brewhouse air [°C]
 * @param mostMin longest stand looked at [min]
 * @returns minutes, 0 to mostMin
 */
export function longestStand(kit: Kit, wish: ParkWish, airC: number, mostMin: number): number {
  const { trace } = parked(
    kit,
    { ...wish, standMin: mostMin },
    airC,
    NOMINAL,
    kitBoilingPoint(kit),
  );
  const curve = trace.curves.find((c) => c.vessel === wish.to);
  const parkedMin = wish.from === wish.to ? 0 : (trace.moves[0]?.endMin ?? 0);
  if (!curve) return 0;
  const { timeMin, tempC } = curve;
  let lastMin = 0;
  for (let k = 1; k < timeMin.length; k++) {
    const [from, to] = [timeMin[k - 1] as number, timeMin[k] as number];
    const [above, below] = [tempC[k - 1] as number, tempC[k] as number];
    if (to < parkedMin || above < wish.wantedC) continue;
    const part = below >= wish.wantedC ? 1 : (above - wish.wantedC) / (above - below);
    lastMin = from + part * (to - from) - parkedMin;
  }
  return Math.max(0, Math.min(mostMin, lastMin - wish.useMin / 2));
}

/** Hot liquor over its stand and its use, as one curve. */
export interface ParkedCurve {
  readonly heatToC: number;
  readonly curve: VesselCurve;
  /** Minute of the curve at which it begins to stand. */
  readonly standsFromMin: number;
}

/**
 * How liquor cools from where it was parked to the end of its use.
 * @param kit the kit
 * @param wish how it is parked, how long, and what is wanted
 * @param airC brewhouse air [°C]
 * @returns undefined when it would have to be above the boil
 */
export function parkedCurve(kit: Kit, wish: ParkWish, airC: number): ParkedCurve | undefined {
  const found = parkTemperature(kit, wish, airC);
  if (!found) return undefined;
  const { trace } = parked(kit, wish, airC, NOMINAL, found.heatToC);
  const curve = trace.curves.find((c) => c.vessel === wish.to);
  const standsFromMin = wish.from === wish.to ? 0 : (trace.moves[0]?.endMin ?? 0);
  return curve && { heatToC: found.heatToC, curve, standsFromMin };
}

/** Liquor of this temperature moved over, left standing and used. */
function parked(kit: Kit, wish: ParkWish, airC: number, draw: Draw, heatToC: number) {
  const dead = kit.vessels.find((v) => v.id === wish.from)?.deadL ?? 0;
  const waterKg = ((wish.litres + dead) * waterDensity(heatToC)) / 1000;
  const start = standing(kit, airC, wish.from, heatToC, waterKg, 0);
  const hands: string[] = [];
  const wait = (id: string, minutes: number): Move => ({
    id,
    kind: 'wait',
    vessel: wish.to,
    minutes,
    lidOn: true,
    hands,
  });
  const { from, to, litres } = wish;
  const pour: Move[] =
    from === to
      ? []
      : [{ id: 'park', kind: 'pour', from, to, route: wish.route.id, litres, hands }];
  const trace = simulate(
    kit,
    start,
    [
      ...pour,
      wait('stand', wish.standMin),
      wait('first-half', wish.useMin / 2),
      wait('second-half', wish.useMin / 2),
    ],
    { airC, draw, curves: true },
  );
  const toC = (id: string) => trace.moves.find((m) => m.id === id)?.toC;
  const loss = trace.ledger.wallLossKJ + trace.ledger.surfaceLossKJ + trace.ledger.vapourKJ;
  return {
    trace,
    parkedC: toC('park') ?? heatToC,
    firstC: toC('stand') ?? Number.NaN,
    halfC: toC('first-half') ?? Number.NaN,
    lastC: toC('second-half') ?? Number.NaN,
    lostKWh: loss / 3600,
  };
}
