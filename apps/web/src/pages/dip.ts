import type { Kit } from '@ladlework/brewhouse';
import { fillHeight } from '@ladlework/matter';
import { show } from '../units/show.ts';

/** "30.2 cm on the dip rod"; nothing for a vessel the kit does not know. */
export function dipText(kit: Kit, vessel: string, litres: number): string {
  const found = kit.vessels.find((v) => v.id === vessel);
  return found === undefined
    ? ''
    : `${show('length', fillHeight(found.diameterM, litres))} on the dip rod`;
}
