import { inRange } from './errors.ts';
import { MALT } from './malt.ts';
import { WATER_CP } from './mash.ts';

/*
 * The handbook sums in closed form: one mixing at a time, heat capacities constant. The engine
 * simulates instead; these are for a sum on the command line and for checking the engine.
 */

const heat = (field: string, kJK: number): number => inRange(field, kJK, 0, 1e7, 'kJ/K');
const temperature = (field: string, tC: number): number => inRange(field, tC, -30, 130, '°C');

/**
 * Temperature of the liquor that brings the grist to its first rest.
 *
 * @param mash gristKg, waterKg [kg], above 0 to 1e6; gristC, tunC, toC [°C], -30 to 130; tunKJK heat
 *   capacity of the tun [kJ/K]; gristCp, waterCp [kJ/(kg K)]; slakingKJKg [kJ/kg], 0 to 60
 * @returns strike temperature [°C]
 * @throws OutOfRange outside the ranges
 * @source enthalpy balance; slaking heat as in {@link MALT}
 * @example strikeTemperature({ gristKg: 8, gristC: 18, waterKg: 28, tunKJK: 3, tunC: 20, toC: 52,
 *   gristCp: 1.7, slakingKJKg: 20 }) // 55.40
 */
export function strikeTemperature(mash: {
  readonly gristKg: number;
  readonly gristC: number;
  readonly waterKg: number;
  readonly tunKJK: number;
  readonly tunC: number;
  readonly toC: number;
  readonly gristCp?: number;
  readonly waterCp?: number;
  readonly slakingKJKg?: number;
}): number {
  const grist = inRange('grist', mash.gristKg, 0, 1e6, 'kg');
  const water = inRange('mash liquor', mash.waterKg, 1e-6, 1e6, 'kg');
  const gristCp = inRange(
    'heat capacity of grist',
    mash.gristCp ?? MALT.heatCapacityKJKgK.likely,
    1,
    3,
    'kJ/(kg K)',
  );
  const waterCp = inRange('heat capacity of liquor', mash.waterCp ?? WATER_CP, 3, 5, 'kJ/(kg K)');
  const slaking = inRange(
    'slaking heat',
    mash.slakingKJKg ?? MALT.slakingKJKg.likely,
    0,
    60,
    'kJ/kg',
  );
  const to = temperature('wanted temperature', mash.toC);
  const wanted =
    grist * gristCp * (to - temperature('grist temperature', mash.gristC)) +
    heat('heat capacity of the tun', mash.tunKJK) *
      (to - temperature('tun temperature', mash.tunC)) -
    grist * slaking;
  return to + wanted / (water * waterCp);
}

/**
 * Initial heat of the mash as the trade handbook works it out; any one temperature scale.
 *
 * @param mash relativeHeat of the grist against water [-], 0.3 to 0.5; ratio liquor to grist, 1 to 8;
 *   gristT and liquorT, -40 to 260; slakingT the handbook's addition, 0 to 10
 * @returns temperature on the same scale
 * @throws OutOfRange outside the ranges
 * @source The Brewing Room Book 1984/85
 * @example handbookInitialHeat({ relativeHeat: 0.39, ratio: 2.68, gristT: 27, liquorT: 69, slakingT: 2.3 }) // 65.96
 */
export function handbookInitialHeat(mash: {
  readonly relativeHeat: number;
  readonly ratio: number;
  readonly gristT: number;
  readonly liquorT: number;
  readonly slakingT: number;
}): number {
  const s = inRange('relative heat', mash.relativeHeat, 0.3, 0.5, '');
  const m = inRange('liquor to grist', mash.ratio, 1, 8, '');
  const grist = inRange('grist temperature', mash.gristT, -40, 260, 'degrees');
  const liquor = inRange('liquor temperature', mash.liquorT, -40, 260, 'degrees');
  return (
    (s * grist + m * liquor) / (s + m) +
    inRange('slaking addition', mash.slakingT, 0, 10, 'degrees')
  );
}

/**
 * How much of the liquor is to be boiling, the rest cold, in the rule of 1804; any one scale.
 *
 * @param mash gristAsLiquor the volume of liquor the grist weighs for, 0 to 1e7; liquor the whole
 *   volume, above 0 to 1e7 (same unit); coldT (from -40), wantedT, boilT on one scale, rising
 * @returns volume of boiling liquor, in the unit of `liquor`
 * @throws OutOfRange outside the ranges
 * @source Combrune 1804, Theory and Practice of Brewing, section XI
 * @example boilingShare({ gristAsLiquor: 3.42, liquor: 14.5, boilT: 212, coldT: 60, wantedT: 154 }) // 11.08
 */
export function boilingShare(mash: {
  readonly gristAsLiquor: number;
  readonly liquor: number;
  readonly boilT: number;
  readonly coldT: number;
  readonly wantedT: number;
}): number {
  const m = inRange('liquor', mash.liquor, 1e-9, 1e7, '');
  const n = inRange('grist as liquor', mash.gristAsLiquor, 0, 1e7, '');
  const cold = inRange('cold temperature', mash.coldT, -40, mash.boilT - 1e-9, 'degrees');
  const wanted = inRange('wanted temperature', mash.wantedT, cold, mash.boilT, 'degrees');
  return ((m + n) * (wanted - cold)) / (mash.boilT - cold);
}

/**
 * Hot liquor that warms a mash to the next rest.
 *
 * @param step mashKJK, tunKJK [kJ/K], 0 to 1e7; fromC, toC, liquorC [°C], -30 to 130, the liquor at
 *   least 0.1 K above the target
 * @returns liquor [kg]
 * @throws OutOfRange outside the ranges
 * @source enthalpy balance
 */
export function infusionMass(step: {
  readonly mashKJK: number;
  readonly tunKJK: number;
  readonly fromC: number;
  readonly toC: number;
  readonly liquorC: number;
  readonly waterCp?: number;
}): number {
  const to = temperature('wanted temperature', step.toC);
  const from = inRange('mash temperature', step.fromC, -30, to, '°C');
  const liquor = inRange('liquor temperature', step.liquorC, to + 0.1, 130, '°C');
  const body =
    heat('heat capacity of the mash', step.mashKJK) + heat('heat capacity of the tun', step.tunKJK);
  return (body * (to - from)) / ((step.waterCp ?? WATER_CP) * (liquor - to));
}

/**
 * Temperature of two parts of mash run together in a tun that stands at the heat of the first.
 *
 * @param parts mainKJK, pullKJK, tunKJK [kJ/K], 0 to 1e7; mainC, pullC [°C], -30 to 130
 * @returns temperature [°C]
 * @throws OutOfRange outside the ranges, or when there is nothing to mix
 * @source enthalpy balance
 * @example mixTemperature({ mainKJK: 100, mainC: 52, pullKJK: 50, pullC: 90, tunKJK: 3 }) // 64.42
 */
export function mixTemperature(parts: {
  readonly mainKJK: number;
  readonly mainC: number;
  readonly pullKJK: number;
  readonly pullC: number;
  readonly tunKJK: number;
}): number {
  const main =
    heat('heat capacity of the rest', parts.mainKJK) +
    heat('heat capacity of the tun', parts.tunKJK);
  const pull = heat('heat capacity of the pull', parts.pullKJK);
  const total = inRange('heat capacity of the whole', main + pull, 1e-9, 3e7, 'kJ/K');
  const warm = main * temperature('temperature of the rest', parts.mainC);
  return (warm + pull * temperature('temperature of the pull', parts.pullC)) / total;
}

/** A pull of the mash's own composition, boiled and returned. */
export interface SimplePull {
  /** Heat capacity of the whole mash before the pull [kJ/K]. */
  readonly mashKJK: number;
  readonly tunKJK: number;
  /** Temperature of the rest when the boiled part comes back [°C]. */
  readonly fromC: number;
  /** Temperature of the boiled part as it lands [°C]. */
  readonly arriveC: number;
  /** Water boiled off [kg]. */
  readonly boiledOffKg?: number;
  readonly waterCp?: number;
}

/**
 * Share of the mash to pull so that its return lands on the next rest.
 *
 * @param pull mashKJK, tunKJK [kJ/K]; fromC, arriveC [°C]; boiledOffKg [kg], 0 to 1e5; toC the rest
 *   wanted [°C], between the rest and the arrival
 * @returns fraction of the heat capacity (nearly of the volume) of the whole mash; above 1 when this
 *   cannot be done
 * @throws OutOfRange outside the ranges
 * @source enthalpy balance; reduces to the handbook cross without tun, boil-off and cooling
 * @example pullFraction({ mashKJK: 130.836, tunKJK: 3, fromC: 49, arriveC: 88, boiledOffKg: 0.6, toC: 65 }) // 0.431
 */
export function pullFraction(pull: SimplePull & { readonly toC: number }): number {
  const c = inRange('heat capacity of the mash', pull.mashKJK, 1e-9, 1e7, 'kJ/K');
  const tun = heat('heat capacity of the tun', pull.tunKJK);
  const arrive = temperature('temperature on arrival', pull.arriveC);
  const from = inRange('temperature of the rest', pull.fromC, -30, arrive - 1e-6, '°C');
  const to = inRange('wanted temperature', pull.toC, from, arrive, '°C');
  const lost =
    inRange('water boiled off', pull.boiledOffKg ?? 0, 0, 1e5, 'kg') * (pull.waterCp ?? WATER_CP);
  return ((c + tun) * (to - from) + lost * (arrive - to)) / (c * (arrive - from));
}

/**
 * Where a pull of known size lands.
 *
 * @param pull as for {@link pullFraction}, with fraction [-], 0 to 1, in place of the wanted rest
 * @returns temperature of the reunited mash [°C]
 * @throws OutOfRange outside the ranges
 * @source enthalpy balance, the inverse of {@link pullFraction}
 */
export function pullLanding(pull: SimplePull & { readonly fraction: number }): number {
  const c = inRange('heat capacity of the mash', pull.mashKJK, 1e-9, 1e7, 'kJ/K');
  const tun = heat('heat capacity of the tun', pull.tunKJK);
  const f = inRange('fraction pulled', pull.fraction, 0, 1, '');
  const lost =
    inRange(
      'water boiled off',
      pull.boiledOffKg ?? 0,
      0,
      (f * c) / (pull.waterCp ?? WATER_CP),
      'kg',
    ) * (pull.waterCp ?? WATER_CP);
  const rest = ((1 - f) * c + tun) * temperature('temperature of the rest', pull.fromC);
  const back = (f * c - lost) * temperature('temperature on arrival', pull.arriveC);
  return (rest + back) / (c + tun - lost);
}

/**
 * The handbook's mixing cross: the pull without losses, tun or boil-off. Far too small on small kit.
 *
 * @param fromC rest [°C]; toC next rest [°C]; boilC the boil [°C]; from < to < boil, -30 to 130
 * @returns fraction of the mash by volume
 * @throws OutOfRange when the three are out of order
 * @source the school formula, Metzger 1996
 * @example mixingCross(52, 65, 100) // 0.2708
 */
export function mixingCross(fromC: number, toC: number, boilC: number): number {
  const boil = temperature('temperature of the boil', boilC);
  const from = inRange('temperature of the rest', fromC, -30, boil - 1e-6, '°C');
  return (inRange('wanted temperature', toC, from, boil, '°C') - from) / (boil - from);
}
