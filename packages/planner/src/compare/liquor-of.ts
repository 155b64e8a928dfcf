/** The liquor a mash of other malts would stand in: what the pH read of the own grist says about it. */
import type { PhMash } from '@ladlework/brewhouse';
import { DISTILLED, gristBuffer, mashPh, protonsWanted, type WaterReport } from '@ladlework/matter';
import type { MaltLot, PlanDocument, StockLot } from '../document.ts';
import { bufferOf } from './malt-kinds.ts';

export interface MashLiquor {
  readonly report: WaterReport;
  readonly litresPerKg: number;
  /** Acid, or base below nought, that explains the pH of the own grist [mEq/L]. */
  readonly acidMEqL: number;
  /** pH of the own grist, read or by the balance. */
  readonly ownPh: number;
  /** False when neither a reading nor a report anchors it. */
  readonly known: boolean;
  readonly notes: readonly string[];
}

/**
 * The liquor as far as the document and a report say it.
 * @param document with the grist whose mash pH is known, if it is
 * @param litresPerKg liquor to grist of the mash asked about [L/kg]
 * @param report of the liquor, if there is one
 * @source proton balance, deLange 2015: what balances the own grist at its pH is carried over to
 *   another grist litre for litre
 */
export function liquorOf(
  document: PlanDocument,
  litresPerKg: number,
  report: WaterReport | undefined,
): MashLiquor {
  const { malts, mashPh: read } = document.beer;
  // Whatever the own grist's pH asks of a liquor nobody has measured comes as acid or base in it.
  const base = { report: report ?? DISTILLED, litresPerKg };
  const plain = { ...base, acidMEqL: 0 };
  const own = balance(malts, { ...plain, litresPerKg: document.mash.liquorLPerKg });
  const assumed = 'Malt buffers are those of the kind of malt: no sheet prints a titration.';
  if (read !== undefined)
    return {
      ...base,
      acidMEqL: protonsWanted(own, read) / own.liquorL,
      ownPh: read,
      known: true,
      notes: [assumed],
    };
  const notes = report
    ? [assumed]
    : [
        assumed,
        'Neither mash pH nor liquor is known: pH is shown for soft liquor and was not a limit.',
      ];
  return { ...plain, ownPh: mashPh(own), known: report !== undefined, notes };
}

function balance(
  malts: readonly MaltLot[],
  { report, litresPerKg, acidMEqL }: Pick<MashLiquor, 'report' | 'litresPerKg' | 'acidMEqL'>,
) {
  const gristKg = malts.reduce((sum, m) => sum + m.kg, 0);
  const liquorL = litresPerKg * gristKg;
  return {
    gristKg,
    buffer: gristBuffer(malts.map((m) => ({ kg: m.kg, buffer: bufferOf(m) }))),
    liquorL,
    liquorPh: report.ph,
    alkalinityMgLCaCO3: report.alkalinityMgLCaCO3,
    calciumMgL: report.calciumMgL,
    magnesiumMgL: report.magnesiumMgL,
    acidMEq: acidMEqL * liquorL,
  };
}

/** The same mash as the forecast of its pH takes it. */
export function phMash(malts: readonly MaltLot[], liquor: MashLiquor): PhMash {
  const gristKg = malts.reduce((sum, m) => sum + m.kg, 0);
  const liquorL = liquor.litresPerKg * gristKg;
  return {
    malts: malts.map((m) => ({ kg: m.kg, buffer: bufferOf(m), titrated: false })),
    liquorL,
    report: liquor.report,
    acidMEq: liquor.acidMEqL * liquorL,
  };
}

/**
 * Protons one kilogram of a lot and its liquor want at two pH: the sum over a grist is nought where it
 * comes to rest, so a limit on pH is linear in the kilograms.
 */
export function protonsOf(
  lot: StockLot,
  liquor: MashLiquor,
  ph: { readonly low: number; readonly high: number },
): { readonly atLow: number; readonly atHigh: number } {
  const one = balance([{ ...lot, kg: 1 }], liquor);
  return { atLow: protonsWanted(one, ph.low), atHigh: protonsWanted(one, ph.high) };
}
