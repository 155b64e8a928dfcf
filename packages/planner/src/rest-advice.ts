/** What a malt certificate says about rests, FAN and run-off: rules with their source, no simulation. */
import type { Beer, MaltCertificate, Mash } from './document.ts';

/** One figure of the certificate against the range the trade reads it by. */
export interface CertificateMark {
  readonly field: keyof MaltCertificate;
  readonly value: number;
  /** The malt is short of modification by this figure. */
  readonly under: boolean;
  /** For the brewer: the figure, the limit and whose it is. */
  readonly text: string;
}

export interface RestAdvice {
  readonly rest: 'protein-and-glucan' | 'none' | 'short-at-most' | 'unknown';
  readonly text: string;
  readonly source: string;
  readonly marks: readonly CertificateMark[];
  /** Certificate fields that would decide it and are missing. */
  readonly missing: readonly (keyof MaltCertificate)[];
}

interface Rule {
  readonly field: keyof MaltCertificate;
  readonly name: string;
  readonly unit: string;
  readonly limit: number;
  /** Under-modified when the figure lies on this side of the limit. */
  readonly side: 'below' | 'above';
  readonly source: string;
}

/** @source mash.md 13: Kolbach and VZ45 common practice, friability Ajib 2013 (thesis), beta-glucan common practice */
const RULES: readonly Rule[] = [
  {
    field: 'kolbachPct',
    name: 'Kolbach index',
    unit: '%',
    limit: 36,
    side: 'below',
    source: 'common practice',
  },
  {
    field: 'friabilityPct',
    name: 'friability',
    unit: '%',
    limit: 76.5,
    side: 'below',
    source: 'Ajib 2013',
  },
  {
    field: 'vz45Pct',
    name: 'VZ45',
    unit: '%',
    limit: 36,
    side: 'below',
    source: 'common practice',
  },
  {
    field: 'betaGlucanMgL',
    name: 'beta-glucan',
    unit: 'mg/L',
    limit: 275,
    side: 'above',
    source: 'Ajib 2013; 250 common practice',
  },
];
const RICH_KOLBACH_PCT = 41;
const SOURCE =
  'Two-of-four rule, from memory of trade teaching; limits as marked (docs/science/mash.md, Rests)';

/** Mass-weighted mean of a certificate field over the malts that state it; undefined when none does. */
export function certificateMean(beer: Beer, field: keyof MaltCertificate): number | undefined {
  let kg = 0;
  let sum = 0;
  for (const lot of beer.malts) {
    const value = lot.certificate?.[field];
    if (value === undefined || lot.type === 'caramel' || lot.type === 'roast') continue;
    kg += lot.kg;
    sum += lot.kg * value;
  }
  return kg > 0 ? sum / kg : undefined;
}

/**
 * Whether the grist wants a protein and glucan rest.
 * @param beer malts with their certificates
 * @returns advice, the figures it rests on, and what is missing
 * @source mash.md 13 rule: a rest or a two-mash decoction from 50 °C only if two or more of Kolbach < 36, friability < 75-78, VZ45 < 36, beta-glucan > 250-300
 */
export function restAdvice(beer: Beer): RestAdvice {
  const marks: CertificateMark[] = [];
  const missing: (keyof MaltCertificate)[] = [];
  for (const rule of RULES) {
    const value = certificateMean(beer, rule.field);
    if (value === undefined) {
      missing.push(rule.field);
      continue;
    }
    const under = rule.side === 'below' ? value < rule.limit : value > rule.limit;
    const sign = rule.side === 'below' ? 'under' : 'over';
    marks.push({
      field: rule.field,
      value,
      under,
      text: `${rule.name} ${round(value)} ${rule.unit}, ${under ? sign : `not ${sign}`} ${rule.limit} (${rule.source})`,
    });
  }
  const poor = marks.filter((m) => m.under).length;
  const kolbach = certificateMean(beer, 'kolbachPct');
  const base = { marks, missing, source: SOURCE };
  if (poor >= 2)
    return {
      ...base,
      rest: 'protein-and-glucan',
      text: `${poor} of ${marks.length} figures call the malt poorly modified: a rest at 45-52 °C, or a decoction that starts there, earns its time.`,
    };
  if (kolbach !== undefined && kolbach > RICH_KOLBACH_PCT)
    return {
      ...base,
      rest: 'short-at-most',
      text: `Kolbach ${round(kolbach)} % is rich: mash in at 60-63 °C, or hold 50-55 °C no longer than 5-10 min, or foam suffers.`,
    };
  if (poor + missing.length < 2)
    return { ...base, rest: 'none', text: 'Well modified: no protein or glucan rest is needed.' };
  return {
    ...base,
    rest: 'unknown',
    text: 'Too few figures to tell: with the missing ones the rule would decide. Until then, no protein rest for a malt sold as well modified.',
  };
}

export interface FanEstimate {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/**
 * FAN of the wort from the congress figure and the rests.
 * @param beer malts; FAN as mg/L of congress wort
 * @param mash rests
 * @returns [mg/L at congress strength] or undefined without a congress figure
 * @source mash.md 13: FAN = FAN_congress (0.68 + 0.32 r), r 0.5 (mash-in from 62 °C) to 1.0 (30 min at 45-52 °C), linear between, ±15 %; derived from Lewis et al. 1992 and Evans 2012
 */
export function fanEstimate(beer: Beer, mash: Mash): FanEstimate | undefined {
  const congress = certificateMean(beer, 'fanMgL');
  if (congress === undefined) return undefined;
  const minutes = mash.rests
    .filter((r) => r.tempC >= 44 && r.tempC <= 53)
    .reduce((sum, r) => sum + r.minutes, 0);
  const r = 0.5 + 0.5 * Math.min(1, minutes / 30);
  const likely = congress * (0.68 + 0.32 * r);
  return { low: likely * 0.85, likely, high: likely * 1.15 };
}

export interface GlucanClass {
  readonly level: 'easy' | 'watch' | 'slow' | 'unknown';
  readonly text: string;
}

/**
 * What the certificate says about a slow run-off.
 * @param beer malts with viscosity and beta-glucan
 * @source mash.md 13: viscosity > 1.65 mPa s, beta-glucan > 300 mg/L (Ajib 2013), 250 stricter (common practice)
 */
export function glucanClass(beer: Beer): GlucanClass {
  const glucan = certificateMean(beer, 'betaGlucanMgL');
  const viscosity = certificateMean(beer, 'viscosityMPas');
  if (glucan === undefined && viscosity === undefined)
    return { level: 'unknown', text: 'No beta-glucan or viscosity on the certificate.' };
  const slow = (glucan ?? 0) > 300 || (viscosity ?? 0) > 1.65;
  const watch = (glucan ?? 0) > 250 || (viscosity ?? 0) > 1.6;
  if (slow)
    return {
      level: 'slow',
      text: 'High beta-glucan or viscosity: expect a slow run-off, a rest at 45-50 °C helps.',
    };
  if (watch)
    return {
      level: 'watch',
      text: 'Near the limit: run off slowly at first, keep underlet liquor hot.',
    };
  return { level: 'easy', text: 'Beta-glucan and viscosity are in the easy range.' };
}

function round(value: number): string {
  return value >= 100 ? value.toFixed(0) : value.toFixed(1);
}
