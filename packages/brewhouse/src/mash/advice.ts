import type { MaltCertificate } from './certificate.ts';
import { MashRangeError } from './errors.ts';

/** One figure of the sheet against its thresholds. */
export interface SheetFinding {
  readonly field: keyof MaltCertificate;
  readonly value: number;
  readonly verdict: 'under-modified' | 'normal' | 'well-modified';
  readonly threshold: string;
  readonly source: string;
}

/** Whether a protein and glucan rest is worth its hour. */
export interface RestAdvice {
  /** `rest`: 45-52 °C helps. `none`: mash in at 60-63 °C. `optional`: does little either way. */
  readonly verdict: 'rest' | 'none' | 'optional' | 'unknown';
  readonly sentence: string;
  readonly findings: readonly SheetFinding[];
  /** Fields that would settle it and are not on the sheet. */
  readonly missing: readonly (keyof MaltCertificate)[];
  readonly source: string;
}

interface Threshold {
  readonly field: keyof MaltCertificate;
  /** Poorly modified on this side of `limit`. */
  readonly bad: 'below' | 'above';
  readonly limit: number;
  readonly good?: number;
  readonly unit: string;
  readonly source: string;
}

/** Thresholds of the rule; where it gives a span its middle is taken. */
const THRESHOLDS: readonly Threshold[] = [
  {
    field: 'kolbachPct',
    bad: 'below',
    limit: 36,
    good: 41,
    unit: '%',
    source: 'common practice, no source; meaningful only with total nitrogen (MEBAK)',
  },
  {
    field: 'friabilityPct',
    bad: 'below',
    limit: 76.5,
    good: 85,
    unit: '%',
    source: 'Ajib 2013; rule from memory (75 to 78)',
  },
  {
    field: 'vz45Pct',
    bad: 'below',
    limit: 36,
    good: 40,
    unit: '%',
    source: 'common practice, no source',
  },
  {
    field: 'betaGlucanMgL',
    bad: 'above',
    limit: 275,
    good: 150,
    unit: 'mg/L',
    source: 'Ajib 2013; rule from memory (250 to 300)',
  },
];

const RULE =
  'From memory: rest only when two or more of Kolbach < 36, friability < 75-78, VZ45 < 36, beta-glucan > 250-300; Kolbach > 41: mash in at 60-63 °C or hold 50-55 °C for 5-10 min at most';

function judge(threshold: Threshold, value: number): SheetFinding {
  const { field, bad, limit, good, unit, source } = threshold;
  const poor = bad === 'below' ? value < limit : value > limit;
  const fine = good !== undefined && (bad === 'below' ? value > good : value < good);
  return {
    field,
    value,
    verdict: poor ? 'under-modified' : fine ? 'well-modified' : 'normal',
    threshold: `under-modified ${bad} ${limit} ${unit}`,
    source,
  };
}

/**
 * Protein and glucan rest, or not, from the malt sheet.
 *
 * @param certificate  the sheet
 * @returns advice with the figures it rests on
 * @source docs/science/mash.md, Protein, FAN, beta-glucan, malt sheet
 */
export function restAdvice(certificate: MaltCertificate): RestAdvice {
  const findings: SheetFinding[] = [];
  const missing: (keyof MaltCertificate)[] = [];
  for (const threshold of THRESHOLDS) {
    const value = certificate[threshold.field];
    if (value === undefined) missing.push(threshold.field);
    else findings.push(judge(threshold, value));
  }
  const poor = findings.filter((f) => f.verdict === 'under-modified').length;
  const kolbach = certificate.kolbachPct;
  const base = { findings, missing, source: RULE };
  if (poor >= 2)
    return {
      ...base,
      verdict: 'rest',
      sentence: `${poor} figures show a poorly modified malt: rest at 45-52 °C, or use two pulls.`,
    };
  if (kolbach !== undefined && kolbach > 41)
    return {
      ...base,
      verdict: 'none',
      sentence:
        'Kolbach above 41 %: a protein rest costs foam. Mash in at 60-63 °C, or hold 50-55 °C for 10 min at most.',
    };
  if (findings.length < 2 || (poor === 1 && missing.length > 0))
    return {
      ...base,
      verdict: 'unknown',
      sentence: `The sheet does not settle it; ${missing.join(', ')} would.`,
    };
  return {
    ...base,
    verdict: 'optional',
    sentence:
      'Normally modified malt: a rest below 60 °C brings little; leave it out to save time.',
  };
}

/**
 * Free amino nitrogen of the wort from that of the laboratory wort. A report, not a simulation.
 *
 * @param fanMgL  FAN of the laboratory wort, brought to the strength of ours [mg/L], 0 to 500
 * @param mashInC  temperature at mash-in [°C]
 * @param proteinRestMin  minutes spent at 45-52 °C
 * @returns low, likely, high [mg/L]; ±15 %
 * @throws MashRangeError when FAN or minutes are impossible
 * @source docs/science/mash.md: FAN = FAN_lab (0.68 + 0.32 r), r 0.5 at mash-in of 62 °C or more to
 *   1 after 30 min at 45-52 °C, linear between; 0.68 from Factors contributing to wort nitrogen I
 * @example fanEstimate(150, 63, 0).likely // 126
 */
export function fanEstimate(
  fanMgL: number,
  mashInC: number,
  proteinRestMin: number,
): { readonly low: number; readonly likely: number; readonly high: number } {
  if (!(fanMgL >= 0 && fanMgL <= 500)) throw new MashRangeError('fanMgL', fanMgL, '0 to 500 mg/L');
  if (!(proteinRestMin >= 0))
    throw new MashRangeError('proteinRestMin', proteinRestMin, '0 min or more');
  const rested = mashInC >= 62 ? 0 : Math.min(1, proteinRestMin / 30);
  const likely = fanMgL * (FAN_IN_MALT + (1 - FAN_IN_MALT) * (0.5 + 0.5 * rested));
  return { low: 0.85 * likely, likely, high: 1.15 * likely };
}

/** Share of the wort's FAN that is in the malt already [-]. */
export const FAN_IN_MALT = 0.68;

/**
 * Traffic light for beta-glucan: run-off and filtration.
 *
 * @param certificate  the sheet; beta-glucan first, wort viscosity where that is missing
 * @returns green, amber, red, or unknown without either figure
 * @source docs/science/mash.md: beta-glucan < 300 mg/L normal (Ajib 2013), 250 stricter (common
 *   practice); viscosity 1.45-1.65 mPa s normal (Ajib 2013)
 */
export function betaGlucanLight(
  certificate: MaltCertificate,
): 'green' | 'amber' | 'red' | 'unknown' {
  const { betaGlucanMgL, viscosityMPas } = certificate;
  if (betaGlucanMgL !== undefined) {
    if (betaGlucanMgL > 300) return 'red';
    return betaGlucanMgL > 250 ? 'amber' : 'green';
  }
  if (viscosityMPas === undefined) return 'unknown';
  if (viscosityMPas > 1.65) return 'red';
  return viscosityMPas > 1.6 ? 'amber' : 'green';
}
