/**
 * The whole day as one score: the mash at the times of the timetable, and the work beside and after
 * it. Pure; temperatures come with the timetable.
 */
import type { Kit, Say } from '@ladlework/brewhouse';
import type { Course, Plan, Timetable, TimetableActivity } from '@ladlework/planner';
import {
  type Busy,
  type Mark,
  reach,
  type ScoreModel,
  type Stave,
  type Stretch,
  scoreModel,
  staveOrder,
} from './model.ts';

/** Minutes of a plan that ran by itself, as minutes of the day. */
type Clock = (minute: number) => number;

/**
 * The mash of one brew, its moves where the timetable has them: a rest that waits is drawn longer.
 *
 * @param kit of the day
 * @param plan of the brew
 * @param timetable of the day
 * @param brew its number in the day, from 1
 * @param say how quantities are written into the score
 */
export function mashInDay(
  kit: Kit,
  plan: Plan,
  timetable: Timetable,
  brew: number,
  say: Say,
): ScoreModel {
  const at = new Map(
    timetable.activities.flatMap((a) =>
      a.brew === brew && a.moveId !== undefined ? [[a.moveId, a] as const] : [],
    ),
  );
  const clockOf = (vessel: string) => vesselClock(vessel, plan, at);
  const trace = {
    moves: plan.trace.moves.map((m) => {
      const a = at.get(m.id);
      if (a === undefined) return m;
      // Who does it is settled by the timetable, which also knows who is there.
      const hands = a.hands.filter((h) => h.kind === 'busy').map((h) => h.id);
      return { ...m, startMin: a.startMin, endMin: a.endMin, hands };
    }),
    curves: plan.trace.curves.map((c) => ({
      ...c,
      timeMin: Array.from(c.timeMin, clockOf(c.vessel)),
    })),
  };
  const moved = <T extends { readonly vessel: string; readonly timeMin: readonly number[] }>(
    list: readonly T[],
  ): T[] => list.map((b) => ({ ...b, timeMin: Array.from(b.timeMin, clockOf(b.vessel)) }));
  const moves = plan.moves.map((m) => m.move);
  return scoreModel(kit, moves, trace, moved(plan.curveBands), say, moved(plan.mashBands));
}

/** Straight between the ends of the moves that touch a vessel, and beyond them by as much. */
function vesselClock(
  vessel: string,
  plan: Plan,
  at: ReadonlyMap<string, TimetableActivity>,
): Clock {
  const knots: [number, number][] = [];
  for (const m of plan.trace.moves) {
    const a = at.get(m.id);
    if (a === undefined || !m.vessels.includes(vessel)) continue;
    for (const [was, is] of [
      [m.startMin, a.startMin],
      [m.endMin, a.endMin],
    ] as const) {
      const last = knots.at(-1);
      if (last === undefined || (was > last[0] && is >= last[1])) knots.push([was, is]);
    }
  }
  return (minute) => {
    const [first, last] = [knots[0], knots.at(-1)];
    if (first === undefined || last === undefined) return minute;
    if (minute <= first[0]) return minute + first[1] - first[0];
    if (minute >= last[0]) return minute + last[1] - last[0];
    const k = knots.findIndex(([was]) => was >= minute);
    const [from, to] = [knots[k - 1] ?? first, knots[k] ?? last];
    return from[1] + ((minute - from[0]) * (to[1] - from[1])) / (to[0] - from[0]);
  };
}

/** Scores of several brews of one day in one. */
export function together(models: readonly ScoreModel[]): ScoreModel {
  const [first, ...rest] = models as [ScoreModel, ...ScoreModel[]];
  return rest.reduce(
    (a, b) => ({
      staves: mergeStaves(a.staves, b.staves),
      passes: [...a.passes, ...b.passes],
      marks: [...a.marks, ...b.marks],
      hands: a.hands,
      busy: [...a.busy, ...b.busy],
      fromMin: Math.min(a.fromMin, b.fromMin),
      toMin: Math.max(a.toMin, b.toMin),
    }),
    first,
  );
}

/** The same score so many minutes later. */
export function later(model: ScoreModel, byMin: number): ScoreModel {
  const on = (t: number) => t + byMin;
  const spans = <T extends { readonly startMin: number; readonly endMin: number }>(
    list: readonly T[],
  ): T[] => list.map((x) => ({ ...x, startMin: on(x.startMin), endMin: on(x.endMin) }));
  const curves = <T extends { readonly timeMin: readonly number[] }>(list: readonly T[]): T[] =>
    list.map((x) => ({ ...x, timeMin: x.timeMin.map(on) }));
  return {
    ...model,
    staves: model.staves.map((s) => ({
      ...s,
      stretches: curves(s.stretches),
      band: s.band && { ...s.band, timeMin: s.band.timeMin.map(on) },
      fires: s.fires.map(([a, b]): [number, number] => [on(a), on(b)]),
      lanes: s.lanes.map((l) => ({
        ...l,
        lines: curves(l.lines),
        marks: l.marks.map((m) => ({ ...m, atMin: on(m.atMin) })),
      })),
    })),
    passes: spans(model.passes),
    marks: model.marks.map((m) => ({ ...m, atMin: on(m.atMin) })),
    busy: spans(model.busy),
    fromMin: on(model.fromMin),
    toMin: on(model.toMin),
  };
}

function mergeStaves(a: readonly Stave[], b: readonly Stave[]): Stave[] {
  const both = a.map((stave) => {
    const more = b.find((s) => s.vessel === stave.vessel);
    if (more === undefined) return stave;
    return {
      ...stave,
      stretches: [...stave.stretches, ...more.stretches],
      behind: [...(stave.behind ?? []), ...(more.behind ?? [])],
      band:
        stave.band === undefined || more.band === undefined
          ? (stave.band ?? more.band)
          : {
              // A minute at which nothing stands anywhere: the band of one brew ends before the next.
              timeMin: [...stave.band.timeMin, Number.NEGATIVE_INFINITY, ...more.band.timeMin],
              lowC: [...stave.band.lowC, 0, ...more.band.lowC],
              highC: [...stave.band.highC, 0, ...more.band.highC],
            },
      fires: [...stave.fires, ...more.fires],
      lowC: Math.min(stave.lowC, more.lowC),
      highC: Math.max(stave.highC, more.highC),
      lanes:
        stave.lanes.length === 0
          ? more.lanes
          : stave.lanes.map((lane, k) => ({
              ...lane,
              lines: [...lane.lines, ...(more.lanes[k]?.lines ?? [])],
            })),
    };
  });
  return [...both, ...b.filter((s) => !a.some((x) => x.vessel === s.vessel))];
}

/**
 * Puts the work beside and after the mash into a score.
 *
 * @param model with the mash of the day
 * @param kit of the day
 * @param timetable of the day
 * @param say how quantities are written into the score
 * @param fromDayMin minute of the day at minute 0 of the model
 */
export function withWork(
  model: ScoreModel,
  kit: Kit,
  timetable: Timetable,
  say: Say,
  fromDayMin = 0,
): ScoreModel {
  const { course } = timetable;
  if (course === undefined) return model;
  const move = (minute: number) => minute - fromDayMin;
  const work = timetable.activities
    .filter((a) => a.moveId === undefined && a.endMin > a.startMin)
    .map((a) => ({ ...a, startMin: move(a.startMin), endMin: move(a.endMin) }));
  const seen = new Set([
    ...model.staves.map((s) => s.vessel),
    ...course.lines.map((l) => l.vessel),
    ...work.flatMap((a) => a.vessels),
  ]);
  const staves = [...seen]
    .map((vessel) => workStave(vessel, model, kit, course, move))
    .sort((a, b) => staveOrder(kit, a.vessel) - staveOrder(kit, b.vessel));
  return {
    ...model,
    staves,
    passes: [
      ...model.passes,
      ...course.passes.map(({ id, startMin, endMin, ...p }) => ({
        ...p,
        moveId: id,
        startMin: move(startMin),
        endMin: move(endMin),
      })),
    ],
    marks: [...model.marks, ...workMarks(work, staves), ...lineMarks(course, move, say)],
    busy: [...model.busy, ...busyOf(work)],
    toMin: Math.max(model.toMin, ...work.map((a) => a.endMin)),
  };
}

function workStave(
  vessel: string,
  model: ScoreModel,
  kit: Kit,
  course: Course,
  move: Clock,
): Stave {
  const here = model.staves.find((s) => s.vessel === vessel);
  const lines = course.lines
    .filter((l) => l.vessel === vessel)
    .map((l): Stretch => ({ matter: l.matter, timeMin: l.timeMin.map(move), tempC: [...l.tempC] }));
  const temps = lines.flatMap((l) => l.tempC);
  const [lowC, highC] = temps.length > 0 ? reach(temps) : [15, 25];
  const fires = course.fires
    .filter((f) => f.vessel === vessel)
    .map((f): [number, number] => [move(f.startMin), move(f.endMin)]);
  if (here === undefined)
    return {
      vessel,
      name: kit.vessels.find((v) => v.id === vessel)?.name ?? vessel,
      stretches: lines,
      band: undefined,
      fires,
      lowC,
      highC,
      lanes: [],
    };
  return {
    ...here,
    stretches: [...here.stretches, ...lines],
    fires: [...here.fires, ...fires],
    lowC: temps.length > 0 ? Math.min(here.lowC, lowC) : here.lowC,
    highC: temps.length > 0 ? Math.max(here.highC, highC) : here.highC,
  };
}

/** What a few long names are called in a narrow place. */
const SHORT: readonly (readonly [RegExp, string])[] = [
  [/^Lauter rest.*/, 'lauter rest'],
  [/^Bring the wort to the boil.*/, 'to the boil'],
  [/^Boil the wort.*/, 'boil'],
  [/^Whirlpool and stand.*/, 'stand'],
  [/^Knock out.*/, 'knock out'],
  [/^Rinse and sanitise .*/, 'sanitise'],
  [/^Rinse .*/, 'rinse'],
  [/^Clean .*/, 'clean'],
  [/^Park the (sparge|strike) liquor.*/, 'park'],
  [/^Heat the sparge liquor.*/, 'heat sparge'],
  [/^Oxygen and pitch.*/, 'pitch'],
  [/^Let it settle.*/, 'read'],
  [/^Floor, log.*/, 'tidy'],
  [/^Hops, (\d+ min).*/, 'hops $1'],
  [/^Watch the foam.*/, 'foam'],
];

const shortName = (full: string): string => {
  const name = full.replace(/, brew \d+$/, '');
  const [pattern, text] = SHORT.find(([p]) => p.test(name)) ?? [];
  return pattern === undefined || text === undefined
    ? name.toLowerCase()
    : name.replace(pattern, text);
};

/** Words at the foot of a stave for what is done there. */
function workMarks(work: readonly TimetableActivity[], staves: readonly Stave[]): Mark[] {
  return work.flatMap((a) =>
    a.vessels.slice(0, 1).map((vessel) => ({
      vessel,
      atMin: a.startMin,
      tempC: staves.find((s) => s.vessel === vessel)?.lowC ?? 0,
      text: shortName(a.name),
      rank: 7,
      strong: false,
    })),
  );
}

/** How hot liquor was made, and how hot it still is when it is wanted. */
function lineMarks(course: Course, move: Clock, say: Say): Mark[] {
  return course.lines
    .filter((l) => l.matter === 'liquor')
    .flatMap((l) => {
      const last = l.timeMin.length - 1;
      return [l.tempC.indexOf(Math.max(...l.tempC)), last].map((k) => ({
        vessel: l.vessel,
        atMin: move(l.timeMin[k] ?? 0),
        tempC: l.tempC[k] ?? 0,
        text: say.temp(l.tempC[k] ?? 0),
        rank: 3,
        strong: false,
      }));
    });
}

function busyOf(work: readonly TimetableActivity[]): Busy[] {
  return work.flatMap((a) =>
    a.hands
      .filter((h) => h.kind !== 'at-hand')
      .map((h) => ({
        hand: h.id,
        moveId: a.id,
        startMin: a.startMin,
        endMin: a.endMin,
        text: h.kind === 'away' ? 'break' : shortName(a.name),
      })),
  );
}
