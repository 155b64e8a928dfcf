import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hashOf, headingOf, type Route, readRoute } from './route.ts';

describe('the hash', () => {
  const routes: Route[] = [
    { at: 'today' },
    { at: 'beers' },
    { at: 'kits' },
    { at: 'brews' },
    { at: 'new-brew' },
    { at: 'devices' },
  ];
  it.each(routes)('reads back $at', (route) => {
    expect(readRoute(hashOf(route))).toEqual(route);
  });

  it('reads back any id, slashes and signs included', () => {
    const ids = fc.string({ minLength: 1 }).filter((id) => id !== 'new');
    const ats = fc.constantFrom('beer', 'kit', 'plan', 'day', 'record');
    fc.assert(
      fc.property(ats, ids, (at, id) => {
        expect(readRoute(hashOf({ at, id } as Route))).toEqual({ at, id });
      }),
    );
  });

  it('opens Today for an empty hash', () => {
    expect(readRoute('')).toEqual({ at: 'today' });
    expect(readRoute('#')).toEqual({ at: 'today' });
    expect(readRoute('#/')).toEqual({ at: 'today' });
  });

  it('says so when the address leads nowhere', () => {
    expect(readRoute('#/cellar').at).toBe('nowhere');
    expect(readRoute('#/brews/41/taps').at).toBe('nowhere');
    expect(headingOf(readRoute('#/cellar'))).toBeUndefined();
  });

  it('survives an escape cut short', () => {
    expect(readRoute('#/kit/%E0%A4')).toEqual({ at: 'kit', id: '%E0%A4' });
  });
});
