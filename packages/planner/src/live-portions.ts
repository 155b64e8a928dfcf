/** A transfer portion by portion: how warm after some litres, and how many litres to a temperature. */
import type { TransferTrace } from '@ladlework/brewhouse';

/** What the receiving vessel shows as litres come in; from 0 L, one point a portion. */
export interface Portions {
  readonly litres: readonly number[];
  readonly tempC: readonly number[];
}

/**
 * One or more transfers into the same vessel, one after the other.
 * @param beforeC the vessel before the first portion, when nothing comes [°C]
 * @param transfers what they did; those that moved nothing are passed over
 * @param portionL size of a whole portion [L]
 */
export function portionsOf(
  beforeC: number,
  transfers: readonly TransferTrace[],
  portionL: number,
): Portions {
  const moved = transfers.filter((t) => t.portions > 0);
  const litres = [0];
  const tempC = [moved[0]?.beforeC ?? beforeC];
  let over = 0;
  for (const t of moved) {
    t.afterPortionC.forEach((c, k) => {
      litres.push(over + Math.min(t.litres, (k + 1) * portionL));
      tempC.push(c);
    });
    over += t.litres;
  }
  return { litres, tempC };
}

/** Temperature after some litres, between portions on a straight line; all of them at most. */
export function afterLitres({ litres, tempC }: Portions, wantedL: number): number {
  for (let k = 1; k < litres.length; k++) {
    const end = litres[k] as number;
    if (wantedL > end) continue;
    const start = litres[k - 1] as number;
    const part = Math.max(0, (wantedL - start) / (end - start));
    return (tempC[k - 1] as number) * (1 - part) + (tempC[k] as number) * part;
  }
  return tempC.at(-1) as number;
}

/** Litres after which a temperature is reached from below; all of them when it is not. */
export function litresTo({ litres, tempC }: Portions, targetC: number): number {
  if ((tempC[0] as number) >= targetC) return 0;
  for (let k = 1; k < tempC.length; k++) {
    const after = tempC[k] as number;
    if (after < targetC) continue;
    const before = tempC[k - 1] as number;
    const start = litres[k - 1] as number;
    return start + (((litres[k] as number) - start) * (targetC - before)) / (after - before);
  }
  return litres.at(-1) as number;
}
