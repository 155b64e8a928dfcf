/** What the wort plan says of the work after the mash, where the document states what it rests on. */
import type { PlanDocument } from '../document.ts';
import type { Plan } from '../plan.ts';
import type { Work } from '../timetable/work.ts';

const within = (x: number, low: number, high: number) => Math.min(high, Math.max(low, x));

/**
 * Rates of the rest of the day by the wort plan: hops of the beer, sparge for the tank wanted, boil-off
 * and knock-out of a kit that has measured them. What nobody stated stays as on the typical day.
 * @param document the brew
 * @param plan made from it
 */
export function workOfPlan(document: PlanDocument, plan: Pick<Plan, 'wortPlan'>): Partial<Work> {
  const { beer, kit, day } = document;
  const listed = beer.hops?.flatMap((h) => (h.boilMin === 'stand' ? [] : [h.boilMin]));
  const hops =
    listed === undefined ? {} : { hopsBeforeEndMin: [...new Set(listed)].sort((a, b) => b - a) };
  const { wortPlan } = plan;
  if (wortPlan === undefined) return hops;
  const { lauter, boil, knockOut, stages, grist } = wortPlan;
  const bySparge = beer.target?.tankL !== undefined || day.work?.spargeBy !== undefined;
  const measured = kit.boil?.netKW !== undefined || kit.boil?.boilOffKgPerH !== undefined;
  const castOutL = stages[2]?.coldL.likely ?? 0;
  return {
    ...hops,
    ...(bySparge ? { spargeLPerKg: within(lauter.spargeL.likely / grist.gristKg, 0, 10) } : {}),
    ...(measured
      ? { boilOffPerHour: within(boil.evaporationKgH.likely / lauter.kettleL, 0.02, 0.2) }
      : {}),
    ...(kit.cooler === undefined || castOutL <= 0
      ? {}
      : { knockOutLPerMin: castOutL / knockOut.minutes.likely }),
  };
}
