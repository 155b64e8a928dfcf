/**
 * Heat of one vessel: what it holds, what it loses, and its history while nothing is moved in or
 * out. The state integrated is enthalpy against 0 °C and water; a Runge-Kutta method keeps linear
 * sums exactly, so heat in, heat out and content balance to rounding.
 */
import { latentHeat, saturationPressure, wortDensity } from '@ladlework/matter';
import type { Draw } from './draw.ts';
import type { Vessel } from './kit.ts';
import type { VesselState } from './situation.ts';
import type { Ledger } from './trace.ts';

/** Heat capacity of liquor [kJ/(kg K)]; within 0.2 % of the mean 15-98 °C. @source physics.md 1.1 */
export const WATER_KJ_KG_K = 4.187;
/** Evaporation per kPa above the vapour in the air [kW/(m2 kPa)]. @source physics.md 3.5, fit to the open-tank table */
const EVAPORATION_KW_M2_KPA = 0.107;
/** Convection and radiation at an open surface [kW/(m2 K)]. @source physics.md 3.5 */
const SURFACE_KW_M2_K = 0.012;
/** Relative humidity the open-tank table assumes. */
const AIR_HUMIDITY = 0.5;
/** Share of the full-vessel wall loss that an empty vessel still has; our judgement. */
const EMPTY_LOSS_SHARE = 0.5;
/** Share of the open surface that a lid on leaves open; our judgement. */
const LID_LEAK = 0.04;
/** Largest temperature change and time in one integration step. */
const STEP_K = 3;
const STEP_MIN = 10;
/** A film of water dries off no faster than in this time, so that none is ever owed [s]. */
const FILM_DRIES_S = 120;
/** A film that warm air or a hot wall could dry within the longest step [kg/m2]. */
const FILM_KG_M2 = 3;
/** Less water than this is gone with the next breath of air [kg]. */
const CRUMB_KG = 1e-6;
/** So little content and wall takes the air's temperature at once: a film of 12 g water [kJ/K]. */
const FOLLOWS_AIR_KJ_K = 0.05;
/** Heating slower than this will not get there [K/min]. */
const PLATEAU_K_MIN = 0.02;

/** One vessel with its draw applied, ready for the inner loop. */
export interface Thermal {
  readonly vessel: Vessel;
  readonly wallKJK: number;
  readonly fullLossKWK: number;
  readonly surfaceM2: number;
  readonly airC: number;
  readonly airVapourKPa: number;
  /** Heat capacity and displacement of dry grist, from the as-milled values. */
  readonly dryKJKgK: number;
  readonly dryLKg: number;
}

/**
 * Heat capacity of dry grist from the value as milled.
 * @param asMilledKJKgK heat capacity of grist as milled [kJ/(kg K)], 1.4-2.2
 * @param moisture water share of the grist, 0-0.15
 * @returns heat capacity of its dry matter [kJ/(kg K)]
 * @source mass-weighted mean; at 0.38 + 0.005 M cal/(g K) (Brewing Room Book 1984/85) it gives 0.38 dry
 */
export function dryHeatCapacity(asMilledKJKgK: number, moisture: number): number {
  return (asMilledKJKgK - moisture * WATER_KJ_KG_K) / (1 - moisture);
}

/**
 * The vessel with a draw applied.
 * @param vessel the vessel as described
 * @param draw factors on losses, walls and grist
 * @param airC brewhouse air [°C], -20 to 60
 * @param moisture water share of the grist as milled, 0-0.15
 */
export function thermalOf(vessel: Vessel, draw: Draw, airC: number, moisture: number): Thermal {
  const air = airC + draw.airK;
  return {
    vessel,
    wallKJK: vessel.wallKJK * draw.wall,
    fullLossKWK: (vessel.lossWK * draw.loss) / 1000,
    surfaceM2: (Math.PI / 4) * vessel.diameterM ** 2 * draw.surface,
    airC: air,
    airVapourKPa: AIR_HUMIDITY * vapourPressure(air),
    dryKJKgK: dryHeatCapacity(draw.gristKJKgK, moisture),
    dryLKg: (draw.displacementLKg - moisture) / (1 - moisture),
  };
}

/** Water tables end here; only a trial step over a pot that has boiled dry asks for more [°C]. */
const HOTTEST_C = 110;

/** A frosty brewhouse: below 0 °C vapour is so little that it is taken as at 0 °C [kPa]. */
function vapourPressure(tempC: number): number {
  return saturationPressure(Math.max(0, Math.min(HOTTEST_C, tempC)));
}

/** Latent heat, likewise held at its value at 0 °C below that [kJ/kg]. */
function evaporationHeat(tempC: number): number {
  return latentHeat(Math.max(0, Math.min(HOTTEST_C, tempC)));
}

/** Heat capacity of content and wall [kJ/K]. */
export function heatCapacity(state: VesselState, thermal: Thermal): number {
  return contentHeatCapacity(state, thermal) + thermal.wallKJK;
}

/** Heat capacity of the content alone [kJ/K]. */
export function contentHeatCapacity(state: VesselState, thermal: Thermal): number {
  return WATER_KJ_KG_K * state.waterKg + thermal.dryKJKgK * (state.solidsKg + state.extractKg);
}

/** Litres of liquid: water and dissolved extract at the vessel's temperature [L]. */
export function liquidVolume(state: VesselState): number {
  const kg = state.waterKg + state.extractKg;
  if (kg <= 0) return 0;
  // Freezing is not modelled, and no sugar syrup: both only keep the density inside its range.
  const share = Math.min(0.7, Math.max(0, state.extractKg) / kg);
  return (kg / wortDensity(share, Math.max(0, Math.min(110, state.tempC)))) * 1000;
}

/** Litres the content takes up at its temperature [L]. */
export function volumeOf(state: VesselState, thermal: Thermal): number {
  return liquidVolume(state) + thermal.dryLKg * state.solidsKg;
}

/** Mass of the content [kg]. */
export function massOf(state: VesselState): number {
  return state.waterKg + state.solidsKg + state.extractKg;
}

/** How a vessel stands while time passes. */
export interface Standing {
  readonly lidOn: boolean;
  /** Power into the content at a moment [kW], given the losses and heat capacity it has then. */
  readonly power: (lossKW: number, heatCapacityKJK: number) => number;
  /** Stop when this is reached from below [°C]. */
  readonly untilC?: number;
}

/** Nothing under it. */
export const unheated = (lidOn: boolean): Standing => ({ lidOn, power: noPower });
const noPower = () => 0;

/** Litres a kilogram of dry grist or extract takes up, near enough for the wetted wall [L/kg]. */
const LITRES_PER_DRY_KG = 0.65;

/** Share of the full vessel's wall loss when it holds this much. */
function wetShare(litres: number, thermal: Thermal): number {
  const fill = Math.min(1, Math.max(0, litres) / thermal.vessel.brimL);
  return EMPTY_LOSS_SHARE + (1 - EMPTY_LOSS_SHARE) * fill;
}

/** Called after every step with the state at its end. */
export type Recorder = (state: VesselState) => void;

/**
 * Lets time pass in one vessel: heating, cooling and evaporating below the boil. Changes `state`
 * and adds to `ledger`.
 * @param state the vessel's state, changed in place
 * @param thermal the vessel with its draw
 * @param minutes how long [min], 0 or more
 * @param standing lid, power and an optional temperature to stop at
 * @param ledger where heat and vapour are booked
 * @param record called after each step
 * @returns minutes used; fewer than asked when `untilC` was reached
 * @source enthalpy balance; open surface and wall loss of physics.md 3.4 and 3.5
 */
export function letStand(
  state: VesselState,
  thermal: Thermal,
  minutes: number,
  standing: Standing,
  ledger: Ledger,
  record: Recorder,
): number {
  const covered = standing.lidOn && thermal.vessel.lid;
  const openM2 = thermal.surfaceM2 * (covered ? LID_LEAK : 1);
  const solidsL = (state.extractKg + state.solidsKg) * LITRES_PER_DRY_KG;
  const dryKJK = thermal.dryKJKgK * (state.solidsKg + state.extractKg) + thermal.wallKJK;
  let used = 0;
  while (used < minutes - 1e-12) {
    if (state.waterKg > 0 && state.waterKg < CRUMB_KG && solidsL === 0) dryOff(state, ledger);
    const heatKJK = dryKJK + WATER_KJ_KG_K * state.waterKg;
    if (heatKJK < FOLLOWS_AIR_KJ_K) {
      ledger.surfaceLossKJ += heatKJK * (state.tempC - thermal.airC);
      state.tempC = thermal.airC;
      state.clockMin += minutes - used;
      return minutes;
    }
    rates(state.tempC, state.waterKg, openM2, solidsL, thermal);
    const lossKW = R.wallKW + R.surfaceKW + R.vapourKgS * R.latentKJKg;
    const powerKW = standing.power(lossKW, heatKJK);
    const perMinK = (Math.abs(powerKW - lossKW) * 60) / heatKJK;
    // It warms no further: the burner only feeds the steam. The caller sees that it fell short.
    if (standing.untilC !== undefined && ((powerKW - lossKW) * 60) / heatKJK < PLATEAU_K_MIN)
      return used;
    let step = Math.min(minutes - used, STEP_MIN, perMinK > 0 ? STEP_K / perMinK : STEP_MIN);
    // No step takes more than half of the water.
    if (R.vapourKgS > 0) step = Math.min(step, state.waterKg / (120 * R.vapourKgS));
    // A film that warms dries faster than it did at the start of the step; past this the step would
    // take more than there is.
    if (state.waterKg > 0 && state.waterKg < FILM_KG_M2 * openM2)
      step = Math.min(step, FILM_DRIES_S / 120);
    const startC = state.tempC;
    const startKg = state.waterKg;
    tryStep(startC, startKg, dryKJK, standing.power, step, openM2, solidsL, thermal);
    const until = standing.untilC;
    let reached = false;
    if (until !== undefined && startC < until && S.tempC >= until) {
      step = stepToReach(
        until,
        startC,
        startKg,
        dryKJK,
        standing.power,
        step,
        openM2,
        solidsL,
        thermal,
      );
      reached = true;
    }
    state.tempC = S.tempC;
    state.waterKg = S.waterKg;
    state.clockMin += step;
    used += step;
    ledger.burnerKJ += S.burnerKJ;
    ledger.wallLossKJ += S.wallKJ;
    ledger.surfaceLossKJ += S.surfaceKJ;
    ledger.vapourKJ += S.vapourKJ;
    ledger.vapourKg += startKg - S.waterKg;
    record(state);
    if (reached) return used;
  }
  return used;
}

/** Scratch of the inner loop: rates at a point, and the result of one step. */
/** The last crumb of water goes with its heat; the books close, its latent heat is nothing. */
function dryOff(state: VesselState, ledger: Ledger): void {
  ledger.vapourKJ += WATER_KJ_KG_K * state.waterKg * state.tempC;
  ledger.vapourKg += state.waterKg;
  state.waterKg = 0;
}

const R = { wallKW: 0, surfaceKW: 0, vapourKgS: 0, latentKJKg: 0 };
const S = { tempC: 0, waterKg: 0, burnerKJ: 0, wallKJ: 0, surfaceKJ: 0, vapourKJ: 0 };

function rates(tempC: number, waterKg: number, openM2: number, solidsL: number, t: Thermal): void {
  R.wallKW = t.fullLossKWK * wetShare(waterKg + solidsL, t) * (tempC - t.airC);
  if (waterKg <= 0) {
    R.surfaceKW = 0;
    R.vapourKgS = 0;
    R.latentKJKg = 0;
    return;
  }
  R.surfaceKW = SURFACE_KW_M2_K * openM2 * (tempC - t.airC);
  R.latentKJKg = evaporationHeat(tempC);
  const drive = vapourPressure(tempC) - t.airVapourKPa;
  const freeKgS = drive > 0 ? (EVAPORATION_KW_M2_KPA * openM2 * drive) / R.latentKJKg : 0;
  R.vapourKgS = Math.min(freeKgS, waterKg / FILM_DRIES_S);
}

/** Classical fourth-order Runge-Kutta on enthalpy and water; leaves the end of the step in S. */
function tryStep(
  startC: number,
  startKg: number,
  dryKJK: number,
  power: Standing['power'],
  minutes: number,
  openM2: number,
  solidsL: number,
  t: Thermal,
): void {
  const h = minutes * 60;
  const startKJ = (dryKJK + WATER_KJ_KG_K * startKg) * startC;
  let tempC = startC;
  let waterKg = startKg;
  let burner = 0;
  let wall = 0;
  let surface = 0;
  let vapour = 0;
  let water = 0;
  for (let stage = 0; stage < 4; stage++) {
    rates(tempC, waterKg, openM2, solidsL, t);
    const vapourKW = R.vapourKgS * (R.latentKJKg + WATER_KJ_KG_K * tempC);
    const lossKW = R.wallKW + R.surfaceKW + R.vapourKgS * R.latentKJKg;
    const powerKW = power(lossKW, dryKJK + WATER_KJ_KG_K * waterKg);
    const weight = stage === 0 || stage === 3 ? 1 / 6 : 1 / 3;
    burner += weight * powerKW;
    wall += weight * R.wallKW;
    surface += weight * R.surfaceKW;
    vapour += weight * vapourKW;
    water += weight * R.vapourKgS;
    if (stage === 3) break;
    const ahead = stage === 2 ? h : h / 2;
    waterKg = startKg - ahead * R.vapourKgS;
    const kj = startKJ + ahead * (powerKW - R.wallKW - R.surfaceKW - vapourKW);
    tempC = kj / (dryKJK + WATER_KJ_KG_K * waterKg);
  }
  S.burnerKJ = h * burner;
  S.wallKJ = h * wall;
  S.surfaceKJ = h * surface;
  S.vapourKJ = h * vapour;
  S.waterKg = startKg - h * water;
  const endKJ = startKJ + S.burnerKJ - S.wallKJ - S.surfaceKJ - S.vapourKJ;
  S.tempC = endKJ / (dryKJK + WATER_KJ_KG_K * S.waterKg);
}

/** Shortens a step so that it ends at the temperature wanted; leaves that end in S. */
function stepToReach(
  untilC: number,
  startC: number,
  startKg: number,
  dryKJK: number,
  power: Standing['power'],
  minutes: number,
  openM2: number,
  solidsL: number,
  t: Thermal,
): number {
  // False position that halves the weight of an end kept twice: it never leaves the step.
  let a = 0;
  let fa = startC - untilC;
  let b = minutes;
  let fb = S.tempC - untilC;
  for (let i = 0; i < 60 && Math.abs(S.tempC - untilC) > 1e-9; i++) {
    const x = b - (fb * (b - a)) / (fb - fa);
    tryStep(startC, startKg, dryKJK, power, x, openM2, solidsL, t);
    const fx = S.tempC - untilC;
    if (fx * fb < 0) {
      a = b;
      fa = fb;
    } else fa /= 2;
    b = x;
    fb = fx;
  }
  return b;
}

/** Heat one hot portion loses to the air over a time on the way [kJ] and its vapour [kg]. */
export function portionLoss(
  tempC: number,
  openM2: number,
  minutes: number,
  t: Thermal,
): { readonly surfaceKJ: number; readonly vapourKg: number; readonly latentKJ: number } {
  const s = minutes * 60;
  const latent = evaporationHeat(tempC);
  const drive = Math.max(0, vapourPressure(tempC) - t.airVapourKPa);
  const vapourKg = (EVAPORATION_KW_M2_KPA * openM2 * drive * s) / latent;
  return {
    surfaceKJ: SURFACE_KW_M2_K * openM2 * (tempC - t.airC) * s,
    vapourKg,
    latentKJ: vapourKg * latent,
  };
}

/**
 * Lets a vessel boil at constant temperature.
 * @param state the vessel's state, at its boiling point, changed in place
 * @param thermal the vessel with its draw
 * @param minutes how long [min]
 * @param powerKW burner power into the content [kW]
 * @param ledger where heat and vapour are booked
 * @param record called at the end
 * @returns water boiled off [kg]; negative when the power does not cover the losses, and then
 *   nothing was changed
 * @source m = (P_net - P_loss) / h_fg, physics.md 4.3
 */
export function letBoil(
  state: VesselState,
  thermal: Thermal,
  minutes: number,
  powerKW: number,
  ledger: Ledger,
  record: Recorder,
): number {
  const s = minutes * 60;
  const litres = state.waterKg + (state.extractKg + state.solidsKg) * LITRES_PER_DRY_KG;
  const wet = wetShare(litres, thermal);
  const wallKW = thermal.fullLossKWK * wet * (state.tempC - thermal.airC);
  const surfaceKW = SURFACE_KW_M2_K * thermal.surfaceM2 * (state.tempC - thermal.airC);
  const latent = evaporationHeat(state.tempC);
  const kg = ((powerKW - wallKW - surfaceKW) * s) / latent;
  if (kg < 0) return kg;
  const off = Math.min(kg, 0.9 * state.waterKg);
  state.waterKg -= off;
  state.clockMin += minutes;
  ledger.wallLossKJ += wallKW * s;
  ledger.surfaceLossKJ += surfaceKW * s;
  ledger.vapourKJ += off * (latent + WATER_KJ_KG_K * state.tempC);
  ledger.vapourKg += off;
  // What the burner gave, as booked: all of it unless the pot ran nearly dry.
  ledger.burnerKJ += wallKW * s + surfaceKW * s + off * latent;
  record(state);
  return off;
}
