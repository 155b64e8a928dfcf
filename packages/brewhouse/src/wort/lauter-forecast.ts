/** The run-off over an ensemble: what should be in the kettle now, and where it will end. */
import { gravityNeededNow, inRange, volumeAtTemperature } from '@ladlework/matter';
import { type Band, band, effectiveSampleSize, weightedMean } from '@ladlework/numerics';
import { batchCourse } from './batch.ts';
import { COLD_C, litresAt, platoOf, type WortBody, wortOf } from './body.ts';
import { type LauterBed, pointAt, type RunOff, runOff } from './lauter.ts';

/** What is uncertain about a run-off, as drawn. */
export interface LauterDraw {
  readonly bed: LauterBed;
  /** True litres in a litre as the brewer reads the kettle, 0.85 to 1.15. */
  readonly dip: number;
}

/** How the brewer means to run off. Volumes as the kettle is read, hot. */
export interface LauterIntent {
  /** Kettle-full [L] at `readC`. */
  readonly kettleL: number;
  /** Temperature at which the kettle is read during run-off [°C], 20 to 100. */
  readonly readC: number;
  /** Liquid held above the bed [L]. */
  readonly holdL?: number;
  /** Sparge already shut, or to be shut, at this much in the kettle as read [L]. */
  readonly shutAtL?: number;
  /** Draining and refilling instead of sparging: liquor before each drain [L at bed temperature]. */
  readonly fillsL?: readonly number[];
  /** Strength of the full kettle that the beer needs [°P]. */
  readonly targetPlato: number;
  /** Run off no weaker than this [°P]; 2 unless given (field practice: 1.008 to 1.010). */
  readonly stopPlato?: number;
}

/** One reading during run-off. */
export interface LauterReading {
  /** In the kettle, as read at `readC` [L]. */
  readonly collectedL: number;
  readonly kettlePlato?: number;
  readonly tapPlato?: number;
}

/** Error of a cooled sample [°P, 1 sd]: mixed kettle, and tap, where a moment's run may differ. */
const SAMPLE_SD = { kettle: 0.15, tap: 0.35 } as const;
/** Stretches of the run-off between which the course is told. */
const COURSE_PARTS = 12;
/** A forecast resting on fewer effective draws than this is not believed. */
const FEWEST_DRAWS = 8;

/** Forecast of a run-off. Volumes as the kettle is read; cold ones say so. */
export interface LauterForecast {
  /** What the model expects at the last reading [°P]; at nothing collected, the first wort. */
  readonly nowKettlePlato: Band;
  readonly nowTapPlato: Band;
  /** What the kettle must show now for the target to come out [°P], from what is still to come. */
  readonly neededNowPlato: number | undefined;
  /** At kettle-full. */
  readonly fullColdL: Band;
  readonly fullPlato: Band;
  readonly fullExtractKg: Band;
  readonly lastPlato: Band;
  /** Shut the sparge at this much in the kettle [L], and sparge liquor still to give [L]. */
  readonly shutAtL: Band;
  readonly spargeLeftL: Band;
  /** Litres at which the runnings come down to the stop strength; undefined when most draws never do. */
  readonly stopAtL: Band | undefined;
  /** What should be read along the way. */
  readonly course: readonly {
    readonly collectedL: number;
    readonly kettlePlato: Band;
    readonly tapPlato: Band;
  }[];
  /** Weight of each draw after the readings, adding up to one, and its full kettle. */
  readonly weights: Float64Array;
  readonly kettles: readonly WortBody[];
  /** Set when the readings do not fit what the tun can do: stir, sample again, check the volume. */
  readonly doubt?: string;
}

/** Litres of the tun for litres as read, for wort of a strength. */
function atBed(draw: LauterDraw, intent: LauterIntent, readL: number, plato: number): number {
  return volumeAtTemperature(readL * draw.dip, intent.readC, draw.bed.tC, plato / 100);
}

/**
 * Forecasts a run-off from where it stands.
 *
 * @param draws the ensemble, at least one; dip 0.85 to 1.15
 * @param intent kettleL as read [L]; readC 20 to 100 [°C]; targetPlato 1 to 40 [°P]
 * @param readings so far, in order; none before the first
 * @returns what should be there now, what must be, and where it ends, each with its band
 * @throws OutOfRange outside the ranges
 * @source importance weights: each draw counts by how well it foretold the readings (normal errors,
 *   our judgement: 0.15 °P mixed kettle, 0.35 °P tap)
 */
export function forecastRunOff(
  draws: readonly LauterDraw[],
  intent: LauterIntent,
  readings: readonly LauterReading[] = [],
): LauterForecast {
  inRange('number of draws', draws.length, 1, 1e5, '');
  const target = inRange('kettle-full strength wanted', intent.targetPlato, 1, 40, '°P');
  inRange('temperature of the kettle', intent.readC, 20, 100, '°C');
  const stop = inRange('strength to stop at', intent.stopPlato ?? 2, 0, 10, '°P');
  const runs: RunOff[] = draws.map((draw) => {
    inRange('dip of the kettle', draw.dip, 0.85, 1.15, '');
    if (intent.fillsL !== undefined) return batchCourse(draw.bed, intent.fillsL);
    return runOff(draw.bed, {
      kettleL: atBed(draw, intent, intent.kettleL, target),
      holdL: intent.holdL ?? 0,
      ...(intent.shutAtL === undefined
        ? {}
        : { shutAtL: atBed(draw, intent, intent.shutAtL, target) }),
    });
  });
  const expected = (i: number, readL: number) => {
    const run = runs[i] as RunOff;
    return pointAt(run, atBed(draws[i] as LauterDraw, intent, readL, target));
  };
  const miss = draws.map((_, i) => {
    let sum = 0;
    for (const reading of readings) {
      const point = expected(i, reading.collectedL);
      if (reading.kettlePlato !== undefined)
        sum += ((reading.kettlePlato - point.kettlePlato) / SAMPLE_SD.kettle) ** 2;
      if (reading.tapPlato !== undefined)
        sum += ((reading.tapPlato - point.tapPlato) / SAMPLE_SD.tap) ** 2;
    }
    return sum;
  });
  const { weights, tempered } = weigh(miss);
  // Before a reading all draws weigh alike, and a plain band is quicker.
  const bandOf = (values: readonly number[]): Band =>
    readings.length === 0 ? band(values) : band(values, weights);
  const over = (of: (run: RunOff, i: number) => number): Band => bandOf(runs.map(of));
  const last = readings.at(-1);
  const asRead = (i: number, bedL: number) =>
    volumeAtTemperature(bedL, (draws[i] as LauterDraw).bed.tC, intent.readC, target / 100) /
    (draws[i] as LauterDraw).dip;
  const stops = runs.flatMap((run, i) => {
    const point = run.points.find((p) => p.tapPlato < stop);
    return point === undefined ? [] : [{ L: asRead(i, point.collectedL), weight: weights[i] ?? 0 }];
  });
  const stopWeight = stops.reduce((sum, s) => sum + s.weight, 0);
  const now = last?.collectedL ?? 0;
  return {
    nowKettlePlato: over((_, i) => expected(i, now).kettlePlato),
    nowTapPlato: over((_, i) => expected(i, now).tapPlato),
    neededNowPlato: needed(intent, now, runs, expected, weights),
    fullColdL: over((run) => litresAt(run.kettle, COLD_C)),
    fullPlato: over((run) => platoOf(run.kettle)),
    fullExtractKg: over((run) => run.kettle.extractKg),
    lastPlato: over((run) => run.points.at(-1)?.tapPlato ?? 0),
    shutAtL: over((run, i) => asRead(i, run.shutAtL)),
    spargeLeftL: over((run, i) => {
      const there = atBed(draws[i] as LauterDraw, intent, now, target);
      return Math.max(0, run.shutAtL - Math.max(there, run.spargeFromL));
    }),
    stopAtL:
      stopWeight > 0.5
        ? band(
            stops.map((s) => s.L),
            stops.map((s) => s.weight),
          )
        : undefined,
    course: Array.from({ length: COURSE_PARTS + 1 }, (_, n) => {
      const collectedL = (intent.kettleL * n) / COURSE_PARTS;
      const points = runs.map((_run, i) => expected(i, collectedL));
      return {
        collectedL,
        kettlePlato: bandOf(points.map((p) => p.kettlePlato)),
        tapPlato: bandOf(points.map((p) => p.tapPlato)),
      };
    }),
    weights,
    kettles: runs.map((run) => run.kettle),
    ...(tempered
      ? {
          doubt:
            'The readings do not fit this mash and tun. Stir the kettle, cool a new sample, read the volume again; the forecast leans on the readings only lightly until they agree.',
        }
      : {}),
  };
}

/** Weights from squared misses, softened until enough draws still speak. */
function weigh(miss: readonly number[]): { weights: Float64Array; tempered: boolean } {
  const least = Math.min(...miss);
  const enough = Math.min(FEWEST_DRAWS, miss.length);
  let heat = 1;
  for (;;) {
    const raw = Float64Array.from(miss, (m) => Math.exp(-(m - least) / (2 * heat)));
    if (effectiveSampleSize(raw) >= enough || heat > 1e6) {
      const total = raw.reduce((a, b) => a + b, 0);
      return { weights: raw.map((w) => w / total), tempered: heat > 4 };
    }
    heat *= 1.5;
  }
}

/** The kettle's strength now for the target at kettle-full, given what is still to run. */
function needed(
  intent: LauterIntent,
  now: number,
  runs: readonly RunOff[],
  expected: (i: number, readL: number) => { readonly extractKg: number },
  weights: Float64Array,
): number | undefined {
  if (!(now > 0 && now < intent.kettleL)) return undefined;
  // kg extract per litre adds up by volume, which °P does not.
  const goal = wortOf({ litres: 1, tC: intent.readC, plato: intent.targetPlato }).extractKg;
  const rest = weightedMean(
    runs.map((run, i) => run.kettle.extractKg - expected(i, now).extractKg),
    weights,
  );
  const kgPerL = gravityNeededNow({
    totalL: intent.kettleL,
    targetGravity: goal,
    restL: intent.kettleL - now,
    restGravity: Math.max(0, rest) / (intent.kettleL - now),
  });
  let plato = intent.targetPlato;
  for (let n = 0; n < 40; n++) {
    const { extractKg } = wortOf({ litres: 1, tC: intent.readC, plato });
    plato = Math.min(40, Math.max(0, plato * (kgPerL / extractKg)));
    if (plato === 0) return 0;
  }
  return plato;
}

/**
 * The number of ideal stages of a kit from a run-off that went well.
 *
 * @param bed the bed as it was; its own stages do not matter
 * @param seen kettleL at bed temperature [L]; lastPlato or kettle extract [kg], at least one; holdL [L]
 * @returns stages, 0.5 to 20, that come nearest, and by how much they miss [°P of the last runnings and
 *   per cent of the extract, weighed alike]
 * @throws OutOfRange outside the ranges
 * @source the stages model is fitted to the kit (Hansen 2008); golden section about the best of a grid
 */
export function stagesOfKit(
  bed: LauterBed,
  seen: {
    readonly kettleL: number;
    readonly lastPlato?: number;
    readonly extractKg?: number;
    readonly holdL?: number;
  },
): { readonly stages: number; readonly miss: number } {
  const figures = Number(seen.lastPlato !== undefined) + Number(seen.extractKg !== undefined);
  inRange('number of figures to fit', figures, 1, 2, '');
  const missOf = (stages: number): number => {
    const run = runOff({ ...bed, stages }, { kettleL: seen.kettleL, holdL: seen.holdL ?? 0 });
    const last =
      seen.lastPlato === undefined ? 0 : (run.points.at(-1)?.tapPlato ?? 0) - seen.lastPlato;
    const kg = seen.extractKg === undefined ? 0 : 100 * (run.kettle.extractKg / seen.extractKg - 1);
    return Math.hypot(last, kg);
  };
  const grid = [0.5, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 4, 5, 6, 8, 10, 14, 20];
  const misses = grid.map(missOf);
  const best = misses.indexOf(Math.min(...misses));
  let low = grid[Math.max(0, best - 1)] as number;
  let high = grid[Math.min(grid.length - 1, best + 1)] as number;
  const golden = (Math.sqrt(5) - 1) / 2;
  while (high - low > 1e-3) {
    const a = high - golden * (high - low);
    const b = low + golden * (high - low);
    if (missOf(a) < missOf(b)) high = b;
    else low = a;
  }
  const stages = (low + high) / 2;
  return { stages, miss: missOf(stages) };
}

/** When to stop by pH: the last runnings draw harsh matter from the husk above it. */
const STOP_PH = 6;

/**
 * Litres at which the runnings come to the pH where run-off stops.
 *
 * @param readings collectedL in the kettle [L] and pH of the runnings at 20 °C, in order, pH 4 to 8
 * @param stopPh pH to stop at, 5 to 7, 6.0 unless given (field practice)
 * @returns litres, by the line through the last two readings; 'now' when it is past; undefined when
 *   there are fewer than two or the pH does not rise
 * @throws OutOfRange outside the ranges
 * @source linear; run off to pH 6.0 or 2 °P, whichever comes first (common practice, no source)
 */
export function stopByPh(
  readings: readonly { readonly collectedL: number; readonly ph: number }[],
  stopPh = STOP_PH,
): number | 'now' | undefined {
  inRange('pH to stop at', stopPh, 5, 7, '');
  for (const reading of readings) inRange('pH of the runnings', reading.ph, 4, 8, '');
  const b = readings.at(-1);
  if (b === undefined) return undefined;
  if (b.ph >= stopPh) return 'now';
  const a = readings.at(-2);
  if (a === undefined) return undefined;
  const slope = (b.ph - a.ph) / (b.collectedL - a.collectedL);
  return slope > 0 ? b.collectedL + (stopPh - b.ph) / slope : undefined;
}
