import { alkalinityRemoved, liquorPh, totalCarbonate } from './carbonate.ts';
import { inRange } from './errors.ts';
import { CACO3_MG_MEQ } from './liquor.ts';
import { IONS, type Ion, ionFromSalt, SALTS, type SaltName } from './salts.ts';

/** A water analysis, as the laboratory prints it; alkalinity as mg/L CaCO3. */
export interface WaterReport {
  readonly calciumMgL: number;
  readonly magnesiumMgL: number;
  readonly sodiumMgL: number;
  readonly potassiumMgL?: number;
  readonly chlorideMgL: number;
  readonly sulphateMgL: number;
  readonly nitrateMgL?: number;
  readonly alkalinityMgLCaCO3: number;
  readonly ph: number;
}

/** Liquor without anything in it. */
export const DISTILLED: WaterReport = {
  calciumMgL: 0,
  magnesiumMgL: 0,
  sodiumMgL: 0,
  chlorideMgL: 0,
  sulphateMgL: 0,
  alkalinityMgLCaCO3: 0,
  ph: 7,
};

const MOST_MG_L = 2000;

/**
 * Alkalinity from bicarbonate, as many laboratories print it.
 *
 * @param bicarbonateMgL [mg/L], 0 to 2400
 * @returns alkalinity [mg/L as CaCO3]
 * @throws OutOfRange outside the range
 * @source equivalents, from atomic masses
 * @example alkalinityFromBicarbonate(61.016) // 50.04
 */
export function alkalinityFromBicarbonate(bicarbonateMgL: number): number {
  const mEqL = inRange('bicarbonate', bicarbonateMgL, 0, 2400, 'mg/L') / IONS.bicarbonate.molarMass;
  return mEqL * CACO3_MG_MEQ;
}

const equivalents = (report: WaterReport, ion: Exclude<Ion, 'bicarbonate'>): number => {
  const mgL = inRange(ion, report[`${ion}MgL`] ?? 0, 0, MOST_MG_L, 'mg/L');
  return (mgL * Math.abs(IONS[ion].charge)) / IONS[ion].molarMass;
};

/** Sums of a water report, and how far they may part. */
export interface IonBalance {
  readonly cationsMEqL: number;
  readonly anionsMEqL: number;
  /** 100 (cations - anions)/(cations + anions) [%]; 0 for pure water. */
  readonly differencePct: number;
  /** Greatest difference allowed [mEq/L]. */
  readonly allowedMEqL: number;
  readonly believable: boolean;
}

/**
 * Whether a water report can be true: cations and anions must carry the same charge.
 *
 * @param report ions [mg/L], 0 to 2000; alkalinity [mg/L as CaCO3], 0 to 2000; ph 3 to 10
 * @returns sums [mEq/L], difference and verdict
 * @throws OutOfRange outside the ranges
 * @source Standard Methods 1030E (bands from memory): ±0.2 mEq/L to 3 mEq/L of anions, ±2 % to 10,
 *   ±5 % beyond; pH 3 to 10 by DIN 38402-62
 */
export function ionBalance(report: WaterReport): IonBalance {
  inRange('pH of the liquor', report.ph, 3, 10, '');
  const alkalinity = inRange(
    'alkalinity',
    report.alkalinityMgLCaCO3,
    0,
    MOST_MG_L,
    'mg/L as CaCO3',
  );
  const cations =
    equivalents(report, 'calcium') +
    equivalents(report, 'magnesium') +
    equivalents(report, 'sodium') +
    equivalents(report, 'potassium');
  const anions =
    equivalents(report, 'chloride') +
    equivalents(report, 'sulphate') +
    equivalents(report, 'nitrate') +
    alkalinity / CACO3_MG_MEQ;
  const sum = cations + anions;
  // The standard states its per cent of the sum of both sides.
  const allowed = anions <= 3 ? 0.2 : (anions <= 10 ? 0.02 : 0.05) * sum;
  const difference = cations - anions;
  return {
    cationsMEqL: cations,
    anionsMEqL: anions,
    differencePct: sum === 0 ? 0 : (100 * difference) / sum,
    allowedMEqL: allowed,
    believable: Math.abs(difference) <= allowed,
  };
}

const carbonateOf = (report: WaterReport): number =>
  totalCarbonate(
    inRange('alkalinity', report.alkalinityMgLCaCO3, 0, MOST_MG_L, 'mg/L as CaCO3') / CACO3_MG_MEQ,
    report.ph,
  );

/** A report with another alkalinity [mEq/L] and the carbonate that carries it. */
function withAlkalinity(report: WaterReport, mEqL: number, carbonate: number): WaterReport {
  // A round trip through the carbonate leaves crumbs below zero.
  const alkalinity = Math.abs(mEqL) < 1e-12 ? 0 : mEqL;
  return {
    ...report,
    alkalinityMgLCaCO3: alkalinity * CACO3_MG_MEQ,
    ph: liquorPh(alkalinity, carbonate),
  };
}

/** Liquor in a tank. */
export interface Liquor {
  readonly litres: number;
  readonly report: WaterReport;
}

/**
 * Two or more liquors in one tank.
 *
 * @param parts litres [L], 0 to 1e7, not all 0; reports as for {@link ionBalance}, ph 5 to 10.5
 * @returns all of it, ions by volume, pH by the carbonate
 * @throws OutOfRange outside the ranges
 * @source mass balance; no carbon dioxide gained or lost
 */
export function mixLiquors(parts: readonly Liquor[]): Liquor {
  let litres = 0;
  for (const part of parts) litres += inRange('liquor', part.litres, 0, 1e7, 'L');
  inRange('liquor in all', litres, 1e-9, 1e8, 'L');
  const mean = (of: (report: WaterReport) => number) =>
    parts.reduce((sum, part) => sum + part.litres * of(part.report), 0) / litres;
  const ions: WaterReport = {
    calciumMgL: mean((r) => r.calciumMgL),
    magnesiumMgL: mean((r) => r.magnesiumMgL),
    sodiumMgL: mean((r) => r.sodiumMgL),
    potassiumMgL: mean((r) => r.potassiumMgL ?? 0),
    chlorideMgL: mean((r) => r.chlorideMgL),
    sulphateMgL: mean((r) => r.sulphateMgL),
    nitrateMgL: mean((r) => r.nitrateMgL ?? 0),
    alkalinityMgLCaCO3: 0,
    ph: 7,
  };
  const alkalinity = mean((r) => r.alkalinityMgLCaCO3) / CACO3_MG_MEQ;
  return { litres, report: withAlkalinity(ions, alkalinity, mean(carbonateOf)) };
}

/** A salt weighed into liquor. */
export interface Dose {
  readonly salt: SaltName;
  readonly gPerL: number;
  /** Share of the weight that is the salt [-], 1 unless given. */
  readonly purity?: number;
}

/**
 * Liquor after salts have dissolved in it.
 *
 * @param report before
 * @param doses gPerL [g/L], 0 to 10 each; purity 0.3 to 1
 * @returns report after; chalk is taken as wholly dissolved
 * @throws OutOfRange outside the ranges, or when lime leaves more alkalinity than the carbonate holds
 * @source derived from atomic masses; pH by the carbonate
 */
export function addSalts(report: WaterReport, doses: readonly Dose[]): WaterReport {
  const gain: Record<Ion, number> = {
    calcium: 0,
    magnesium: 0,
    sodium: 0,
    potassium: 0,
    chloride: 0,
    sulphate: 0,
    nitrate: 0,
    bicarbonate: 0,
  };
  let carbonate = carbonateOf(report);
  for (const { salt, gPerL, purity = 1 } of doses) {
    const dose = inRange(`dose of ${salt}`, gPerL, 0, 10, 'g/L');
    for (const ion of Object.keys(gain) as Ion[]) {
      gain[ion] += dose * ionFromSalt(salt, ion, purity);
    }
    carbonate += (1000 * dose * purity * SALTS[salt].carbonate) / SALTS[salt].molarMass;
  }
  const after: WaterReport = {
    ...report,
    calciumMgL: report.calciumMgL + gain.calcium,
    magnesiumMgL: report.magnesiumMgL + gain.magnesium,
    sodiumMgL: report.sodiumMgL + gain.sodium,
    chlorideMgL: report.chlorideMgL + gain.chloride,
    sulphateMgL: report.sulphateMgL + gain.sulphate,
  };
  const alkalinity =
    report.alkalinityMgLCaCO3 / CACO3_MG_MEQ + gain.bicarbonate / IONS.bicarbonate.molarMass;
  return withAlkalinity(after, alkalinity, carbonate);
}

/**
 * Liquor after acid, its carbon dioxide kept.
 *
 * @param report before
 * @param mEqL protons given [mEq/L], 0 to the alkalinity
 * @returns report after; the anion of the acid is not in it
 * @throws OutOfRange outside the range
 * @source alkalinity falls by what is given; pH by the carbonate
 */
export function addAcid(report: WaterReport, mEqL: number): WaterReport {
  const alkalinity = report.alkalinityMgLCaCO3 / CACO3_MG_MEQ;
  const given = inRange('acid', mEqL, 0, alkalinity, 'mEq/L');
  return withAlkalinity(report, alkalinity - given, carbonateOf(report));
}

/**
 * Protons it takes to bring liquor to a pH, as for sparge liquor.
 *
 * @param report ph 5 to 10.5
 * @param toPh pH wanted, 4.3 to 10.5, not above the liquor's own
 * @returns [mEq/L]
 * @throws OutOfRange outside the ranges
 * @source carbonate balance: alkalinity times {@link alkalinityRemoved}
 */
export function acidToPh(report: WaterReport, toPh: number): number {
  const alkalinity =
    inRange('alkalinity', report.alkalinityMgLCaCO3, 0, MOST_MG_L, 'mg/L as CaCO3') / CACO3_MG_MEQ;
  return alkalinity * alkalinityRemoved(report.ph, toPh);
}
