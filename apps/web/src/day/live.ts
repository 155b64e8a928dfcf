import type { Band, DayForecast, LandingForecast, Repair, ReturnGuide } from '@ladlework/planner';

/** What the engine says about the running day, from its latest readings. */
export interface DayLive {
  readonly vessels: readonly {
    readonly vessel: string;
    readonly tempC: Band;
    readonly volumeL: Band;
  }[];
  readonly landing: LandingForecast | undefined;
  readonly rest: DayForecast;
  readonly guide: ReturnGuide | undefined;
  readonly repairs: readonly Repair[];
}
