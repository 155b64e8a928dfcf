import type { MaltSpread } from './draws.ts';
import { MashRangeError } from './errors.ts';
import { type AddedMalt, checkMalt, type Malt, type MashedMalt, STANDARD_MALT } from './malt.ts';

/** A maltster's analysis. Every field may be missing; shares are fractions, not per cent. */
export interface MaltCertificate {
  /** Water in the malt as weighed [kg/kg], 0.01 to 0.12. */
  readonly moisture?: number;
  /** Fine-grind extract [kg/kg dry], 0.6 to 0.9, and the fine-coarse difference [kg/kg], 0 to 0.1. */
  readonly extractFine?: number;
  readonly fineCoarse?: number;
  /** Wort colour of the laboratory mash [EBC], 1 to 2000. */
  readonly colourEbc?: number;
  /** Protein [kg/kg dry], 0.06 to 0.18, and Kolbach index [%], 20 to 60. */
  readonly protein?: number;
  readonly kolbachPct?: number;
  /** Diastatic power [°WK], 0 to 800. */
  readonly diastaticWK?: number;
  /** Alpha-amylase [dextrinising units], 0 to 200. */
  readonly alphaDU?: number;
  /** Laboratory wort viscosity [mPa s, 8.6 %], 1 to 3. */
  readonly viscosityMPas?: number;
  /** Friability [%], 20 to 100. */
  readonly friabilityPct?: number;
  /** Wort beta-glucan [mg/L], 0 to 2000. */
  readonly betaGlucanMgL?: number;
  /** Hartong index at 45 °C [%], 15 to 70. */
  readonly vz45Pct?: number;
  /** Soluble amino nitrogen of the laboratory wort [mg/L], 0 to 500. */
  readonly fanMgL?: number;
}

const RANGES: Readonly<Record<keyof MaltCertificate, readonly [number, number, string]>> = {
  moisture: [0.01, 0.12, 'kg/kg'],
  extractFine: [0.6, 0.9, 'kg/kg dry'],
  fineCoarse: [0, 0.1, 'kg/kg'],
  colourEbc: [1, 2000, 'EBC'],
  protein: [0.06, 0.18, 'kg/kg dry'],
  kolbachPct: [20, 60, '%'],
  diastaticWK: [0, 800, '°WK'],
  alphaDU: [0, 200, 'DU'],
  viscosityMPas: [1, 3, 'mPa s'],
  friabilityPct: [20, 100, '%'],
  betaGlucanMgL: [0, 2000, 'mg/L'],
  vz45Pct: [15, 70, '%'],
  fanMgL: [0, 500, 'mg/L'],
};

/** Starch as found by the kinetics over starch as weighed: its own gain by hydrolysis. */
const EXTRACT_GAIN = 1.039;
/** Sheet values at which an enzyme counts as 1. */
const STANDARD_DU = 50;
const STANDARD_WK = 300;
const ENZYME_LOW = 0.3;
const ENZYME_HIGH = 2;

/** Spread of what is on the sheet and of what is not (1 sd; enzyme figures are judgement). */
const STARCH_SD = { known: 0.005, unknown: 0.015 };
const PREFORMED_SD = 0.01;
const ENZYME_LN_SD = { known: 0.15, unknown: 0.3 };

/** Sheet fields the kinetics can use, and what a missing one leaves wide. */
export type UsefulField = 'moisture' | 'extractFine' | 'diastaticWK' | 'alphaDU';

/**
 * Diastatic power from degrees Lintner.
 *
 * @param lintner  diastatic power [°Lintner], 0 or more
 * @returns diastatic power [°WK]
 * @source common practice, no source: °L = (WK + 16)/3.5
 * @example wkFromLintner(90) // 299
 */
export function wkFromLintner(lintner: number): number {
  if (!(lintner >= 0)) throw new MashRangeError('lintner', lintner, '0 or more');
  return 3.5 * lintner - 16;
}

/** Throws for the first field that cannot be. */
export function checkCertificate(certificate: MaltCertificate): void {
  for (const [field, [low, high, unit]] of Object.entries(RANGES)) {
    const value = certificate[field as keyof MaltCertificate];
    if (value !== undefined && !(value >= low && value <= high))
      throw new MashRangeError(field, value, `${low} to ${high} ${unit}`);
  }
}

/**
 * A malt for the kinetics from its analysis.
 *
 * @param certificate  the sheet; fields left out take the typical pale malt's value
 * @returns the malt, how well it is known, and the fields whose absence leaves it wide
 * @throws MashRangeError when a field is outside its range
 * @source docs/science/mash.md, section Start from a malt sheet: starch = (extract - preformed -
 *   other)/1.039; alpha = DU/50, beta = WK/300, each kept within 0.3 to 2; with diastatic power
 *   alone alpha = beta; limit dextrinase 1
 */
export function maltFromCertificate(certificate: MaltCertificate): {
  readonly malt: MashedMalt;
  readonly spread: MaltSpread;
  readonly missing: readonly UsefulField[];
} {
  checkCertificate(certificate);
  const { moisture, extractFine, diastaticWK, alphaDU } = certificate;
  const missing: UsefulField[] = [];
  if (extractFine === undefined) missing.push('extractFine');
  if (diastaticWK === undefined) missing.push('diastaticWK');
  if (alphaDU === undefined) missing.push('alphaDU');
  if (moisture === undefined) missing.push('moisture');
  const kept = (value: number) => Math.min(ENZYME_HIGH, Math.max(ENZYME_LOW, value));
  const beta = diastaticWK === undefined ? STANDARD_MALT.beta : kept(diastaticWK / STANDARD_WK);
  const fromPower = diastaticWK === undefined ? STANDARD_MALT.alpha : beta;
  const malt: MashedMalt = {
    ...STANDARD_MALT,
    moisture: moisture ?? STANDARD_MALT.moisture,
    starch:
      extractFine === undefined
        ? STANDARD_MALT.starch
        : (extractFine - STANDARD_MALT.preformed - STANDARD_MALT.other) / EXTRACT_GAIN,
    alpha: alphaDU === undefined ? fromPower : kept(alphaDU / STANDARD_DU),
    beta,
  };
  checkMalt(malt);
  return {
    malt,
    spread: {
      starchSd: extractFine === undefined ? STARCH_SD.unknown : STARCH_SD.known,
      preformedSd: PREFORMED_SD,
      alphaLnSd: alphaDU === undefined ? ENZYME_LN_SD.unknown : ENZYME_LN_SD.known,
      betaLnSd: diastaticWK === undefined ? ENZYME_LN_SD.unknown : ENZYME_LN_SD.known,
      limitDextrinaseLnSd: ENZYME_LN_SD.unknown,
    },
    missing,
  };
}

/**
 * A malt reckoned outside the run: caramel, dextrin, roast.
 *
 * @param certificate  the sheet
 * @param fermentableShare  share of its extract that ferments [-]; 0.35 for dextrin malt
 * @returns the malt
 * @source docs/science/mash.md: dextrin malt 72 % extract, 35 % fermentable (judgement)
 */
export function addedMaltFromCertificate(
  certificate: MaltCertificate,
  fermentableShare = 0.35,
): AddedMalt {
  checkCertificate(certificate);
  const malt: AddedMalt = {
    kind: 'added',
    moisture: certificate.moisture ?? STANDARD_MALT.moisture,
    extract: certificate.extractFine ?? 0.72,
    fermentableShare,
  };
  checkMalt(malt);
  return malt;
}

/**
 * What a laboratory would get out of a malt that the kinetics take so: the way back from a sheet.
 *
 * @param malt as from {@link maltFromCertificate} or {@link addedMaltFromCertificate}
 * @returns extract, fine grind [kg/kg dry], and moisture [kg/kg]
 * @source starch takes up water as it is split (1.039), the rest dissolves as it is
 */
export function laboratoryExtract(malt: Malt): {
  readonly extractDry: number;
  readonly moisture: number;
} {
  const extractDry =
    malt.kind === 'added' ? malt.extract : EXTRACT_GAIN * malt.starch + malt.preformed + malt.other;
  return { extractDry, moisture: malt.moisture };
}
