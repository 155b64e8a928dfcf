import { inRange } from './errors.ts';

/** First and second constant of carbonic acid, room temperature. Textbook values. */
const PK1 = 6.38;
const PK2 = 10.33;
/** End point of the alkalinity titration. */
export const TITRATION_END_PH = 4.3;

/**
 * Charge that dissolved carbonate carries.
 *
 * @param ph 3 to 11
 * @returns equivalents per mole of carbonate, all its species together [-], 0 to 2
 * @throws OutOfRange outside the range
 * @source dissociation of carbonic acid, pK 6.38 and 10.33 (textbook values)
 * @example carbonateCharge(6.38) // 0.500
 */
export function carbonateCharge(ph: number): number {
  const h = 10 ** -inRange('pH', ph, 3, 11, '');
  const k1 = 10 ** -PK1;
  const k12 = k1 * 10 ** -PK2;
  return (k1 * h + 2 * k12) / (h * h + k1 * h + k12);
}

/**
 * Carbonate in liquor, all species together.
 *
 * @param alkalinityMEqL to the end of the titration, pH 4.3 [mEq/L], 0 to 40
 * @param ph of the liquor, 5 to 10.5
 * @returns total carbonate [mmol/L]
 * @throws OutOfRange outside the ranges
 * @source deLange, MBAA TQ 52(1):3 (2015): alkalinity over the change of charge to pH 4.3
 * @example totalCarbonate(2, 7.5) // 2.168
 */
export function totalCarbonate(alkalinityMEqL: number, ph: number): number {
  const alkalinity = inRange('alkalinity', alkalinityMEqL, 0, 40, 'mEq/L');
  const charge = carbonateCharge(inRange('pH of the liquor', ph, 5, 10.5, ''));
  return alkalinity / (charge - carbonateCharge(TITRATION_END_PH));
}

/**
 * Share of the alkalinity that acid removes on the way to a pH short of the end of the titration.
 *
 * @param fromPh pH of the liquor, 5 to 10.5
 * @param toPh pH wanted, 4.3 to 10.5, not above `fromPh`
 * @returns share [-], 0 to 1
 * @throws OutOfRange outside the ranges
 * @source ratio of changes of {@link carbonateCharge}
 * @example alkalinityRemoved(7, 5.4) // 0.89
 */
export function alkalinityRemoved(fromPh: number, toPh: number): number {
  const from = carbonateCharge(inRange('pH of the liquor', fromPh, 5, 10.5, ''));
  const to = carbonateCharge(inRange('pH wanted', toPh, TITRATION_END_PH, fromPh, ''));
  return (from - to) / (from - carbonateCharge(TITRATION_END_PH));
}

/**
 * pH at which dissolved carbonate carries a given alkalinity, no carbon dioxide gained or lost.
 *
 * @param alkalinityMEqL [mEq/L], 0 to 40
 * @param carbonateMmolL total carbonate [mmol/L], 0 to 2000; 0 stands for pure water, pH 7
 * @returns pH, 4.3 to 11
 * @throws OutOfRange outside the ranges, or when the carbonate cannot carry the alkalinity below pH 11
 * @source inverse of {@link totalCarbonate}, by bisection
 * @example liquorPh(2, 2.1675) // 7.50
 */
export function liquorPh(alkalinityMEqL: number, carbonateMmolL: number): number {
  const alkalinity = inRange('alkalinity', alkalinityMEqL, 0, 40, 'mEq/L');
  const carbonate = inRange('carbonate', carbonateMmolL, 0, 2000, 'mmol/L');
  if (carbonate === 0 && alkalinity === 0) return 7;
  const end = carbonateCharge(TITRATION_END_PH);
  const most = carbonate * (carbonateCharge(11) - end);
  inRange('alkalinity', alkalinity, 0, most, 'mEq/L');
  let low = TITRATION_END_PH;
  let high = 11;
  for (let n = 0; n < 60; n++) {
    const mid = (low + high) / 2;
    if (carbonate * (carbonateCharge(mid) - end) < alkalinity) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
}
