/**
 * Temperatures and transfers of the work beside and after the mash, at the times of a timetable:
 * what the score draws. The mash has its own trace.
 */
import { emptyBrewhouse, type Move, simulate, type VesselCurve } from '@ladlework/brewhouse';
import { waterDensity } from '@ladlework/matter';
import { type BrewDay, vesselOf } from '../day.ts';
import type { TimedMash } from '../plan.ts';
import type { BrewInDay, DayProblem } from './day-problem.ts';
import { cooledC, parkedCurve } from './heat-time.ts';
import type { Placed } from './solve.ts';
import { lauterOf } from './stations.ts';
import { WORT_C } from './wort-part.ts';

/** What stands in a vessel and how warm it is. */
export interface CourseLine {
  readonly brew: number;
  readonly vessel: string;
  readonly matter: 'liquor' | 'mash' | 'wort';
  readonly timeMin: readonly number[];
  readonly tempC: readonly number[];
}

/** Content on its way from one vessel to another. */
export interface CoursePass {
  /** Activity. */
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly matter: CourseLine['matter'];
  readonly startMin: number;
  readonly endMin: number;
  readonly sourceC: number;
  readonly landingC: number;
}

export interface Course {
  readonly lines: readonly CourseLine[];
  readonly passes: readonly CoursePass[];
  /** A burner under a vessel. */
  readonly fires: readonly {
    readonly vessel: string;
    readonly startMin: number;
    readonly endMin: number;
  }[];
}

/** Wort as it goes into the tank, when nobody said: cool enough for yeast [°C]. @source field.md 6.35, ale 20 */
const PITCH_C = 20;
/** Points of a curve that are kept. */
const POINTS = 24;

/**
 * The course of a day beside its mash.
 * @param day the problem that was solved
 * @param plans of its brews
 * @param placed its schedule
 */
export function courseOf(
  day: DayProblem,
  plans: readonly TimedMash[],
  placed: readonly Placed[],
): Course {
  const at = new Map(placed.map((p) => [p.id, p]));
  const parts = day.brews.map((brew, k) =>
    brewCourse(brew, plans[k] as TimedMash, k + 1, (id) => at.get(brewId(day, k, id))),
  );
  return {
    lines: parts.flatMap((p) => p.lines).filter((l) => l.timeMin.length > 1),
    passes: parts.flatMap((p) => p.passes),
    fires: day.activities.flatMap((a) => {
      const p = at.get(a.id);
      const heats = a.moveId === undefined && /(^|\.)(heat|boil)-/.test(a.id);
      if (!p || !heats) return [];
      return a.vessels.map((u) => ({ vessel: u.vessel, startMin: p.startMin, endMin: p.endMin }));
    }),
  };
}

const brewId = (day: DayProblem, k: number, id: string): string =>
  day.brews.length > 1 ? `${k + 1}.${id}` : id;

type At = (id: string) => Placed | undefined;

function brewCourse(
  brew: BrewInDay,
  plan: TimedMash,
  number: number,
  at: At,
): Omit<Course, 'fires'> {
  const sparge = spargeCourse(brew, plan, number, at);
  const wort = wortCourse(brew, number, at);
  return {
    lines: [...sparge.lines, ...bedLines(brew, plan, number, at), ...wort.lines],
    passes: [...sparge.passes, ...wort.passes],
  };
}

/** Sparge liquor: heated, parked, standing, run on the bed. */
function spargeCourse({ day, wort }: BrewInDay, plan: TimedMash, brew: number, at: At) {
  const { sparge } = wort;
  const [heat, park, used] = [at('heat-sparge'), at('park'), at('sparge')];
  const lines: CourseLine[] = [];
  const passes: CoursePass[] = [];
  if (!heat || !used || !sparge.wish) return { lines, passes };
  const { from, to = from, wish } = sparge;
  const startC = sparge.drawnFrom
    ? plan.strike.tempC.likely
    : (day.document.day.kettleC ?? day.document.day.liquorC);
  const stands = park ?? heat;
  const standMin = Math.max(0, used.startMin - stands.endMin);
  const run = parkedCurve(day.kit, { ...wish, standMin }, day.airC);
  if (!run) return { lines, passes };
  const liquor = { brew, matter: 'liquor' as const };
  lines.push({
    ...liquor,
    vessel: from.id,
    timeMin: [heat.startMin, heat.endMin, ...(park ? [park.endMin] : [])],
    tempC: [startC, run.heatToC, ...(park ? [run.heatToC] : [])],
  });
  const waits = shifted(run.curve, run.standsFromMin, stands.endMin, used.endMin);
  lines.push({ ...liquor, vessel: to.id, ...waits });
  const [firstC = run.heatToC] = waits.tempC;
  if (park)
    passes.push({
      id: park.id,
      from: from.id,
      to: to.id,
      matter: 'liquor',
      startMin: park.startMin,
      endMin: park.endMin,
      sourceC: run.heatToC,
      landingC: firstC,
    });
  const lauter = lauterOf(day);
  if (to.id !== lauter.id)
    passes.push({
      id: used.id,
      from: to.id,
      to: lauter.id,
      matter: 'liquor',
      startMin: used.startMin,
      endMin: used.endMin,
      sourceC: waits.tempC.at(-1) ?? firstC,
      landingC: WORT_C,
    });
  return { lines, passes };
}

/** The bed from the end of the mash to the end of the run-off, as it cools. */
function bedLines({ day }: BrewInDay, plan: TimedMash, brew: number, at: At): CourseLine[] {
  const [rest, runOff] = [at('lauter-rest'), at('run-off')];
  const lauter = lauterOf(day);
  const held = plan.trace.end?.vessels.find((v) => v.vessel === day.restTun.id);
  if (!rest || !runOff || !held) return [];
  const minutes = runOff.endMin - rest.startMin;
  const empty = emptyBrewhouse(day.kit, day.airC);
  const bed = empty.vessels.map((v) =>
    v.vessel === lauter.id ? { ...held, vessel: lauter.id, clockMin: 0 } : v,
  );
  const wait: Move = {
    id: 'bed',
    kind: 'wait',
    vessel: lauter.id,
    minutes,
    lidOn: true,
    hands: [],
  };
  const trace = simulate(day.kit, { ...empty, vessels: bed }, [wait], {
    airC: day.airC,
    curves: true,
  });
  const curve = trace.curves.find((c) => c.vessel === lauter.id);
  if (!curve) return [];
  const line = shifted(curve, 0, rest.startMin, runOff.endMin);
  return [{ brew, vessel: lauter.id, matter: 'mash', ...line }];
}

/** Wort in what boils it, and into the tank. */
function wortCourse({ day, wort }: BrewInDay, brew: number, at: At) {
  const lines: CourseLine[] = [];
  const passes: CoursePass[] = [];
  const runOff = at('run-off');
  if (!runOff) return { lines, passes };
  for (const { vessel, tag } of wort.boilers) {
    const [heat, boil, stand, out] = ['heat-wort', 'boil-wort', 'stand', 'knock-out'].map((id) =>
      at(`${id}${tag}`),
    );
    if (!heat || !boil || !stand || !out) continue;
    const kettle = vesselOf(day.kit, vessel);
    const stoodC = standC(day, kettle.id, wort.litres.castOutL, stand.endMin - stand.startMin);
    lines.push({
      brew,
      vessel,
      matter: 'wort',
      timeMin: [
        runOff.startMin,
        heat.startMin,
        boil.startMin,
        boil.endMin,
        stand.endMin,
        out.endMin,
      ],
      tempC: [WORT_C, WORT_C, day.boilC, day.boilC, stoodC, stoodC],
    });
    passes.push({
      id: runOff.id,
      from: lauterOf(day).id,
      to: vessel,
      matter: 'wort',
      startMin: runOff.startMin,
      endMin: runOff.endMin,
      sourceC: WORT_C,
      landingC: WORT_C,
    });
    if (wort.tank === undefined) continue;
    const pitch = at(`pitch${tag}`);
    lines.push({
      brew,
      vessel: wort.tank,
      matter: 'wort',
      timeMin: [out.startMin, Math.max(out.endMin, pitch?.endMin ?? 0)],
      tempC: [PITCH_C, PITCH_C],
    });
    passes.push({
      id: out.id,
      from: vessel,
      to: wort.tank,
      matter: 'wort',
      startMin: out.startMin,
      endMin: out.endMin,
      sourceC: stoodC,
      landingC: PITCH_C,
    });
  }
  return { lines, passes };
}

/** Hot wort after its stand, as so much liquor would cool. */
function standC(day: BrewDay, vessel: string, litres: number, minutes: number): number {
  const waterKg = (litres * waterDensity(day.boilC)) / 1000;
  return cooledC(day.kit, { vessel, waterKg, fromC: day.boilC }, minutes, day.airC);
}

/** A part of a curve moved to the times of the timetable, thinned. */
function shifted(curve: VesselCurve, fromMin: number, startMin: number, endMin: number) {
  const timeMin: number[] = [];
  const tempC: number[] = [];
  const step = Math.max(1, Math.floor(curve.timeMin.length / POINTS));
  curve.timeMin.forEach((minute, k) => {
    const then = minute - fromMin + startMin;
    const wanted = k % step === 0 || k === curve.timeMin.length - 1;
    if (!wanted || minute < fromMin - 1e-9 || then > endMin + 1e-9) return;
    timeMin.push(then);
    tempC.push(curve.tempC[k] as number);
  });
  return { timeMin, tempC };
}
