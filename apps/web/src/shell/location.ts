import { effect, signal } from '@preact/signals';
import { hashOf, headingOf, type Route, readRoute } from './route.ts';

/** Where the page stands. */
export const route = signal<Route>(readRoute(location.hash));

addEventListener('hashchange', () => {
  route.value = readRoute(location.hash);
  scrollTo(0, 0);
});

/** Goes to another page. */
export function goTo(next: Route): void {
  location.hash = hashOf(next);
}

effect(() => {
  const heading = headingOf(route.value);
  document.title = heading === undefined ? 'Ladlework' : `${heading} · Ladlework`;
});
