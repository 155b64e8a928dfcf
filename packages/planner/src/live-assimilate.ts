/**
 * What one reading does to the ensemble: the particles' own predictions of it are drawn toward it,
 * and all that goes with them in the ensemble (temperatures, masses, losses, kilowatts, the
 * thermometer's bias) follows by regression. Particles keep equal weight, so the ensemble cannot
 * collapse onto a few; what every particle agrees on in sum, as the grist, stays so, because the
 * step is linear.
 *
 * @source ensemble adjustment Kalman filter (Anderson 2001, from memory); why not weights:
 *   docs/decisions/0021-readings-move-the-ensemble.md
 */
import {
  type Draw,
  heatCapacity,
  massOf,
  type Thermal,
  thermalOf,
  type VesselState,
} from '@ladlework/brewhouse';
import { boilingRise, saturationPressure } from '@ladlework/matter';
import type { BrewDay } from './day.ts';
import type { Particle } from './live-step.ts';

/** Further out than this, and the reading is asked about before it is believed [sd]. */
const QUESTIONED_SD = 5;
/** A reading confirmed from further out is taken as if something unseen had moved the content so
 * that it is this far out [sd]. */
const CONFIRMED_SD = 2;
/** Less spread than this says nothing about anything else. */
const NO_SPREAD = 1e-9;
/** A vessel with less in it than this is empty [kg]. */
const EMPTY_KG = 0.05;

/** Draw fields the readings teach, whether they are factors, and where they may go. */
const LEARNED: readonly {
  readonly key: Exclude<keyof Draw, 'mash'>;
  readonly factor: boolean;
  readonly low: number;
  readonly high: number;
}[] = [
  { key: 'loss', factor: true, low: 0.1, high: 10 },
  { key: 'surface', factor: true, low: 0.1, high: 10 },
  { key: 'wall', factor: true, low: 0.1, high: 10 },
  { key: 'burner', factor: true, low: 0.2, high: 2 },
  { key: 'transfer', factor: true, low: 0.02, high: 10 },
  { key: 'dip', factor: true, low: 0.7, high: 1.4 },
  { key: 'hands', factor: true, low: 0.3, high: 3 },
  { key: 'thickness', factor: true, low: 0.3, high: 3 },
  { key: 'slaking', factor: true, low: 0.05, high: 3 },
  { key: 'gristKJKgK', factor: false, low: 1.4, high: 2.2 },
  { key: 'displacementLKg', factor: false, low: 0.6, high: 0.85 },
  { key: 'airK', factor: false, low: -20, high: 20 },
  { key: 'gristK', factor: false, low: -10, high: 10 },
  { key: 'thermometerK', factor: false, low: -5, high: 5 },
];

/** Something that was seen, and what each particle would have shown. */
export interface Observation {
  readonly shown: Float64Array;
  readonly value: number;
  /** Standard error in the same unit. */
  readonly sd: number;
  /** Vessel whose temperature it is, if it is one: a confirmed surprise moves that. */
  readonly vessel?: string;
}

export interface Expected {
  readonly mean: number;
  readonly variance: number;
  /** How many standard deviations off the reading is. */
  readonly offSd: number;
  readonly questioned: boolean;
}

/** What the ensemble expected of a reading. */
export function expectedOf(seen: Observation): Expected {
  const { mean, variance } = moments(seen.shown);
  const offSd = Math.abs(seen.value - mean) / Math.sqrt(variance + seen.sd ** 2);
  return { mean, variance, offSd, questioned: !(offSd <= QUESTIONED_SD) };
}

/**
 * Draws the ensemble toward an observation.
 * @param day for boiling points and walls
 * @param particles not changed
 * @param seen what was seen
 * @returns the particles after it, and the heat the correction put in on average [kJ]
 */
export function assimilate(
  day: BrewDay,
  particles: readonly Particle[],
  seen: Observation,
): { readonly particles: readonly Particle[]; readonly bookedKJ: number } {
  const n = particles.length;
  const { mean, variance, offSd } = expectedOf(seen);
  const off = seen.value - mean;
  // A confirmed surprise: something the model does not know moved this content. That part is not
  // allowed to teach the kit's parameters.
  const unseen = offSd > QUESTIONED_SD ? (off / CONFIRMED_SD) ** 2 - variance - seen.sd ** 2 : 0;
  const total = variance + unseen + seen.sd ** 2;
  const spread = variance > NO_SPREAD;
  const shift = spread ? (variance / total) * off : 0;
  const keep = Math.sqrt((seen.sd ** 2 + unseen) / total);
  const step = new Float64Array(n);
  const deviation = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    deviation[i] = (seen.shown[i] as number) - mean;
    step[i] = spread ? shift + (keep - 1) * (deviation[i] as number) : 0;
  }
  const gain = (column: Float64Array, guarded: boolean) =>
    spread ? regression(column, deviation, variance, guarded) : 0;

  const draws = particles.map((p) => ({ ...p.draw }));
  const column = new Float64Array(n);
  for (const { key, factor, low, high } of LEARNED) {
    for (let i = 0; i < n; i++) {
      const x = (draws[i] as Draw)[key];
      column[i] = factor ? Math.log(x) : x;
    }
    const slope = gain(column, true);
    if (slope === 0) continue;
    for (let i = 0; i < n; i++) {
      const moved = (column[i] as number) + slope * (step[i] as number);
      (draws[i] as Record<string, unknown>)[key] = within(
        factor ? Math.exp(moved) : moved,
        low,
        high,
      );
    }
  }

  const probes = particles.map((p) => ({ ...p.probes }));
  for (const id of Object.keys(probes[0] ?? {})) {
    for (let i = 0; i < n; i++) column[i] = probes[i]?.[id] ?? 0;
    const slope = gain(column, true);
    if (slope === 0) continue;
    probes.forEach((own, i) => {
      own[id] = (column[i] as number) + slope * (step[i] as number);
    });
  }

  const states = particles.map((p) => [...p.situation.vessels]);
  const count = states[0]?.length ?? 0;
  for (let v = 0; v < count; v++) {
    const mass = states.reduce((sum, s) => sum + massOf(s[v] as VesselState), 0) / n;
    if (mass < EMPTY_KG) continue;
    const slopeOf = (read: (s: VesselState) => number) => {
      for (let i = 0; i < n; i++) column[i] = read((states[i] as VesselState[])[v] as VesselState);
      return gain(column, false);
    };
    const own = states[0]?.[v]?.vessel === seen.vessel;
    const perC = slopeOf((s) => s.tempC);
    const perWater = slopeOf((s) => s.waterKg);
    const perDry = slopeOf((s) => s.solidsKg + s.extractKg);
    const moreC = own ? (unseen / total) * off : 0;
    for (let i = 0; i < n; i++) {
      const list = states[i] as VesselState[];
      const by = step[i] as number;
      list[v] = moved(list[v] as VesselState, perC * by + moreC, perWater * by, perDry * by);
    }
  }

  let bookedKJ = 0;
  const after = particles.map((p, i) => {
    const draw = draws[i] as Draw;
    const vessels = (states[i] as VesselState[]).map((s, v) => {
      const settled = capped(s, day);
      const was = p.situation.vessels[v] as VesselState;
      if (settled !== was) bookedKJ += heatOf(settled, day, draw) - heatOf(was, day, p.draw);
      return settled;
    });
    const off = probes[i];
    return {
      ...p,
      draw,
      situation: { vessels, freeAtMin: {} },
      ...(p.probes && off && { probes: off }),
    };
  });
  return { particles: after, bookedKJ: bookedKJ / n };
}

function moments(values: Float64Array): { mean: number; variance: number } {
  const n = values.length;
  let mean = 0;
  for (const x of values) mean += x / n;
  let sum = 0;
  for (const x of values) sum += (x - mean) ** 2;
  return { mean, variance: n > 1 ? sum / (n - 1) : 0 };
}

/**
 * Slope of a column on the predicted reading. `guarded` shrinks slopes that chance alone would
 * give in an ensemble of this size, so that a reading does not teach what it cannot know.
 */
function regression(
  column: Float64Array,
  deviation: Float64Array,
  variance: number,
  guarded: boolean,
): number {
  const n = column.length;
  const own = moments(column);
  if (own.variance < 1e-18) return 0;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += ((column[i] as number) - own.mean) * (deviation[i] as number);
  const covariance = sum / (n - 1);
  const slope = covariance / variance;
  if (!guarded) return slope;
  const r2 = covariance ** 2 / (own.variance * variance);
  return r2 > 0 ? slope * Math.max(0, (r2 - 1 / (n - 1)) / r2) : 0;
}

/** A state with its temperature and its water and dry matter moved; the mash keeps its make-up. */
function moved(state: VesselState, byC: number, byWaterKg: number, byDryKg: number): VesselState {
  if (byC === 0 && byWaterKg === 0 && byDryKg === 0) return state;
  const dry = state.solidsKg + state.extractKg;
  const scale = dry > EMPTY_KG ? Math.max(0.1, 1 + byDryKg / dry) : 1;
  return {
    ...state,
    tempC: state.tempC + byC,
    waterKg: Math.max(0.1 * state.waterKg, state.waterKg + byWaterKg),
    solidsKg: state.solidsKg * scale,
    extractKg: state.extractKg * scale,
  };
}

/** Nothing here is hotter than it boils. */
function capped(state: VesselState, day: BrewDay): VesselState {
  const boilC = boilingC(state, day.boilC);
  return state.tempC > boilC ? { ...state, tempC: boilC } : state;
}

/** Boiling point of what stands in a vessel [°C]. */
function boilingC(state: VesselState, boilC: number): number {
  const kg = state.waterKg + state.extractKg;
  const share = kg > 0 ? state.extractKg / kg : 0;
  return boilC + boilingRise(Math.min(0.6, share), saturationPressure(boilC));
}

/** A vessel of the day with a draw applied. */
export function thermalIn(day: BrewDay, vessel: string, draw: Draw): Thermal {
  const found = day.kit.vessels.find((v) => v.id === vessel);
  if (!found) throw new Error(`kit ${day.kit.id} has no vessel ${vessel}`);
  return thermalOf(found, draw, day.airC, day.moisture);
}

/** Heat of content and wall against 0 °C [kJ]. */
function heatOf(state: VesselState, day: BrewDay, draw: Draw): number {
  return heatCapacity(state, thermalIn(day, state.vessel, draw)) * state.tempC;
}

function within(x: number, low: number, high: number): number {
  return Math.max(low, Math.min(high, x));
}
