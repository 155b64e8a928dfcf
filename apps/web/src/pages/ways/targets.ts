/** What is asked of a search, as the form keeps it, and as the engine takes it. */
import type { PlanDocument, RestWish, Targets } from '@ladlework/planner';

export interface TargetDraft {
  readonly rests?: readonly RestWish[];
  readonly limitLow?: number | undefined;
  readonly limitHigh?: number | undefined;
  readonly colourLow?: number | undefined;
  readonly colourHigh?: number | undefined;
  readonly extractKg?: number | undefined;
  /** Minutes after midnight of the day the brew begins. */
  readonly finishClockMin?: number | undefined;
  readonly hands?: readonly string[] | undefined;
  readonly mostPulls?: number | undefined;
  readonly mostLiftKg?: number | undefined;
}

const DAY_MIN = 1440;
/** Ends of what a field may say, where only the other end was named. */
const ATTENUATION = { low: 0, high: 100 } as const;
const COLOUR = { low: 0, high: 1000 } as const;

/** The wish for each rest, as wanted until something else was said. */
export const wishesOf = (draft: TargetDraft, { mash }: PlanDocument): readonly RestWish[] =>
  mash.rests.map((_, i) => draft.rests?.[i] ?? { wanted: 'yes' });

/** @returns only what was named; the hour to end by may be the day after. */
export function targetsOf(draft: TargetDraft, document: PlanDocument): Targets {
  const wishes = wishesOf(draft, document);
  const limited = wishes.some(
    (w) => w.wanted !== 'yes' || w.lowC !== undefined || w.highC !== undefined,
  );
  const limit = rangeOf(draft.limitLow, draft.limitHigh, ATTENUATION);
  const colour = rangeOf(draft.colourLow, draft.colourHigh, COLOUR);
  const { extractKg, finishClockMin, hands, mostPulls, mostLiftKg } = draft;
  const after = (clock: number) =>
    (((clock - document.day.startMin) % DAY_MIN) + DAY_MIN) % DAY_MIN || DAY_MIN;
  return {
    ...(limited ? { rests: wishes } : {}),
    ...(limit ? { limitApparentPct: limit } : {}),
    ...(colour ? { colourAddedEbc: colour } : {}),
    ...(extractKg === undefined ? {} : { extractKg }),
    ...(finishClockMin === undefined ? {} : { finishByMin: after(finishClockMin) }),
    ...(hands === undefined || hands.length === 0 ? {} : { hands }),
    ...(mostPulls === undefined ? {} : { mostPulls }),
    ...(mostLiftKg === undefined ? {} : { mostLiftKg }),
  };
}

function rangeOf(
  low: number | undefined,
  high: number | undefined,
  ends: { readonly low: number; readonly high: number },
): { readonly low: number; readonly high: number } | undefined {
  if (low === undefined && high === undefined) return undefined;
  return { low: low ?? ends.low, high: high ?? ends.high };
}
