import { inRange } from './errors.ts';
import { saturationTemperature } from './saturation.ts';
import { boilingRise } from './wort.ts';

/** US Standard Atmosphere 1976, troposphere. */
const EARTH_RADIUS_M = 6356766;
const SEA_LEVEL_KPA = 101.325;
const SEA_LEVEL_K = 288.15;
const LAPSE_K_M = 0.0065;
const EXPONENT = 5.25588;

const geopotential = (altitudeM: number): number =>
  (EARTH_RADIUS_M * altitudeM) / (EARTH_RADIUS_M + altitudeM);

/**
 * Air pressure at a height on a standard day. Weather moves it by about 2.5 kPa either way, as much
 * as 200 m of height: a measured pressure or boiling point is better.
 *
 * @param altitudeM geometric height above sea level [m], -2000 to 11000
 * @returns pressure, absolute [kPa]
 * @throws OutOfRange outside the range
 * @source US Standard Atmosphere 1976, troposphere layer
 * @example standardPressure(1609) // 83.435
 */
export function standardPressure(altitudeM: number): number {
  const h = geopotential(inRange('altitude', altitudeM, -2000, 11000, 'm'));
  return SEA_LEVEL_KPA * (1 - (LAPSE_K_M * h) / SEA_LEVEL_K) ** EXPONENT;
}

/**
 * Air temperature at a height on a standard day.
 *
 * @param altitudeM geometric height above sea level [m], -2000 to 11000
 * @returns temperature [°C]
 * @throws OutOfRange outside the range
 * @source US Standard Atmosphere 1976, troposphere layer
 * @example standardAirTemperature(2000) // 2.0
 */
export function standardAirTemperature(altitudeM: number): number {
  const h = geopotential(inRange('altitude', altitudeM, -2000, 11000, 'm'));
  return SEA_LEVEL_K - LAPSE_K_M * h - 273.15;
}

/**
 * Boiling point of water or wort at a height on a standard day.
 *
 * @param altitudeM geometric height above sea level [m], -500 to 5000
 * @param w extract of the wort [mass fraction], 0 to 0.6
 * @returns boiling point [°C]
 * @throws OutOfRange outside the ranges
 * @source US Standard Atmosphere 1976; IAPWS-IF97 region 4, eq. 31; Starzak & Peacock for the rise
 * @example boilingPoint(1609) // 94.62
 */
export function boilingPoint(altitudeM: number, w = 0): number {
  return boilingPointAtPressure(
    standardPressure(inRange('altitude', altitudeM, -500, 5000, 'm')),
    w,
  );
}

/**
 * Boiling point of water or wort at a measured air pressure.
 *
 * @param pressureKPa absolute pressure [kPa], 45 to 200
 * @param w extract of the wort [mass fraction], 0 to 0.6
 * @returns boiling point [°C]
 * @throws OutOfRange outside the ranges
 * @source IAPWS-IF97 region 4, eq. 31; Starzak & Peacock for the rise
 * @example boilingPointAtPressure(101.325, 0.12) // 100.18
 */
export function boilingPointAtPressure(pressureKPa: number, w = 0): number {
  const water = saturationTemperature(inRange('pressure', pressureKPa, 45, 200, 'kPa'));
  return w === 0 ? water : water + boilingRise(w, pressureKPa);
}
