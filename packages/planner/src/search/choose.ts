/** Choosing: what played plans are weighed by, which of them beat others, and the few worth showing. */
import type { Outcome, Recipe } from '../compare/outcome.ts';
import type { PlanDocument } from '../document.ts';
import type { Wort } from '../wort.ts';
import type { Range, Targets } from './targets.ts';

/** What plans are weighed by on the likely kit; the smaller the better, each. */
export interface Weighed {
  readonly finishH: number;
  readonly handsBusyMin: number;
  readonly carriedKg: number;
  readonly energyKWh: number;
  /** Colour the boils add, the more the better: its negative [EBC]. */
  readonly unboiled: number;
  /** Limit of attenuation off the target, or off the plan as written [points]. */
  readonly limitOff: number;
  /** Alpha-amylase destroyed, 0-1: what a late starch would need. */
  readonly enzymesLost: number;
  /** Chance that a rest is missed, to first order, 0-1. */
  readonly missChance: number;
}

const REASONS: Readonly<Record<keyof Weighed, string>> = {
  finishH: 'soonest done',
  handsBusyMin: 'least work',
  carriedKg: 'least to carry',
  energyKWh: 'least energy',
  unboiled: 'most colour from the boil',
  limitOff: 'attenuation nearest to what is wanted',
  enzymesLost: 'most enzyme left',
  missChance: 'surest to hit its rests',
};
export const KEYS = Object.keys(REASONS) as (keyof Weighed)[];
const MOST_PLANS = 7;

/** A recipe and what it weighs. */
export interface Candidate {
  readonly recipe: Recipe;
  readonly weighed: Weighed;
}

/** What a played plan weighs. */
export function weighedOf(
  outcome: Outcome,
  wort: Wort,
  missChance: number,
  wanted: Range | undefined,
): Weighed {
  const { finishH, handsBusyMin, carriedKg, energyKWh } = outcome;
  return {
    finishH,
    handsBusyMin,
    carriedKg,
    energyKWh,
    unboiled: -wort.colourEbc,
    limitOff: wanted ? outOf(wort.limitApparentPct, wanted) : 0,
    enzymesLost: 1 - wort.alphaLeft,
    missChance,
  };
}

/** How far a figure lies outside a range; nought inside. */
function outOf(x: number, { low, high }: Range): number {
  return Math.max(0, low - x, x - high);
}

/** Does a likely day meet the targets of the beer? Hour and hands are the timetable's. */
export function meets(targets: Targets, wort: Wort, heaviestKg: number): boolean {
  const { limitApparentPct, colourAddedEbc, extractKg, mostLiftKg } = targets;
  return (
    (!limitApparentPct || outOf(wort.limitApparentPct, limitApparentPct) === 0) &&
    (!colourAddedEbc || outOf(wort.colourEbc, colourAddedEbc) === 0) &&
    (extractKg === undefined || wort.extractKg >= extractKg) &&
    (mostLiftKg === undefined || heaviestKg <= mostLiftKg)
  );
}

/** True when a is no worse than b in anything and better in something. */
export function dominates(a: Weighed, b: Weighed): boolean {
  let better = false;
  for (const key of KEYS) {
    if (a[key] > b[key] + SAME[key]) return false;
    if (a[key] < b[key] - SAME[key]) better = true;
  }
  return better;
}

/** What makes no difference to a brewer; our judgement. */
export const SAME: Weighed = {
  finishH: 1 / 60,
  handsBusyMin: 1,
  carriedKg: 1,
  energyKWh: 0.1,
  unboiled: 0.01,
  limitOff: 0.05,
  enzymesLost: 0.005,
  missChance: 0.005,
};

/** Those that nothing dominates; of two alike in everything the first. */
export function nonDominated(candidates: readonly Candidate[]): Candidate[] {
  const kept: Candidate[] = [];
  for (const c of candidates) {
    if (candidates.some((other) => dominates(other.weighed, c.weighed))) continue;
    if (!kept.some((k) => alike(k.weighed, c.weighed))) kept.push(c);
  }
  return kept;
}

function alike(a: Weighed, b: Weighed): boolean {
  return KEYS.every((key) => Math.abs(a[key] - b[key]) <= SAME[key]);
}

/** So many candidates: those given, then always the one least like any taken. */
function spread(
  candidates: readonly Candidate[],
  count: number,
  given: readonly Candidate[],
): Candidate[] {
  const taken = [...new Set(given)].slice(0, count);
  const apart = distanceIn(candidates);
  const far = new Map(candidates.map((c) => [c, Math.min(...taken.map((t) => apart(c, t)))]));
  for (const t of taken) far.delete(t);
  while (taken.length < count && far.size > 0) {
    const [next] = [...far].reduce((most, c) => (c[1] > most[1] ? c : most));
    taken.push(next);
    far.delete(next);
    for (const [c, d] of far) far.set(c, Math.min(d, apart(c, next)));
  }
  return taken;
}

/**
 * The best in each thing that is weighed, then those least like any chosen, until there are seven.
 * A plan stands once; its reason says what it is best in, and what it spares the brewer.
 */
export function chosen(candidates: readonly Candidate[], own: Weighed | undefined) {
  const reasons = new Map<Candidate, string[]>();
  for (const key of KEYS) {
    const [first] = candidates.toSorted((a, b) => a.weighed[key] - b.weighed[key]);
    if (first) reasons.set(first, [...(reasons.get(first) ?? []), REASONS[key]]);
  }
  return spread(candidates, MOST_PLANS, [...reasons.keys()]).map((candidate) => {
    const best = reasons.get(candidate) ?? [];
    const spared = best.length > 0 ? [] : sparings(candidate.weighed, own);
    return { candidate, reason: [...best, ...spared].join(', ') };
  });
}

/** How unlike two plans are: each thing weighed against its span over the candidates. */
function distanceIn(candidates: readonly Candidate[]) {
  const spans = KEYS.map((key) => {
    const values = candidates.map((c) => c.weighed[key]);
    return { key, span: Math.max(SAME[key], Math.max(...values) - Math.min(...values)) };
  });
  return (a: Candidate, b: Candidate) =>
    Math.hypot(...spans.map(({ key, span }) => (a.weighed[key] - b.weighed[key]) / span));
}

/** What a plan that is best in nothing has over the plan as written. */
function sparings(weighed: Weighed, own: Weighed | undefined): string[] {
  if (!own) return ['between the others, and this kit can do it'];
  const less = (key: keyof Weighed) => own[key] - weighed[key];
  const gains = [
    {
      gain: less('finishH'),
      text: `${(60 * less('finishH')).toFixed(0)} min sooner`,
      key: 'finishH',
    },
    {
      gain: less('handsBusyMin'),
      text: `${less('handsBusyMin').toFixed(0)} min less work`,
      key: 'handsBusyMin',
    },
    {
      gain: less('carriedKg'),
      text: `${less('carriedKg').toFixed(0)} kg less to carry`,
      key: 'carriedKg',
    },
    { gain: less('energyKWh'), text: `${less('energyKWh').toFixed(1)} kWh less`, key: 'energyKWh' },
    {
      gain: less('unboiled'),
      text: `${less('unboiled').toFixed(1)} EBC more from the boil`,
      key: 'unboiled',
    },
  ] as const;
  const told = gains.filter((g) => g.gain > SHOWN[g.key]).map((g) => g.text);
  if (told.length === 0) return ['close to the plan as written'];
  return [`${told.join(', ')} than the plan as written`];
}

/** A gain smaller than this is not told; our choice. */
const SHOWN = { finishH: 3 / 60, handsBusyMin: 3, carriedKg: 3, energyKWh: 0.5, unboiled: 0.1 };

/** "2 pulls, kettle, thick, boil 15 and 5 min, 3.3 L/kg". */
export function inWords({ kit, mash }: PlanDocument): string {
  const pulls = mash.raises.flatMap((r) => (r.by === 'decoction' ? [r] : []));
  const rests = mash.rests.map((r) => `${Math.round(r.minutes)}`).join('-');
  const ratio = `${mash.liquorLPerKg.toFixed(1)} L/kg, rests ${rests} min`;
  const name = (id: string) => kit.vessels.find((v) => v.id === id)?.name ?? id;
  const [first] = pulls;
  if (!first) {
    const [raise] = mash.raises;
    const by =
      raise === undefined ? 'infusion' : raise.by === 'liquor' ? 'boiling liquor' : 'direct heat';
    return `${by} in ${name(mash.tun)}, ${ratio}`;
  }
  const pots = first.pots.map(name).join(first.order === 'in-turn' ? ' then ' : ' beside ');
  const layout = mash.layout === 'kettle-mash' ? 'kettle mash, ' : '';
  const boils = pulls.map((p) => p.boilMinutes).join('-');
  const thickness = typeof first.thickness === 'string' ? first.thickness : 'by ratio';
  return `${layout}${pulls.length} ${pulls.length > 1 ? 'pulls' : 'pull'}, ${pots}, ${thickness}, boil ${boils} min, ${ratio}`;
}
