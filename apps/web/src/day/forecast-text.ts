/** The forecast of the next landing for the now-card. Pure. */
import type { LandingForecast } from '@ladlework/planner';

export interface ForecastSay {
  temp(c: number): string;
  band(b: LandingForecast['now']): string;
  target(c: number): string;
  volume(litres: number): string;
  portions(count: number): string;
  /** Clock time of a minute of the day. */
  clock(minute: number): string;
}

export interface ForecastLine {
  /** "return 1 lands 08:30 →", when the day goes on as planned. */
  readonly lead: string;
  readonly lands: string;
  readonly wanted: string;
  /** "return now → 70.8 ± 0.7 °C; in 10 min → 70.1 °C"; left out while there is no mash. */
  readonly now: string | undefined;
  /** "118 L, 5.4 buckets make 72 °C"; or that there is not enough. */
  readonly need: string;
  /** Whether the landing to expect is near enough to the target. */
  readonly reaches: boolean;
}

/** A landing this far under the target is not the rest that was wanted [K]. */
const NEAR_K = 1;
/** A chance above this needs no word. */
const SURE = 0.9;
/** Less than this left in the pot counts as all of it [L]. */
const ALL_L = 0.5;

/**
 * @param landing forecast of the next return
 * @param mashedIn whether there is a mash to pull from yet
 * @param say how quantities are written
 */
export function forecastLine(
  landing: LandingForecast,
  mashedIn: boolean,
  say: ForecastSay,
): ForecastLine {
  const { asPlanned, targetC, needL, haveL, stage, chance } = landing;
  const all = needL.likely >= haveL - ALL_L;
  const [now, later] = all
    ? [landing.withAllNow, landing.withAllIn10Min]
    : [landing.now, landing.in10Min];
  const verb = stage === 'before' ? 'pull' : 'return';
  const odds = chance >= SURE ? '' : `; chance ${Math.round(100 * chance)} %`;
  return {
    lead: `return ${landing.pull} lands ${say.clock(landing.returnAtMin.likely)} →`,
    lands: say.band(asPlanned),
    wanted: `wanted ${say.target(targetC)}`,
    now: mashedIn
      ? `${verb} now → ${say.band(now)}; in 10 min → ${say.temp(later.likely)}`
      : undefined,
    need: all
      ? `all ${say.volume(haveL)} would go back${odds}`
      : `${say.volume(needL.likely)}, ${say.portions(landing.needPortions.likely)} make ${say.target(targetC)}${odds}`,
    reaches: asPlanned.likely >= targetC - NEAR_K,
  };
}
