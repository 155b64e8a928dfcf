/** The forecast in one line for the now-card. Pure. */
import type { LandingForecast } from '@ladlework/planner';

export interface ForecastSay {
  temp(c: number): string;
  band(b: LandingForecast['now']): string;
  target(c: number): string;
  volume(litres: number): string;
  portions(count: number): string;
}

export interface ForecastLine {
  /** "return now" or "pull now". */
  readonly lead: string;
  readonly lands: string;
  readonly later: string;
  /** "118 L, 5.4 buckets make 72 °C"; or what is missing. */
  readonly need: string;
  /** Whether what there is is likely to reach the target. */
  readonly reaches: boolean;
}

/** Chance of reaching the target below which the line warns. */
const LIKELY = 0.8;

/**
 * "return now → 70.8 ± 0.7 °C; in 10 min → 70.1", and what makes the target.
 *
 * @param landing forecast of the next return
 * @param say how quantities are written
 */
export function forecastLine(landing: LandingForecast, say: ForecastSay): ForecastLine {
  const all = landing.needL.likely >= landing.haveL - 0.5;
  const reaches = landing.chance >= LIKELY;
  const chance = `${Math.round(100 * landing.chance)} in 100`;
  return {
    lead: landing.stage === 'before' ? 'pull now' : 'return now',
    lands: say.band(all ? landing.withAllNow : landing.now),
    later: say.temp((all ? landing.withAllIn10Min : landing.in10Min).likely),
    need: all
      ? `everything that is there; reaches ${say.target(landing.targetC)} in ${chance}`
      : `${say.volume(landing.needL.likely)}, ${say.portions(landing.needPortions.likely)} make ${say.target(landing.targetC)}${reaches ? '' : `; reached in ${chance}`}`,
    reaches,
  };
}
