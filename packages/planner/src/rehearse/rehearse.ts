/** One hidden kit, the day played by the tool's own advice, beside what the textbook would have done. */
import type { Move } from '@ladlework/brewhouse';
import type { PlanDocument } from '../document.ts';
import type { Repair } from '../live.ts';
import { forecastLanding } from '../live-landing.ts';
import { afterLitres, portionsOf } from '../live-portions.ts';
import type { PullGroup } from '../live-returns.ts';
import { type DaySession, openDay } from '../live-session.ts';
import { vesselIn, withoutStop } from '../live-step.ts';
import type { Band } from '../plan.ts';
import type { Fault, FaultName } from './faults.ts';
import { type HiddenKit, rehearsalOf, standTo, truthOf } from './hidden-kit.ts';
import { playDay } from './play.ts';
import { textbookOn } from './textbook-pull.ts';

/** Particles of the running day that advises; as many as hold its bands. */
const DRAWS = 200;

export interface RehearseOptions {
  /** Which hidden kit and when the faults come, 0-2147483647. */
  readonly seed: number;
  readonly faults?: readonly FaultName[];
  /** Particles behind the advice, 50-1000; default 200. */
  readonly draws?: number;
  /** `off`: heat and mass only. */
  readonly mash?: 'off';
}

/** One return of the rehearsal. Temperatures are the true ones. */
export interface RehearsedReturn {
  readonly pull: number;
  readonly targetC: number;
  /** When the last portion was in. */
  readonly returnedC: number;
  /** When what was done about a miss was done too. */
  readonly landedC: number;
  /** Where the plain textbook pull would have landed on this kit, begun at the same minute. */
  readonly textbookC: number;
  /** Minute the return was over. */
  readonly atMin: number;
  readonly mends: readonly Repair[];
  /** What was forecast for the planned need just before, and where that truly landed; for one load. */
  readonly forecast?: { readonly bandC: Band; readonly trulyC: number };
}

/** How each fault was met. */
export interface RehearsedFault {
  readonly fault: Fault;
  readonly met: boolean;
  readonly atMin?: number;
  /** What could be seen, what was done, or why it did not come. */
  readonly text: string;
  readonly how?: string;
}

/** A rehearsed day. */
export interface Rehearsal {
  readonly seed: number;
  readonly returns: readonly RehearsedReturn[];
  readonly faults: readonly RehearsedFault[];
  /** End of the mash [min after day start]. */
  readonly finishMin: number;
  /** Readings the running day was given. */
  readonly readings: number;
  /** What the hidden kit was, against the likely one as it stood at the end. */
  readonly truth: HiddenTruth;
}

/** The hidden kit against the likely one: factors, 1 as likely; K where the name says so. */
export interface HiddenTruth {
  readonly loss: number;
  readonly burner: number;
  readonly transfer: number;
  readonly dip: number;
  readonly hands: number;
  readonly thickness: number;
  readonly thermometerK: number;
}

/**
 * Plays a brew day on one hidden kit by the tool's own advice.
 * @param document kit, beer, mash, day
 * @param moves the plan's moves in order
 * @param options seed, faults
 * @returns landings beside the textbook's, faults and how they were met
 * @throws UnknownName when the document names what its kit does not have, MashRangeError when a
 *   malt certificate cannot be
 */
export function rehearse(
  document: PlanDocument,
  moves: readonly Move[],
  options: RehearseOptions,
): Rehearsal {
  const faults = options.faults ?? [];
  const mash = options.mash === 'off' ? { mash: 'off' as const } : {};
  const kit = rehearsalOf(document, moves, { seed: options.seed, faults, ...mash });
  // The band around the mash is not asked for here: the likely day alone runs the kinetics.
  const tool: DaySession = {
    ...openDay(document, moves, { draws: options.draws ?? DRAWS, seed: 1, ...mash }),
    doubted: [],
  };
  const textbook = new Map<number, number>();
  const forecasts = new Map<number, RehearsedReturn['forecast']>();
  const day = playDay(kit, tool, {
    watch: (at, group, now, running, nowMin) => {
      if (at === 'pull') {
        if (!textbook.has(group.pull)) textbook.set(group.pull, textbookOn(now, group, nowMin));
        return;
      }
      const forecast = running && forecastLanding(running, nowMin);
      const single = group.landing.size === 1 && loadsOf(now, group) === 1;
      if (!forecast || !single) return;
      forecasts.set(group.pull, { bandC: forecast.now, trulyC: unreadOn(now, group, nowMin) });
    },
  });
  const returns = day.returns.map((r): RehearsedReturn => {
    const forecast = forecasts.get(r.pull);
    const textbookC = textbook.get(r.pull);
    if (textbookC === undefined) throw new Error(`return ${r.pull} came before its pull`);
    return { ...r, textbookC, ...(forecast === undefined ? {} : { forecast }) };
  });
  const met = day.kit.strikes.map(({ fault, fromMin }): RehearsedFault => {
    const seen = day.met.find((m) => m.happening.fault === fault);
    if (seen)
      return {
        fault,
        met: true,
        atMin: seen.happening.atMin,
        text: seen.happening.text,
        how: seen.how,
      };
    if (fromMin === undefined)
      return { fault, met: false, text: fault.cannot ?? 'it never came to it' };
    return { fault, met: true, atMin: fromMin, text: 'nobody saw it' };
  });
  const readings = day.entries.filter((e) => e.kind === 'reading').length;
  const { loss, burner, transfer, dip, hands, thickness, thermometerK } = truthOf(day.kit).draw;
  return {
    seed: options.seed,
    returns,
    faults: met,
    finishMin: day.finishMin,
    readings,
    truth: { loss, burner, transfer, dip, hands, thickness, thermometerK },
  };
}

function loadsOf(kit: HiddenKit, group: PullGroup): number {
  const own = kit.session.moves.slice(group.first, group.last + 1);
  return own.filter((m) => m.kind === 'pull' || m.kind === 'pour').length;
}

/** Where the planned need truly lands when it goes back now, unread. */
function unreadOn(kit: HiddenKit, group: PullGroup, nowMin: number): number {
  const now = standTo(kit, nowMin);
  const { stepper } = now.session;
  const particle = truthOf(now);
  const all = { ...withoutStop(group.final), hands: [], earliestMin: nowMin };
  const transfer = stepper.simulate(particle, [all]).moves[0]?.transfer;
  const beforeC = vesselIn(particle, group.final.to).tempC;
  const { portionL } = stepper.routeOf(group.final);
  return afterLitres(portionsOf(beforeC, transfer ? [transfer] : [], portionL), group.needL);
}
