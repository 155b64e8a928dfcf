/**
 * The mashes of reference/data/mash-validation.csv as runs of the kinetics, for the tests and for
 * the study scripts that look for a better model. Assumptions the source leaves open are said at
 * each run.
 */
import { advanceMash, MashWorkspace } from './advance.ts';
import { compileMash } from './compile.ts';
import { emptyMash, GLUCOSIDASE, GS } from './layout.ts';
import {
  DEXTRIN_MALT,
  type GristPart,
  type MashBrought,
  type MashOptions,
  STANDARD_MALT,
  startMash,
  withOptions,
} from './malt.ts';
import { addLiquor, addMash, takeShares, wortExtractPct } from './mixing.ts';
import type { MashParameters } from './parameters.ts';
import { type MashResults, mashResults } from './results.ts';

const TOLERANCE = 1e-6;
const workspace = new MashWorkspace();
const PALE: readonly GristPart[] = [{ malt: STANDARD_MALT, massKg: 1 }];

/** Kinetics as the runs see them: what is shipped, or a candidate of the study. */
export interface MashModel {
  readonly parameters: MashParameters;
  readonly options: MashOptions;
  /** Liquor added to laboratory mashes at 70 °C [kg/kg]; absent: none, as in the fit. */
  readonly laboratoryAddKg?: number;
  /** Carries a vessel along knots [min, °C], in place. */
  advance(state: Float64Array, line: Line): void;
}

/** The kinetics of this room with a parameter set and options. */
export function shippedMash(parameters: MashParameters, options: MashOptions = {}): MashModel {
  const p = withOptions(parameters, options);
  const compiled = compileMash(p);
  return {
    parameters: p,
    options,
    advance: (state, line) =>
      advanceMash(
        state,
        compiled,
        line.map(([minute]) => minute),
        line.map(([, tempC]) => tempC),
        TOLERANCE,
        workspace,
      ),
  };
}

export interface Run extends MashResults {
  readonly state: Float64Array;
  readonly brought: MashBrought;
}

/** Minutes and temperature [°C] of each knot. */
export type Line = readonly (readonly [number, number])[];

/** One vessel along one line, and along a second one after more liquor. */
function runLine(
  m: MashModel,
  line: Line,
  liquorKg: number,
  grist: readonly GristPart[] = PALE,
  then?: { readonly addKg: number; readonly line: Line },
): Run {
  const { state, brought } = startMash(grist, liquorKg, m.parameters, m.options);
  m.advance(state, line);
  if (then !== undefined) {
    addLiquor(state, then.addKg);
    m.advance(state, then.line);
  }
  return { ...mashResults(state, brought, m.parameters), state, brought };
}

const hold = (tempC: number, minutes: number): Line => [
  [0, tempC],
  [minutes, tempC],
];

/** AAT: 90 % lager malt, 10 % dextrin malt, 3:1 by weight; 60 min assumed. */
export function chandrasekhar(m: MashModel, tempC: number): number {
  const grist = [
    { malt: STANDARD_MALT, massKg: 0.9 },
    { malt: DEXTRIN_MALT, massKg: 0.1 },
  ];
  return runLine(m, hold(tempC, 60), 3, grist).limitApparentPct;
}

/** EV: 60 min, 1 °C/min to 74 °C, 10 min there (ramp and end assumed). */
export function evans(m: MashModel, tempC: number): Run {
  const rise = Math.max(0, 74 - tempC);
  const top = Math.max(74, tempC);
  const line: Line = [
    [0, tempC],
    [60, tempC],
    [60 + rise, top],
    [70 + rise, top],
  ];
  return runLine(m, line, 3);
}

/** Temperature of the highest limit on a grid [°C]. */
export function peakOf(limit: (tempC: number) => number, grid: readonly number[]): number {
  return grid.reduce((best, tempC) => (limit(tempC) > limit(best) ? tempC : best));
}

/** Isothermal hour at 3 kg/kg. */
export function hour(m: MashModel, tempC: number, liquorKg = 3): Run {
  return runLine(m, hold(tempC, 60), liquorKg);
}

/** Any isothermal mash. */
export function stand(m: MashModel, tempC: number, minutes: number, liquorKg: number): Run {
  return runLine(m, hold(tempC, minutes), liquorKg);
}

/** Congress mash: 30 min at 45 °C, 1 °C/min to 70 °C, on to minute 115; 4 kg/kg at mash-in. */
export function congress(m: MashModel, minute: number): Run {
  const line: [number, number][] = [[0, 45]];
  line.push([Math.min(30, minute), 45]);
  if (minute > 30) line.push([Math.min(55, minute), 45 + Math.min(55, minute) - 30]);
  // The liquor goes in as 70 °C is reached, and minute 55 is read with it.
  const addKg = m.laboratoryAddKg ?? 0;
  if (minute < 55 || (minute === 55 && addKg === 0)) return runLine(m, line, 4);
  return runLine(m, line, 4, PALE, { addKg, line: hold(70, minute - 55) });
}

/** Alpha-glucosidase left, dissolved or not, over what the malt brought (option V). */
export function glucosidaseLeft(run: Run): number {
  return (run.state[GS]! + run.state[GLUCOSIDASE]!) / run.brought.maltKg;
}

const sugars = (r: MashResults) => r.glucoseKg + r.maltoseKg + r.maltotrioseKg;

/** RI: sugar yield of 10 min at a temperature over that of 60 min at 65 °C, 4 kg/kg. */
export function rittenauer(m: MashModel, tempC: number): number {
  return stand(m, tempC, 10, 4).fermentableKg / stand(m, 65, 60, 4).fermentableKg;
}

/** DS: sugars as starch over starch [%]; 62/45, 72/20, 78/5 at 1 °C/min assumed. */
export function deSchepper(m: MashModel, liquorKg: number): number {
  const line: Line = [
    [0, 62],
    [45, 62],
    [55, 72],
    [75, 72],
    [81, 78],
    [86, 78],
  ];
  const r = runLine(m, line, liquorKg);
  const p = m.parameters;
  const asStarch = r.glucoseKg / p.hG + r.maltoseKg / p.hM + r.maltotrioseKg / p.hT;
  return (100 * asStarch) / r.brought.starchKg;
}

/** Starch opened [%]. */
export function opened(r: Run): number {
  return 100 * (1 - r.starchUngelatinisedShare);
}

/** Shares of the sugars and starch products of an hour at 65 °C, 3 kg/kg. */
export function spectrum(m: MashModel) {
  const r = hour(m, 65);
  const s = sugars(r);
  const fermentable = s + r.preformedKg;
  const products = s + r.dextrinKg + r.limitDextrinKg + r.starchGelatinisedKg;
  return {
    sugarsOfProducts: s / products,
    maltose: r.maltoseKg / fermentable,
    maltotriose: r.maltotrioseKg / fermentable,
    glucoseAndPreformed: (r.glucoseKg + r.preformedKg) / fermentable,
    maltotrioseOfCarbohydrate: r.maltotrioseKg / (r.extractKg - r.otherKg),
  };
}

/** VZ45: extract of an hour at 45 °C, 6 kg/kg, over that of the Congress mash. */
export function hartong(m: MashModel): number {
  return stand(m, 45, 60, 6).extractKg / congress(m, 115).extractKg;
}

/** Pulls of one commercial brewery, schedule not given: 52/62/72/77 °C at 3.5 kg/kg assumed. */
export function limitOfPulls(m: MashModel, pulls: 0 | 1 | 2): number {
  const { state, brought } = startMash(PALE, 3.5, m.parameters, m.options);
  const pull = (fromC: number, boilMin: number) => {
    const pot = emptyMash();
    takeShares(state, 0.38, 0.26, pot);
    const line: Line = [
      [0, fromC],
      [12, 70],
      [27, 70],
      [55, 99],
      [55 + boilMin, 99],
    ];
    m.advance(pot, line);
    m.advance(state, [
      [0, fromC],
      [55 + boilMin, fromC - 1.5],
    ]);
    addMash(state, pot);
  };
  m.advance(state, hold(52, 15));
  if (pulls === 2) pull(52, 15);
  else
    m.advance(state, [
      [0, 52],
      [12, 62],
    ]);
  m.advance(state, [
    [0, 62],
    [35, 61.5],
  ]);
  if (pulls >= 1) pull(61.5, 15);
  else
    m.advance(state, [
      [0, 61.5],
      [11, 72],
    ]);
  m.advance(state, [
    [0, 72],
    [25, 71.5],
    [31, 77],
    [36, 77],
  ]);
  return mashResults(state, brought, m.parameters).limitApparentPct;
}

/**
 * Zierl's trial: thin mash, two thick pulls and a clear one of a third each, boiled 45 min.
 * Extract after each pull over the final one, read `restMin` after each return.
 */
export function zierl(m: MashModel, restMin: number): readonly [number, number, number] {
  const { state } = startMash(PALE, 7, m.parameters, m.options);
  const read: number[] = [];
  const go = (vessel: Float64Array, minutes: number, fromC: number, toC: number) =>
    m.advance(vessel, [
      [0, fromC],
      [minutes, toC],
    ]);
  go(state, 30, 37.5, 37);
  const pulls = [
    { fromC: 37, backC: 56.25, solid: 0.33, heat: 45, boil: 45, rest: 15 },
    { fromC: 55.25, backC: 67.5, solid: 0.33, heat: 40, boil: 45, rest: 15 },
    { fromC: 66.5, backC: 77.5, solid: 0.05, heat: 40, boil: 2, rest: 5 },
  ];
  for (const { fromC, backC, solid, heat, boil, rest } of pulls) {
    const pot = emptyMash();
    takeShares(state, solid, 0.33, pot);
    go(pot, heat, fromC, 99);
    go(pot, boil, 99, 99);
    go(state, heat + boil, fromC, fromC - 2);
    addMash(state, pot);
    go(state, restMin, backC, backC);
    read.push(wortExtractPct(state));
    go(state, rest, backC, backC - 1);
  }
  go(state, 60, 77, 75);
  const last = wortExtractPct(state);
  return [read[0]! / last, read[1]! / last, read[2]! / last];
}
