/** From the beer wanted to kilograms of each lot, and back, with extract accounted at every stage. */
import { extractAsIs, gramsPer100mL, inRange, platoFromGramsPer100mL } from '@ladlework/matter';
import {
  gramsPer100mL as byVolume,
  type GramsPer100mL,
  type Plato,
  plato,
} from '@ladlework/quantity';

/** One lot of the grist. Sugar and extract go to the kettle and do not pass the lauter tun. */
export interface GristLot {
  readonly name: string;
  readonly kind: 'malt' | 'kettle-sugar';
  /** Laboratory extract, fine grind [kg/kg dry], 0.3 to 1, and moisture [kg/kg], 0 to 0.15. */
  readonly extractDry: number;
  readonly moisture: number;
  /** Share of the grist by weight [-]; the shares of all lots add up to one. */
  readonly share: number;
  /** Smallest step it is tipped in [kg]: a bag, half a bag, or what the scale weighs. */
  readonly stepKg: number;
}

/** What the tank shall hold. Extract by weight; give it by volume only through the other type. */
export interface BeerTarget {
  readonly tankL: number;
  readonly extract:
    | { readonly by: 'weight'; readonly plato: Plato }
    | { readonly by: 'volume'; readonly gPer100mL: GramsPer100mL };
}

/** Extract as a document states it: by weight or by volume, never one for the other. */
export type ExtractWanted =
  | { readonly by: 'weight'; readonly plato: number }
  | { readonly by: 'volume'; readonly gPer100mL: number };

/**
 * A target from a document.
 *
 * @param tankL in the tank at 20 °C [L], 1 to 1e6
 * @param extract plato 0 to 40 [°P] or gPer100mL 0 to 45 [g/100 mL]
 * @returns the target, its extract in the type of its kind
 * @source definition
 */
export function beerTarget(tankL: number, extract: ExtractWanted): BeerTarget {
  return {
    tankL,
    extract:
      extract.by === 'weight'
        ? { by: 'weight', plato: plato(extract.plato) }
        : { by: 'volume', gPer100mL: byVolume(extract.gPer100mL) },
  };
}

/**
 * Strength of an extract as stated.
 *
 * @param extract as for {@link beerTarget}
 * @returns [°P]
 * @throws OutOfRange beyond 45 g/100 mL
 * @source density of wort
 * @example platoOfWanted({ by: 'volume', gPer100mL: 12.56 }) // 12.0
 */
export function platoOfWanted(extract: ExtractWanted): number {
  return extract.by === 'weight'
    ? extract.plato
    : platoFromGramsPer100mL(byVolume(extract.gPer100mL));
}

/** What stays behind at each stage, as share of the extract that reaches it [-]. */
export interface ExtractLosses {
  /** Laboratory extract (fine, as weighed) that never reaches the kettle, 0 to 0.6. */
  readonly mashAndLauter: number;
  /** Left in the kettle with trub and hops, 0 to 0.4. */
  readonly kettle: number;
  /** Left in hoses, cooler and with the cold trub, 0 to 0.4. */
  readonly transfer: number;
}

export type ExtractStage = 'laboratory' | 'kettle-full' | 'cast-out' | 'tank';

/** One line of the extract account. */
export interface ExtractLine {
  readonly stage: ExtractStage;
  /** Extract that arrives [kg] and what was lost on the way from the line before [kg]. */
  readonly extractKg: number;
  readonly lostKg: number;
}

/** A grist and what it leads to. */
export interface GristResult {
  readonly lots: readonly {
    readonly name: string;
    readonly kg: number;
    readonly extractKg: number;
  }[];
  readonly gristKg: number;
  readonly account: readonly ExtractLine[];
  readonly plato: Plato;
  readonly gPer100mL: GramsPer100mL;
  readonly tankL: number;
}

function checkLosses(losses: ExtractLosses): ExtractLosses {
  inRange('loss in mash and lauter tun', losses.mashAndLauter, 0, 0.6, '');
  inRange('loss in the kettle', losses.kettle, 0, 0.4, '');
  inRange('loss in the transfer', losses.transfer, 0, 0.4, '');
  return losses;
}

/** Laboratory extract of a kilogram of the lot as it is tipped [kg]. */
const yieldOf = (lot: GristLot): number =>
  extractAsIs(inRange(`extract of ${lot.name}`, lot.extractDry, 0.3, 1, 'kg/kg dry'), lot.moisture);

/** Share of that which reaches the kettle. */
const kept = (lot: GristLot, losses: ExtractLosses): number =>
  lot.kind === 'malt' ? 1 - losses.mashAndLauter : 1;

/**
 * The beer a grist leads to.
 *
 * @param lots the lots
 * @param kg kilograms of each, in the same order, 0 to 1e5
 * @param tankL volume in the tank at 20 °C [L], 1 to 1e6
 * @param losses as shares of the extract that reaches each stage
 * @returns kilograms, the extract account from laboratory to tank, and the strength there by weight
 *   and by volume
 * @throws OutOfRange outside the ranges, or when the strength cannot be
 * @source mass balance: sum of m E (1 - M) times what each stage keeps; Lieberman, MBAA TQ 13(1):44,
 *   1976 (abstract): account losses as extract, not as volume
 */
export function beerFromGrist(
  lots: readonly GristLot[],
  kg: readonly number[],
  tankL: number,
  losses: ExtractLosses,
): GristResult {
  checkLosses(losses);
  const volume = inRange('volume in the tank', tankL, 1, 1e6, 'L');
  inRange('number of weights', kg.length, lots.length, lots.length, '');
  const weighed = lots.map((lot, i) => {
    const mass = inRange(`weight of ${lot.name}`, kg[i] ?? Number.NaN, 0, 1e5, 'kg');
    return { name: lot.name, kg: mass, extractKg: mass * yieldOf(lot) };
  });
  const laboratory = weighed.reduce((sum, lot) => sum + lot.extractKg, 0);
  const kettle = weighed.reduce(
    (sum, lot, i) => sum + lot.extractKg * kept(lots[i] as GristLot, losses),
    0,
  );
  const castOut = kettle * (1 - losses.kettle);
  const tank = castOut * (1 - losses.transfer);
  const line = (stage: ExtractStage, extractKg: number, before: number): ExtractLine => ({
    stage,
    extractKg,
    lostKg: before - extractKg,
  });
  const strength = byVolume((100 * tank) / volume);
  return {
    lots: weighed,
    gristKg: weighed.reduce((sum, lot) => sum + lot.kg, 0),
    account: [
      line('laboratory', laboratory, laboratory),
      line('kettle-full', kettle, laboratory),
      line('cast-out', castOut, kettle),
      line('tank', tank, castOut),
    ],
    plato: platoFromGramsPer100mL(strength),
    gPer100mL: strength,
    tankL: volume,
  };
}

/**
 * Kilograms of each lot for the beer wanted.
 *
 * @param target tankL at 20 °C [L], 1 to 1e6; extract by weight [°P] or by volume [g/100 mL], never
 *   one for the other
 * @param lots shares adding up to one within 0.001
 * @param losses as shares of the extract that reaches each stage
 * @returns the grist, not rounded
 * @throws OutOfRange outside the ranges
 * @source inverse of {@link beerFromGrist}
 */
export function gristForBeer(
  target: BeerTarget,
  lots: readonly GristLot[],
  losses: ExtractLosses,
): GristResult {
  checkLosses(losses);
  const volume = inRange('volume in the tank', target.tankL, 1, 1e6, 'L');
  const shares = lots.reduce(
    (sum, lot) => sum + inRange(`share of ${lot.name}`, lot.share, 0, 1, ''),
    0,
  );
  inRange('shares of all lots', shares, 0.999, 1.001, '');
  const strength =
    target.extract.by === 'weight' ? gramsPer100mL(target.extract.plato) : target.extract.gPer100mL;
  const tank = (inRange('extract wanted', strength, 0.1, 45, 'g/100 mL') * volume) / 100;
  const perKg = lots.reduce((sum, lot) => sum + lot.share * yieldOf(lot) * kept(lot, losses), 0);
  const gristKg = tank / ((1 - losses.kettle) * (1 - losses.transfer)) / perKg;
  return beerFromGrist(
    lots,
    lots.map((lot) => gristKg * lot.share),
    volume,
    losses,
  );
}

/** A grist in whole bags beside the one wanted. */
export interface WholeBags {
  readonly grist: GristResult;
  /** Strength against the target at the same volume [°P]. */
  readonly platoChange: number;
  /** Volume in the tank at the strength wanted [L]. */
  readonly tankLAtTarget: number;
}

/**
 * The grist in the steps it is tipped in. The largest lots are rounded first and each later one takes
 * up what the roundings before it left, so that the strength hardly moves.
 *
 * @param wanted the grist from {@link gristForBeer}
 * @param lots the same lots, stepKg 0.001 to 1000 [kg]
 * @param losses the same losses
 * @returns rounded grist, its strength at the same volume, and the volume at the same strength
 * @throws OutOfRange outside the ranges
 * @source mass balance
 */
export function inWholeBags(
  wanted: GristResult,
  lots: readonly GristLot[],
  losses: ExtractLosses,
): WholeBags {
  const kg = wanted.lots.map((lot) => lot.kg);
  const worth = lots.map((lot) => yieldOf(lot) * kept(lot, losses));
  const order = lots
    .map((_, i) => i)
    .sort((a, b) => (lots[b]?.stepKg ?? 0) - (lots[a]?.stepKg ?? 0));
  let owedKg = 0;
  for (const i of order) {
    const step = inRange(
      `step of ${lots[i]?.name ?? ''}`,
      lots[i]?.stepKg ?? Number.NaN,
      1e-3,
      1000,
      'kg',
    );
    const before = kg[i] ?? 0;
    // Small lots give the beer its character: they take up no more than half a step of the rest.
    const asked = before + Math.max(-step / 2, Math.min(step / 2, owedKg / (worth[i] ?? 1)));
    const rounded = before === 0 ? 0 : Math.max(step, Math.round(asked / step) * step);
    owedKg += (before - rounded) * (worth[i] ?? 1);
    kg[i] = rounded;
  }
  const grist = beerFromGrist(lots, kg, wanted.tankL, losses);
  const tank = grist.account.at(-1)?.extractKg ?? 0;
  return {
    grist,
    platoChange: grist.plato - wanted.plato,
    tankLAtTarget: (100 * tank) / wanted.gPer100mL,
  };
}
