/** Least finish from the work alone: what one vessel, and all hands together, must still do. */
import { type Compiled, FINISH, ORIGIN } from './compile.ts';
import type { Node } from './propagate.ts';

/**
 * A lower bound on the finish: earliest head, all the work, shortest tail.
 * @param c the problem
 * @param node its network so far
 * @source one-machine bound without preemption order (J. Carlier, EJOR 11, 1982), for hands shared
 *   evenly among all people
 */
export function workBound(c: Compiled, { d, domain }: Node): number {
  const n = c.points;
  let bound = d[ORIGIN * n + FINISH] as number;
  const head = (start: number) => d[ORIGIN * n + start] as number;
  const tail = (end: number) => d[end * n + FINISH] as number;
  for (const contents of c.rooms) {
    let first = Number.POSITIVE_INFINITY;
    let sum = 0;
    let last = Number.POSITIVE_INFINITY;
    // Claims of one content may lie over each other, so only its longest counts.
    for (const claims of contents) {
      let longest = 0;
      for (const k of claims) {
        const claim = c.claims[k] as Compiled['claims'][number];
        longest = Math.max(longest, d[claim.start * n + claim.end] as number);
        first = Math.min(first, head(claim.start));
        last = Math.min(last, tail(claim.end));
      }
      sum += longest;
    }
    if (sum > 0) bound = Math.max(bound, first + sum + last);
  }
  if (c.manyHanded.includes(true)) return bound;
  for (let p = -1; p < c.people.length; p++) {
    const only = p < 0 ? -1 : 1 << p;
    let first = Number.POSITIVE_INFINITY;
    let sum = 0;
    let last = Number.POSITIVE_INFINITY;
    c.needs.forEach((need, k) => {
      if (need.kind !== 'busy' || (p >= 0 && domain[k] !== only)) return;
      sum += d[need.start * n + need.end] as number;
      first = Math.min(first, head(need.start));
      last = Math.min(last, tail(need.end));
    });
    const share = p < 0 ? Math.ceil(sum / Math.max(1, c.people.length)) : sum;
    if (sum > 0) bound = Math.max(bound, first + share + last);
  }
  return bound;
}
