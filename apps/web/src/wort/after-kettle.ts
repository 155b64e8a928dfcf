/** The day's document with the way taken from the full kettle. Pure. */
import type { BrewState } from '@ladlework/log';
import type { PlanDocument, WortDay } from '@ladlework/planner';

/**
 * Boil and hop minutes as they now are, so that the timetable goes by them. Minutes of hops are whole.
 *
 * @param document of the brew
 * @param choice the way taken; without one nothing changes
 * @param boil of the running day, with the hops re-timed, in the order of the document
 */
export function afterKettle(
  document: PlanDocument,
  choice: Pick<BrewState['kettleChoices'][number], 'minutes'> | undefined,
  boil: Pick<WortDay['boil'], 'hops'> | undefined,
): PlanDocument {
  if (choice === undefined) return document;
  const boilMin = Math.round(choice.minutes);
  const { beer, day } = document;
  const hops = beer.hops?.map((hop, k) => {
    const now = boil?.hops[k]?.boilMin ?? hop.boilMin;
    return { ...hop, boilMin: now === 'stand' ? now : Math.min(boilMin, Math.round(now)) };
  });
  return {
    ...document,
    beer: { ...beer, ...(hops !== undefined && { hops }) },
    day: { ...day, work: { ...day.work, boilMin } },
  };
}
