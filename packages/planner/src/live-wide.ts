/** Why the landing is in doubt: which unknown goes with it most over the ensemble. */
import type { Draw } from '@ladlework/brewhouse';
import { band } from '@ladlework/numerics';
import { allTo } from './live-going-on.ts';
import { landingsNow } from './live-landing.ts';
import { type DaySession, shownBy } from './live-session.ts';

/** One unknown behind the band of the landing. */
export interface WideCause {
  /** In words for the brewer. */
  readonly what: string;
  /** Share of the landing's variance that goes with it, 0-1; shares of several may overlap. */
  readonly share: number;
}

export interface WideLanding {
  /** Low to high of the landing made now [K]. */
  readonly bandK: number;
  /** Greatest first; those that explain next to nothing are left out. */
  readonly causes: readonly WideCause[];
}

/** Draws of the kit a brewer can name; the others go with these. */
const NAMED: readonly (readonly [Exclude<keyof Draw, 'mash'>, string])[] = [
  ['transfer', 'the heat lost on the way'],
  ['dip', 'how true the litres are'],
  ['loss', 'the heat the vessels lose'],
  ['wall', 'the heat in the vessel walls'],
  ['thickness', 'how thick the pull was'],
  ['burner', 'the burner’s kilowatts'],
  ['gristKJKgK', 'the heat in the grist'],
  ['hands', 'how quick the hands are'],
];

/** Less than this explains nothing worth a word. */
const WORTH_SAYING = 0.1;

/**
 * What makes the band of the next landing wide.
 * @param session the day
 * @param nowMin [min after day start]
 * @returns undefined when no return is left
 * @source share of variance: square of the correlation over the ensemble, less what chance alone gives
 */
export function wideLanding(session: DaySession, nowMin: number): WideLanding | undefined {
  const now = allTo(session, nowMin);
  const landing = landingsNow(now);
  if (!landing) return undefined;
  const { tun, pot, landingC } = landing;
  const name = (id: string) => now.day.kit.vessels.find((v) => v.id === id)?.name ?? id;
  const columns: [string, ArrayLike<number>][] = [
    [`the temperature of ${name(tun)}`, shownBy(now, tun, 'temp')],
    [`the temperature of ${name(pot)}`, shownBy(now, pot, 'temp')],
    [`the litres in ${name(pot)}`, shownBy(now, pot, 'volume')],
    ...NAMED.map(([key, what]): [string, number[]] => [
      what,
      now.particles.map((p) => p.draw[key]),
    ]),
  ];
  const ends = band(landingC);
  const causes = columns
    .map(([what, values]) => ({ what, share: explained(landingC, values) }))
    .filter((c) => c.share >= WORTH_SAYING)
    .sort((a, b) => b.share - a.share);
  return { bandK: ends.high - ends.low, causes };
}

/** Share of the variance of `values` that goes with `of`, 0-1. */
function explained(values: readonly number[], of: ArrayLike<number>): number {
  const n = values.length;
  if (n < 3) return 0;
  let meanX = 0;
  let meanY = 0;
  for (let i = 0; i < n; i++) {
    meanX += (of[i] as number) / n;
    meanY += (values[i] as number) / n;
  }
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (let i = 0; i < n; i++) {
    const dx = (of[i] as number) - meanX;
    const dy = (values[i] as number) - meanY;
    xx += dx * dx;
    yy += dy * dy;
    xy += dx * dy;
  }
  if (xx <= 1e-12 || yy <= 1e-12) return 0;
  return Math.max(0, (xy * xy) / (xx * yy) - 1 / (n - 1));
}
