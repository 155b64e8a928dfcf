/**
 * Moving content from one vessel to another, portion by portion, while both go on cooling. The
 * temperature at which it lands comes out of this; it is never an input.
 */
import type { Draw } from './draw.ts';
import type { History, MashEngine } from './history.ts';
import type { Route } from './kit.ts';
import type { Thickness } from './moves.ts';
import type { VesselState } from './situation.ts';
import {
  contentHeatCapacity,
  heatCapacity,
  letStand,
  liquidVolume,
  massOf,
  portionLoss,
  type Recorder,
  type Thermal,
  unheated,
  volumeOf,
  WATER_KJ_KG_K,
} from './thermal.ts';
import type { Ledger, TransferTrace } from './trace.ts';

/** Liquor on a kilogram of grist in a settled, scooped pull [kg/kg]. @source physics.md 2.7, settled thick mash 1.8-2.2 */
export const THICK_LIQUOR_PER_KG = 2.2;
/** Solid against liquid share of a thin, strained pull. @source mash.md 7, usual thin pull */
export const THIN_SOLID_TO_LIQUID = 0.22;
/** Groups of portions between which the mash kinetics of both vessels are brought up to date. */
const KINETIC_GROUPS = 4;

/** One end of a transfer. */
export interface End {
  readonly state: VesselState;
  readonly thermal: Thermal;
  readonly history: History;
  readonly record: Recorder;
}

export interface TransferOrder {
  readonly from: End;
  readonly to: End;
  readonly route: Route;
  /** True litres to move; Infinity for all that comes out. */
  readonly litres: number;
  readonly thickness: Thickness;
  /** Stop when the receiving vessel reads this, from whichever side [°C]. */
  readonly stopAtC?: number;
  /** Groups the portions are carried in, 1 or more; left out: each by itself. Rougher, and faster. */
  readonly groups?: number;
}

/** Grist as it came in, dry, that the vessel's content stems from: for liquor per kilogram. */
function gristKg(state: VesselState): number {
  return state.solidsKg + state.extractKg;
}

/**
 * Solid share taken per liquid share for a pull of this thickness.
 * @param state the mash pulled from
 * @param thickness what is asked for
 * @param factor a draw's factor on it
 * @returns ratio of shares, 0 for liquor
 * @source mash.md 7: fw = fs r / Rm
 */
export function solidToLiquid(state: VesselState, thickness: Thickness, factor: number): number {
  const grist = gristKg(state);
  if (grist <= 0 || thickness === 'as-it-comes') return 1;
  if (thickness === 'thin') return THIN_SOLID_TO_LIQUID * factor;
  const wanted = thickness === 'thick' ? THICK_LIQUOR_PER_KG : thickness.liquorLPerKg;
  const has = state.waterKg / grist;
  const ratio = (has / wanted) * factor;
  return thickness === 'thick' ? Math.max(1, ratio) : ratio;
}

/**
 * Carries out one transfer; changes both vessels in place.
 * @param order what goes where and how
 * @param draw factors on portions, minutes and losses on the way
 * @param engine mash kinetics, or undefined to leave the species as they are
 * @param ledger where heat, vapour and losses are booked
 * @returns what it did
 * @source enthalpy balance per portion; loss on the way by physics.md 3.5
 */
export function transfer(
  order: TransferOrder,
  draw: Draw,
  engine: MashEngine | undefined,
  ledger: Ledger,
): TransferTrace {
  const { from, to, route } = order;
  const a = from.state;
  const b = to.state;
  from.history.sync(a, engine);
  to.history.sync(b, engine);
  const beforeC = b.tempC;
  const sourceC = a.tempC;
  const ratio = solidToLiquid(a, order.thickness, draw.thickness);
  const whole = volumeOf(a, from.thermal);
  const litres = Math.min(order.litres, Math.max(0, whole - from.thermal.vessel.deadL));
  const solidL = from.thermal.dryLKg * a.solidsKg;
  const liquidL = liquidVolume(a);
  let liquidShare = litres / (ratio * solidL + liquidL);
  let solidShare = ratio * liquidShare;
  if (solidShare > 1) {
    solidShare = 1;
    liquidShare = Math.min(1, (litres - solidL) / liquidL);
  }
  if (liquidShare > 1) {
    liquidShare = 1;
    solidShare = solidL > 0 ? Math.min(1, (litres - liquidL) / solidL) : 0;
  }
  const count = litres > 1e-9 ? Math.ceil(litres / route.portionL - 1e-9) : 0;
  const perPortionMin = route.minutesPerPortion * draw.hands;
  const open = route.how === 'ladle' || route.how === 'bucket';
  const groupSize = Math.max(1, Math.ceil(count / KINETIC_GROUPS));
  const wholeKg = massOf(a);
  const after: number[] = [];
  let carrierC = to.thermal.airC;
  let arrivedKJK = 0;
  let arrivedKJ = 0;
  let movedSolid = 0;
  let movedLiquid = 0;
  let kg = 0;
  const together = order.groups === undefined ? 1 : Math.max(1, Math.ceil(count / order.groups));
  let trips = 1;
  for (let i = 0; i < count; i += trips) {
    if (i > 0 && i % groupSize === 0) {
      from.history.sync(a, engine);
      to.history.sync(b, engine);
    }
    trips = Math.min(together, count - i);
    if (trips > 1 && order.stopAtC !== undefined)
      trips = tripsToStop(trips, order.stopAtC, portionKJK(a, from.thermal, route), a, b, to);
    // The last portion may be a part one; it takes a whole trip by hand, its share by pump.
    const size = Math.min(trips, litres / route.portionL - i);
    const minutes =
      perPortionMin * (route.how === 'pump' || route.how === 'gravity' ? size : trips);
    letStand(a, from.thermal, minutes, unheated(!open), ledger, from.record);
    letStand(b, to.thermal, minutes, unheated(!open), ledger, to.record);
    const portion = (size * route.portionL) / litres;
    let part = portion;
    const solidNow = (solidShare * part) / (1 - movedSolid);
    const liquidNow = (liquidShare * part) / (1 - movedLiquid);
    let waterKg = a.waterKg * liquidNow;
    let extractKg = a.extractKg * liquidNow;
    let solidsKg = a.solidsKg * solidNow;
    const dryKJKgK = from.thermal.dryKJKgK;
    const fullKJK = WATER_KJ_KG_K * waterKg + dryKJKgK * (extractKg + solidsKg);
    const lossArea = route.openAreaM2 * size * draw.transfer;
    const way = wayDown(
      a.tempC,
      fullKJK,
      lossArea,
      perPortionMin / 2,
      route.carrierKJK,
      carrierC,
      to.thermal,
      waterKg,
    );
    const toKJK = heatCapacity(b, to.thermal);
    let share = 1;
    const stop = order.stopAtC;
    let done = false;
    if (stop !== undefined) {
      const rising = way.tempC > b.tempC;
      if (rising ? b.tempC >= stop : b.tempC <= stop) break;
      const need = (toKJK * (stop - b.tempC)) / (way.heatKJK * (way.tempC - stop));
      if (need > 0 && need < 1) {
        share = need;
        done = true;
      }
    }
    part *= share;
    waterKg *= share;
    extractKg *= share;
    solidsKg *= share;
    const heatKJK = way.heatKJK * share;
    if (engine) from.history.settleWater(a, engine);
    a.waterKg -= waterKg;
    a.extractKg -= extractKg;
    a.solidsKg -= solidsKg;
    if (a.mash && engine) {
      const taken = engine.take(a.mash, solidNow * share, liquidNow * share);
      engine.addWater(taken, -way.vapourKg * share);
      if (!b.mash) {
        b.mash = engine.empty();
        engine.addWater(b.mash, b.waterKg);
        to.history.restart(b);
      }
      engine.add(b.mash, taken);
    } else if (b.mash && engine) engine.addWater(b.mash, waterKg - way.vapourKg * share);
    from.history.moved(-waterKg);
    to.history.moved(waterKg - way.vapourKg * share);
    ledger.surfaceLossKJ += way.surfaceKJ * share;
    ledger.vapourKJ += way.vapourKJ * share;
    ledger.vapourKg += way.vapourKg * share;
    ledger.carrierKJ += way.carrierKJ * share;
    carrierC = way.tempC;
    kg += waterKg + extractKg + solidsKg;
    b.tempC = (toKJK * b.tempC + heatKJK * way.tempC) / (toKJK + heatKJK);
    b.waterKg += waterKg - way.vapourKg * share;
    b.extractKg += extractKg;
    b.solidsKg += solidsKg;
    to.record(b);
    from.record(a);
    arrivedKJK += heatKJK;
    arrivedKJ += heatKJK * way.tempC;
    movedSolid += solidShare * part;
    movedLiquid += liquidShare * part;
    after.push(b.tempC);
    if (done) break;
  }
  flushLine(order, ledger, engine);
  const keptL = volumeOf(a, from.thermal);
  return {
    litres: litres * (after.length ? movedLiquid / liquidShare : 0),
    kg,
    solidShare: wholeKg > 0 ? movedSolid : 0,
    liquidShare: movedLiquid,
    portions: after.length,
    beforeC,
    sourceC,
    arrivalC: arrivedKJK > 0 ? arrivedKJ / arrivedKJK : sourceC,
    landingC: b.tempC,
    keptL,
    afterPortionC: after,
  };
}

/** Heat capacity of one portion, near enough for a count [kJ/K]. */
function portionKJK(a: VesselState, t: Thermal, route: Route): number {
  return (contentHeatCapacity(a, t) * route.portionL) / Math.max(volumeOf(a, t), route.portionL);
}

/** Of so many portions, those that surely go before the receiving vessel reads the stop; 1 at least. */
function tripsToStop(
  trips: number,
  stopAtC: number,
  onePortionKJK: number,
  a: VesselState,
  b: VesselState,
  to: End,
): number {
  // Counted as if none cooled on its way, so that the group ends before the stop, never after it.
  const perTripKJ = onePortionKJK * (a.tempC - stopAtC);
  if (perTripKJ === 0) return 1;
  const needed = (heatCapacity(b, to.thermal) * (stopAtC - b.tempC)) / perTripKJ;
  return needed <= 0 ? 1 : Math.max(1, Math.min(trips, Math.floor(needed)));
}

/** A portion on its way: the cold bucket takes its heat, the open surface its vapour. */
function wayDown(
  tempC: number,
  heatKJK: number,
  openM2: number,
  minutes: number,
  carrierKJK: number,
  carrierC: number,
  t: Thermal,
  waterKg: number,
) {
  const warmC = (heatKJK * tempC + carrierKJK * carrierC) / (heatKJK + carrierKJK);
  const carrierKJ = carrierKJK * (warmC - carrierC);
  // Midpoint rule: the loss at the temperature half way down.
  const first = portionLoss(warmC, openM2, minutes / 2, t);
  const midC = warmC - (first.surfaceKJ + first.latentKJ) / heatKJK;
  const loss = portionLoss(Math.max(midC, t.airC), openM2, minutes, t);
  // A drop thrown over a wide surface: it cannot give off more than half of its water.
  const part = loss.vapourKg > 0.5 * waterKg ? (0.5 * waterKg) / loss.vapourKg : 1;
  const vapourKg = loss.vapourKg * part;
  // Vapour leaves with its own sensible heat too, booked so that the sum closes exactly.
  const endKJK = heatKJK - WATER_KJ_KG_K * vapourKg;
  const endC = warmC - (part * (loss.surfaceKJ + loss.latentKJ)) / heatKJK;
  const surfaceKJ = part * loss.surfaceKJ;
  const vapourKJ = heatKJK * warmC - surfaceKJ - endKJK * endC;
  return { tempC: endC, heatKJK: endKJK, vapourKg, surfaceKJ, vapourKJ, carrierKJ };
}

/** What the hose or line keeps, lost from the giving vessel at the end. */
function flushLine(order: TransferOrder, ledger: Ledger, engine: MashEngine | undefined): void {
  const { state, thermal } = order.from;
  const volume = volumeOf(state, thermal);
  const share = volume > 0 ? Math.min(1, order.route.lineL / volume) : 0;
  if (share <= 0) return;
  if (engine) order.from.history.settleWater(state, engine);
  order.from.history.moved(-drain(state, thermal, share, ledger, engine));
}

/**
 * Drains a share of a vessel to the floor.
 * @param share 0-1 of the content, both phases alike
 * @returns water that went [kg]
 */
export function drain(
  state: VesselState,
  thermal: Thermal,
  share: number,
  ledger: Ledger,
  engine: MashEngine | undefined,
): number {
  const water = state.waterKg * share;
  const extract = state.extractKg * share;
  const solids = state.solidsKg * share;
  ledger.outKg += water + extract + solids;
  ledger.outKJ += (WATER_KJ_KG_K * water + thermal.dryKJKgK * (extract + solids)) * state.tempC;
  state.waterKg -= water;
  state.extractKg -= extract;
  state.solidsKg -= solids;
  if (state.mash && engine) engine.take(state.mash, share, share);
  return water;
}
