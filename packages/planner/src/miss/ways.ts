/** After a miss: how long the mash is safe as it stands, and which ways out there are to try. */
import { addMash, GristEngine, type MashResults, simulate } from '@ladlework/brewhouse';
import { dayOptions } from '../day.ts';
import { rescueNow } from '../live-mash.ts';
import type { DaySession } from '../live-session.ts';
import { asRead, vesselIn } from '../live-step.ts';
import type { MashOutcome } from '../wort/plan-types.ts';
import { buildWay } from './build-way.ts';
import type { Built } from './ground.ts';
import type { Miss, MissCode } from './miss-types.ts';
import { playWay, type WayBench, wayBench } from './play-way.ts';
import type { SafeTime, WayChoice, WayCode, WayOut } from './way-types.ts';

/** Ways offered after each miss. common practice, no source; field.md 1.2, 1.3, 1.11, 1.46 and 3 */
const OFFERED: Readonly<Record<MissCode, readonly WayCode[]>> = {
  'landed-low': [
    'last-of-reserve',
    'direct-heat',
    'boiling-liquor',
    'small-pull',
    'longer-rest',
    'go-on',
  ],
  'landed-high': ['cold-liquor', 'shorter-rest', 'go-on'],
  'tun-slipped': ['return-now', 'direct-heat', 'boiling-liquor', 'small-pull', 'go-on'],
  'pot-late': ['return-now', 'other-burner', 'infusion', 'heat-on', 'shorter-rest', 'go-on'],
  spilled: ['smaller-brew', 'boiling-liquor', 'small-pull', 'direct-heat', 'infusion', 'go-on'],
  stuck: ['boiling-liquor', 'small-pull', 'direct-heat', 'smaller-brew', 'infusion', 'go-on'],
  scorched: ['other-burner', 'return-now', 'infusion', 'heat-on', 'go-on'],
  'boiled-over': ['smaller-brew', 'boiling-liquor', 'direct-heat', 'infusion', 'go-on'],
  'iodine-blue': ['longer-rest', 'side-mash', 'go-on'],
  'pump-dead': ['by-hand', 'wait', 'heat-on', 'infusion', 'go-on'],
  'burner-out': ['other-burner', 'return-now', 'wait', 'heat-on', 'infusion', 'go-on'],
  'helper-gone': ['go-on', 'heat-on', 'infusion', 'wait'],
};

/** Stop rule: a tun so far under its rest is decided about before more is pulled [K]. @source field.md 8 */
const UNDER_REST_K = 3;
/** A limit of attenuation that moved by more is another beer [points]. Our judgement. */
const ATTENUATION_POINTS = 2;
/** How long it is looked ahead, and in what steps [min]. */
const LOOKED_MIN = [10, 20, 30, 45, 60, 90, 120];

/**
 * The bench for the ways out of a miss.
 * @param session the running day
 * @param nowMin [min after day start]
 * @param miss what went wrong
 * @param planned `plan.wortPlan.mash`; left out: nothing is carried past the mash
 */
export function missBench(
  session: DaySession,
  nowMin: number,
  miss: Miss,
  planned?: MashOutcome,
): WayBench {
  if (miss.code !== 'iodine-blue') return wayBench(session, nowMin, miss, planned);
  const vessel = miss.vessel ?? session.day.restTun.id;
  const found = rescueNow(session, vessel, nowMin);
  return wayBench(session, nowMin, miss, planned, {
    ...(found?.restMin === undefined ? {} : { clearMin: Math.max(10, found.restMin) }),
    ...(found?.maltKg === undefined ? {} : { sideMaltKg: found.maltKg }),
    ...(found === undefined ? {} : { sideText: found.text }),
  });
}

/**
 * How long the mash is safe, and what to try.
 * @param bench from `missBench`
 */
export function waysFor(bench: WayBench): WayChoice {
  return { safe: safeTime(bench), codes: OFFERED[bench.miss.code] };
}

/**
 * All ways of a miss, the possible ones first, by how near the landings are and how soon the mash ends.
 * @param bench from `missBench`
 * @param outs as `playWay` gave them
 */
export function inOrder(outs: readonly WayOut[]): WayOut[] {
  const off = (w: WayOut) =>
    (w.played?.landings ?? []).reduce(
      (worst, l) => Math.max(worst, Math.abs(l.tempC.likely - l.targetC) - NEAR_K),
      0,
    ) + (w.played?.iodineNormal === false ? STARCH_K : 0);
  return [...outs].sort(
    (a, b) =>
      Number(b.possible) - Number(a.possible) ||
      Math.round(off(a)) - Math.round(off(b)) ||
      (a.played?.mashEndMin.likely ?? 0) - (b.played?.mashEndMin.likely ?? 0),
  );
}

/** A landing this near is one [K]. @source field.md 3, ±1 K go */
const NEAR_K = 1;
/** Starch left weighs as much as a landing so far off [K]. Our judgement. */
const STARCH_K = 5;

/** Every way at once, for tests and for the command line. */
export function waysOut(bench: WayBench): WayOut[] {
  return inOrder(OFFERED[bench.miss.code].map((code) => playWay(bench, code)));
}

/**
 * How long the mash may stand as it is.
 * @returns minutes until the tun is 3 K under its rest, until the rest of the day would no longer
 *   clear the starch, or until the limit of attenuation has moved by two points; the first of them
 */
function safeTime(bench: WayBench): SafeTime {
  const { standing } = bench;
  const coolMin = coolsIn(bench);
  const goes = buildable(bench);
  const asNow = goes && ended(bench, goes, 0);
  let starchMin: number | undefined;
  let attenuationMin: number | undefined;
  let alphaLeft: number | undefined;
  if (goes && asNow) {
    for (const t of LOOKED_MIN) {
      const then = ended(bench, goes, t);
      if (then === undefined) break;
      if (asNow.iodineNormal && !then.iodineNormal) starchMin ??= t;
      const moved = Math.abs(then.limitApparentPct - asNow.limitApparentPct);
      if (moved > ATTENUATION_POINTS) attenuationMin ??= t;
      if (starchMin !== undefined || attenuationMin !== undefined) {
        alphaLeft = then.alphaLeft;
        break;
      }
    }
  }
  const found = [
    { limit: 'rest' as const, minutes: coolMin },
    { limit: 'starch' as const, minutes: starchMin },
    { limit: 'attenuation' as const, minutes: attenuationMin },
  ].flatMap(({ limit, minutes }) => (minutes === undefined ? [] : [{ limit, minutes }]));
  const first = found.sort((a, b) => a.minutes - b.minutes)[0];
  const more = alphaLeft === undefined ? {} : { alphaLeft };
  if (first === undefined)
    return {
      ...more,
      limit: 'none',
      text: `The mash can stand like this for more than two hours. ${SOUR}`,
    };
  const { minutes, limit } = first;
  const at = standing.restC.toFixed(0);
  const why = {
    rest: `then it is ${UNDER_REST_K} K under its rest at ${at} °C`,
    starch: 'then too little enzyme is left for the starch',
    attenuation: `then the beer’s limit of attenuation has moved by ${ATTENUATION_POINTS} points`,
  }[limit];
  const long =
    minutes < 1
      ? 'The mash is past it already:'
      : `The mash is safe like this for about ${minutes.toFixed(0)} min:`;
  const text =
    minutes < 1
      ? `${long} ${why.replace('then it is', 'it is')}. ${SOUR}`
      : `${long} ${why}. ${SOUR}`;
  return { ...more, minutes, limit, text };
}

const SOUR = 'How soon it would sour is not reckoned.';

/** Minutes until the tun, lid on, is so far under its rest; undefined: not within two hours. */
function coolsIn({ standing }: WayBench): number | undefined {
  const { now, middle, restC } = standing;
  const tun = now.day.restTun.id;
  const s = vesselIn(middle, tun);
  if (s.solidsKg + s.extractKg < 0.05) return undefined;
  const line = restC - UNDER_REST_K;
  let beforeC = s.tempC;
  if (beforeC <= line) return 0;
  for (let t = 5; t <= 120; t += 5) {
    const c = vesselIn(now.stepper.pass(middle, tun, now.lastMin + t), tun).tempC;
    if (c <= line) return t - 5 + (5 * (beforeC - line)) / (beforeC - c);
    beforeC = c;
  }
  return undefined;
}

/** The day gone on with as best it can: as planned, else the first way that can be gone. */
function buildable(bench: WayBench): Built | undefined {
  for (const code of ['go-on', ...OFFERED[bench.miss.code]] as const) {
    const built = buildWay(bench.standing, bench.miss, code, bench.extras);
    if (!('whyNot' in built)) return built;
  }
  return undefined;
}

/** The mash at its end when nothing is done for some minutes first. */
function ended(bench: WayBench, built: Built, delayMin: number): MashResults | undefined {
  const { likely } = bench.kinetics;
  if (!likely || !(likely.engine instanceof GristEngine)) return undefined;
  const { engine, particle } = likely;
  const from = bench.standing.now.lastMin + delayMin;
  const moves = built.moves.map((m) => ({
    ...asRead(m, particle.draw),
    earliestMin: Math.max(from, m.earliestMin ?? 0),
  }));
  const options = { ...dayOptions(built.day, particle.draw), mash: engine };
  const { end } = simulate(built.day.kit, particle.situation, moves, options);
  const all = engine.empty();
  for (const state of end.vessels) if (state.mash) addMash(all, state.mash);
  const results = engine.results(all);
  return results.extractKg > 0 ? results : undefined;
}
