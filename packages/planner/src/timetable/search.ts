/**
 * Branch and bound over the orders of claims on vessels, tools and hands, and over who does what.
 * A node is a network of difference constraints; its earliest schedule is the bound, and the
 * answer once nothing in it overlaps. Aims are met one after the other, each proven before the
 * next: the finish, the hours of each pair of hands, the heat for liquor that stands.
 */
import { type Compiled, FINISH, FOREVER, type HeatPart, type Level, ORIGIN } from './compile.ts';
import { assignHands, overlap } from './hands.ts';
import { heatAt, longestWithin } from './heat-level.ts';
import { addArc, NONE } from './network.ts';
import { bitOf, type Node, propagate, single } from './propagate.ts';
import { workBound } from './work-bound.ts';

/** When to stop looking. The clock is handed in, for this room has none. */
export interface Budget {
  /** Nodes of the tree; default 200 000. */
  readonly nodes?: number;
  /** Milliseconds, with the clock to read them from. */
  readonly ms?: number;
  readonly nowMs?: () => number;
}

export interface LevelResult {
  readonly name: string;
  readonly unit: Level['unit'];
  /** Reached, and the least it could be [unit]. */
  readonly value: number;
  readonly bound: number;
  readonly proven: boolean;
}

export interface Schedule {
  /** Minute of every point. */
  readonly t: Int32Array;
  /** Person of every need. */
  readonly persons: Int32Array;
}

export type SearchResult =
  | {
      readonly state: 'solved';
      readonly schedule: Schedule;
      readonly levels: LevelResult[];
      readonly nodes: number;
    }
  | { readonly state: 'infeasible'; readonly nodes: number }
  /** The budget ended before any schedule was found. */
  | { readonly state: 'unknown'; readonly nodes: number };

const DEFAULT_NODES = 200_000;

/**
 * Solves a compiled day.
 * @param c the day
 * @param budget when to stop; what was found by then is given back with its bound
 * @param aim how far to go: to the first schedule, to the earliest finish, or through every aim
 */
export function search(
  c: Compiled,
  budget: Budget = {},
  aim: 'any' | 'finish' | 'all' = 'all',
): SearchResult {
  if (!c.root) return { state: 'infeasible', nodes: 0 };
  const root: Node = { d: c.root.slice(), domain: Int32Array.from(c.needs, (x) => x.domain) };
  if (!propagate(c, root)) return { state: 'infeasible', nodes: 0 };
  const tree = new Tree(c, budget);
  const levels: LevelResult[] = [];
  for (const level of c.levels) {
    const result = tree.lower(level, root, aim === 'any');
    const best = tree.best;
    if (!best) return { state: tree.stopped ? 'unknown' : 'infeasible', nodes: tree.nodes };
    levels.push(result);
    if (aim !== 'all' || tree.stopped || level.unit === 'Wh') break;
    // What is reached stays, whatever the next aims want.
    if (!addArc(root.d, c.points, level.to, level.from, -result.value) || !propagate(c, root))
      throw new Error(
        `timetable: ${level.name} of ${result.value} min contradicts its own schedule`,
      );
    if (level.person !== undefined) tree.spanMin[level.person] = result.value;
  }
  return {
    state: 'solved',
    schedule: tree.best as Schedule,
    levels,
    nodes: tree.nodes,
  };
}

class Tree {
  best: Schedule | undefined;
  nodes = 0;
  stopped = false;
  /** Most minutes each person may be here, from the aims already met. */
  readonly spanMin: number[];
  private readonly c: Compiled;
  private readonly most: number;
  private readonly untilMs: number;
  private readonly nowMs: (() => number) | undefined;
  private readonly pool: Node[] = [];
  private readonly probe: Int32Array;
  private level!: Level;
  private value = FOREVER;
  /** Least bound among the nodes left unexplored when the budget ended. */
  private openBound = FOREVER;
  private onlyFeasible = false;

  constructor(c: Compiled, budget: Budget) {
    this.c = c;
    this.most = budget.nodes ?? DEFAULT_NODES;
    this.nowMs = budget.nowMs;
    this.untilMs = budget.ms !== undefined && budget.nowMs ? budget.nowMs() + budget.ms : FOREVER;
    this.spanMin = c.people.map(() => FOREVER);
    this.probe = new Int32Array(c.points * c.points);
  }

  /** Brings one aim as low as it goes, from the schedule at hand. */
  lower(level: Level, root: Node, onlyFeasible: boolean): LevelResult {
    this.level = level;
    this.onlyFeasible = onlyFeasible;
    this.value = this.best ? this.valueOf(this.best) : FOREVER;
    this.openBound = FOREVER;
    const least = this.bound(root);
    if (this.value > least) this.explore(this.copy(root, 0), 0);
    const proven = this.openBound >= this.value;
    return {
      name: level.name,
      unit: level.unit,
      value: this.value,
      bound: proven ? this.value : Math.max(least, Math.min(this.value, this.openBound)),
      proven,
    };
  }

  private valueOf(s: Schedule): number {
    if (this.level.unit === 'Wh') return this.heatOf(this.level.parts, (p) => spanOf(s.t, p));
    const { from, to, person } = this.level;
    if (person === undefined) return (s.t[to] as number) - (s.t[from] as number);
    let first = FOREVER;
    let last = 0;
    this.c.needs.forEach((need, k) => {
      if (s.persons[k] !== person || need.kind === 'away') return;
      first = Math.min(first, s.t[need.start] as number);
      last = Math.max(last, s.t[need.end] as number);
    });
    return first === FOREVER ? 0 : last - first;
  }

  /** Least value of the aim below a node. */
  private bound(node: Node): number {
    const { level } = this;
    if (level.unit === 'min' && level.to === FINISH) return workBound(this.c, node);
    return this.path(node);
  }

  /** Value of the aim by the network alone. */
  private path({ d }: Node): number {
    const { level } = this;
    const n = this.c.points;
    if (level.unit === 'min') return d[level.from * n + level.to] as number;
    return this.heatOf(level.parts, (p) => d[p.from * n + p.to] as number);
  }

  private heatOf(parts: readonly HeatPart[], minutesOf: (part: HeatPart) => number): number {
    return parts.reduce((sum, part) => sum + heatAt(part.heatWh, minutesOf(part)), 0);
  }

  /** Asks the node for less than what is already reached; false when it cannot. */
  private cut(node: Node): boolean {
    const { level, value } = this;
    const n = this.c.points;
    if (value === FOREVER) return true;
    if (level.unit === 'min') return addArc(node.d, n, level.to, level.from, 1 - value);
    const least = this.path(node);
    return level.parts.every((part) => {
      const own = heatAt(part.heatWh, node.d[part.from * n + part.to] as number);
      const most = longestWithin(part.heatWh, value - 1 - (least - own));
      return most === FOREVER || (most >= 0 && addArc(node.d, n, part.to, part.from, -most));
    });
  }

  private copy(from: Node, depth: number): Node {
    let node = this.pool[depth];
    if (!node) {
      node = { d: from.d.slice(), domain: from.domain.slice() };
      this.pool[depth] = node;
      return node;
    }
    node.d.set(from.d);
    node.domain.set(from.domain);
    return node;
  }

  private spent(): boolean {
    if (this.stopped) return true;
    if (this.nodes >= this.most) this.stopped = true;
    else if (this.nowMs && (this.nodes & 15) === 0 && this.nowMs() > this.untilMs)
      this.stopped = true;
    return this.stopped;
  }

  private explore(node: Node, depth: number): void {
    const { c } = this;
    if (this.onlyFeasible && this.best) return;
    if (this.spent()) {
      this.openBound = Math.min(this.openBound, this.bound(node));
      return;
    }
    this.nodes++;
    if (!this.cut(node)) return;
    if (!propagate(c, node) || this.bound(node) >= this.value) return;
    const t = this.earliest(node);
    const pair = this.worstOverlap(node, t);
    if (!pair) {
      const spans = this.spanMin.slice();
      const { level } = this;
      if (level.unit === 'min' && level.person !== undefined) spans[level.person] = this.path(node);
      const hands = assignHands(c, node.domain, t, spans);
      if (hands.ok) {
        const found = { t: Int32Array.from(t), persons: hands.persons };
        const value = this.valueOf(found);
        if (value < this.value) {
          this.best = found;
          this.value = value;
        }
        // Two stands cannot always be as short as each could be alone.
        if (level.unit === 'Wh' && value > this.path(node))
          this.branchOnStanding(node, depth, level.parts, found.t);
        return;
      }
      this.branchOnPerson(node, depth, hands.need);
      return;
    }
    this.branchOnOrder(node, depth, pair);
  }

  /** The earliest schedule that attains the bound. */
  private earliest(node: Node): Int32Array {
    const n = this.c.points;
    const { level } = this;
    if (level.unit === 'min' && level.from === ORIGIN) return node.d.subarray(0, n);
    this.probe.set(node.d);
    // Never a contradiction: the longest path as a most closes a cycle of length 0.
    for (const { from, to } of level.unit === 'min' ? [level] : level.parts)
      addArc(this.probe, n, to, from, -(this.probe[from * n + to] as number));
    return this.probe.subarray(0, n);
  }

  /** The overlap whose settling costs most either way. */
  private worstOverlap(node: Node, t: Int32Array): Overlap | undefined {
    const { c } = this;
    const { d } = node;
    const n = c.points;
    const { level } = this;
    const here = this.path(node);
    const through = (from: number, to: number, end: number, start: number) => {
      const before = d[from * n + end] as number;
      const after = d[start * n + to] as number;
      return before === NONE || after === NONE ? NONE : before + after;
    };
    const cost = (end: number, start: number): number => {
      if (level.unit === 'min') return Math.max(here, through(level.from, level.to, end, start));
      return this.heatOf(level.parts, ({ from, to }) =>
        Math.max(d[from * n + to] as number, through(from, to, end, start)),
      );
    };
    let worst: Overlap | undefined;
    const weigh = (startA: number, endA: number, startB: number, endB: number) => {
      if (!overlap(t[startA], t[endA], t[startB], t[endB])) return;
      const ab = cost(endA, startB);
      const ba = cost(endB, startA);
      const least = Math.min(ab, ba);
      const most = Math.max(ab, ba);
      const at = Math.max(t[startA] as number, t[startB] as number);
      const beats =
        !worst ||
        least > worst.least ||
        (least === worst.least && (most > worst.most || (most === worst.most && at < worst.at)));
      if (!beats) return;
      const aFirst = ab !== ba ? ab < ba : (t[startA] as number) <= (t[startB] as number);
      worst = aFirst
        ? { least, most, at, first: [endA, startB], second: [endB, startA] }
        : { least, most, at, first: [endB, startA], second: [endA, startB] };
    };
    for (const pair of c.claimPairs) {
      const a = c.claims[pair.a] as Compiled['claims'][number];
      const b = c.claims[pair.b] as Compiled['claims'][number];
      weigh(a.start, a.end, b.start, b.end);
    }
    for (const pair of c.needPairs) {
      const mask = node.domain[pair.a] as number;
      if (mask !== node.domain[pair.b] || !single(mask) || c.manyHanded[bitOf(mask)]) continue;
      const a = c.needs[pair.a] as Compiled['needs'][number];
      const b = c.needs[pair.b] as Compiled['needs'][number];
      weigh(a.start, a.end, b.start, b.end);
    }
    return worst;
  }

  private branchOnOrder(node: Node, depth: number, pair: Overlap): void {
    for (const [end, start] of [pair.first, pair.second]) {
      if (this.bound(node) >= this.value) return;
      const child = this.copy(node, depth + 1);
      if (addArc(child.d, this.c.points, end, start, 0)) this.explore(child, depth + 1);
    }
  }

  /** Halves what one stand may last, the short half first. */
  private branchOnStanding(
    node: Node,
    depth: number,
    parts: readonly HeatPart[],
    t: Int32Array,
  ): void {
    const n = this.c.points;
    const least = (p: HeatPart) => node.d[p.from * n + p.to] as number;
    const above = (p: HeatPart) => heatAt(p.heatWh, spanOf(t, p)) - heatAt(p.heatWh, least(p));
    const part = parts.reduce((a, b) => (above(b) > above(a) ? b : a));
    const half = Math.floor((least(part) + spanOf(t, part)) / 2);
    const halves: readonly [number, number, number][] = [
      [part.to, part.from, -half],
      [part.from, part.to, half + 1],
    ];
    for (const [from, to, minutes] of halves) {
      if (this.bound(node) >= this.value) return;
      const child = this.copy(node, depth + 1);
      if (addArc(child.d, n, from, to, minutes)) this.explore(child, depth + 1);
    }
  }

  private branchOnPerson(node: Node, depth: number, need: number): void {
    const { order } = this.c.needs[need] as Compiled['needs'][number];
    const mask = node.domain[need] as number;
    for (const p of order) {
      if (!(mask & (1 << p))) continue;
      if (this.bound(node) >= this.value) return;
      const child = this.copy(node, depth + 1);
      child.domain[need] = 1 << p;
      this.explore(child, depth + 1);
    }
  }
}

interface Overlap {
  readonly least: number;
  readonly most: number;
  readonly at: number;
  /** Arcs from an end to a start, the cheaper order first. */
  readonly first: readonly [number, number];
  readonly second: readonly [number, number];
}

const spanOf = (t: Int32Array, { from, to }: HeatPart): number =>
  (t[to] as number) - (t[from] as number);
