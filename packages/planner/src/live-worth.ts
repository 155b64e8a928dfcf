/** Which one reading would narrow the landing most, from how it goes with the landing now. */
import { band } from '@ladlework/numerics';
import type { ReadingWorth } from './live.ts';
import { allTo } from './live-going-on.ts';
import { landingsNow } from './live-landing.ts';
import { type DaySession, errorOf, shownBy } from './live-session.ts';

/** Standard errors of a reading taken with care. @source common practice, no source; as in the log */
const CAREFUL = { tempK: 0.3, volumeShare: 0.03 } as const;

/**
 * What a careful reading of tun or pot would do for the next landing.
 * @param session the day
 * @param nowMin [min after day start]
 * @returns best first; empty when no return is left
 * @source variance explained by one linear predictor with noise: var (1 - r2 v / (v + sd2))
 */
export function readingsWorth(session: DaySession, nowMin: number): ReadingWorth[] {
  const now = allTo(session, nowMin);
  const landing = landingsNow(now);
  if (!landing) return [];
  const { tun, pot, landingC } = landing;
  const width = band(landingC);
  const bandNowK = width.high - width.low;
  const worth = [
    { vessel: tun, what: 'temp' as const },
    { vessel: pot, what: 'temp' as const },
    { vessel: tun, what: 'volume' as const },
    { vessel: pot, what: 'volume' as const },
  ].map(({ vessel, what }) => {
    const shown = shownBy(now, vessel, what);
    const own = what === 'temp' ? CAREFUL.tempK : CAREFUL.volumeShare * meanOf(shown);
    const sd = errorOf(now, vessel, what, own);
    const narrowing = narrowingBy(landingC, shown, sd);
    return {
      vessel,
      what,
      narrowing,
      bandNowK,
      bandAfterK: bandNowK * (1 - narrowing),
      text: textOf(now, vessel, what, narrowing),
    };
  });
  return worth.sort((a, b) => b.narrowing - a.narrowing);
}

/**
 * Share by which a band shrinks when something that goes with it is read.
 * @param values what the band is of, one per particle
 * @param shown what each particle would show
 * @param sd standard error of the reading
 * @returns 0-1; 0 when the ensemble is too small to tell
 */
export function narrowingBy(
  values: readonly number[],
  shown: ArrayLike<number>,
  sd: number,
): number {
  const n = values.length;
  if (n < 3) return 0;
  const meanX = meanOf(shown);
  const meanY = meanOf(values);
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (let i = 0; i < n; i++) {
    const dx = (shown[i] as number) - meanX;
    const dy = (values[i] as number) - meanY;
    xx += dx * dx;
    yy += dy * dy;
    xy += dx * dy;
  }
  if (xx <= 0 || yy <= 0) return 0;
  const variance = xx / (n - 1);
  // What chance alone would give in an ensemble of this size is taken off.
  const r2 = Math.max(0, (xy * xy) / (xx * yy) - 1 / (n - 1));
  return 1 - Math.sqrt(1 - (r2 * variance) / (variance + sd ** 2));
}

function meanOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i] as number;
  return sum / values.length;
}

function textOf(
  now: DaySession,
  vessel: string,
  what: ReadingWorth['what'],
  narrowing: number,
): string {
  const name = now.day.kit.vessels.find((v) => v.id === vessel)?.name ?? vessel;
  const noun = what === 'temp' ? 'temperature' : 'volume';
  return narrowing < 0.05
    ? `${name} ${noun}: hardly narrows the landing`
    : `${name} ${noun}: narrows the landing by ${(100 * narrowing).toFixed(0)} %`;
}
