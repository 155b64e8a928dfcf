import { inRange } from './errors.ts';
import { wortDensity } from './wort.ts';

/**
 * Volume that the same wort (or water) takes up at another temperature.
 *
 * @param volumeL volume as read [L], 0 to 1e7
 * @param fromC temperature it was read at [°C], 0 to 110
 * @param toC temperature wanted [°C], 0 to 110
 * @param w extract [mass fraction], 0 to 0.7; 0 for liquor
 * @returns volume [L]
 * @throws OutOfRange outside the ranges
 * @source ratio of densities by {@link wortDensity}
 */
export function volumeAtTemperature(volumeL: number, fromC: number, toC: number, w = 0): number {
  const volume = inRange('volume', volumeL, 0, 1e7, 'L');
  return (volume * wortDensity(w, fromC)) / wortDensity(w, toC);
}

/**
 * Cold volume of hot wort: 100 to 20 °C takes 4 % at every strength.
 *
 * @param volumeL volume as read [L], 0 to 1e7
 * @param tC temperature it was read at [°C], 0 to 110
 * @param w extract [mass fraction], 0 to 0.7
 * @returns volume at 20 °C [L]
 * @throws OutOfRange outside the ranges
 * @source ratio of densities by {@link wortDensity}
 * @example volumeAt20(30, 100, 0.12) // 28.80
 */
export function volumeAt20(volumeL: number, tC: number, w = 0): number {
  return volumeAtTemperature(volumeL, tC, 20, w);
}
