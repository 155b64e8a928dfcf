import { fromHouse } from '@ladlework/quantity';
import { inRange } from './errors.ts';

/** Standard pressure [kPa] where nobody measured the air. */
const STANDARD_KPA = 101.3;
/** ln of the solubility [10 g/(L bar)] = A + B/T. Common practice, no source. */
const HENRY = { a: -10.73797, b: 2617.25 } as const;
/** Grams in a litre of carbon dioxide gas, the "volume". */
const GRAMS_PER_VOLUME = 1.977;

const solubility = (tC: number): number => 10 * Math.exp(HENRY.a + HENRY.b / (tC + 273.15));

/** A tank or keg at rest. */
interface Equilibrium {
  readonly tC: number;
  /** Pressure of the outside air [kPa]; a gauge reads above it. */
  readonly barometerKPa?: number;
}

/**
 * Carbon dioxide in beer at rest under a pressure.
 *
 * @param tank tC [°C], 0 to 30, best to 20; gaugeKPa [kPa], 0 to 600; barometerKPa [kPa], 45 to 110,
 *   101.3 unless given
 * @returns carbon dioxide [g/L]; within 0.064 volumes (root mean square) of a printed chart
 * @throws OutOfRange outside the ranges
 * @source Henry's law with trade constants (common practice, no source)
 * @example dissolvedCo2({ tC: 2, gaugeKPa: 80 }) // 5.32
 */
export function dissolvedCo2(tank: Equilibrium & { readonly gaugeKPa: number }): number {
  const t = inRange('beer temperature', tank.tC, 0, 30, '°C');
  const gauge = inRange('gauge pressure', tank.gaugeKPa, 0, 600, 'kPa');
  const air = inRange('air pressure', tank.barometerKPa ?? STANDARD_KPA, 45, 110, 'kPa');
  return ((gauge + air) / 100) * solubility(t);
}

/**
 * Gauge pressure at which beer at rest holds a wanted carbon dioxide.
 *
 * @param tank tC [°C], 0 to 30; gPerL wanted [g/L], 0 to 15; barometerKPa [kPa], 45 to 110
 * @returns gauge pressure [kPa]; negative when the beer holds more than wanted at no pressure. Never
 *   a setting for a relief valve: that is the vessel's stamp
 * @throws OutOfRange outside the ranges
 * @source inverse of {@link dissolvedCo2}
 * @example pressureForCo2({ tC: 20, gPerL: 5 }) // 204
 */
export function pressureForCo2(tank: Equilibrium & { readonly gPerL: number }): number {
  const t = inRange('beer temperature', tank.tC, 0, 30, '°C');
  const wanted = inRange('carbon dioxide', tank.gPerL, 0, 15, 'g/L');
  const air = inRange('air pressure', tank.barometerKPa ?? STANDARD_KPA, 45, 110, 'kPa');
  return (wanted / solubility(t)) * 100 - air;
}

/**
 * Grams in a litre as volumes of gas.
 *
 * @param gPerL carbon dioxide [g/L], 0 to 20
 * @returns volumes [-]
 * @throws OutOfRange outside the range
 * @source density of carbon dioxide at 0 °C and 101.325 kPa, 1.977 g/L
 */
export function co2Volumes(gPerL: number): number {
  return inRange('carbon dioxide', gPerL, 0, 20, 'g/L') / GRAMS_PER_VOLUME;
}

/**
 * Volumes of gas as grams in a litre.
 *
 * @param volumes carbon dioxide [volumes], 0 to 10
 * @returns carbon dioxide [g/L]
 * @throws OutOfRange outside the range
 * @source density of carbon dioxide at 0 °C and 101.325 kPa, 1.977 g/L
 */
export function co2GramsPerLitre(volumes: number): number {
  return inRange('carbon dioxide', volumes, 0, 10, 'volumes') * GRAMS_PER_VOLUME;
}

/**
 * Volumes in beer at rest by the fit to the American table: a cross-check for {@link dissolvedCo2}.
 *
 * @param tC beer temperature [°C], 0 to 15.6
 * @param gaugeKPa gauge pressure at sea level [kPa], 0 to 250
 * @returns carbon dioxide [volumes]; within 0.020 (root mean square) of a printed chart
 * @throws OutOfRange outside the ranges
 * @source fit to the ASBC table (common practice, no source)
 */
export function co2VolumesByTable(tC: number, gaugeKPa: number): number {
  const f = fromHouse('temperature', '°F', inRange('beer temperature', tC, 0, 15.6, '°C'));
  const psi = fromHouse('pressure', 'psi', inRange('gauge pressure', gaugeKPa, 0, 250, 'kPa'));
  return (
    ((0.00000981 * f - 0.00229169) * f + 0.16809729) * psi +
    (0.00024826 * f - 0.04710192) * f +
    2.87424296
  );
}
