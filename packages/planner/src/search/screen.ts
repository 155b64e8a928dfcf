/**
 * The screen: every combination of the free choices of a frame, each told by the sum of its pieces.
 * It only ranks, and rules out what is out by more than its margin; what survives goes through the
 * full engine.
 */

import type { Thickness } from '@ladlework/brewhouse';
import { normalCdf } from '@ladlework/numerics';
import { MISSED_K } from '../compare/missed.ts';
import type { Prices } from '../compare/prices.ts';
import { brewDay, pullAfterMin } from '../day.ts';
import type { MashRest, PlanDocument, Raise } from '../document.ts';
import { lauterOf } from '../timetable/stations.ts';
import { TYPICAL_WORK, wortLitres } from '../timetable/work.ts';
import type { Places, SearchAxes } from './axes.ts';
import type { Frame } from './frames.ts';
import { documentAt, PieceMaker, V, VALUES } from './pieces.ts';

/**
 * How far the screen may be off before it rules a plan out: a rest short by more than this [K], a
 * vessel fuller than this against its brim. Held against the full engine in screen.test.ts.
 */
const MARGIN_K = 0.6;
const MARGIN_FULL = 1.04;

/** What the screen weighs; the smaller the better, each. */
export const WEIGHED = [
  'dayMin',
  'handsMin',
  'carriedKg',
  'energyKWh',
  'unboiled',
  'missChance',
] as const;

/** One raise boiled or heated in one way: seven nodes of its smooth choices. */
interface Table {
  readonly raise: Raise;
  readonly nodes: Nodes;
}

type Values = Float64Array;
type Nodes = readonly [Values, Values, Values, Values, Values, Values, Values];

interface Combo {
  /** For each raise: which of its tables, and its boil [min]. */
  readonly tables: Int32Array;
  readonly boils: Float64Array;
}

/** All plans of one frame. */
export class FrameScreen {
  readonly frame: Frame;
  private readonly axes: SearchAxes;
  private readonly maker: PieceMaker;
  private readonly tables: Table[][] = [];
  private readonly openings: Float64Array[][] = [];
  private readonly combos: Combo[] = [];
  private readonly rests: readonly MashRest[];
  private readonly gristKg: number;
  private readonly reference: { liquorLPerKg: number; restShare: number };
  private readonly spans: {
    liquor: [number, number, number];
    rest: [number, number];
    boil: [number, number];
    reserve: [number, number];
  };
  private losses: readonly number[] = [];
  /** Run-off and knock-out at each liquor ratio [min]. */
  private readonly wortMin: readonly number[];
  private readonly out = new Float64Array(VALUES);
  /** Plans in all. */
  total = 0;

  constructor(frame: Frame, axes: SearchAxes, prices: Prices) {
    this.frame = frame;
    this.axes = axes;
    const { document } = frame.recipe;
    this.maker = new PieceMaker(frame.recipe, prices);
    this.rests = document.mash.rests;
    this.gristKg = document.beer.malts.reduce((sum, m) => sum + m.kg, 0);
    const liquors = axes.liquorLPerKg;
    this.wortMin = liquors.map((ratio) => wortMinutes(document, ratio * this.gristKg));
    const middle = liquors[liquors.length >> 1] as number;
    this.spans = {
      liquor: [Math.min(...liquors), middle, Math.max(...liquors)],
      rest: [Math.max(...axes.restShare), Math.min(...axes.restShare)],
      boil: [Math.min(...axes.boilMinutes), Math.max(...axes.boilMinutes)],
      reserve: [Math.min(...axes.reserve), Math.max(...axes.reserve)],
    };
    this.reference = { liquorLPerKg: middle, restShare: this.spans.rest[0] };
  }

  /** Runs the pieces, a table at a time, so that a caller can do something else in between. */
  *prepare(): Generator<void, void, void> {
    const { document } = this.frame.recipe;
    for (const liquorLPerKg of this.axes.liquorLPerKg)
      this.openings.push(
        this.axes.restShare.map((restShare) => this.maker.opening({ liquorLPerKg, restShare })),
      );
    this.losses = this.maker.ownLosses(this.reference);
    yield;
    const choices = document.mash.raises.map((raise, i) => this.raiseChoices(raise, i));
    for (const [i, list] of choices.entries()) {
      const tables: Table[] = [];
      this.tables.push(tables);
      for (const raise of list.raises) {
        const kind = kindOf(raise);
        const like = tables.find((t) => kindOf(t.raise) === kind);
        tables.push({ raise, nodes: this.nodesOf(i, raise, like) });
        yield;
      }
    }
    this.combine(choices);
    const { liquorLPerKg, restShare, reserve } = this.axes;
    const reserves = this.frame.pulls.length > 0 ? reserve.length : 1;
    this.total = this.combos.length * liquorLPerKg.length * restShare.length * reserves;
  }

  /** The ways to make one raise, boils left open; several choices may come to the same. */
  private raiseChoices(raise: Raise, index: number): RaiseChoices {
    const choices: RaiseChoices = { raises: [], table: new Map() };
    if (raise.by !== 'decoction') {
      choices.raises.push(raise);
      return choices;
    }
    const { axes, frame } = this;
    const several = frame.pulls.length > 1;
    const parks = frame.recipe.document.mash.layout === 'kettle-mash' && index === 0;
    const places = parks ? [undefined] : placesFor(axes, several);
    const beside = several ? axes.besideLPerKg.slice(0, 1) : axes.besideLPerKg;
    const fromC = (this.rests[index] as MashRest).tempC;
    const { pullRest: _rest, boilingLiquorL: _liquor, ...own } = raise;
    const found = new Map<string, number>();
    places.forEach((place, p) => {
      for (const thickness of axes.thickness)
        axes.pullRest.forEach((rest, r) => {
          for (const litres of beside) {
            // A thin pull has little to convert; a rest inside it must lie above where it comes from.
            const inPull =
              thickness !== 'thin' && rest && rest.tempC > fromC + 1 ? rest : undefined;
            const made: Raise = {
              ...own,
              ...place,
              thickness,
              ...(inPull ? { pullRest: inPull } : {}),
              ...(litres > 0 ? { boilingLiquorL: Math.round(litres * this.gristKg) } : {}),
              boilMinutes: 0,
            };
            const text = JSON.stringify(made);
            const table = found.get(text) ?? choices.raises.push(made) - 1;
            found.set(text, table);
            choices.table.set(choiceKey(p, thickness, r, litres), table);
          }
        });
    });
    return choices;
  }

  /**
   * Nodes of a raise: corners in boil and rest length, leaner and richer in liquor, bigger reserve.
   * The first raise into the same pots is run at all of them. Another one, thinner or with a rest
   * inside the pull, is run at two boils and changes with the rest as the first one does.
   */
  private nodesOf(index: number, raise: Raise, like: Table | undefined): Nodes {
    const { liquor, rest, boil, reserve } = this.spans;
    const run = (
      liquorLPerKg: number,
      restShare: number,
      boilMinutes: number,
      spare: number,
      spread = false,
    ) => {
      const own = raise.by === 'decoction' ? { ...raise, boilMinutes } : raise;
      const node = { liquorLPerKg, restShare, boilMinutes, reserve: spare };
      return this.maker.raise(index, own, node, spread);
    };
    const [lean, middle, rich] = liquor;
    const pulled = raise.by === 'decoction';
    const first = run(middle, rest[0], boil[0], reserve[0], like === undefined);
    const longBoil = pulled ? run(middle, rest[0], boil[1], reserve[0]) : first;
    if (like) {
      const [, , ...others] = like.nodes;
      const changed = others.map((n) => changedAs(first, like.nodes[0], n));
      first[V.doubtK] = like.nodes[0][V.doubtK] as number;
      return [first, longBoil, ...changed] as unknown as Nodes;
    }
    const shortRest = run(middle, rest[1], boil[0], reserve[0]);
    const both = pulled ? run(middle, rest[1], boil[1], reserve[0]) : shortRest;
    const leaner = lean < middle ? run(lean, rest[0], boil[0], reserve[0]) : first;
    const richer = rich > middle ? run(rich, rest[0], boil[0], reserve[0]) : first;
    const spare =
      pulled && reserve[1] > reserve[0] ? run(middle, rest[0], boil[0], reserve[1]) : first;
    return [first, longBoil, shortRest, both, leaner, richer, spare];
  }

  /**
   * Combinations of raises. Several pulls share their pots and their rest inside the pull; all but
   * the last share thickness and boil too, and the last may be thin and boil shorter.
   */
  private combine(choices: readonly RaiseChoices[]): void {
    const { pulls } = this.frame;
    const seen = new Set<string>();
    const build = (tables: readonly number[], boils: readonly number[]) => {
      const key = `${tables.join()} ${boils.join()}`;
      if (seen.has(key)) return;
      seen.add(key);
      this.combos.push({ tables: Int32Array.from(tables), boils: Float64Array.from(boils) });
    };
    const none = choices.map(() => 0);
    const [first] = pulls;
    if (first === undefined) {
      build(none, none);
      return;
    }
    const last = pulls.at(-1) as number;
    const lead = choices[first] as RaiseChoices;
    for (const key of lead.table.keys()) {
      const lasts = pulls.length === 1 ? [key] : [key, thinned(key)];
      for (const lastKey of new Set(lasts)) {
        const tables = choices.map((c, i) =>
          pulls.includes(i) ? c.table.get(i === last ? lastKey : key) : 0,
        );
        if (tables.some((t) => t === undefined)) continue;
        for (const boil of this.axes.boilMinutes)
          for (const lastBoil of this.axes.boilMinutes) {
            if (pulls.length === 1 ? lastBoil !== boil : lastBoil > boil) continue;
            const boils = choices.map((_, i) =>
              pulls.includes(i) ? (i === last ? lastBoil : boil) : 0,
            );
            build(tables as number[], boils);
          }
      }
    }
  }

  /**
   * Weighs one plan.
   * @param plan its number, 0 to total - 1
   * @param into what it weighs, in the order of WEIGHED
   * @returns false when the kit cannot do it, beyond the margin
   */
  weigh(plan: number, into: Float64Array): boolean {
    const { combo, liquor, rest, reserve } = this.decode(plan);
    const opening = (this.openings[liquor] as Float64Array[])[rest] as Float64Array;
    if ((opening[V.hard] as number) > 0 || (opening[V.full] as number) > 1) return false;
    const liquorLPerKg = this.axes.liquorLPerKg[liquor] as number;
    const restShare = this.axes.restShare[rest] as number;
    let mashMin = opening[V.afterMin] as number;
    const wortMin = this.wortMin[liquor] as number;
    let handsMin = opening[V.handsMin] as number;
    let carriedKg = opening[V.carriedKg] as number;
    let energyKWh = opening[V.energyKWh] as number;
    let boiled = 0;
    let kept = 1;
    let drift = 0;
    const { out } = this;
    for (let i = 0; i < combo.tables.length; i++) {
      const table = (this.tables[i] as Table[])[combo.tables[i] as number] as Table;
      const boil = combo.boils[i] as number;
      this.between(table.nodes, liquorLPerKg - drift / this.gristKg, restShare, boil, reserve);
      if ((out[V.hard] as number) > 0) return false;
      if ((out[V.shortK] as number) > MARGIN_K || (out[V.full] as number) > MARGIN_FULL)
        return false;
      const leftMin = table.raise.by === 'decoction' ? this.leftMin(i, restShare) : 0;
      mashMin += Math.max(out[V.awayMin] as number, leftMin) + (out[V.afterMin] as number);
      handsMin += out[V.handsMin] as number;
      carriedKg += out[V.carriedKg] as number;
      energyKWh += out[V.energyKWh] as number;
      boiled += out[V.boiledKgMin] as number;
      drift += (out[V.lostKg] as number) - (this.losses[i] as number);
      const doubtK = Math.max(0, out[V.doubtK] as number);
      if (doubtK > 0)
        kept *= normalCdf((MISSED_K + Math.max(0, out[V.reserveK] as number)) / doubtK);
    }
    into[0] = mashMin + wortMin;
    into[1] = handsMin;
    into[2] = carriedKg;
    into[3] = energyKWh;
    into[4] = -boiled;
    into[5] = 1 - kept;
    return true;
  }

  /** Minutes after the mash that a plan was given, run-off and knock-out. */
  afterMashMin(plan: number): number {
    return this.wortMin[this.decode(plan).liquor] as number;
  }

  /** Minutes of a rest after its pull has begun. */
  private leftMin(index: number, restShare: number): number {
    const rest = this.rests[index] as MashRest;
    return rest.minutes * restShare - pullAfterMin(scaled(rest, restShare));
  }

  /** Values of a piece between its nodes: straight in boil and rest length, curved in liquor. */
  private between(
    nodes: Nodes,
    liquorLPerKg: number,
    restShare: number,
    boil: number,
    reserve: number,
  ): void {
    const { liquor, rest, boil: boils, reserve: reserves } = this.spans;
    const b = boils[1] > boils[0] ? (boil - boils[0]) / (boils[1] - boils[0]) : 0;
    const s = rest[1] < rest[0] ? (rest[0] - restShare) / (rest[0] - rest[1]) : 0;
    const r = reserves[1] > reserves[0] ? (reserve - reserves[0]) / (reserves[1] - reserves[0]) : 0;
    const [lean, middle, rich] = liquor;
    // Lagrange through three nodes; with two the missing one falls together with the middle.
    let wLean = 0;
    let wRich = 0;
    const x = liquorLPerKg;
    if (lean < middle && rich > middle) {
      wLean = ((x - middle) * (x - rich)) / ((lean - middle) * (lean - rich));
      wRich = ((x - lean) * (x - middle)) / ((rich - lean) * (rich - middle));
    } else if (rich > middle) wRich = (x - middle) / (rich - middle);
    else if (lean < middle) wLean = (x - middle) / (lean - middle);
    const [n0, n1, n2, n3, n4, n5, n6] = nodes;
    const w0 = (1 - b) * (1 - s) - wLean - wRich - r;
    for (let k = 0; k < VALUES; k++) {
      const first = n0[k] as number;
      if (!Number.isFinite(first)) {
        this.out[k] = first;
        continue;
      }
      this.out[k] =
        w0 * first +
        b * (1 - s) * (n1[k] as number) +
        (1 - b) * s * (n2[k] as number) +
        b * s * (n3[k] as number) +
        wLean * (n4[k] as number) +
        wRich * (n5[k] as number) +
        r * (n6[k] as number);
    }
    // What fails at one node only may hold at another: the full engine will tell.
    let hard = 1;
    for (const n of nodes) hard = Math.min(hard, n[V.hard] as number);
    this.out[V.hard] = hard;
    this.out[V.doubtK] = n0[V.doubtK] as number;
  }

  private decode(plan: number) {
    const { liquorLPerKg, restShare, reserve } = this.axes;
    const reserves = this.frame.pulls.length > 0 ? reserve.length : 1;
    let left = plan;
    const r = left % reserves;
    left = (left - r) / reserves;
    const rest = left % restShare.length;
    left = (left - rest) / restShare.length;
    const liquor = left % liquorLPerKg.length;
    const combo = this.combos[(left - liquor) / liquorLPerKg.length] as Combo;
    return { combo, liquor, rest, reserve: reserve[r] as number };
  }

  /** The plan as a document of its own. */
  documentOf(plan: number): PlanDocument {
    const { combo, liquor, rest, reserve } = this.decode(plan);
    const raises = [...combo.tables].map((t, i): Raise => {
      const { raise } = (this.tables[i] as Table[])[t] as Table;
      return raise.by === 'decoction' ? { ...raise, boilMinutes: combo.boils[i] as number } : raise;
    });
    const node = {
      liquorLPerKg: this.axes.liquorLPerKg[liquor] as number,
      restShare: this.axes.restShare[rest] as number,
      ...(this.frame.pulls.length > 0 ? { reserve } : {}),
    };
    return documentAt(this.frame.recipe.document, node, raises);
  }
}

/** What makes two pulls alike enough for one to change as the other does: pots, and a rest in them. */
function kindOf(raise: Raise): string {
  if (raise.by !== 'decoction') return raise.by;
  return JSON.stringify([raise.pots, raise.order, raise.split, raise.pullRest !== undefined]);
}

/** Loads and energy change by a factor; the rest by a difference. */
const BY_FACTOR: ReadonlySet<number> = new Set([V.carriedKg, V.energyKWh, V.boiledKgMin]);

/** What a piece becomes where another of its kind went from one set of values to another. */
function changedAs(own: Values, from: Values, to: Values): Values {
  return own.map((x, k) => {
    const was = from[k] as number;
    const is = to[k] as number;
    if (!Number.isFinite(x) || !Number.isFinite(was) || !Number.isFinite(is)) return x;
    return BY_FACTOR.has(k) && was > 0 && x > 0 ? (x * is) / was : x + is - was;
  });
}

/** Minutes of run-off and knock-out: what the rest of the day owes to the liquor in the mash. */
function wortMinutes(document: PlanDocument, liquorKg: number): number {
  const day = brewDay(document);
  const work = { ...TYPICAL_WORK, ...document.day.work };
  const litres = wortLitres(day.gristKg, liquorKg, lauterOf(day), work);
  return litres.kettleFullL / litres.runOffLPerMin + litres.castOutL / work.knockOutLPerMin;
}

function scaled(rest: MashRest, share: number): MashRest {
  return {
    ...rest,
    minutes: rest.minutes * share,
    ...(rest.pullAfterMin === undefined ? {} : { pullAfterMin: rest.pullAfterMin * share }),
  };
}

/** Several pulls try one pot each, and two side by side. */
function placesFor(axes: SearchAxes, several: boolean): readonly (Places | undefined)[] {
  if (!several) return axes.places;
  const few = axes.places.filter(
    (p) =>
      p === undefined ||
      p.pots.length === 1 ||
      (p.order === 'side-by-side' && p.split === 'by-power'),
  );
  return few.slice(0, 4);
}

/** The ways to make one raise, and which of them each choice comes to. */
interface RaiseChoices {
  readonly raises: Raise[];
  readonly table: Map<string, number>;
}

const choiceKey = (place: number, thickness: Thickness, rest: number, litres: number) =>
  JSON.stringify([place, thickness, rest, litres]);

/** The same choice, but thin. */
function thinned(key: string): string {
  const [place, , rest, litres] = JSON.parse(key) as [number, Thickness, number, number];
  return choiceKey(place, 'thin', rest, litres);
}
