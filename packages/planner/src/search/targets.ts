/** What the brewer asks of a plan, beside the document: rests, beer, hour, hands and loads. */
import type { MashRest, PlanDocument, Raise } from '../document.ts';

/** What one rest of the document is worth to the brewer. */
export interface RestWish {
  /** free: plans with it and without it; no: plans without it. */
  readonly wanted: 'yes' | 'free' | 'no';
  /** The beer's range of this rest [°C]; left out: as the document has it. */
  readonly lowC?: number;
  readonly highC?: number;
}

/** A figure of the beer between two bounds. */
export interface Range {
  readonly low: number;
  readonly high: number;
}

/** Targets and limits; what is left out is not limited. */
export interface Targets {
  /** One for each rest of the document. */
  readonly rests?: readonly RestWish[];
  /** Apparent limit of attenuation [%]. */
  readonly limitApparentPct?: Range;
  /** Colour the boils add [EBC]. */
  readonly colourAddedEbc?: Range;
  /** Extract at least [kg]. */
  readonly extractKg?: number;
  /** The whole day is done by then [min after day start]; default that of the document. */
  readonly finishByMin?: number;
  /** Letters of the hands at work; default those of the document. */
  readonly hands?: readonly string[];
  /** Pulls at most, 0-3. */
  readonly mostPulls?: number;
  /** Heaviest load to be lifted by hand [kg]. */
  readonly mostLiftKg?: number;
}

/** The document with the hour and the hands of the targets. */
export function asked(document: PlanDocument, targets: Targets): PlanDocument {
  const { finishByMin, hands } = targets;
  if (finishByMin === undefined && hands === undefined) return document;
  const day = {
    ...document.day,
    ...(finishByMin === undefined ? {} : { finishByMin }),
    ...(hands === undefined ? {} : { hands }),
  };
  return { ...document, day };
}

/**
 * The rests a plan may have: every set that leaves out what is free or not wanted, and every end of
 * a range the beer allows. The first is the document's own, when it may be.
 * @param document the brewer's own plan
 * @param wishes one for each of its rests; left out: all wanted as they are
 * @returns documents with those rests and the raises that remain; one rest at least
 */
export function restChoices(
  document: PlanDocument,
  wishes: readonly RestWish[] | undefined,
): PlanDocument[] {
  if (!wishes) return [document];
  const { rests } = document.mash;
  let sets: (readonly (MashRest | undefined)[])[] = [[]];
  rests.forEach((rest, i) => {
    const wish = wishes[i] ?? { wanted: 'yes' };
    const temps = [rest.tempC, wish.lowC, wish.highC].filter((t) => t !== undefined);
    const kept: (MashRest | undefined)[] =
      wish.wanted === 'no' ? [] : [...new Set(temps)].map((tempC) => ({ ...rest, tempC }));
    const choices = wish.wanted === 'yes' ? kept : [...kept, undefined];
    sets = sets.flatMap((set) => choices.map((c) => [...set, c]));
  });
  return sets.flatMap((set) => {
    const left = set.filter((r) => r !== undefined);
    const rising = left.every((r, i) => i === 0 || r.tempC > (left[i - 1] as MashRest).tempC);
    return left.length > 0 && rising ? [withRests(document, set)] : [];
  });
}

/** A rest left out takes the raise to it along; the raise after it goes from the rest before. */
function withRests(document: PlanDocument, set: readonly (MashRest | undefined)[]): PlanDocument {
  const rests = set.filter((r) => r !== undefined);
  const raises: Raise[] = [];
  set.forEach((rest, i) => {
    const isFirst = set.slice(0, i).every((r) => r === undefined);
    if (rest && !isFirst) raises.push(document.mash.raises[i - 1] as Raise);
  });
  return { ...document, mash: { ...document.mash, rests, raises } };
}
