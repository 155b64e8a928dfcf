import {
  gramsPer100mL as asGramsPer100mL,
  plato as asPlato,
  type Extract,
  type GramsPer100mL,
  type Plato,
  type SpecificGravity,
  specificGravity,
} from '@ladlework/quantity';
import { inRange } from './errors.ts';

/** °P = c0 + c1 s + c2 s² + c3 s³ of the SG 20/20 in air. */
const ASBC = [-616.868, 1111.14, -630.272, 135.997] as const;

/** Density of water at 20 °C [kg/L], the 20 of SG 20/20. */
const WATER_20_KG_L = 0.998203;

export const PLATO_RANGE = { min: -5, max: 40 } as const;
export const SG_RANGE = { min: 0.98, max: 1.18 } as const;

const cubic = (s: number): number => ASBC[0] + s * (ASBC[1] + s * (ASBC[2] + s * ASBC[3]));
const slope = (s: number): number => ASBC[1] + s * (2 * ASBC[2] + 3 * s * ASBC[3]);

/**
 * Extract from specific gravity.
 *
 * @param sg specific gravity 20/20 °C in air, 0.98 to 1.18
 * @returns extract [°P]; within 0.002 °P of NBS Circular 440 to 20 °P, 0.025 at 30; beyond, and
 *   below 1.000, extrapolated
 * @throws OutOfRange outside the range
 * @source the ASBC cubic (Lincoln), from memory; checked against NBS Circular 440
 * @example platoFromSg(1.04837) // 12.00
 */
export function platoFromSg(sg: number): Plato {
  return asPlato(cubic(inRange('specific gravity', sg, SG_RANGE.min, SG_RANGE.max, '')));
}

/**
 * Specific gravity from extract: the inverse of {@link platoFromSg} by Newton.
 *
 * @param plato extract [°P], -5 to 40
 * @returns specific gravity 20/20 °C in air
 * @throws OutOfRange outside the range
 * @source the ASBC cubic (Lincoln), from memory; checked against NBS Circular 440
 * @example sgFromPlato(12) // 1.04837
 */
export function sgFromPlato(plato: number): SpecificGravity {
  inRange('extract', plato, PLATO_RANGE.min, PLATO_RANGE.max, '°P');
  let s = 1 + plato / (258.6 - 0.88 * plato);
  for (let n = 0; n < 20; n++) {
    const step = (cubic(s) - plato) / slope(s);
    s -= step;
    if (Math.abs(step) < 1e-14) break;
  }
  return specificGravity(s);
}

/**
 * Extract by volume from extract by weight, at 20 °C.
 *
 * @param plato extract [°P = g/100 g], -5 to 40
 * @returns extract [g/100 mL], which is also kg/hL
 * @throws OutOfRange outside the range
 * @source definition: °P x density; density of water at 20 °C by IAPWS SR6-08
 * @example gramsPer100mL(12) // 12.558
 */
export function gramsPer100mL(plato: number): GramsPer100mL {
  return asGramsPer100mL(plato * sgFromPlato(plato) * WATER_20_KG_L);
}

/**
 * Extract by weight from extract by volume, at 20 °C.
 *
 * @param gPer100mL extract [g/100 mL], -4.9 to 46.9
 * @returns extract [°P]
 * @throws OutOfRange outside the range
 * @source inverse of {@link gramsPer100mL}
 * @example platoFromGramsPer100mL(12.558) // 12.00
 */
export function platoFromGramsPer100mL(gPer100mL: number): Plato {
  const min = gramsPer100mL(PLATO_RANGE.min);
  const max = gramsPer100mL(PLATO_RANGE.max);
  inRange('extract', gPer100mL, min, max, 'g/100 mL');
  let p = gPer100mL;
  for (let n = 0; n < 60; n++) {
    const clamped = Math.min(PLATO_RANGE.max, Math.max(PLATO_RANGE.min, p));
    const next = gPer100mL / (sgFromPlato(clamped) * WATER_20_KG_L);
    if (Math.abs(next - p) < 1e-13) return asPlato(next);
    p = next;
  }
  return asPlato(p);
}

/**
 * Any notation of extract, as °P.
 *
 * @param extract a value tagged with its notation, within the limits of its notation
 * @returns extract [°P]
 * @throws OutOfRange outside the range of the notation
 * @source {@link platoFromSg}, {@link platoFromGramsPer100mL}
 */
export function toPlato(extract: Extract): Plato {
  if (extract.notation === 'sg') return platoFromSg(extract.value);
  if (extract.notation === 'g/100mL') return platoFromGramsPer100mL(extract.value);
  return extract.value;
}

/**
 * Any notation of extract, as specific gravity 20/20 °C in air.
 *
 * @param extract a value tagged with its notation, within the limits of its notation
 * @returns specific gravity
 * @throws OutOfRange outside the range of the notation
 * @source {@link sgFromPlato}
 */
export function toSg(extract: Extract): SpecificGravity {
  return extract.notation === 'sg' ? extract.value : sgFromPlato(toPlato(extract));
}
