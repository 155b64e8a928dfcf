/** Bitterness of every addition, in the boil and in the hot stand after it, and how to mend it. */
import {
  bitterness,
  hopUtilisation,
  ISOMERISATION_FROM_C,
  inRange,
  isoAlphaAfter,
  isomerisationRate,
} from '@ladlework/matter';
import { findRoot } from '@ladlework/numerics';

/** One weighing of hops. */
export interface HopAddition {
  readonly name: string;
  readonly grams: number;
  /** Alpha acids today [%]: aged from the analysis with matter's `alphaToday`. */
  readonly alphaPct: number;
  /** Minutes before the end of the boil, or 'stand' for hops given when the heat is off. */
  readonly boilMin: number | 'stand';
}

/** A stretch at one temperature. */
export interface HotStay {
  readonly tC: number;
  readonly minutes: number;
}

/** What the bitterness depends on beside the hops. */
export interface HopWort {
  /** Mean gravity of the boil [SG]. */
  readonly sg: number;
  /** Temperature of the boil [°C], 85 to 105. */
  readonly boilC: number;
  /** From the end of the boil until the wort is cold. */
  readonly stand: readonly HotStay[];
  /** Wort at the end of the boil, cold [L]: what stays behind with the trub keeps its share. */
  readonly coldL: number;
  /** The kit's own factor on each, from bitterness measured; 1 until it has one. */
  readonly factor?: { readonly kettle: number; readonly stand: number };
}

/** What one addition gives. */
export interface HopShare {
  readonly name: string;
  readonly ibu: number;
  readonly utilisation: number;
  /** The other way of reckoning it: the kinetics for the kettle, the slowed formula for the stand. */
  readonly otherIbu: number;
  readonly alphaMg: number;
  readonly isoMg: number;
}

/** Bitterness of a boil. */
export interface HopResult {
  readonly additions: readonly HopShare[];
  readonly ibu: number;
  readonly otherIbu: number;
}

/**
 * Share of the iso-alpha acids made that is still there in the beer: what makes the kinetics agree with
 * the formula at 60 min and 1.050, where the formula was fitted.
 */
const RECOVERED =
  hopUtilisation({ sg: 1.05, minutes: 60 }) / isoAlphaAfter({ minutes: 60, tC: 100 }).iso;

/** Minutes at 100 °C that isomerise as much as the stays do; under 80 °C nothing is counted. */
function boilMinutes(stays: readonly HotStay[]): number {
  let sum = 0;
  for (const { tC, minutes } of stays) {
    if (tC >= ISOMERISATION_FROM_C)
      sum += (minutes * isomerisationRate(tC)) / isomerisationRate(100);
  }
  return sum;
}

/** Share of the alpha acids that stands as iso-alpha after the stays. */
function isoShare(stays: readonly HotStay[]): number {
  let state = { alpha: 1, iso: 0 };
  for (const { tC, minutes } of stays) {
    if (tC >= ISOMERISATION_FROM_C) state = isoAlphaAfter({ minutes, tC, ...state });
  }
  return state.iso;
}

/**
 * Bitterness of all additions. Kettle hops by the empirical formula, its clock slowed where the wort
 * is below 100 °C (altitude, stand); hops of the hot stand by the kinetics, times what is recovered.
 *
 * @param hops grams 0 to 1e6; alphaPct 0 to 30; boilMin 0 to 300
 * @param wort sg 1 to 1.13; boilC 85 to 105; stand; coldL 0.1 to 1e6; factors 0.2 to 3
 * @returns each addition and the sum [mg/L]
 * @throws OutOfRange outside the ranges
 * @source Tinseth's formula (common practice); Malowicki & Shellhammer 2005; recovery derived from both
 *   at 60 min and 1.050; kit factors from measured bitterness
 */
export function hopResult(hops: readonly HopAddition[], wort: HopWort): HopResult {
  const boilC = inRange('boiling temperature', wort.boilC, 85, 105, '°C');
  const kettleFactor = inRange('hop factor of the kettle', wort.factor?.kettle ?? 1, 0.2, 3, '');
  const standFactor = inRange('hop factor of the stand', wort.factor?.stand ?? 1, 0.2, 3, '');
  const additions = hops.map((hop): HopShare => {
    const inBoil =
      hop.boilMin === 'stand' ? 0 : inRange(`minutes of ${hop.name}`, hop.boilMin, 0, 300, 'min');
    const stays = [{ tC: boilC, minutes: inBoil }, ...wort.stand];
    const minutes = boilMinutes(stays);
    const formula = hopUtilisation({ sg: wort.sg, minutes: Math.min(600, minutes) });
    const kinetics = RECOVERED * isoShare(stays);
    const stand = hop.boilMin === 'stand';
    const utilisation = stand ? kinetics * standFactor : formula * kettleFactor;
    const other = stand ? formula * standFactor : kinetics * kettleFactor;
    const amount = { grams: hop.grams, alphaPct: hop.alphaPct, volumeL: wort.coldL };
    const ibu = bitterness({ ...amount, utilisation: Math.min(1, utilisation) });
    return {
      name: hop.name,
      ibu,
      utilisation,
      otherIbu: bitterness({ ...amount, utilisation: Math.min(1, other) }),
      alphaMg: hop.grams * hop.alphaPct * 10,
      isoMg: ibu * wort.coldL,
    };
  });
  return {
    additions,
    ibu: additions.reduce((sum, hop) => sum + hop.ibu, 0),
    otherIbu: additions.reduce((sum, hop) => sum + hop.otherIbu, 0),
  };
}

/**
 * Additions as a boil of so many minutes can have them: none boils longer than the boil.
 *
 * @param hops the additions
 * @param minutes length of the boil [min], 0 to 300
 * @returns the additions, those planned for earlier given at the start
 * @throws OutOfRange outside the range
 * @source none: a hop cannot go in before the boil that it is timed from
 */
export function hopsInTime(hops: readonly HopAddition[], minutes: number): readonly HopAddition[] {
  const most = inRange('time of the boil', minutes, 0, 300, 'min');
  return hops.map((hop) =>
    hop.boilMin !== 'stand' && hop.boilMin > most ? { ...hop, boilMin: most } : hop,
  );
}

/** Hops mended for a bitterness. */
export interface MendedHops {
  readonly hops: readonly HopAddition[];
  readonly ibu: number;
  /** What changed, in one sentence; undefined when nothing had to. */
  readonly change?: string;
}

/**
 * Re-times the bittering hops for the bitterness wanted: the addition that gives most moves earlier or
 * later; where no time in this boil will do, its weight changes.
 *
 * @param hops the additions as planned
 * @param wantedIbu bitterness [mg/L], 0 to 150
 * @param wort as for {@link hopResult}
 * @param latestMin earliest moment still open, in minutes before the end [min], 0 to 300
 * @returns the additions, and what was changed
 * @throws OutOfRange outside the ranges
 * @source root of {@link hopResult} over the time, then over the weight
 */
export function retimeHops(
  hops: readonly HopAddition[],
  wantedIbu: number,
  wort: HopWort,
  latestMin: number,
): MendedHops {
  const wanted = inRange('bitterness wanted', wantedIbu, 0, 150, 'mg/L');
  const most = inRange('time left in the boil', latestMin, 0, 300, 'min');
  const { ibu, additions } = hopResult(hops, wort);
  const open = hops
    .map((hop, i) => ({ hop, i, ibu: additions[i]?.ibu ?? 0 }))
    .filter(({ hop }) => hop.boilMin !== 'stand' && hop.boilMin <= most && hop.grams > 0)
    .sort((a, b) => b.ibu - a.ibu)[0];
  if (open === undefined || Math.abs(ibu - wanted) < 0.05) return { hops, ibu };
  const withHop = (change: Partial<HopAddition>) =>
    hops.map((hop, i) => (i === open.i ? { ...hop, ...change } : hop));
  const at = (change: Partial<HopAddition>) => hopResult(withHop(change), wort).ibu;
  const root = findRoot((minutes) => at({ boilMin: minutes }) - wanted, 0, most);
  if (root.ok) {
    const minutes = Math.round(root.x);
    const mended = { boilMin: minutes };
    // Whole minutes are what a brewer can do; what they leave is small beside any doubt of the formula.
    return {
      hops: withHop(mended),
      ibu: at(mended),
      change: `${open.hop.name}: ${minutes} min before the end instead of ${String(open.hop.boilMin)}.`,
    };
  }
  const boilMin = at({ boilMin: most }) < wanted ? most : 0;
  const rest = hopResult(withHop({ grams: 0 }), wort).ibu;
  const full = at({ boilMin });
  if (full <= rest) return { hops, ibu };
  const grams = Math.max(0, (open.hop.grams * (wanted - rest)) / (full - rest));
  const mended = { boilMin, grams };
  return {
    hops: withHop(mended),
    ibu: at(mended),
    change: `${open.hop.name}: ${grams.toFixed(0)} g, ${boilMin} min before the end, instead of ${open.hop.grams.toFixed(0)} g.`,
  };
}
