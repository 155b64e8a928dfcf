/** How much longer a rest may last before the wort becomes another one. */
import { type Draw, type MashEngine, NOMINAL } from '@ladlework/brewhouse';
import { brewDay } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { mashEngines } from '../grist.ts';
import { openingSituation, runMoves, sizeStrike } from '../size.ts';
import { sizeMash } from '../stages.ts';
import { wortForecast } from '../wort.ts';

/** Change of the limit of attenuation that a longer rest may bring [points]; our judgement, about the narrow band between plans of mash.md 9 */
const LIMIT_POINTS = 1;
/** Longest stretch looked at, and the step [min]. */
const LONGEST_MIN = 45;
const STEP_MIN = 5;

/**
 * Allowed stretch of each rest, from the kinetics: the longest, in steps of 5 min up to 45, that
 * changes the apparent limit of attenuation by no more than a point and leaves no more starch.
 * @param document kit, beer, mash and day
 * @param mash mash kinetics for a draw; the likely one is asked for
 * @returns minutes for each rest
 * @throws UnknownName when the document names what its kit does not have
 */
export function restStretch(document: PlanDocument, mash: (draw: Draw) => MashEngine): number[] {
  const limitOf = (rest: number, moreMin: number): number | undefined => {
    const rests = document.mash.rests.map((r, k) =>
      k === rest
        ? {
            ...r,
            minutes: r.minutes + moreMin,
            // The pull waits with the rest: it is the time before the next step that grows.
            ...(r.pullAfterMin === undefined ? {} : { pullAfterMin: r.pullAfterMin + moreMin }),
          }
        : r,
    );
    const day = brewDay({ ...document, mash: { ...document.mash, rests } });
    const engine = mash(NOMINAL);
    const sized = sizeMash(day, sizeStrike(day), engine);
    const trace = runMoves(day, openingSituation(day), sized.moves, NOMINAL, engine, false);
    return wortForecast.sample(day, engine, trace)[0]?.limitApparentPct;
  };
  return document.mash.rests.map((_, rest) => {
    const asked = limitOf(rest, 0);
    if (asked === undefined) return 0;
    let allowed = 0;
    for (let more = STEP_MIN; more <= LONGEST_MIN; more += STEP_MIN) {
      const limit = limitOf(rest, more);
      if (limit === undefined || Math.abs(limit - asked) > LIMIT_POINTS) break;
      allowed = more;
    }
    return allowed;
  });
}

/**
 * Allowed stretch of the rests of a day, from the kinetics of its beers: with several brews the
 * least of them, rest by rest, as one list serves all.
 * @param documents the brews of the day
 * @returns minutes for each rest
 * @throws UnknownName when a document names what its kit does not have
 */
export function dayStretch(documents: readonly PlanDocument[]): number[] {
  const each = documents.map((d) => restStretch(d, mashEngines(d.beer)));
  const rests = Math.max(0, ...each.map((list) => list.length));
  return Array.from({ length: rests }, (_, rest) =>
    Math.min(...each.flatMap((list) => list.slice(rest, rest + 1))),
  );
}
