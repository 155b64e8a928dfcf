/**
 * Iodine: when to test, how likely blue is, and what to do about it. The rescue is computed with
 * the same kinetics: how long a rest clears it, and how much of a fresh side mash when a rest alone
 * does not. (Flour stirred in whole brings its own starch and does little by the model.)
 */
import { addMash, GristEngine, type GristPart, type MashParameters } from '@ladlework/brewhouse';
import type { Beer } from './document.ts';
import { knownMalt, parametersOf } from './grist.ts';

/** Where a starchy mash is held: alpha-amylase works and still lives. @source field.md 1.11 (70-72 °C), common practice */
export const RESCUE_C = 71;
/** Above this the last alpha-amylase goes within minutes. @source field.md 1.11, common practice */
export const DO_NOT_PASS_C = 76;
/** A rescue rest is read every so often, and given up for fresh enzyme after so long [min]. @source field.md 3 (re-test each 5-10 min) */
const RETEST_MIN = 5;
const LONGEST_REST_MIN = 40;
/** With fresh enzyme stirred in, the starch is to be gone after this [min]; our judgement. */
const FRESH_MIN = 45;
/** A thin side mash gives up its enzyme without its starch: liquor, heat, time, and what is strained off; our judgement. */
const SIDE_MASH = { litresPerKg: 3, tempC: 50, minutes: 20, strainedShare: 0.7 };
/** Heats tried for the fresh enzyme: cooler it lives longer, hotter it works faster [°C]. */
const FRESH_C = [66, 68, 70, 72];
/** Most malt that is still a rescue, as a share of the grist; our judgement. */
const MOST_MALT_SHARE = 0.25;

export interface StarchRescue {
  /** Rest at 71 °C that clears it [min]; undefined when none up to 40 min does. */
  readonly restMin?: number;
  /** Malt whose strained side mash clears it in 45 min [kg]; undefined when not needed or not enough. */
  readonly maltKg?: number;
  readonly holdC: number;
  readonly doNotPassC: number;
  /** For the brewer. */
  readonly text: string;
}

/**
 * What clears a starch-positive mash.
 * @param mash species of the vessel that tested blue; not changed
 * @param engine the engine it was made with
 * @param malt the malt at hand for a side mash, and the parameters it runs with
 * @param gristKg whole grist [kg], for the limit on the side mash
 * @returns the rest, or the side mash, or that neither does
 * @source docs/science/mash.md; holding temperature and re-test by common practice
 */
export function starchRescue(
  mash: Float64Array,
  engine: GristEngine,
  malt: { readonly malt: GristPart['malt']; readonly parameters: MashParameters },
  gristKg: number,
): StarchRescue {
  const base = { holdC: RESCUE_C, doNotPassC: DO_NOT_PASS_C };
  const keep = (holdC: number) =>
    `Hold ${holdC} °C, test again every ${RETEST_MIN} min, do not pass ${DO_NOT_PASS_C} °C: above it the enzyme is gone.`;
  const restMin = clearedAfter(mash, engine);
  if (restMin === 0)
    return {
      ...base,
      restMin,
      text: `By the model the starch is gone: test wort without husks, which stay blue. If it is blue again, ${keep(RESCUE_C).replace(/^H/, 'h')}`,
    };
  if (restMin !== undefined)
    return {
      ...base,
      restMin,
      text: `A rest of about ${restMin} min should clear it. ${keep(RESCUE_C)}`,
    };
  const mostKg = MOST_MALT_SHARE * gristKg;
  const tried = FRESH_C.map((holdC) => ({
    holdC,
    maltKg: maltNeeded(mash, engine, malt, mostKg, holdC),
  }));
  const able = tried.filter((t): t is { holdC: number; maltKg: number } => t.maltKg !== undefined);
  const best = able.sort((a, b) => a.maltKg - b.maltKg)[0];
  if (!best)
    return {
      ...base,
      text: `Neither a rest of ${LONGEST_REST_MIN} min nor the liquid of ${mostKg.toFixed(0)} kg of malt clears it by the model: keep a part of a fresh mash for it, or accept a starch haze. ${keep(RESCUE_C)}`,
    };
  const litres = best.maltKg * SIDE_MASH.litresPerKg;
  return {
    ...base,
    holdC: best.holdC,
    maltKg: best.maltKg,
    text: `A rest alone does not clear it: no enzyme is left. Mash ${best.maltKg.toFixed(1)} kg of malt in ${litres.toFixed(0)} L at ${SIDE_MASH.tempC} °C for ${SIDE_MASH.minutes} min, strain, stir the liquid in, wait ${FRESH_MIN} min. ${keep(best.holdC)}`,
  };
}

/**
 * The malt at hand for a side mash: the largest mashed lot of a beer.
 * @param beer its malts and parameters
 * @returns undefined when no malt of it is mashed
 */
export function rescueMalt(
  beer: Beer,
): { readonly malt: GristPart['malt']; readonly parameters: MashParameters } | undefined {
  const lots = beer.malts.map(knownMalt).filter(({ malt }) => malt.kind === 'mashed');
  const most = lots.sort((a, b) => b.massKg - a.massKg)[0];
  return most && { malt: most.malt, parameters: parametersOf(beer) };
}

/** Minutes at the holding temperature until iodine stays yellow, in steps of a re-test. */
function clearedAfter(mash: Float64Array, engine: GristEngine): number | undefined {
  const state = mash.slice();
  if (engine.results(state).iodineNormal) return 0;
  for (let t = RETEST_MIN; t <= LONGEST_REST_MIN; t += RETEST_MIN) {
    hold(state, engine, RETEST_MIN, RESCUE_C);
    if (engine.results(state).iodineNormal) return t;
  }
  return undefined;
}

/** Least malt, to 0.1 kg, whose side mash clears it in time; bisection, as more clears sooner. */
function maltNeeded(
  mash: Float64Array,
  engine: GristEngine,
  { malt, parameters }: { readonly malt: GristPart['malt']; readonly parameters: MashParameters },
  mostKg: number,
  holdC: number,
): number | undefined {
  const side = new GristEngine([{ malt, massKg: 1 }], parameters);
  const perKg = side.start(1, SIDE_MASH.litresPerKg);
  hold(perKg, side, SIDE_MASH.minutes, SIDE_MASH.tempC);
  const strained = side.take(perKg, 0, SIDE_MASH.strainedShare);
  const clears = (kg: number) => {
    const state = mash.slice();
    addMash(
      state,
      strained.map((amount) => amount * kg),
    );
    hold(state, engine, FRESH_MIN, holdC);
    return engine.results(state).iodineNormal;
  };
  if (!clears(mostKg)) return undefined;
  let low = 0;
  let high = mostKg;
  while (high - low > 0.1) {
    const mid = (low + high) / 2;
    if (clears(mid)) high = mid;
    else low = mid;
  }
  return high;
}

function hold(state: Float64Array, engine: GristEngine, minutes: number, tempC: number): void {
  engine.advance(state, Float64Array.of(0, minutes), Float64Array.of(tempC, tempC), 2);
}
