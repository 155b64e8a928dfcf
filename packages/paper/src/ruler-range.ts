/** Over which readings a ruler chart holds: found by asking the engine, never by hope. */
import type { ReturnRuler } from '@ladlework/planner';
import { type Alignment, type Answer, align, litresOn } from './alignment.ts';

export interface Span {
  readonly low: number;
  readonly high: number;
}

/** The scales of one return and where they hold. */
export interface RulerScales {
  readonly scales: Alignment;
  readonly tunC: Span;
  readonly arrivalC: Span;
  /** From the smallest return on the chart to all there is in the pot. */
  readonly litres: Span;
  /** Furthest the chart is from the engine anywhere on it, as a share of the litres. */
  readonly worst: number;
  /** Pot readings with what lands of them, ascending. */
  readonly pots: readonly { readonly potC: number; readonly arrivalC: number }[];
  /** Furthest from the engine when the pot is read instead of what lands. */
  readonly worstByPot: number;
}

/** What the design asks is 2 % of the litres; the rest is left to the pencil and the paper. */
export const EXACT = 0.02;
const AIM = 0.012;
/** Grid of readings the scales are found from. */
const GRID = 14;
/** Grid they are held against, off the first one. */
const CHECK = 23;
/** Widest span of readings a chart has [K]; the plan's expectation lies inside. */
const TUN_BELOW_K = 6;
const TUN_ABOVE_K = 5;
const POT_BELOW_K = 14;
/** Nearer to the target than this is a matter for the ladle, not for a chart [K]. */
const NEAR_K = 2;
/** Least share of the pot a litre scale begins at. */
const LEAST_SHARE = 0.12;
/** Each narrowing keeps this much of the span. */
const NARROWER = 0.88;

/** Readings a chart is tried over: what the tun and the pot show. */
interface Window {
  readonly tunC: Span;
  readonly potC: Span;
}

/**
 * Finds the widest readings over which a straight edge agrees with the engine.
 *
 * @param ruler one return
 * @returns undefined when the pot as planned does not reach the target over any stretch of readings
 *   worth a chart
 */
export function rulerScales(ruler: ReturnRuler): RulerScales | undefined {
  let window = widest(ruler);
  while (window !== undefined && worthPrinting(window)) {
    const found = scalesOver(ruler, window);
    if (found !== undefined && found.worst <= AIM) return found;
    window = narrowed(ruler, window);
  }
  return undefined;
}

const worthPrinting = (w: Window): boolean =>
  w.tunC.high - w.tunC.low >= 1.5 && w.potC.high - w.potC.low >= 1.5;

function widest(ruler: ReturnRuler): Window | undefined {
  const { targetC, planned, boilC } = ruler;
  const hottest = Math.max(planned.potC, boilC);
  const warmest = Math.min(targetC - NEAR_K, planned.tunC + TUN_ABOVE_K);
  const coldest = Math.min(warmest, planned.tunC - TUN_BELOW_K);
  if (!ruler.need(warmest, hottest).reached) return undefined;
  const tunLow = edge(coldest, warmest, (c) => ruler.need(c, hottest).reached);
  const coolest = Math.max(targetC + NEAR_K, planned.potC - POT_BELOW_K);
  const potLow = edge(coolest, hottest, (c) => ruler.need(warmest, c).reached);
  return { tunC: { low: tunLow, high: warmest }, potC: { low: potLow, high: hottest } };
}

/** Lowest value from which on something holds, given that it holds at the high end. */
function edge(low: number, high: number, holds: (value: number) => boolean): number {
  if (holds(low)) return low;
  let a = low;
  let b = high;
  for (let i = 0; i < 30; i++) {
    const middle = (a + b) / 2;
    if (holds(middle)) b = middle;
    else a = middle;
  }
  return b;
}

/** Towards what the plan expects, which stays inside. */
function narrowed(ruler: ReturnRuler, w: Window): Window {
  const to = (span: Span, middle: number): Span => {
    const m = Math.max(span.low, Math.min(span.high, middle));
    return { low: m - (m - span.low) * NARROWER, high: m + (span.high - m) * NARROWER };
  };
  return { tunC: to(w.tunC, ruler.planned.tunC), potC: to(w.potC, ruler.planned.potC) };
}

function scalesOver(ruler: ReturnRuler, window: Window): RulerScales | undefined {
  const answers = gridOf(ruler, window, GRID, 0);
  if (answers.length < 30) return undefined;
  const scales = align(ruler.targetC, answers);
  const litres = spanOf(answers.map((a) => a.litres));
  const span = { low: Math.max(litres.low, LEAST_SHARE * ruler.haveL), high: ruler.haveL };
  const tunC = spanOf(answers.map((a) => a.tunC));
  const arrivalC = spanOf(answers.map((a) => a.arrivalC));
  if (!rises(scales.z, span) || !rises(scales.y, arrivalC) || !rises((c) => -scales.x(c), tunC))
    return undefined;
  const inside = gridOf(ruler, window, CHECK, 0.5).filter((a) => a.litres > span.low);
  const pots = potScale(ruler, window);
  const miss = (a: Answer, arrival: number) => {
    const read = litresOn(scales, a.tunC, arrival, 0.5 * span.low, 1.2 * span.high);
    return read === undefined ? 1 : Math.abs(read / a.litres - 1);
  };
  return {
    scales,
    tunC,
    arrivalC,
    litres: span,
    worst: Math.max(...inside.map((a) => miss(a, a.arrivalC))),
    pots,
    worstByPot: Math.max(...inside.map((a) => miss(a, arrivalAt(pots, a.potC)))),
  };
}

/** Answers over a window, those alone that the pot can give. */
function gridOf(ruler: ReturnRuler, w: Window, n: number, offset: number) {
  const answers: (Answer & { readonly potC: number })[] = [];
  const at = (span: Span, i: number) =>
    span.low + ((span.high - span.low) * (i + offset)) / (n - 1 + 2 * offset);
  for (let i = 0; i < n; i++)
    for (let k = 0; k < n; k++) {
      const tunC = at(w.tunC, i);
      const potC = at(w.potC, k);
      const need = ruler.need(tunC, potC);
      if (need.reached) answers.push({ tunC, potC, arrivalC: need.arrivalC, litres: need.litres });
    }
  return answers;
}

/** For each pot reading the middle of what lands over the tun readings that it can serve. */
function potScale(ruler: ReturnRuler, w: Window) {
  return Array.from({ length: GRID }, (_, i) => {
    const potC = w.potC.low + ((w.potC.high - w.potC.low) * i) / (GRID - 1);
    const lands = Array.from({ length: GRID }, (__, k) => {
      const tunC = w.tunC.high - ((w.tunC.high - w.tunC.low) * k) / (GRID - 1);
      return ruler.need(tunC, potC);
    });
    const { low, high } = spanOf(
      lands.filter((n, k) => n.reached || k === 0).map((n) => n.arrivalC),
    );
    return { potC, arrivalC: (low + high) / 2 };
  });
}

/** What lands when the pot reads this, between the points on straight lines. */
export function arrivalAt(pots: RulerScales['pots'], potC: number): number {
  const n = pots.findIndex((p) => p.potC >= potC);
  const high = pots[Math.max(n, 1)] as (typeof pots)[number];
  const low = pots[Math.max(n - 1, 0)] as (typeof pots)[number];
  const part = (potC - low.potC) / (high.potC - low.potC);
  return low.arrivalC + part * (high.arrivalC - low.arrivalC);
}

function spanOf(values: readonly number[]): Span {
  return { low: Math.min(...values), high: Math.max(...values) };
}

/** Does a scale run one way all along? */
function rises(f: (value: number) => number, { low, high }: Span): boolean {
  let before = f(low);
  for (let i = 1; i <= 50; i++) {
    const next = f(low + ((high - low) * i) / 50);
    if (!(next > before)) return false;
    before = next;
  }
  return true;
}
