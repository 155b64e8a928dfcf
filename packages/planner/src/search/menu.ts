/** What a search gives back: the few plans worth choosing between, each with its bands. */
import { band } from '@ladlework/numerics';
import { MISSED_K, missChance } from '../compare/missed.ts';
import type { Played } from '../compare/outcome.ts';
import { type Figures, figuresOf } from '../compare/ways.ts';
import type { PlanDocument } from '../document.ts';
import type { Band, WortForecast } from '../plan.ts';
import { inWords } from './choose.ts';
import type { Proof } from './proof.ts';
import type { Range, Targets } from './targets.ts';

/** One rest of a plan as it will begin. */
export interface Landing {
  /** From 1. */
  readonly rest: number;
  readonly targetC: number;
  readonly landingC: Band;
  /** Chance that it begins more than 1 K off, 0-1. */
  readonly missChance: number;
}

export interface MenuPlan {
  readonly document: PlanDocument;
  /** Pulls, pots, boil and thickness in one line. */
  readonly what: string;
  /** Why it is on the menu, in one line. */
  readonly reason: string;
  readonly figures: Figures;
  readonly wort: WortForecast;
  /** Loads lifted by hand, and the heaviest of them [kg]. */
  readonly lifts: number;
  readonly heaviestKg: number;
  /** Chance that some rest after a raise begins more than 1 K off, 0-1; the first is mended as it is mashed in. */
  readonly missChance: number;
  readonly landings: readonly Landing[];
  /** Chance that iodine still shows starch at the end, 0-1. */
  readonly starchRisk: number;
  /** Chance to meet each target that was given, 0-1. */
  readonly chances: readonly { readonly target: string; readonly chance: number }[];
}

export interface Menu {
  /** At most seven, none worse than another in everything, ranked by what is likely. */
  readonly plans: readonly MenuPlan[];
  /** Plans put through the heat balance. */
  readonly screened: number;
  /** Of those, what this kit cannot do. */
  readonly infeasible: number;
  /** Of those, what went through the whole engine. */
  readonly played: number;
  /** False when the search was stopped before its end. */
  readonly complete: boolean;
  /** Why there is no plan, when there is none. */
  readonly clash?: Proof;
}

/** How far a search has come. */
export interface SearchProgress {
  readonly stage: 'balance' | 'screen' | 'day' | 'bands' | 'no';
  readonly screened: number;
  readonly total: number;
  readonly survivors: number;
  /** Share of the whole, near enough for a bar, 0-1. */
  readonly share: number;
}

/** A plan of the menu, from what it did on every draw. */
export function menuPlanOf(
  document: PlanDocument,
  reason: string,
  played: Played,
  targets: Targets,
): MenuPlan {
  const { rests } = document.mash;
  const draws = played.landings.length;
  const off = (landing: readonly number[]) =>
    landing.map((c, i) => Math.abs(c - (rests[i]?.tempC ?? c)) > MISSED_K);
  const misses = played.landings.map(off);
  const landings = rests.map(
    (rest, i): Landing => ({
      rest: i + 1,
      targetC: rest.tempC,
      landingC: band(played.landings.map((l) => l[i] as number)),
      missChance: misses.filter((m) => m[i]).length / draws,
    }),
  );
  return {
    document,
    what: inWords(document),
    reason,
    figures: figuresOf(played.outcomes),
    wort: played.wort as WortForecast,
    lifts: played.lifts.count,
    heaviestKg: played.lifts.heaviestKg,
    missChance: missChance(played.landings, rests),
    landings,
    starchRisk: played.worts.filter((w) => !w.iodineNormal).length / played.worts.length,
    chances: chancesOf(document, played, targets),
  };
}

function chancesOf(document: PlanDocument, played: Played, targets: Targets): MenuPlan['chances'] {
  const within = ({ low, high }: Range, x: number) => x >= low && x <= high;
  const chances: { target: string; chance: number }[] = [];
  const add = (target: string, met: readonly boolean[]) =>
    chances.push({ target, chance: met.filter((m) => m).length / met.length });
  const { limitApparentPct, colourAddedEbc, extractKg } = targets;
  const finishByMin = targets.finishByMin ?? document.day.finishByMin;
  if (limitApparentPct)
    add(
      'limit of attenuation',
      played.worts.map((w) => within(limitApparentPct, w.limitApparentPct)),
    );
  if (colourAddedEbc)
    add(
      'colour of the boils',
      played.worts.map((w) => within(colourAddedEbc, w.colourEbc)),
    );
  if (extractKg !== undefined)
    add(
      'extract',
      played.worts.map((w) => w.extractKg >= extractKg),
    );
  if (finishByMin !== undefined)
    add(
      'finish',
      played.outcomes.map((o) => o.finishH * 60 <= finishByMin),
    );
  return chances;
}
