/** What follows by force from a node of the search: orders that only one way round are possible. */
import type { Compiled } from './compile.ts';
import { addArc } from './network.ts';

/** A node: the closed network and, for every need, the persons who still can. */
export interface Node {
  readonly d: Int32Array;
  readonly domain: Int32Array;
}

/** What one pair allows: which of the two may come first. */
const AB = 1;
const BA = 2;
/** Already in order. */
const SETTLED = 4;

/**
 * Orders a pair still allows.
 * @param d closed network
 * @param n its points
 * @returns SETTLED, or the sum of AB and BA; 0 when they must overlap
 */
function ordersOf(
  d: Int32Array,
  n: number,
  startA: number,
  endA: number,
  startB: number,
  endB: number,
): number {
  if ((d[endA * n + startB] as number) >= 0 || (d[endB * n + startA] as number) >= 0)
    return SETTLED;
  return (
    ((d[startB * n + endA] as number) <= 0 ? AB : 0) +
    ((d[startA * n + endB] as number) <= 0 ? BA : 0)
  );
}

/** True when exactly one bit is set. */
export const single = (mask: number): boolean => mask !== 0 && (mask & (mask - 1)) === 0;
/** Index of the one bit. */
export const bitOf = (mask: number): number => 31 - Math.clz32(mask);

/**
 * Draws every forced conclusion until none is left.
 * @returns false when the node holds a contradiction
 */
export function propagate(c: Compiled, node: Node): boolean {
  for (;;) {
    const state = pass(c, node);
    if (state === 'dead') return false;
    if (state === 'still') return true;
  }
}

type Outcome = 'dead' | 'still' | 'moved';

function pass(c: Compiled, node: Node): Outcome {
  const people = filterPeople(c, node);
  if (people === 'dead') return 'dead';
  const rooms = orderClaims(c, node);
  if (rooms === 'dead') return 'dead';
  const hands = orderNeeds(c, node);
  if (hands === 'dead') return 'dead';
  return people === 'moved' || rooms === 'moved' || hands === 'moved' ? 'moved' : 'still';
}

/** Takes persons who cannot be there out of a need's domain, and binds those who must. */
function filterPeople(c: Compiled, { d, domain }: Node): Outcome {
  const n = c.points;
  let outcome: Outcome = 'still';
  for (let k = 0; k < c.needs.length; k++) {
    const need = c.needs[k] as Compiled['needs'][number];
    let mask = domain[k] as number;
    if (!single(mask)) {
      for (let p = 0; p < c.people.length; p++) {
        if (!(mask & (1 << p))) continue;
        const early = (d[need.start * n + (c.comes[p] as number)] as number) > 0;
        const late = (d[(c.leaves[p] as number) * n + need.end] as number) > 0;
        const stay = d[(c.leaves[p] as number) * n + (c.comes[p] as number)] as number;
        const long = (d[need.start * n + need.end] as number) + stay > 0;
        if (early || late || (long && need.kind !== 'away')) mask &= ~(1 << p);
      }
      if (mask !== domain[k]) {
        domain[k] = mask;
        outcome = 'moved';
      }
    }
    if (mask === 0) return 'dead';
    if (!single(mask) || need.kind === 'away') continue;
    const p = bitOf(mask);
    const come = c.comes[p] as number;
    const leave = c.leaves[p] as number;
    if ((d[come * n + need.start] as number) < 0) {
      if (!addArc(d, n, come, need.start, 0)) return 'dead';
      outcome = 'moved';
    }
    if ((d[need.end * n + leave] as number) < 0) {
      if (!addArc(d, n, need.end, leave, 0)) return 'dead';
      outcome = 'moved';
    }
  }
  return outcome;
}

function orderClaims(c: Compiled, { d }: Node): Outcome {
  const n = c.points;
  let outcome: Outcome = 'still';
  for (const pair of c.claimPairs) {
    const a = c.claims[pair.a] as Compiled['claims'][number];
    const b = c.claims[pair.b] as Compiled['claims'][number];
    const orders = ordersOf(d, n, a.start, a.end, b.start, b.end);
    if (orders === SETTLED || orders === AB + BA) continue;
    if (orders === 0) return 'dead';
    const sound = orders === AB ? addArc(d, n, a.end, b.start, 0) : addArc(d, n, b.end, a.start, 0);
    if (!sound) return 'dead';
    outcome = 'moved';
  }
  return outcome;
}

function orderNeeds(c: Compiled, { d, domain }: Node): Outcome {
  const n = c.points;
  let outcome: Outcome = 'still';
  for (const pair of c.needPairs) {
    const maskA = domain[pair.a] as number;
    const maskB = domain[pair.b] as number;
    if ((maskA & maskB) === 0) continue;
    if (pair.twins) {
      // The first of two that are alike is the person named earlier.
      const below = maskA & ((1 << bitOf(maskB)) - 1);
      const above = maskB & ~(2 * (maskA & -maskA) - 1);
      if (below === 0 || above === 0) return 'dead';
      if (below !== maskA || above !== maskB) {
        domain[pair.a] = below;
        domain[pair.b] = above;
        outcome = 'moved';
      }
      continue;
    }
    const oneA = single(maskA);
    const oneB = single(maskB);
    if (!oneA && !oneB) continue;
    if (!pair.apart && c.manyHanded[bitOf(oneA ? maskA : maskB)]) continue;
    const a = c.needs[pair.a] as Compiled['needs'][number];
    const b = c.needs[pair.b] as Compiled['needs'][number];
    const orders = pair.apart ? 0 : ordersOf(d, n, a.start, a.end, b.start, b.end);
    if (orders === SETTLED) continue;
    if (pair.apart) {
      // One pair of hands is bound, so the other is somebody else, even for work of no length.
      if (oneA && oneB) return 'dead';
      if (oneA) domain[pair.b] = maskB & ~maskA;
      else domain[pair.a] = maskA & ~maskB;
      outcome = 'moved';
    } else if (oneA && oneB) {
      if (orders === AB + BA) continue;
      if (orders === 0) return 'dead';
      const sound =
        orders === AB ? addArc(d, n, a.end, b.start, 0) : addArc(d, n, b.end, a.start, 0);
      if (!sound) return 'dead';
      outcome = 'moved';
    } else if (orders === 0) {
      // They must overlap, so the one who does the one cannot do the other.
      if (oneA) domain[pair.b] = maskB & ~maskA;
      else domain[pair.a] = maskA & ~maskB;
      outcome = 'moved';
    }
  }
  return outcome;
}
