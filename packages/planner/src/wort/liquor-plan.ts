/** Liquor for the brew: salts to a target, acid to a mash pH, treated sparge. */
import {
  acidForMash,
  forecastMashPh,
  type MashMalt,
  type PhMash,
  type PhReading,
  reportDoubt,
  saltsForTarget,
  treatSparge,
} from '@ladlework/brewhouse';
import { type Acid, DEFAULT_BUFFERS, type MaltBuffer, residualAlkalinity } from '@ladlework/matter';
import type { MaltLot, PlanDocument } from '../document.ts';
import type { Band } from '../plan.ts';
import { colourOf } from './cellar.ts';
import type { LiquorPlan } from './plan-types.ts';

/** pH the sparge liquor is treated to (common practice, no source). */
const SPARGE_PH = 5.7;
const USUAL_ACID: Acid = 'lactic88';
/** Base malts from this colour on buffer as Munich malt, from the next down as pale ale malt [EBC]; our judgement. */
const MUNICH_EBC = 10;
const PALE_EBC = 5;

/** How a lot stands against acid: its titration, or the default of its kind. */
function bufferOf(lot: MaltLot): MaltBuffer {
  if (lot.titration !== undefined) return lot.titration;
  if (lot.type !== 'base') return DEFAULT_BUFFERS[lot.type];
  const ebc = colourOf(lot);
  return ebc >= MUNICH_EBC
    ? DEFAULT_BUFFERS.munich
    : ebc >= PALE_EBC
      ? DEFAULT_BUFFERS.pale
      : DEFAULT_BUFFERS.pilsner;
}

const maltsOf = (document: PlanDocument): MashMalt[] =>
  document.beer.malts.map((lot) => ({
    kg: lot.kg,
    buffer: bufferOf(lot),
    titrated: lot.titration !== undefined,
  }));

/** Boiled parts that come back to the mash. */
const decoctionsOf = (document: PlanDocument): number =>
  Math.min(5, document.mash.raises.filter((r) => r.by === 'decoction').length);

/**
 * Salts, acid and treated sparge for a brew.
 * @param document the brew; its kit has a water report
 * @param mashL liquor of the mash, all of it [L]
 * @param spargeL sparge liquor [L]
 * @param reading pH of the mash as read, if it was
 * @returns undefined when the kit has no water report
 */
export function liquorPlan(
  document: PlanDocument,
  mashL: number,
  spargeL: number,
  reading?: PhReading,
): LiquorPlan | undefined {
  const { liquor } = document.kit;
  if (liquor === undefined) return undefined;
  const { target } = document.beer;
  const acid = liquor.acid ?? USUAL_ACID;
  const salts = saltsForTarget({
    report: liquor.report,
    litres: mashL + spargeL,
    target: target?.liquor ?? {},
    shelf: liquor.salts ?? [],
    ...(liquor.second === undefined ? {} : { second: liquor.second }),
  });
  // Acid is given when mashing in; what the decoctions do to the pH comes after.
  const mash: PhMash = { malts: maltsOf(document), liquorL: mashL, report: salts.after };
  const wanted = target?.mashPh;
  const dose = wanted === undefined ? { mEq: 0, mL: 0 } : acidForMash(mash, wanted, acid, reading);
  const before = forecastMashPh(mash, reading);
  // What the balance missed by when the mash was read, it misses by after the acid too.
  const off = before.modelMiss ?? 0;
  const acidified = (decoctions: number): Band => {
    const { ph } = forecastMashPh({ ...mash, acidMEq: dose.mEq, decoctions });
    return { low: ph.low + off, likely: ph.likely + off, high: ph.high + off };
  };
  const toPh = document.day.work?.spargePh ?? SPARGE_PH;
  const sparge = treatSparge({ report: salts.after, litres: spargeL, toPh, acid });
  const doubt = reportDoubt(liquor.report);
  return {
    mashL,
    spargeL,
    ...(doubt === undefined ? {} : { doubt }),
    residualAlkalinityMgLCaCO3: {
      before: residualAlkalinity(liquor.report).mgLCaCO3,
      after: residualAlkalinity(salts.after).mgLCaCO3,
    },
    salts,
    mashPh: {
      withoutAcid: before.ph,
      ...(wanted === undefined ? {} : { wanted }),
      acidMEq: dose.mEq,
      acidML: dose.mL,
      ph: acidified(0),
      afterDecoctions: acidified(decoctionsOf(document)),
    },
    sparge: { toPh, acidMEq: sparge.mEq, acidML: sparge.mL },
  };
}
