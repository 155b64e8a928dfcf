/** What to do during a return, in the brewer's measure. Pure. */
import type { Kit, RouteHow } from '@ladlework/brewhouse';
import type { ReturnGuide } from '@ladlework/planner';

/** How temperatures are written on the card. */
export interface CardSay {
  temp(c: number): string;
  /** With its doubt. */
  band(b: { readonly low: number; readonly likely: number; readonly high: number }): string;
  /** A target, no decimals. */
  target(c: number): string;
}

const PORTION: Readonly<Record<RouteHow, readonly [one: string, many: string]>> = {
  ladle: ['ladle', 'ladles'],
  bucket: ['bucket', 'buckets'],
  pump: ['minute of pumping', 'minutes of pumping'],
  gravity: ['minute of running', 'minutes of running'],
};

export interface Portion {
  readonly how: RouteHow;
  readonly litres: number;
}

/** What a route carries at a time; nothing when the kit has no such route. */
export function portionOf(kit: Kit, routeId: string): Portion | undefined {
  const route = kit.routes.find((r) => r.id === routeId);
  return route === undefined ? undefined : { how: route.how, litres: route.portionL };
}

/**
 * @example portionText(2, 'bucket') // "2 buckets"
 * @example portionText(1, 'pump') // "1 minute of pumping"
 */
export function portionText(count: number, how: RouteHow): string {
  const [one, many] = PORTION[how];
  return `${count} ${count === 1 ? one : many}`;
}

/** A pull is counted out of the mash, everything else into it. */
export type Way = 'in' | 'out';

export const wayOf = (kind: string): Way => (kind === 'pull' ? 'out' : 'in');

/** What was carried: "4 buckets in", "4 min out". */
export function soFar(count: number, how: RouteHow, way: Way): string {
  return `${how === 'pump' || how === 'gravity' ? `${count} min` : portionText(count, how)} ${way}`;
}

/** On the button that counts one: "1 bucket in". */
export const oneMore = (how: RouteHow, way: Way): string => soFar(1, how, way);

/** Of a pull: "3 of 8.7 buckets out". */
export function ofAll(count: number, litres: number, portion: Portion, way: Way): string {
  const all = Math.round((10 * litres) / portion.litres) / 10;
  return `${count} of ${soFar(all, portion.how, way)}`;
}

/** A stop this far under the target is for want of more [K]. */
const SHORT_K = 1;

/**
 * @example secondsText(40) // "40 s"
 * @example secondsText(150) // "2 min 30 s"
 */
function secondsText(seconds: number): string {
  const minutes = Math.floor(seconds / 60);
  const rest = seconds % 60;
  if (minutes === 0) return `${rest} s`;
  return rest === 0 ? `${minutes} min` : `${minutes} min ${rest} s`;
}

/** The big line: "2 more buckets, then stir". */
export function guideHead(guide: ReturnGuide, how: RouteHow): string {
  if (guide.action === 'stop')
    return guide.tunC < guide.targetC - SHORT_K
      ? 'All of it is in. Stir hard, then read'
      : 'Stop. Stir hard, then read';
  if (guide.action === 'read') return 'Stir, then read';
  if (guide.moreSeconds !== undefined) return `${secondsText(guide.moreSeconds)} more, then stir`;
  const [one, many] = PORTION[how];
  const n = guide.morePortions;
  if (guide.fromStart) return `First ${n} ${n === 1 ? one : many}, then stir`;
  return `${n} more ${n === 1 ? one : many}, then stir`;
}

/** What stays in the pot, in whole portions where there is one: "keep 3 buckets back, lid on". */
export function keepBack(guide: ReturnGuide, portion: Portion, volume: (l: number) => string) {
  if (guide.keepBackL < 1) return 'nothing is kept back';
  const whole = Math.floor(guide.keepBackL / portion.litres + 0.25);
  const much = whole >= 1 && portion.how !== 'pump' && portion.how !== 'gravity';
  return `keep ${much ? portionText(whole, portion.how) : volume(guide.keepBackL)} back, lid on`;
}
