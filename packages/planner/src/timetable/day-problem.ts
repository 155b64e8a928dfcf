/** The whole day, one brew or several, as one scheduling problem. */
import { type BrewDay, brewDay } from '../day.ts';
import type { Break, DayEvent, PlanDocument } from '../document.ts';
import type { TimedMash } from '../plan.ts';
import { workOfPlan } from '../wort/work-of-plan.ts';
import { type DayActivity, DayBuilder } from './day-builder.ts';
import { StandTables } from './liquor-stand.ts';
import type { BrewChoice } from './liquor-ways.ts';
import { addMash, type MashPart } from './mash-part.ts';
import type { Activity, HandNeed, Hold, Lag, Standing, TimetableProblem } from './problem.ts';
import { TYPICAL_WORK, type Work } from './work.ts';
import { addWort, type WortPart } from './wort-part.ts';

/** A rest may grow by this without being asked [min]; our judgement, see `restStretch`. */
const DEFAULT_REST_STRETCH_MIN = 15;

/** What is asked beside the plans. */
export interface DayAsk {
  /** Rates of the work after the mash, one for all brews or one each; left out: the typical day. */
  readonly work?: Partial<Work> | readonly Partial<Work>[];
  readonly events?: readonly DayEvent[];
  readonly breaks?: readonly Break[];
  /** The day must end by then [min after day start]. */
  readonly mustFinishByMin?: number;
  /** How much longer rests may last [min], for all or rest by rest of every brew. */
  readonly restStretchMin?: number | readonly number[];
}

export interface BrewInDay {
  readonly day: BrewDay;
  readonly mash: MashPart;
  readonly wort: WortPart;
  readonly work: Work;
}

export interface DayProblem {
  readonly problem: TimetableProblem;
  readonly activities: readonly DayActivity[];
  readonly brews: readonly BrewInDay[];
  readonly notes: readonly string[];
}

/**
 * What the documents themselves ask of the day: the work of each brew, and events, breaks and
 * limits of all of them together.
 * @param documents in the order they are begun
 */
export function askOf(
  documents: readonly PlanDocument[],
): DayAsk & { readonly wishFinishMin?: number } {
  const days = documents.map((d) => d.day);
  const least = (limits: readonly (number | undefined)[]) => {
    const given = limits.filter((x) => x !== undefined);
    return given.length > 0 ? Math.min(...given) : undefined;
  };
  const mustFinishByMin = least(days.map((d) => d.finishByMin));
  const wishFinishMin = least(days.map((d) => d.wishFinishMin));
  return {
    work: days.map((d) => d.work ?? {}),
    events: days.flatMap((d) => d.events ?? []),
    breaks: days.flatMap((d) => d.breaks ?? []),
    ...(mustFinishByMin === undefined ? {} : { mustFinishByMin }),
    ...(wishFinishMin === undefined ? {} : { wishFinishMin }),
  };
}

/** Rates of one brew: what was asked, else what its wort plan says, else a typical day's. */
export function workOf(ask: DayAsk, brew: number, document: PlanDocument, plan: TimedMash): Work {
  const given = Array.isArray(ask.work) ? ask.work[brew] : ask.work;
  return {
    ...TYPICAL_WORK,
    ...workOfPlan(document, plan),
    ...(given as Partial<Work> | undefined),
  };
}

/**
 * Builds the day.
 * @param documents one for each brew, all on one kit, in the order they are begun
 * @param plans of the same
 * @param ask rates, events, breaks and limits
 * @param choices for each brew
 * @param tables heat of liquor that stands, shared by all ways of one day
 * @throws UnknownName when a document or a choice names what its kit does not have
 */
export function dayProblem(
  documents: readonly PlanDocument[],
  plans: readonly TimedMash[],
  ask: DayAsk,
  choices: readonly BrewChoice[],
  tables: StandTables = new StandTables(),
): DayProblem {
  const first = brewDay(documents[0] as PlanDocument);
  const letters = first.hands;
  const activities: DayActivity[] = [];
  const lags: Lag[] = [];
  const holds: Hold[] = [];
  const standings: Standing[] = [];
  const notes: string[] = [];
  const brews: BrewInDay[] = [];
  const ends: string[] = [];
  const filled = new Set<string>();
  const inTank: { tank: string; knockOut: string }[] = [];
  documents.forEach((document, k) => {
    const day = brewDay(document);
    const plan = plans[k] as TimedMash;
    const choice = choices[k] as BrewChoice;
    const work = workOf(ask, k, document, plan);
    const build = new DayBuilder(k + 1, documents.length > 1, letters);
    const mash = addMash(build, day, plan, (rest) => stretchOf(ask, rest), choice, tables);
    const strike = { litres: plan.strike.litres, tempC: plan.strike.tempC.likely };
    const last = k === documents.length - 1;
    const wort = addWort(build, day, mash, strike, { work, choice, tables, last, filled });
    if (wort.tank !== undefined) {
      filled.add(wort.tank);
      for (const knockOut of wort.knockOutIds) inTank.push({ tank: wort.tank, knockOut });
    }
    const before = brews.length > 0 ? firstOf(activities, k) : undefined;
    // Brews are begun in the order given: that is a wish of the brewer, not of the solver.
    if (before) build.lag(before, 'start', mash.firstId, 'start', 0);
    activities.push(...build.activities);
    lags.push(...build.lags);
    holds.push(...build.holds);
    standings.push(...build.standings);
    notes.push(...build.notes);
    brews.push({ day, mash, wort, work });
    ends.push(...wort.lastIds);
  });
  const whole = new DayBuilder(0, false, letters);
  const tidy = whole.work('tidy', 'Floor, log, close the day', tidyMin(brews), {
    hands: whole.hands('busy', 1),
  });
  for (const end of ends) whole.follow(end, tidy);
  for (const { tank, knockOut } of inTank) whole.hold(tank, 'beer', knockOut, tidy);
  (ask.events ?? []).forEach((event, k) => {
    whole.work(`event-${k + 1}`, event.name, event.minutes, {
      hands: whole.hands('busy', event.hands, event.anyOf ?? []).map((h) => ({
        ...h,
        anyOf: event.anyOf ?? h.anyOf,
      })),
      fixedStartMin: Math.round(event.atMin),
      passes: true,
    });
  });
  (ask.breaks ?? []).forEach((pause, k) => {
    const away: HandNeed = { kind: 'away', anyOf: [pause.hand], count: 1 };
    whole.work(
      `break-${k + 1}`,
      pause.name ?? `Break of ${nameOfHand(first, pause.hand)}`,
      pause.minutes,
      { hands: [away], earliestMin: pause.fromMin, latestEndMin: pause.untilMin, passes: true },
      'exact',
    );
  });
  activities.push(...whole.activities);
  const problem: TimetableProblem = {
    activities: activities as readonly Activity[],
    lags: [...lags, ...whole.lags],
    holds: [...holds, ...whole.holds],
    people: letters.map((id) => personOf(first, id)),
    names: namesOf(first),
    standings,
    ...(ask.mustFinishByMin === undefined ? {} : { finishByMin: ask.mustFinishByMin }),
  };
  return { problem, activities, brews, notes };
}

const tidyMin = (brews: readonly BrewInDay[]): number =>
  brews[0]?.work.tidyMin ?? TYPICAL_WORK.tidyMin;

function stretchOf(ask: DayAsk, rest: number): number {
  const given = ask.restStretchMin;
  if (typeof given === 'number') return given;
  return given?.[rest] ?? DEFAULT_REST_STRETCH_MIN;
}

/** First activity of the brew before brew k (from 0). */
function firstOf(activities: readonly DayActivity[], k: number): string | undefined {
  return activities.find((a) => a.brew === k)?.id;
}

function personOf(day: BrewDay, id: string) {
  const hand = day.kit.hands.find((h) => h.id === id);
  return {
    id,
    name: hand?.name ?? id,
    ...(hand?.fromMin === undefined ? {} : { fromMin: hand.fromMin }),
    ...(hand?.untilMin === undefined ? {} : { untilMin: hand.untilMin }),
  };
}

const nameOfHand = (day: BrewDay, id: string) => day.kit.hands.find((h) => h.id === id)?.name ?? id;

function namesOf(day: BrewDay): Record<string, string> {
  const { vessels, burners, routes } = day.kit;
  return Object.fromEntries([
    ...vessels.map((v) => [v.id, v.name]),
    ...burners.map((b) => [b.id, b.name]),
    ...routes.map((r) => [`route ${r.id}`, r.name]),
    ['cooler', 'Cooler'],
  ]);
}
