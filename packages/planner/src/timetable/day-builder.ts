/** Collects the activities, lags and holds of one brew. */
import type { Draw } from '@ladlework/brewhouse';
import type { Band } from '../plan.ts';
import type { Activity, HandNeed, Hold, Lag, NeedKind, Standing } from './problem.ts';
import { bandOf, type Doubt } from './work.ts';

/** An activity with where its minutes come from. */
export interface DayActivity extends Activity {
  /** Brew of the day, from 1; 0 for what belongs to none. */
  readonly brew: number;
  /** Move of the plan it is, when it is one. */
  readonly moveId?: string;
  /** Minutes on one draw of the kit; left out: from the band. */
  readonly minutesOf?: (draw: Draw) => number;
}

type Parts = Omit<Partial<DayActivity>, 'id' | 'name' | 'minutes' | 'brew'>;

/** Burner power is known to about this until a water test is done. @source ensemble.ts, ln 0.18 at 90 % */
const HEAT_FACTOR = 1.26;

export class DayBuilder {
  readonly activities: DayActivity[] = [];
  readonly lags: Lag[] = [];
  readonly holds: Hold[] = [];
  readonly standings: Standing[] = [];
  readonly notes: string[] = [];
  readonly names: Record<string, string> = {};
  readonly brew: number;
  private readonly prefix: string;
  /** Behind every name, so that two brews of a day are told apart wherever it is read. */
  private readonly suffix: string;
  private readonly letters: readonly string[];

  /**
   * @param brew its number, from 1
   * @param several more than one brew today, so that ids carry the number
   * @param letters hands at work
   */
  constructor(brew: number, several: boolean, letters: readonly string[]) {
    this.brew = brew;
    this.prefix = several ? `${brew}.` : '';
    this.suffix = several ? `, brew ${brew}` : '';
    this.letters = letters;
  }

  /** Id or content name of this brew. */
  own(id: string): string {
    return `${this.prefix}${id}`;
  }

  add(id: string, name: string, minutes: Band, parts: Parts = {}): string {
    const full = this.own(id);
    this.activities.push({
      id: full,
      name: `${name}${this.suffix}`,
      minutes,
      brew: this.brew,
      vessels: [],
      tools: [],
      hands: [],
      ...parts,
    });
    return full;
  }

  /** Work of hands whose minutes nobody simulates. */
  work(
    id: string,
    name: string,
    likelyMin: number,
    parts: Parts = {},
    doubt: Doubt = 'hands',
  ): string {
    return this.add(id, name, bandOf(likelyMin, doubt), parts);
  }

  /** Something the simulation times. */
  timed(id: string, name: string, likelyMin: number, minutesOf: (d: Draw) => number, parts: Parts) {
    const minutes = {
      low: likelyMin / HEAT_FACTOR,
      likely: likelyMin,
      high: likelyMin * HEAT_FACTOR,
    };
    return this.add(id, name, minutes, { ...parts, minutesOf });
  }

  /** Hands for it, the ones named asked first. */
  hands(kind: NeedKind, count: number, named: readonly string[] = []): HandNeed[] {
    const first = named.filter((id) => this.letters.includes(id));
    const anyOf = [...first, ...this.letters.filter((id) => !first.includes(id))];
    return count > 0 ? [{ kind, anyOf, count: Math.min(count, anyOf.length) }] : [];
  }

  /** `next` starts after `before` has ended, at most `mostMin` later. */
  follow(before: string, next: string, mostMin?: number, why?: string): void {
    this.lag(before, 'end', next, 'start', 0, mostMin, why);
  }

  lag(
    from: string,
    fromEdge: 'start' | 'end',
    to: string,
    toEdge: 'start' | 'end',
    leastMin?: number,
    mostMin?: number,
    why?: string,
  ): void {
    this.lags.push({
      from: { activity: from, edge: fromEdge },
      to: { activity: to, edge: toEdge },
      ...(leastMin === undefined ? {} : { leastMin }),
      ...(mostMin === undefined ? {} : { mostMin }),
      ...(why === undefined ? {} : { why }),
    });
  }

  hold(vessel: string, content: string, from: string, to: string): void {
    this.holds.push({ vessel, content, from, to });
  }

  /** Hot liquor stands from the end of one to the start of the other, at the cost of this heat. */
  stands(after: string, until: string, heatWh: readonly number[]): void {
    this.standings.push({
      from: { activity: after, edge: 'end' },
      to: { activity: until, edge: 'start' },
      heatWh,
    });
  }

  find(full: string): DayActivity | undefined {
    return this.activities.find((a) => a.id === full);
  }

  /** Gives what the simulation times other minutes. */
  retime(full: string, likelyMin: number, minutesOf: (d: Draw) => number): void {
    this.change(full, {
      minutes: { low: likelyMin / HEAT_FACTOR, likely: likelyMin, high: likelyMin * HEAT_FACTOR },
      minutesOf,
    });
  }

  /** Changes or takes out lags that are there. */
  relag(of: (lag: Lag) => Lag | undefined): void {
    const kept = this.lags.flatMap((lag) => of(lag) ?? []);
    this.lags.splice(0, this.lags.length, ...kept);
  }

  /** Changes holds that are there. */
  rehold(of: (hold: Hold) => Hold): void {
    this.holds.splice(0, this.holds.length, ...this.holds.map(of));
  }

  /** Changes an activity that is there. */
  change(full: string, parts: Partial<DayActivity>): void {
    const k = this.activities.findIndex((a) => a.id === full);
    if (k >= 0) this.activities[k] = { ...(this.activities[k] as DayActivity), ...parts };
  }
}
