/** What the certificates of a beer's malts say about rests, FAN and run-off. */
import {
  restAdvice as adviceOf,
  betaGlucanLight,
  fanEstimate as fanOfWort,
  type RestAdvice,
} from '@ladlework/brewhouse';
import type { Beer, MaltCertificate, Mash } from './document.ts';
import { kineticCertificate } from './grist.ts';

export type { RestAdvice } from '@ladlework/brewhouse';

/**
 * One certificate for the grist: mass-weighted over the mashed malts that state a figure.
 * @param beer malts with their certificates; caramel and roast malts are left out
 */
export function gristCertificate(beer: Beer): MaltCertificate {
  const sums = new Map<keyof MaltCertificate, { kg: number; sum: number }>();
  for (const lot of beer.malts) {
    if (lot.type === 'caramel' || lot.type === 'roast') continue;
    for (const [key, value] of Object.entries(lot.certificate ?? {})) {
      const field = key as keyof MaltCertificate;
      const entry = sums.get(field) ?? { kg: 0, sum: 0 };
      sums.set(field, { kg: entry.kg + lot.kg, sum: entry.sum + lot.kg * value });
    }
  }
  return Object.fromEntries([...sums].map(([field, { kg, sum }]) => [field, sum / kg]));
}

/**
 * Whether the grist wants a protein and glucan rest.
 * @param beer malts with their certificates
 * @returns advice, the figures it rests on, and what is missing
 * @source docs/science/mash.md, Protein, FAN, beta-glucan, malt sheet
 */
export function restAdvice(beer: Beer): RestAdvice {
  return adviceOf(kineticCertificate(gristCertificate(beer)));
}

/**
 * FAN of the wort from the certificates and the rests.
 * @param beer malts; FAN as mg/L of laboratory wort
 * @param mash rests
 * @returns [mg/L at laboratory strength], or undefined where no certificate states FAN
 * @source docs/science/mash.md, Protein, FAN, beta-glucan, malt sheet
 */
export function fanEstimate(beer: Beer, mash: Mash) {
  const { fanMgL } = gristCertificate(beer);
  if (fanMgL === undefined) return undefined;
  const minutes = mash.rests
    .filter((r) => r.tempC >= 45 && r.tempC <= 52)
    .reduce((sum, r) => sum + r.minutes, 0);
  return fanOfWort(fanMgL, mash.rests[0]?.tempC ?? 65, minutes);
}

/** Traffic light for a slow run-off. @source docs/science/mash.md, Protein, FAN, beta-glucan, malt sheet */
export function glucanClass(beer: Beer): ReturnType<typeof betaGlucanLight> {
  return betaGlucanLight(kineticCertificate(gristCertificate(beer)));
}
