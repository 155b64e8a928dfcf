/** How fast the bed runs, whether it is closing, and what to do about it in which order. */
import { darcyFlow, inRange, wortViscosity } from '@ladlework/matter';
import { platoOf, type WortBody } from './body.ts';

/** A reading of the flow through the bed. */
export interface FlowReading {
  /** Minutes since run-off began [min]. */
  readonly minute: number;
  readonly flowLMin: number;
  /** Head across the bed [kPa]: level above the plates less level in the sight tube, 0.0981 kPa a cm. */
  readonly headKPa: number;
  /** Strength at the tap [°P] and temperature of the bed [°C]. */
  readonly plato: number;
  readonly tC: number;
}

/** A bed's shape. */
export interface BedShape {
  readonly areaM2: number;
  readonly depthM: number;
}

/** Kilopascals of a centimetre of hot wort. */
const KPA_PER_CM = 0.0981;
/** Head that presses a bed shut: about ten inches of water (Hansen 2008). */
export const COLLAPSE_KPA = 25.4 * KPA_PER_CM;
/** What the run-off rate of practice implies [m²], for a kit without a log. Derived. */
export const USUAL_PERMEABILITY_M2 = { low: 0.9e-11, likely: 1.1e-11, high: 1.4e-11 } as const;

/**
 * Depth of the settled bed.
 *
 * @param gristKg grist [kg], 0.1 to 1e5
 * @param areaM2 area of the plates [m²], 0.01 to 100
 * @param litresPerKg wet bed [L per kg grist], 1 to 4, 2.1 unless given
 * @returns depth [m]; 0.2 to 0.45 is usual
 * @throws OutOfRange outside the ranges
 * @source our judgement: flooded liquid 1.8 L/kg and undissolved grain 0.3 L/kg
 * @example bedDepth(149, 0.9) // 0.348
 */
export function bedDepth(gristKg: number, areaM2: number, litresPerKg = 2.1): number {
  const grist = inRange('grist', gristKg, 0.1, 1e5, 'kg');
  const area = inRange('area of the plates', areaM2, 0.01, 100, 'm²');
  return (grist * inRange('wet bed', litresPerKg, 1, 4, 'L/kg')) / 1000 / area;
}

const flowAt = (shape: BedShape, k: number, reading: Omit<FlowReading, 'minute' | 'flowLMin'>) =>
  darcyFlow({
    permeabilityM2: k,
    areaM2: shape.areaM2,
    headKPa: reading.headKPa,
    viscosityMPas: wortViscosity(reading.plato / 100, reading.tC),
    depthM: shape.depthM,
  });

/**
 * Permeability of a bed, worked back from one reading.
 *
 * @param shape areaM2 [m²], depthM [m]
 * @param reading flowLMin [L/min], above 0 to 1e4; headKPa [kPa], 0.05 to 100; plato 0 to 40; tC 0 to 105
 * @returns [m²]; compare it only with the same kit's own
 * @throws OutOfRange outside the ranges
 * @source Darcy, inverted
 */
export function permeabilityOf(shape: BedShape, reading: Omit<FlowReading, 'minute'>): number {
  const flow = inRange('flow', reading.flowLMin, 1e-6, 1e4, 'L/min');
  inRange('head over the bed', reading.headKPa, 0.05, 100, 'kPa');
  const unit = USUAL_PERMEABILITY_M2.likely;
  return (unit * flow) / flowAt(shape, unit, reading);
}

/**
 * Flow to expect of a kit's bed.
 *
 * @param shape areaM2 [m²], depthM [m]
 * @param permeabilityM2 of the kit, from its own run-offs [m²], 1e-14 to 1e-7
 * @param state headKPa [kPa], 0 to 100; plato 0 to 40; tC 0 to 105
 * @returns [L/min]
 * @throws OutOfRange outside the ranges
 * @source Darcy: only viscosity, depth and head are scaled
 */
export function expectedFlow(
  shape: BedShape,
  permeabilityM2: number,
  state: Omit<FlowReading, 'minute' | 'flowLMin'>,
): number {
  return flowAt(shape, permeabilityM2, state);
}

export type BedState = 'running' | 'closing' | 'stuck';

/** What a bed is doing. */
export interface BedJudgement {
  readonly state: BedState;
  /** Permeability now against the first readings of this run-off [-]. */
  readonly permeabilityShare: number;
  /** Minutes until the flow at this head falls to half of what it is; undefined when it does not fall. */
  readonly halfFlowInMin: number | undefined;
  /** True when the head could press the bed shut. */
  readonly headTooHigh: boolean;
  readonly sentence: string;
}

/** Under this share of its start a bed is closing, under the next it is stuck (our judgement). */
const CLOSING_SHARE = 0.6;
const STUCK_SHARE = 0.2;
/** Half the flow within this time is a closing bed, whatever its share. */
const CLOSING_IN_MIN = 15;
/** Limits of individuals from the mean moving range: 3/1.128. */
const MOVING_RANGE_FACTOR = 2.66;

/**
 * Watches a bed close before it is stuck. A falling flow alone proves nothing: the head and the
 * strength of the wort are taken out first, and what is left is the bed itself.
 *
 * @param shape areaM2 [m²], depthM [m]
 * @param readings in order of time, at least one
 * @param history permeabilities of earlier run-offs of the kit at their start [m²], oldest first
 * @returns state, its measure, and a sentence for the brewer
 * @throws OutOfRange outside the ranges
 * @source Darcy; the trend is the median of the slopes between readings (Theil-Sen) of ln k; limits
 *   against history mean - 2.66 moving ranges; thresholds our judgement
 */
export function watchBed(
  shape: BedShape,
  readings: readonly FlowReading[],
  history: readonly number[] = [],
): BedJudgement {
  inRange('number of readings', readings.length, 1, 1e4, '');
  const flowing = readings.filter((r) => r.flowLMin > 0);
  const log = flowing.map((r) => ({ minute: r.minute, ln: Math.log(permeabilityOf(shape, r)) }));
  const last = readings.at(-1) as FlowReading;
  const first = log.slice(0, 3);
  const start = first.reduce((sum, p) => sum + p.ln, 0) / Math.max(1, first.length);
  const now =
    last.flowLMin > 0 ? (log.at(-1)?.ln ?? Number.NEGATIVE_INFINITY) : Number.NEGATIVE_INFINITY;
  const share = Math.exp(now - start);
  const recent = log.slice(-6);
  const slopes = recent.flatMap((a, i) =>
    recent.slice(i + 1).map((b) => (b.ln - a.ln) / (b.minute - a.minute)),
  );
  slopes.sort((a, b) => a - b);
  const slope = slopes.length === 0 ? 0 : (slopes[Math.floor(slopes.length / 2)] as number);
  const halfFlowInMin = recent.length >= 3 && slope < 0 ? Math.LN2 / -slope : undefined;
  const headTooHigh = last.headKPa >= COLLAPSE_KPA;
  const low = lowLimit(history);
  const below = low !== undefined && start < low;
  const soon = halfFlowInMin !== undefined && halfFlowInMin < CLOSING_IN_MIN;
  const state: BedState =
    last.flowLMin <= 0 || share < STUCK_SHARE
      ? 'stuck'
      : share < CLOSING_SHARE || soon || below || headTooHigh
        ? 'closing'
        : 'running';
  return {
    state,
    permeabilityShare: share,
    halfFlowInMin,
    headTooHigh,
    sentence: sentenceOf(state, share, halfFlowInMin, headTooHigh, below),
  };
}

function lowLimit(history: readonly number[]): number | undefined {
  if (history.length < 8) return undefined;
  const ln = history.map((k) =>
    Math.log(inRange('permeability in the history', k, 1e-14, 1e-7, 'm²')),
  );
  const mean = ln.reduce((a, b) => a + b, 0) / ln.length;
  const ranges = ln.slice(1).map((x, i) => Math.abs(x - (ln[i] as number)));
  return mean - (MOVING_RANGE_FACTOR * ranges.reduce((a, b) => a + b, 0)) / ranges.length;
}

function sentenceOf(
  state: BedState,
  share: number,
  half: number | undefined,
  headTooHigh: boolean,
  below: boolean,
): string {
  const percent = `${Math.round(100 * share)} %`;
  if (state === 'stuck')
    return `The bed is stuck: it lets through ${percent} of what it did. Close the tap.`;
  if (state === 'running') return `The bed runs: ${percent} of its start.`;
  if (headTooHigh)
    return 'The pull under the bed is over 25 cm of water: throttle before it packs.';
  if (half !== undefined && half < CLOSING_IN_MIN)
    return `The bed is closing: at this rate half the flow in ${Math.round(half)} min. Throttle now.`;
  if (below) return 'The bed is tighter than this kit has ever started: run slowly from here.';
  return `The bed is closing: ${percent} of its start. Throttle now.`;
}

/** One remedy, in the order they are tried. */
export interface Remedy {
  readonly what:
    | 'throttle'
    | 'close-and-wait'
    | 'underlet'
    | 'cut-the-bed'
    | 'stir-and-settle'
    | 'next-time';
  readonly sentence: string;
  readonly minutes: number;
  /** Liquor it takes [L]. */
  readonly liquorL: number;
  /** Change of the full kettle if the liquor comes off the sparge, and if it comes on top. */
  readonly platoChange: { readonly offTheSparge: number; readonly onTop: number };
  /** Wort in the full kettle on top of the plan when the liquor is extra [L]. */
  readonly extraL: number;
}

/**
 * What underletting costs at kettle-full.
 *
 * @param full the kettle-full as forecast
 * @param liquorL hot liquor from below [L], 0 to 1e4
 * @param spargeLeftL sparge still to give [L], 0 to 1e5
 * @returns change of strength [°P] when it is taken off the sparge as far as it goes, and when it all
 *   comes on top
 * @throws OutOfRange outside the ranges
 * @source mass balance; taken off the sparge it only changes the way the liquor takes
 */
export function underletCost(
  full: WortBody,
  liquorL: number,
  spargeLeftL: number,
): { readonly offTheSparge: number; readonly onTop: number } {
  const liquor = inRange('underlet', liquorL, 0, 1e4, 'L');
  const over = Math.max(0, liquor - inRange('sparge still to give', spargeLeftL, 0, 1e5, 'L'));
  const before = platoOf(full);
  const thinned = (litres: number) =>
    platoOf({ extractKg: full.extractKg, waterKg: full.waterKg + 0.973 * litres }) - before;
  return { offTheSparge: thinned(over), onTop: thinned(liquor) };
}

/** Underlet that lifts a bed: this much of its liquid (our judgement). */
const UNDERLET_SHARE = 0.08;

/**
 * Remedies for a slow or stuck bed, mildest first, with what each costs.
 *
 * @param bed state; liquidL in the flooded bed [L], 1 to 1e5; full kettle as forecast; spargeLeftL [L];
 *   underletC liquor at hand [°C], 60 to 95; rakes or not
 * @returns the steps, in order
 * @throws OutOfRange outside the ranges
 * @source common practice, no source: close, wait, underlet, cut, re-settle, hulls next time
 */
export function remedies(bed: {
  readonly state: BedState;
  readonly liquidL: number;
  readonly full: WortBody;
  readonly spargeLeftL: number;
  readonly underletC: number;
}): readonly Remedy[] {
  const liquor = UNDERLET_SHARE * inRange('liquid in the bed', bed.liquidL, 1, 1e5, 'L');
  const tC = inRange('underlet liquor', bed.underletC, 60, 95, '°C');
  const none = { offTheSparge: 0, onTop: 0 };
  const dry = { liquorL: 0, platoChange: none, extraL: 0 };
  const litres = `${liquor.toFixed(0)} L at ${tC.toFixed(0)} °C`;
  const ordered: Remedy[] = [
    {
      what: 'throttle',
      minutes: 0,
      ...dry,
      sentence: 'Close the tap by half and watch the level under the plates come up.',
    },
    {
      what: 'close-and-wait',
      minutes: 5,
      ...dry,
      sentence: 'Close the tap for five minutes, then open slowly.',
    },
    {
      what: 'underlet',
      minutes: 10,
      liquorL: liquor,
      platoChange: underletCost(bed.full, liquor, bed.spargeLeftL),
      extraL: Math.max(0, liquor - bed.spargeLeftL),
      sentence: `Tap closed, ${litres} slowly from below until the bed lifts; give as much less sparge.`,
    },
    {
      what: 'cut-the-bed',
      minutes: 10,
      ...dry,
      sentence:
        'Tap closed, cut the bed in lines, not to the plates; return the first cloudy wort.',
    },
    {
      what: 'stir-and-settle',
      minutes: 30,
      ...dry,
      sentence:
        'Stir the whole bed through with what liquid is on it, settle 15 min, return the wort until bright.',
    },
    {
      what: 'next-time',
      minutes: 0,
      ...dry,
      sentence:
        'Next time: coarser mill or 2 to 4 % hulls, thinner bed, slower start; look at the beta-glucan of the lot.',
    },
  ];
  if (bed.state === 'running') return ordered.slice(0, 1);
  return bed.state === 'stuck' ? ordered.slice(1) : ordered;
}
