/** Where the page stands, kept in the hash so that it works from any server and without one. */
export type Route =
  | { readonly at: 'today' }
  | { readonly at: 'beers' }
  | { readonly at: 'beer'; readonly id: string }
  | { readonly at: 'kits' }
  | { readonly at: 'kit'; readonly id: string }
  | { readonly at: 'brews' }
  | { readonly at: 'new-brew' }
  | { readonly at: 'plan'; readonly id: string }
  /** The id `new` is the brew being written down. */
  | { readonly at: 'ways'; readonly id: string; readonly part: WaysPart }
  | { readonly at: 'day'; readonly id: string }
  | { readonly at: 'record'; readonly id: string }
  | { readonly at: 'devices' }
  | { readonly at: 'paper'; readonly id: string }
  | { readonly at: 'paper-in'; readonly id: string }
  | { readonly at: 'nowhere'; readonly hash: string };

/** What can be asked about other ways to brew it; the first is where the page opens. */
const WAYS_PARTS = ['side', 'find', 'kit', 'malt', 'tasting', 'size'] as const;
export type WaysPart = (typeof WAYS_PARTS)[number];

/** The four headings of the page. */
export type Heading = 'Today' | 'Beers' | 'Kit' | 'Brews';

/**
 * Reads a location hash.
 *
 * @param hash as the browser gives it, with or without `#`
 * @returns the route; `nowhere` for an address this page never wrote
 */
export function readRoute(hash: string): Route {
  const parts = hash
    .replace(/^#?\/?/, '')
    .split('/')
    .map(decode);
  const [first = '', id, page, part] = parts;
  if (first === '' || first === 'today') return { at: 'today' };
  if (first === 'beers') return id ? { at: 'beer', id } : { at: 'beers' };
  if (first === 'devices') return { at: 'devices' };
  if (first === 'kit') return id ? { at: 'kit', id } : { at: 'kits' };
  if (first === 'brews') {
    if (!id) return { at: 'brews' };
    if (page === 'ways') {
      const known = part === undefined ? 'side' : WAYS_PARTS.find((p) => p === part);
      if (known !== undefined) return { at: 'ways', id, part: known };
    }
    if (id === 'new') return { at: 'new-brew' };
    if (page === undefined || page === 'plan') return { at: 'plan', id };
    if (page === 'day') return { at: 'day', id };
    if (page === 'record') return { at: 'record', id };
    if (page === 'paper') return { at: 'paper', id };
    if (page === 'paper-in') return { at: 'paper-in', id };
  }
  return { at: 'nowhere', hash };
}

/** The hash of a route, for links. */
export function hashOf(route: Route): string {
  switch (route.at) {
    case 'today':
      return '#/today';
    case 'beers':
      return '#/beers';
    case 'beer':
      return `#/beers/${encodeURIComponent(route.id)}`;
    case 'kits':
      return '#/kit';
    case 'kit':
      return `#/kit/${encodeURIComponent(route.id)}`;
    case 'brews':
      return '#/brews';
    case 'new-brew':
      return '#/brews/new';
    case 'plan':
    case 'day':
    case 'record':
    case 'paper':
    case 'paper-in':
      return `#/brews/${encodeURIComponent(route.id)}/${route.at}`;
    case 'ways': {
      const own = `#/brews/${encodeURIComponent(route.id)}/ways`;
      return route.part === 'side' ? own : `${own}/${route.part}`;
    }
    case 'devices':
      return '#/devices';
    case 'nowhere':
      return route.hash;
  }
}

/** Which of the headings a route stands under. */
export function headingOf(route: Route): Heading | undefined {
  switch (route.at) {
    case 'today':
      return 'Today';
    case 'beers':
    case 'beer':
      return 'Beers';
    case 'kits':
    case 'kit':
      return 'Kit';
    case 'brews':
    case 'new-brew':
    case 'plan':
    case 'ways':
    case 'day':
    case 'record':
    case 'paper':
    case 'paper-in':
      return 'Brews';
    case 'devices':
    case 'nowhere':
      return undefined;
  }
}

function decode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    // A hash cut off in the middle of an escape is still shown as it stands.
    return part;
  }
}
