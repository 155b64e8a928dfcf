import type { Kit } from '@ladlework/brewhouse';
import { show } from '../units/show.ts';

/**
 * Level of a content on the dip rod of an upright round vessel.
 *
 * @param diameterM inner diameter [m], above 0
 * @param litres content [L], 0 or more
 * @returns height above the bottom [m]
 * @source geometry of a cylinder
 * @example dipM(0.4, 38) // 0.302
 */
export function dipM(diameterM: number, litres: number): number {
  return litres / 1000 / ((Math.PI / 4) * diameterM ** 2);
}

/** "30.2 cm on the dip rod". */
export function dipText(kit: Kit, vessel: string, litres: number): string {
  const found = kit.vessels.find((v) => v.id === vessel);
  return found === undefined
    ? ''
    : `${show('length', dipM(found.diameterM, litres))} on the dip rod`;
}
