/** Liquor for the brew: believable report, salts to a target, mash pH with its doubt, acid, sparge. */
import {
  type Acid,
  acidStrength,
  acidToPh,
  addAcid,
  addSalts,
  type BufferedMalt,
  CACO3_MG_MEQ,
  decoctionPhShift,
  gristBuffer,
  IONS,
  type Ion,
  inRange,
  ionBalance,
  ionFromSalt,
  mashPh,
  mixLiquors,
  phAt20,
  protonsWanted,
  type SaltName,
  type WaterReport,
} from '@ladlework/matter';
import { type Band, boundedLeastSquares } from '@ladlework/numerics';

/**
 * What is wrong with a water report, for the brewer.
 *
 * @param report ions 0 to 2000 [mg/L], pH 3 to 10
 * @returns what to do about it; undefined when it can be true
 * @throws OutOfRange outside the ranges
 * @source Standard Methods 1030E by matter's `ionBalance`
 */
export function reportDoubt(report: WaterReport): string | undefined {
  const b = ionBalance(report);
  if (b.believable) return undefined;
  const more = b.cationsMEqL > b.anionsMEqL;
  return (
    `Cations ${b.cationsMEqL.toFixed(2)} and anions ${b.anionsMEqL.toFixed(2)} mEq/L are ` +
    `${Math.abs(b.cationsMEqL - b.anionsMEqL).toFixed(2)} apart; ${b.allowedMEqL.toFixed(2)} is allowed. ` +
    `${more ? 'An anion is missing or too low' : 'A cation is missing or too low'}, or a unit is ` +
    `wrong (alkalinity as CaCO3, not HCO3). Ask the laboratory before salting by it.`
  );
}

/** A salt on the shelf. */
export interface ShelfSalt {
  readonly salt: SaltName;
  /** Share of the weight that is the salt [-], 0.3 to 1; 1 unless given. */
  readonly purity?: number;
  /** Most that may go in [g/L], 0 to 5; 1 unless given. */
  readonly mostGPerL?: number;
}

/** Ions wanted [mg/L]; alkalinity as mg/L CaCO3. What is left out is left free. */
export type LiquorTarget = Partial<
  Pick<
    WaterReport,
    | 'calciumMgL'
    | 'magnesiumMgL'
    | 'sodiumMgL'
    | 'chlorideMgL'
    | 'sulphateMgL'
    | 'alkalinityMgLCaCO3'
  >
>;

const FIELDS: readonly (readonly [keyof LiquorTarget, Ion])[] = [
  ['calciumMgL', 'calcium'],
  ['magnesiumMgL', 'magnesium'],
  ['sodiumMgL', 'sodium'],
  ['chlorideMgL', 'chloride'],
  ['sulphateMgL', 'sulphate'],
  ['alkalinityMgLCaCO3', 'bicarbonate'],
];

/** Milligrams in a milliequivalent, in the unit of the report. */
const mgPerMEq = (ion: Ion): number =>
  ion === 'bicarbonate' ? CACO3_MG_MEQ : IONS[ion].molarMass / Math.abs(IONS[ion].charge);

/** Weight of a gram of salt against a missed equivalent: breaks ties in favour of weighing less. */
const THRIFT = 1e-3;

/** Salts for a target, and how near they come. */
export interface SaltPlan {
  readonly doses: readonly {
    readonly salt: SaltName;
    readonly gPerL: number;
    readonly grams: number;
  }[];
  /** Share of the second liquor in the whole [-], 0 when there is none. */
  readonly dilute: number;
  readonly after: WaterReport;
  /** What each wanted ion misses by [mg/L], after less target. */
  readonly misses: readonly { readonly field: keyof LiquorTarget; readonly mgL: number }[];
}

/**
 * Salts, and a second liquor to mix in, that bring liquor nearest to a target. Salts take nothing out:
 * where the liquor already holds more, soft liquor does, or the miss is shown.
 *
 * Bounded least squares in equivalents, by our own active-set solver: six ions and a handful of salts
 * have one best answer in some microseconds; a linear-programming library would weigh absolute misses
 * and bring a megabyte for it.
 *
 * @param wish report of the liquor; litres in all [L], 0 to 1e6; target; shelf of salts, purity 0.3 to
 *   1, mostGPerL 0 to 5; second liquor that may stand in for any part of it, if there is one
 * @returns share of the second liquor, grams of each salt, the liquor after them, and every miss
 * @throws OutOfRange outside the ranges
 * @source least squares of the misses [mEq/L]; ions per gram from atomic masses
 */
export function saltsForTarget(wish: {
  readonly report: WaterReport;
  readonly litres: number;
  readonly target: LiquorTarget;
  readonly shelf: readonly ShelfSalt[];
  readonly second?: WaterReport;
}): SaltPlan {
  const litres = inRange('liquor', wish.litres, 0, 1e6, 'L');
  const wanted = FIELDS.flatMap(([field, ion]) => {
    const mgL = wish.target[field];
    if (mgL === undefined) return [];
    return [{ field, ion, mgL: inRange(`${ion} wanted`, mgL, 0, 2000, 'mg/L') }];
  });
  const { shelf } = wish;
  const perGram = (salt: ShelfSalt, ion: Ion): number => {
    const mg = ionFromSalt(salt.salt, ion, salt.purity);
    return mg / (ion === 'bicarbonate' ? IONS.bicarbonate.molarMass : mgPerMEq(ion));
  };
  const most = shelf.map((salt) => inRange(`most ${salt.salt}`, salt.mostGPerL ?? 1, 0, 5, 'g/L'));
  const { second } = wish;
  // One more column where liquor can be mixed: what the whole gains as the second takes the first's place.
  const swap = ({ field, ion }: (typeof wanted)[number]) =>
    second === undefined
      ? []
      : [((second[field] ?? 0) - (wish.report[field] ?? 0)) / mgPerMEq(ion)];
  const columns = shelf.length + (second === undefined ? 0 : 1);
  const x =
    columns === 0 || wanted.length === 0
      ? Array.from({ length: columns }, () => 0)
      : boundedLeastSquares(
          [
            ...wanted.map((want) => [
              ...shelf.map((salt) => perGram(salt, want.ion)),
              ...swap(want),
            ]),
            ...Array.from({ length: columns }, (_, i) =>
              Array.from({ length: columns }, (__, j) => (i === j ? THRIFT : 0)),
            ),
          ],
          [
            ...wanted.map(
              ({ field, ion, mgL }) => (mgL - (wish.report[field] ?? 0)) / mgPerMEq(ion),
            ),
            ...Array.from({ length: columns }, () => 0),
          ],
          Array.from({ length: columns }, () => 0),
          [...most, ...(second === undefined ? [] : [1])],
        ).x;
  const doses = shelf.map((salt, i) => {
    const gPerL = x[i] ?? 0;
    return { salt: salt.salt, gPerL, grams: gPerL * litres };
  });
  const dilute = second === undefined ? 0 : (x[shelf.length] ?? 0);
  const mixed =
    second === undefined
      ? wish.report
      : mixLiquors([
          { litres: 1 - dilute, report: wish.report },
          { litres: dilute, report: second },
        ]).report;
  const after = addSalts(
    mixed,
    shelf.map((salt, i) => ({
      salt: salt.salt,
      gPerL: x[i] ?? 0,
      ...(salt.purity === undefined ? {} : { purity: salt.purity }),
    })),
  );
  return {
    doses: doses.filter((dose) => dose.gPerL > 1e-9),
    dilute,
    after,
    misses: wanted.map(({ field, mgL }) => ({ field, mgL: (after[field] ?? 0) - mgL })),
  };
}

/** One malt in the mash, as the proton balance sees it. */
export interface MashMalt extends BufferedMalt {
  /** True when the buffer is a titration of this lot, false for a stated default. */
  readonly titrated: boolean;
}

/** The mash whose pH is asked for. */
export interface PhMash {
  readonly malts: readonly MashMalt[];
  readonly liquorL: number;
  readonly report: WaterReport;
  /** Protons already given by acid or acid malt [mEq]. */
  readonly acidMEq?: number;
  /** Boiled parts returned by the time asked about, 0 to 5. */
  readonly decoctions?: number;
}

/** A pH read, with the temperature of the sample. */
export interface PhReading {
  readonly ph: number;
  readonly tC: number;
}

/** Half width of the band [pH]: titrated lots (our judgement), defaults, and a kept electrode. */
const PH_DOUBT = { titrated: 0.05, byDefault: 0.1, measured: 0.03 } as const;

/** Mash pH at 20 °C, and what it rests on. */
export interface PhForecast {
  readonly ph: Band;
  readonly from: 'measured' | 'model';
  /** Reading less model [pH], when both are there: what the lot's defaults are off by. */
  readonly modelMiss?: number;
}

const balanceOf = (mash: PhMash) => ({
  gristKg: mash.malts.reduce((sum, malt) => sum + malt.kg, 0),
  buffer: gristBuffer(mash.malts),
  liquorL: mash.liquorL,
  liquorPh: mash.report.ph,
  alkalinityMgLCaCO3: mash.report.alkalinityMgLCaCO3,
  calciumMgL: mash.report.calciumMgL,
  magnesiumMgL: mash.report.magnesiumMgL,
  acidMEq: mash.acidMEq ?? 0,
});

/**
 * Mash pH at room temperature with its band. A reading always overrules the balance.
 *
 * @param mash malts with kg and buffer; liquorL [L]; report; acidMEq [mEq]; decoctions 0 to 5
 * @param reading pH 3 to 9 at the temperature of the sample [°C], 0 to 100, if there is one
 * @returns band, what it rests on, and the miss of the model
 * @throws OutOfRange outside the ranges of the proton balance
 * @source proton balance, deLange 2015; ±0.1 for default buffers, our judgement; -0.0078 pH/K
 */
export function forecastMashPh(mash: PhMash, reading?: PhReading): PhForecast {
  const likely = mashPh(balanceOf(mash));
  const shift = decoctionPhShift(mash.decoctions ?? 0);
  if (reading !== undefined) {
    const ph = phAt20(reading.ph, reading.tC);
    const off = PH_DOUBT.measured;
    return {
      ph: { low: ph - off, likely: ph, high: ph + off },
      from: 'measured',
      modelMiss: ph - (likely + shift.likely),
    };
  }
  const kg = mash.malts.reduce((sum, malt) => sum + malt.kg, 0);
  const known = mash.malts.reduce((sum, malt) => sum + (malt.titrated ? malt.kg : 0), 0) / kg;
  const off = known * PH_DOUBT.titrated + (1 - known) * PH_DOUBT.byDefault;
  const middle = likely + shift.likely;
  return {
    ph: {
      low: middle - Math.hypot(off, shift.likely - shift.low),
      likely: middle,
      high: middle + Math.hypot(off, shift.high - shift.likely),
    },
    from: 'model',
  };
}

/** Acid to add. */
export interface AcidDose {
  readonly mEq: number;
  readonly mL: number;
}

/**
 * Acid for a mash pH. After a reading, the miss of the model is taken off first, so that the dose is
 * reckoned from where the mash really stands.
 *
 * @param mash as for {@link forecastMashPh}
 * @param toPh pH wanted at room temperature, 4.7 to 6.5
 * @param acid name of the acid
 * @param reading pH of the mash as it stands, if there is one
 * @returns mEq and mL; 0 when the mash is there already
 * @throws OutOfRange outside the ranges
 * @source proton balance, deLange 2015
 */
export function acidForMash(mash: PhMash, toPh: number, acid: Acid, reading?: PhReading): AcidDose {
  const wanted = inRange('pH wanted', toPh, 4.7, 6.5, '');
  const balance = balanceOf(mash);
  const off = reading === undefined ? 0 : phAt20(reading.ph, reading.tC) - mashPh(balance);
  // The buffer is the same a little way along; only where it rests has moved.
  const mEq = Math.max(0, protonsWanted(balance, wanted - off));
  return { mEq, mL: mEq / acidStrength(acid, wanted) };
}

/** Treated sparge liquor. */
export interface SpargeTreatment extends AcidDose {
  readonly after: WaterReport;
}

/**
 * Acid for sparge liquor, so that the last runnings stay under pH 6.
 *
 * @param sparge report; litres [L], 0 to 1e6; toPh wanted, 4.5 to 7, 5.7 unless given (common
 *   practice, no source); acid
 * @returns mEq and mL for all of it, and the liquor after; 0 when it is there already
 * @throws OutOfRange outside the ranges
 * @source carbonate balance of matter
 */
export function treatSparge(sparge: {
  readonly report: WaterReport;
  readonly litres: number;
  readonly toPh?: number;
  readonly acid: Acid;
}): SpargeTreatment {
  const wanted = inRange('pH wanted', sparge.toPh ?? 5.7, 4.5, 7, '');
  const litres = inRange('sparge liquor', sparge.litres, 0, 1e6, 'L');
  if (sparge.report.ph <= wanted) return { mEq: 0, mL: 0, after: sparge.report };
  const perL = acidToPh(sparge.report, wanted);
  return {
    mEq: perL * litres,
    mL: (perL * litres) / acidStrength(sparge.acid, wanted),
    after: addAcid(sparge.report, perL),
  };
}
