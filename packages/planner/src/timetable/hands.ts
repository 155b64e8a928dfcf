/** Who does what at given times: a search over persons for the needs not yet bound to one. */
import type { Compiled } from './compile.ts';
import { bitOf, single } from './propagate.ts';

/** Steps before the search gives up and the tree branches on a person instead. */
const MOST_STEPS = 4000;

export type Assignment =
  | { readonly ok: true; readonly persons: Int32Array }
  /** The need that could not be placed. */
  | { readonly ok: false; readonly need: number };

/**
 * Gives every need a person, at the times of one schedule.
 * @param c the problem
 * @param domain persons who can, for each need
 * @param t minute of every point
 * @param spanMin most minutes from a person's first work to the last
 */
export function assignHands(
  c: Compiled,
  domain: Int32Array,
  t: ArrayLike<number>,
  spanMin: readonly number[],
): Assignment {
  const persons = new Int32Array(c.needs.length).fill(-1);
  const first = c.people.map(() => Number.POSITIVE_INFINITY);
  const last = c.people.map(() => Number.NEGATIVE_INFINITY);
  const startOf = (k: number) => t[(c.needs[k] as { start: number }).start] as number;
  const endOf = (k: number) => t[(c.needs[k] as { end: number }).end] as number;
  const open: number[] = [];
  for (let k = 0; k < c.needs.length; k++) {
    const mask = domain[k] as number;
    if (!single(mask)) {
      open.push(k);
      continue;
    }
    const p = bitOf(mask);
    persons[k] = p;
    if ((c.needs[k] as { kind: string }).kind === 'away') continue;
    first[p] = Math.min(first[p] as number, startOf(k));
    last[p] = Math.max(last[p] as number, endOf(k));
  }
  if (open.length === 0) return { ok: true, persons };
  open.sort((a, b) => startOf(a) - startOf(b) || a - b);
  const rivals = rivalsOf(c, t);
  let deepest = 0;
  let steps = 0;

  const place = (at: number): boolean => {
    if (at === open.length) return true;
    deepest = Math.max(deepest, at);
    if (++steps > MOST_STEPS) return false;
    const k = open[at] as number;
    const need = c.needs[k] as Compiled['needs'][number];
    for (const p of need.order) {
      if (!((domain[k] as number) & (1 << p))) continue;
      if (rivals[k]?.some((r) => persons[r.need] === p && (r.apart || !c.manyHanded[p]))) continue;
      const from = Math.min(first[p] as number, startOf(k));
      const to = Math.max(last[p] as number, endOf(k));
      const fits =
        from >= (c.fromMin[p] as number) &&
        to <= (c.untilMin[p] as number) &&
        to - from <= (spanMin[p] as number);
      if (!fits) continue;
      const before = [first[p] as number, last[p] as number] as const;
      persons[k] = p;
      first[p] = from;
      last[p] = to;
      if (place(at + 1)) return true;
      persons[k] = -1;
      [first[p], last[p]] = before;
    }
    return false;
  };
  return place(0) ? { ok: true, persons } : { ok: false, need: open[deepest] as number };
}

interface Rival {
  readonly need: number;
  readonly apart: boolean;
}

/** For each need, those it overlaps in this schedule and may not share a person with. */
function rivalsOf(c: Compiled, t: ArrayLike<number>): Rival[][] {
  const rivals: Rival[][] = c.needs.map(() => []);
  for (const { a, b, apart } of c.needPairs) {
    const x = c.needs[a] as Compiled['needs'][number];
    const y = c.needs[b] as Compiled['needs'][number];
    if (!apart && !overlap(t[x.start], t[x.end], t[y.start], t[y.end])) continue;
    (rivals[a] as Rival[]).push({ need: b, apart });
    (rivals[b] as Rival[]).push({ need: a, apart });
  }
  return rivals;
}

/** Do two stretches share time? One without length does inside the other, not at its edge. */
export function overlap(
  startA: number | undefined,
  endA: number | undefined,
  startB: number | undefined,
  endB: number | undefined,
): boolean {
  return (startA as number) < (endB as number) && (startB as number) < (endA as number);
}
