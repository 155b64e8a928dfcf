/**
 * Kilograms of each lot that give the extract and the colour wanted: a mixed-integer programme. What
 * must hold is a row, what is wished for is minimised; colour, enzymes and mash pH are all linear in
 * the kilograms once they are asked for as limits.
 */
import { maltColourUnits } from '@ladlework/matter';
import { type LinearProgramme, type LinearRow, solveLinear } from '@ladlework/numerics';

/** One lot to choose from. */
export interface Choice {
  /** Extract the mash takes from a kilogram [kg/kg], above 0. */
  readonly extractKgKg: number;
  readonly lovibond: number;
  readonly wk: number;
  /** Protons a kilogram and its liquor still want at the lowest and the highest mash pH [mEq/kg]. */
  readonly protons?: { readonly atLow: number; readonly atHigh: number };
  readonly pricePerKg?: number;
  /** Tipped in steps of this [kg]; left out: weighed. */
  readonly stepKg?: number;
  /** In store [kg]; left out: enough. */
  readonly mostKg?: number;
  /** Share of the grist, 0-1. */
  readonly mostShare: number;
  /** In the brewer's own grist [kg]. */
  readonly ownKg: number;
}

/** What is asked of the lots. */
export interface Ask {
  readonly choices: readonly Choice[];
  /** Extract wanted, and the share of it that may be missed either way. */
  readonly extractKg: number;
  readonly extractTolerance: number;
  /** Colour wanted between these [lb °Lovibond per US gallon], in wort of the strength of `litresPerKg`. */
  readonly units: { readonly low: number; readonly high: number };
  /** Litres the wort compared in has for a kilogram of extract [L/kg]. */
  readonly litresPerKg: number;
  readonly leastWk: number;
  readonly aim: 'price' | 'fewest-lots' | 'own-grist';
}

/** Groups of rows; one can be left out to find which of them stands in the way. */
export const LIMITS = ['extract', 'colour', 'enzymes', 'ph', 'shares', 'store'] as const;
export type Limit = (typeof LIMITS)[number];

export type Shares =
  | { readonly state: 'found'; readonly kg: readonly number[] }
  | { readonly state: 'none' | 'gave-up' };

/** What the first aim may lose to the second, as a share; above the solver's own rounding. */
const TIE = 1e-6;
/** Grist is reckoned in shares of this many kilograms of the extract wanted. */
const MOST_GROWN = 4;

/**
 * Solves for the kilograms.
 *
 * Price and fewest lots leave ties; among them the grist nearest to the brewer's own is taken.
 *
 * @param ask lots and limits
 * @param without limits left out, to find what stands in the way
 * @returns kilograms in the order of the lots, or that there are none
 */
export function sharesFor(ask: Ask, without: ReadonlySet<Limit> = new Set()): Shares {
  const model = new GristModel(ask, without);
  const near = model.nearness();
  const first =
    ask.aim === 'price' ? model.price() : ask.aim === 'fewest-lots' ? model.lots() : near;
  const best = model.solve(first, []);
  if (best.state !== 'optimal') return { state: best.state === 'infeasible' ? 'none' : 'gave-up' };
  if (first === near) return { state: 'found', kg: model.kgOf(best.x) };
  const kept: LinearRow = { of: first, most: best.value + TIE * Math.max(1, Math.abs(best.value)) };
  const nearest = model.solve(near, [kept]);
  return { state: 'found', kg: model.kgOf(nearest.state === 'optimal' ? nearest.x : best.x) };
}

/**
 * The grist that misses extract and colour by least, each miss counted in its own tolerance; all other
 * limits hold.
 */
export function nearestShares(ask: Ask): Shares {
  const model = new GristModel(ask, new Set(['extract', 'colour']), true);
  const best = model.solve(model.misses(), []);
  if (best.state !== 'optimal') return { state: best.state === 'infeasible' ? 'none' : 'gave-up' };
  const kg = model.kgOf(best.x);
  // Nothing at all keeps every limit on shares and enzymes too.
  return kg.some((x) => x > 0) ? { state: 'found', kg } : { state: 'none' };
}

/** The palest or darkest grist that keeps every limit but colour. */
export function extremeShares(ask: Ask, which: 'palest' | 'darkest'): Shares {
  const model = new GristModel(ask, new Set(['colour']));
  const sign = which === 'palest' ? 1 : -1;
  const best = model.solve(
    model.columns((c) => sign * c.lovibond * model.unit),
    [],
  );
  if (best.state !== 'optimal') return { state: best.state === 'infeasible' ? 'none' : 'gave-up' };
  return { state: 'found', kg: model.kgOf(best.x) };
}

/** Unknowns: amount of each lot, how far it is from the brewer's own, whether it is used, misses. */
class GristModel {
  /** Kilograms in one unit of the amounts: numbers near one keep the simplex honest. */
  readonly unit: number;
  private readonly n: number;
  private readonly width: number;
  private readonly rows: LinearRow[] = [];
  private readonly whole: number[] = [];
  private readonly ask: Ask;

  constructor(ask: Ask, without: ReadonlySet<Limit>, elastic = false) {
    this.ask = ask;
    this.unit = ask.extractKg;
    this.n = ask.choices.length;
    this.width = 3 * this.n + (elastic ? 4 : 0);
    if (!without.has('extract'))
      this.rows.push({
        of: this.columns((c) => c.extractKgKg),
        least: 1 - ask.extractTolerance,
        most: 1 + ask.extractTolerance,
      });
    if (!without.has('colour')) {
      this.rows.push({ of: this.columns((c) => this.colour(c, ask.units.low)), least: 0 });
      this.rows.push({ of: this.columns((c) => this.colour(c, ask.units.high)), most: 0 });
    }
    if (elastic) this.addMisses();
    if (!without.has('enzymes'))
      this.rows.push({ of: this.columns((c) => (c.wk - ask.leastWk) / 100), least: 0 });
    if (!without.has('ph') && ask.choices.every((c) => c.protons)) {
      this.rows.push({ of: this.columns((c) => c.protons?.atLow ?? 0), least: 0 });
      this.rows.push({ of: this.columns((c) => c.protons?.atHigh ?? 0), most: 0 });
    }
    ask.choices.forEach((choice, i) => {
      if (!without.has('shares') && choice.mostShare < 1) this.addShare(choice, i);
      this.addAmount(choice, i, without.has('store') ? undefined : choice.mostKg);
    });
  }

  /** Coefficients of the amounts, each given per kilogram; nothing of the other unknowns. */
  columns(of: (choice: Choice, i: number) => number): number[] {
    const row = Array.from({ length: this.width }, () => 0);
    this.ask.choices.forEach((c, i) => {
      row[i] = of(c, i) * this.step(c);
    });
    return row;
  }

  /** Amount of one step in units of the wanted extract: whole unknowns count steps. */
  private step(choice: Choice): number {
    return choice.stepKg === undefined ? 1 : choice.stepKg / this.unit;
  }

  /** Colour above these units, per kilogram; the wort grows with the extract of the lot itself. */
  private colour(choice: Choice, units: number): number {
    const perKg = maltColourUnits([{ kg: 1, lovibond: choice.lovibond }], this.ask.litresPerKg);
    return perKg / units - choice.extractKgKg;
  }

  private addShare(choice: Choice, i: number): void {
    this.rows.push({ of: this.columns((_, j) => (i === j ? 1 : 0) - choice.mostShare), most: 0 });
  }

  private addAmount(choice: Choice, i: number, mostKg: number | undefined): void {
    const size = this.step(choice);
    const most = Math.min(mostKg ?? Infinity, MOST_GROWN * this.unit) / this.unit;
    if (choice.stepKg !== undefined) this.whole.push(i);
    this.rows.push({ of: this.at([[i, size]]), most });
    const own = choice.ownKg / this.unit;
    this.rows.push({
      of: this.at([
        [i, size],
        [this.n + i, -1],
      ]),
      most: own,
    });
    this.rows.push({
      of: this.at([
        [i, -size],
        [this.n + i, -1],
      ]),
      most: -own,
    });
    if (this.ask.aim !== 'fewest-lots') return;
    this.whole.push(2 * this.n + i);
    this.rows.push({
      of: this.at([
        [i, size],
        [2 * this.n + i, -most],
      ]),
      most: 0,
    });
    this.rows.push({ of: this.at([[2 * this.n + i, 1]]), most: 1 });
  }

  private at(entries: readonly (readonly [number, number])[]): number[] {
    const row = Array.from({ length: this.width }, () => 0);
    for (const [i, value] of entries) row[i] = value;
    return row;
  }

  /** Two rows with a miss up and down each: extract, and colour about the middle of its window. */
  private addMisses(): void {
    const { ask } = this;
    const at = 3 * this.n;
    const extract = this.columns((c) => c.extractKgKg);
    extract[at] = ask.extractTolerance;
    extract[at + 1] = -ask.extractTolerance;
    this.rows.push({ of: extract, least: 1, most: 1 });
    const middle = (ask.units.low + ask.units.high) / 2;
    const colour = this.columns((c) => this.colour(c, middle));
    const tolerance = (ask.units.high - ask.units.low) / 2 / middle;
    colour[at + 2] = tolerance;
    colour[at + 3] = -tolerance;
    this.rows.push({ of: colour, least: 0, most: 0 });
  }

  /** Sum of the misses, and a little of the distance from the own grist to settle ties. */
  misses(): number[] {
    const at = 3 * this.n;
    const row = this.at([0, 1, 2, 3].map((k) => [at + k, 1] as const));
    for (let i = 0; i < this.n; i++) row[this.n + i] = 1e-3;
    return row;
  }

  nearness(): number[] {
    return this.at(this.ask.choices.map((_, i) => [this.n + i, 1] as const));
  }

  price(): number[] {
    return this.columns((c) => c.pricePerKg ?? 0);
  }

  lots(): number[] {
    return this.at(this.ask.choices.map((_, i) => [2 * this.n + i, 1] as const));
  }

  solve(minimise: readonly number[], more: readonly LinearRow[]) {
    const programme: LinearProgramme = {
      minimise,
      rows: [...this.rows, ...more],
      whole: this.whole,
    };
    return solveLinear(programme);
  }

  /** Kilograms; a crumb under a thousandth of the extract is nothing. */
  kgOf(x: readonly number[]): number[] {
    return this.ask.choices.map((c, i) => {
      const kg = (x[i] as number) * this.step(c) * this.unit;
      return kg < 1e-4 * this.unit ? 0 : kg;
    });
  }
}
