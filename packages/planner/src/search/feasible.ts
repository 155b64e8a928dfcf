/** Can a kit do a plan as it stands? The whole answer: mash by the engine, day by the timetable. */
import { NOMINAL } from '@ladlework/brewhouse';
import { clashesOf } from '../clash.ts';
import { timedMash } from '../compare/outcome.ts';
import { brewDay } from '../day.ts';
import type { PlanDocument } from '../document.ts';
import { mashEngines } from '../grist.ts';
import { openingSituation, runMoves, sizeStrike } from '../size.ts';
import { type SizedMash, sizeMash } from '../stages.ts';
import { type Timetable, timetableOf } from '../timetable/timetable-of.ts';

/** A plan looked at whole. */
export interface Looked {
  /** How far it is from being done; nought when it can be. Only to tell which change helps. */
  readonly gap: number;
  /** With no hour to end by. Left out when the mash clashes already, or nothing limits the day. */
  readonly day?: Timetable;
}

/** Nodes of the timetable's search. */
const NODES = 4000;

/** Looks at a plan on the likely kit as it is planned, and at its day where anything limits that. */
export function look(document: PlanDocument): Looked {
  const day = brewDay(document);
  const engine = mashEngines(document.beer)(NOMINAL);
  const sized = sizeMash(day, sizeStrike(day), engine);
  const trace = runMoves(day, openingSituation(day), sized.moves, NOMINAL, engine, false);
  const clashes = clashesOf(day, sized, trace);
  if (clashes.length > 0) return { gap: FAR + clashes.length * FAR + shortK(sized) };
  if (!limitsDay(document)) return { gap: 0 };
  const options = { draws: 0, quick: true, budget: { nodes: NODES } };
  const whole = timetableOf(withoutFinish(document), timedMash(sized, trace), options);
  if (!Number.isFinite(whole.finishMin)) return { gap: FAR, day: whole };
  // That the hour cannot be kept is told by the earliest finish, without a proof each time.
  const latest = document.day.finishByMin ?? Number.POSITIVE_INFINITY;
  return { gap: Math.max(0, whole.finishMin - latest) / FAR, day: whole };
}

/** Further than any rest falls short [K] or, in minutes over this, any day runs late. */
const FAR = 1000;

/** Kelvin by which the rests fall short, all together. */
function shortK(sized: SizedMash): number {
  return sized.raises.reduce(
    (sum, r) => sum + (r.reached || !r.pull ? 0 : Math.max(0, r.targetC - r.pull.landingC)),
    0,
  );
}

/** The plan with no hour to end by. */
function withoutFinish(document: PlanDocument): PlanDocument {
  const { finishByMin: _, ...day } = document.day;
  return { ...document, day };
}

/** Is there an hour, a window or an event that the day might not keep? */
function limitsDay({ kit, day }: PlanDocument): boolean {
  const windows = kit.hands.some((h) => h.fromMin !== undefined || h.untilMin !== undefined);
  return day.finishByMin !== undefined || windows || (day.events?.length ?? 0) > 0;
}

/** True when nothing clashes. */
export function canBeDone(document: PlanDocument): boolean {
  return look(document).gap === 0;
}
