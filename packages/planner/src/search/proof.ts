/**
 * Proof of no: when a kit cannot do a plan, the smallest sets of limits that clash, and for each
 * limit the smallest change that frees it. Nothing is told that was not simulated.
 */
import type { PlanDocument } from '../document.ts';
import { look } from './feasible.ts';
import { doneWithout, type Freed, type Limit, type LimitCode, limitsOf } from './limits.ts';
import { asked, type Targets } from './targets.ts';

export interface ClashLimit {
  readonly code: LimitCode;
  /** In plain words, as "the stock pot holds 60 L". */
  readonly text: string;
  /** The smallest change of this limit with which the plan can be done; none when it takes another beside it. */
  readonly change?: Freed;
}

/** Limits that cannot all be kept; take any one of them away and the others can. */
export interface ClashSet {
  readonly text: string;
  readonly limits: readonly ClashLimit[];
}

export interface Proof {
  readonly sets: readonly ClashSet[];
  /** Plans that were simulated for it. */
  readonly tried: number;
}

/** Sets told at most: each is a trouble of its own. */
const MOST_SETS = 3;

/**
 * Why a plan cannot be done.
 * @param document the plan
 * @param options targets that narrow its day
 * @returns the sets of clashing limits; undefined when the plan can be done
 * @throws UnknownName when the document names what its kit does not have
 * @source deletion filter for irreducible infeasible sets, Chinneck & Dravnieks 1991, ORSA J.
 *   Computing 3(2) 157 (from memory)
 */
export function proofOfNo(
  document: PlanDocument,
  options: { readonly targets?: Targets } = {},
): Proof | undefined {
  const plan = asked(document, options.targets ?? {});
  const known = new Map<string, number>();
  const gapOf = (d: PlanDocument) => {
    const key = JSON.stringify([d.kit, d.mash, d.day]);
    const before = known.get(key);
    if (before !== undefined) return before;
    const { gap } = look(d);
    known.set(key, gap);
    return gap;
  };
  const done = (d: PlanDocument) => gapOf(d) === 0;
  if (done(plan)) return undefined;
  const limits = limitsOf(plan);
  const sets: ClashSet[] = [];
  let lifted: readonly Limit[] = [];
  for (let k = 0; k < MOST_SETS; k++) {
    const set = smallestSet(
      limits,
      (kept) =>
        doneWithout(
          plan,
          limits.filter((l) => !kept.includes(l)),
          gapOf,
        ),
      lifted,
    );
    if (!set || set.length === 0) break;
    sets.push(told(plan, set, done));
    lifted = [...lifted, ...set];
  }
  if (sets.length === 0) sets.push({ text: restText(plan), limits: [] });
  return { sets, tried: known.size };
}

/**
 * A set of limits that clashes while every part of it can be kept: each limit in turn is left out,
 * for good when the rest still clashes.
 * @param limits those there are, first those a brewer would least think of
 * @param possible can a plan keep these limits, all others lifted?
 * @param already limits lifted beforehand
 * @returns the set; undefined when all limits together can be kept
 */
export function smallestSet<T>(
  limits: readonly T[],
  possible: (kept: readonly T[]) => boolean,
  already: readonly T[] = [],
): readonly T[] | undefined {
  let kept = limits.filter((l) => !already.includes(l));
  if (possible(kept)) return undefined;
  for (const limit of [...kept]) {
    const without = kept.filter((l) => l !== limit);
    if (!possible(without)) kept = without;
  }
  return kept;
}

function told(
  plan: PlanDocument,
  set: readonly Limit[],
  done: (d: PlanDocument) => boolean,
): ClashSet {
  const limits = set.map((limit): ClashLimit => {
    const change = limit.smallest(plan, done);
    return { code: limit.code, text: limit.text, ...(change ? { change } : {}) };
  });
  const texts = set.map((l) => l.text);
  const text =
    texts.length === 1
      ? `This cannot be: ${texts[0]}.`
      : `These cannot all be kept: ${texts.slice(0, -1).join('; ')}; ${texts.at(-1)}.`;
  return { text, limits };
}

/** No limit that we know how to lift: what the plan itself says. */
function restText(plan: PlanDocument): string {
  const { day } = look(plan);
  const texts = day?.clashes.map((c) => c.text) ?? [];
  return texts.length > 0 ? texts.join(' ') : 'No single limit of this plan is to blame.';
}
