/**
 * One run-off: wort above the bed, a bed of ideal stages, the space under the plates. Extract and water
 * are both conserved, because every litre moved carries its own share of each.
 *
 * A bed never rinses like a row of many tanks: liquor finds its channels. The stages here are mixed
 * parts of the flooded bed that the liquor passes one after another; between two whole numbers part of
 * the bed runs as the one and part as the other, and under one a part is not rinsed at all. The school
 * picture of four to eight equal run-offs, each mixed through, is 1.3 to 2 stages here.
 */
import { inRange, waterDensity, wortDensity } from '@ladlework/matter';
import { litresAt, platoOf, type WortBody } from './body.ts';

/** Mash in the tun when it is drawn off, and how its bed behaves. */
export interface LauterBed {
  /** Grist as it was tipped [kg], 0.1 to 1e5. */
  readonly gristKg: number;
  /** All liquid of the mash, that in the grain included. */
  readonly mash: WortBody;
  /** Temperature of the bed [°C], 40 to 95. */
  readonly tC: number;
  /** Liquid that the drained bed keeps [L per kg grist], 0.5 to 2. */
  readonly retainedLPerKg: number;
  /** Liquid in the bed while it stands under wort [L per kg grist], above the retained, to 4. */
  readonly floodedLPerKg: number;
  /** Ideal stages of the flooded bed [-], 0.5 to 20; 1.6 for a kit not yet measured. */
  readonly stages: number;
  /** Space under the plates [L], 0 to 1e4, and what of it never drains [L]. */
  readonly underL: number;
  readonly deadL: number;
}

/** How it is drawn off. Volumes at the temperature of the bed. */
export interface RunOffPlan {
  /** Wort wanted in the kettle [L at bed temperature]. */
  readonly kettleL: number;
  /** Wort left standing above the bed when the sparge begins, and held there [L]; 0 unless given. */
  readonly holdL?: number;
  /** Sparge shut after this much in the kettle [L]; left out: so that the tun drains at `kettleL`. */
  readonly shutAtL?: number;
}

/** Where a run-off stands after so many litres. */
export interface RunOffPoint {
  /** In the kettle [L at bed temperature]. */
  readonly collectedL: number;
  readonly tapPlato: number;
  readonly kettlePlato: number;
  readonly extractKg: number;
}

/** A whole run-off. */
export interface RunOff {
  readonly points: readonly RunOffPoint[];
  readonly kettle: WortBody;
  /** Left in bed, above it and under the plates. */
  readonly left: WortBody;
  /** First litres of sparge go on at, and are shut at, so much in the kettle [L]; equal: no sparge. */
  readonly spargeFromL: number;
  readonly shutAtL: number;
  readonly spargeL: number;
  /** True when the tun ran dry before the kettle was full [the points end there]. */
  readonly ranDry: boolean;
}

const STEPS = 400;

/**
 * Draws a mash off through its bed.
 *
 * Wort above the bed sinks as a plug until the sparge begins; from then on sparge and run-off are
 * equal and the liquor mixes with what is held above the bed; once it is shut, the rest sinks in and
 * the bed drains to what it keeps.
 *
 * @param bed ranges at its fields
 * @param plan kettleL [L], above 0; holdL [L], 0 or more; shutAtL [L]
 * @returns course, kettle, what is left, and the litre at which the sparge is to be shut
 * @throws OutOfRange outside the ranges, or when the mash cannot even fill its bed
 * @source ideal stages, mass balance; the default loses what 4 to 8 equal mixed run-offs lose (loss
 *   about as 1/N, Hansen 2008; 4 to 8 our judgement)
 */
export function runOff(bed: LauterBed, plan: RunOffPlan): RunOff {
  const space = spaceOf(bed);
  const kettleL = inRange('kettle-full', plan.kettleL, 0.1, 1e6, 'L');
  const hold = Math.min(
    inRange('liquid held above the bed', plan.holdL ?? 0, 0, 1e5, 'L'),
    space.topL,
  );
  const drainable = space.bedL - space.retainedL + (bed.underL - bed.deadL);
  const spargeFromL = Math.min(space.topL - hold, kettleL);
  // In and out are equal while sparging, so what comes after the shut is what stands in the tun then.
  const balanced = Math.max(spargeFromL, kettleL - hold - drainable);
  const shutAtL = Math.min(Math.max(spargeFromL, plan.shutAtL ?? balanced), kettleL);
  const step = kettleL / STEPS;
  // Volumes below this are rounding, not wort.
  const crumb = 1e-6 * step;
  const tun = new Tun(bed, space, crumb);
  const points: RunOffPoint[] = [];
  let collected = 0;
  let extract = 0;
  const mark = (tap: number) =>
    points.push({
      collectedL: collected,
      tapPlato: space.plato(tap),
      kettlePlato: collected > 0 ? space.plato(extract / collected) : space.plato(tap),
      extractKg: extract,
    });
  mark(space.strength);
  let ranDry = false;
  while (collected < kettleL - crumb) {
    const spargeOn = collected >= spargeFromL - crumb && collected < shutAtL - crumb;
    const until = collected < spargeFromL - crumb ? spargeFromL : spargeOn ? shutAtL : kettleL;
    const dV = Math.min(step, until - collected);
    const drawn = tun.draw(dV, spargeOn);
    if (drawn.litres <= crumb) {
      ranDry = true;
      break;
    }
    collected += drawn.litres;
    extract += drawn.extractKg;
    mark(drawn.extractKg / drawn.litres);
  }
  const kettle = space.body(collected, extract);
  const spargeL = shutAtL - spargeFromL;
  const sparged = spargeL / space.litresPerKgWater;
  return {
    points,
    kettle,
    left: {
      extractKg: bed.mash.extractKg - kettle.extractKg,
      waterKg: bed.mash.waterKg + sparged - kettle.waterKg,
    },
    spargeFromL,
    shutAtL,
    spargeL,
    ranDry,
  };
}

/** Volumes of the mash laid out in the tun. Water and extract each take up their own, so they add. */
interface Space {
  readonly litresPerKgWater: number;
  /** Extract of the wort as mashed [kg/L]. */
  readonly strength: number;
  readonly topL: number;
  readonly bedL: number;
  readonly retainedL: number;
  readonly plato: (kgPerL: number) => number;
  readonly body: (litres: number, extractKg: number) => WortBody;
}

/**
 * Where the liquid of a mash lies.
 *
 * @param bed ranges at its fields
 * @returns volumes above, in and kept by the bed [L at bed temperature]
 * @source volumes of water and extract taken as additive at the strength of the mash
 * @throws OutOfRange when a field is outside its range or the bed would hold more than there is
 */
export function spaceOf(bed: LauterBed): Space {
  const grist = inRange('grist', bed.gristKg, 0.1, 1e5, 'kg');
  const t = inRange('temperature of the bed', bed.tC, 40, 95, '°C');
  const retained =
    grist * inRange('liquid kept by the drained bed', bed.retainedLPerKg, 0.5, 2, 'L/kg');
  const flooded =
    grist * inRange('liquid in the flooded bed', bed.floodedLPerKg, bed.retainedLPerKg, 4, 'L/kg');
  inRange('stages', bed.stages, 0.5, 20, '');
  inRange('space under the plates', bed.underL, 0, 1e4, 'L');
  inRange('undrained space', bed.deadL, 0, bed.underL, 'L');
  const plato = platoOf(bed.mash);
  inRange('strength of the mash wort', plato, 0.1, 40, '°P');
  const litresPerKgWater = 1000 / waterDensity(t);
  const w = plato / 100;
  // What a kilogram of extract adds at this strength; it hardly moves between 0 and 20 °P.
  const litresPerKgExtract = (1000 / wortDensity(w, t) - (1 - w) * litresPerKgWater) / w;
  const litres = litresAt(bed.mash, t);
  const bedL = Math.min(flooded, litres - bed.underL);
  inRange('liquid of the mash', litres, retained + bed.underL, 1e7, 'L');
  const waterIn = (volume: number, extract: number) =>
    (volume - litresPerKgExtract * extract) / litresPerKgWater;
  return {
    litresPerKgWater,
    strength: bed.mash.extractKg / litres,
    topL: litres - bed.underL - bedL,
    bedL,
    retainedL: retained,
    plato: (c) => (100 * c) / (c + waterIn(1, c)),
    body: (volume, extractKg) => ({ extractKg, waterKg: waterIn(volume, extractKg) }),
  };
}

/** Part of the bed that runs as a whole number of stages; 0 stages: the liquor passes it by. */
interface Path {
  readonly share: number;
  readonly stages: number;
  readonly cells: Float64Array;
  readonly before: Float64Array;
}

/** Contents of the tun while it is drawn off; only extract and volume need keeping. */
class Tun {
  private readonly paths: readonly Path[];
  private readonly retained: number;
  private readonly dead: number;
  private readonly crumb: number;
  private bedL: number;
  private topL: number;
  private topKg: number;
  private underL: number;
  private underKg: number;

  constructor(bed: LauterBed, space: Space, crumbL: number) {
    this.crumb = crumbL;
    this.retained = space.retainedL;
    this.dead = bed.deadL;
    this.bedL = space.bedL;
    this.topL = space.topL;
    this.topKg = space.topL * space.strength;
    this.underL = bed.underL;
    this.underKg = bed.underL * space.strength;
    const whole = Math.floor(bed.stages);
    const part = bed.stages - whole;
    this.paths = [
      { share: 1 - part, stages: whole },
      { share: part, stages: whole + 1 },
    ]
      .filter((path) => path.share > 0)
      .map(({ share, stages }) => {
        const cells = Math.max(1, stages);
        return {
          share,
          stages,
          cells: new Float64Array(cells).fill((share * space.bedL * space.strength) / cells),
          before: new Float64Array(cells),
        };
      });
  }

  /** Draws up to so many litres from the tap; less when nothing more comes. */
  draw(wanted: number, sparging: boolean): { litres: number; extractKg: number } {
    if (sparging || this.topL > this.crumb) {
      const litres = sparging ? wanted : Math.min(wanted, this.topL);
      return {
        litres,
        extractKg: this.passUnder(this.passBed(this.fromTop(litres, sparging), litres), litres),
      };
    }
    if (this.bedL - this.retained > this.crumb) {
      const litres = Math.min(wanted, this.bedL - this.retained);
      return { litres, extractKg: this.passUnder(this.drainBed(litres), litres) };
    }
    const litres = Math.min(wanted, this.underL - this.dead);
    const extractKg = this.underL > 0 ? (this.underKg * litres) / this.underL : 0;
    this.underL -= litres;
    this.underKg -= extractKg;
    return { litres, extractKg };
  }

  /** Extract that leaves the layer above the bed with so many litres, replaced by liquor or not. */
  private fromTop(litres: number, sparging: boolean): number {
    if (this.topL <= this.crumb) return 0;
    // A layer kept full by liquor thins out; one that only sinks keeps its strength.
    const share = sparging ? 1 - Math.exp(-litres / this.topL) : litres / this.topL;
    const kg = this.topKg * share;
    this.topKg -= kg;
    if (!sparging) this.topL -= litres;
    return kg;
  }

  /** Litres through the flooded bed, by all its paths. */
  private passBed(inKg: number, litres: number): number {
    if (this.bedL <= 0) return inKg;
    let outKg = 0;
    for (const path of this.paths)
      outKg += this.passPath(path, path.share * inKg, path.share * litres);
    return outKg;
  }

  /** Equal mixed cells in a row, exact for a steady inflow. */
  private passPath(path: Path, inKg: number, litres: number): number {
    const { cells, before, stages } = path;
    if (stages === 0) return inKg;
    const cellL = (path.share * this.bedL) / stages;
    const x = litres / cellL;
    before.set(cells);
    const inlet = (inKg / litres) * cellL;
    let was = 0;
    let is = 0;
    for (let i = 0; i < stages; i++) {
      let p = Math.exp(-x);
      let sum = 0;
      let share = 0;
      for (let k = 0; k <= i; k++) {
        sum += before[i - k]! * p;
        share += p;
        p *= x / (k + 1);
      }
      was += before[i]!;
      cells[i] = sum + inlet * (1 - share);
      is += cells[i]!;
    }
    return inKg + was - is;
  }

  /** Litres out of the draining bed: each cell gives up its share and passes on what comes from above. */
  private drainBed(litres: number): number {
    let outKg = 0;
    for (const { share, cells } of this.paths) {
      const cellL = (share * this.bedL) / cells.length;
      let comes = 0;
      for (let i = 0; i < cells.length; i++) {
        // Every cell sinks alike, so the flow grows by one share from cell to cell.
        const goes = (cells[i]! * (i + 1) * share * litres) / cells.length / cellL;
        const out = Math.min(goes, cells[i]!);
        cells[i] = cells[i]! - out + comes;
        comes = out;
      }
      outKg += comes;
    }
    this.bedL -= litres;
    return outKg;
  }

  /** Through the space under the plates, kept full. */
  private passUnder(inKg: number, litres: number): number {
    if (this.underL <= 0) return inKg;
    const c = inKg / litres;
    const left =
      c * this.underL + (this.underKg - c * this.underL) * Math.exp(-litres / this.underL);
    const out = inKg + this.underKg - left;
    this.underKg = left;
    return out;
  }
}

/**
 * Where a run-off stands at so many litres, between its points.
 *
 * @param run a whole run-off
 * @param collectedL in the kettle [L at bed temperature], 0 or more; beyond the end, the end
 * @returns strengths there
 * @source linear between points
 */
export function pointAt(run: RunOff, collectedL: number): RunOffPoint {
  const { points } = run;
  let i = 1;
  while (i < points.length - 1 && (points[i] as RunOffPoint).collectedL < collectedL) i++;
  const a = points[i - 1] as RunOffPoint;
  const b = points[i] ?? a;
  const span = b.collectedL - a.collectedL;
  const s = span > 0 ? Math.min(1, Math.max(0, (collectedL - a.collectedL) / span)) : 0;
  const between = (x: number, y: number) => x + s * (y - x);
  return {
    collectedL: between(a.collectedL, b.collectedL),
    tapPlato: between(a.tapPlato, b.tapPlato),
    kettlePlato: between(a.kettlePlato, b.kettlePlato),
    extractKg: between(a.extractKg, b.extractKg),
  };
}
