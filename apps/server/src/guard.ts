/** Who may speak to the server, from where, and how often. */

import { isIP } from 'node:net';
import { hostname } from 'node:os';
import type { MiddlewareHandler } from 'hono';
import type { Env } from './context.ts';
import type { Entrance } from './entrance.ts';
import { welcomePage } from './pair-routes.ts';
import { ownNames } from './private-names.ts';
import { problem } from './problem.ts';
import { RateLimit } from './rate-limit.ts';
import { addressOf, hostOf, isLoopback, isSecure } from './request.ts';
import { mayAsk } from './roles.ts';
import { deviceOf } from './tokens.ts';

/** A tablet in use asks once a second or so; a burst is a page opening. */
const REQUESTS = { perSecond: 20, burst: 200 };

/** For anybody: how to come in, and what a browser fetches of an installed page without a token. */
const FOR_STRANGERS =
  /^\/(pair|trust|trust\.css|trust\/[\w.-]+|manifest\.webmanifest|mark\.svg|icons\/[\w.-]+)$/;

/**
 * Refuses names that are not this machine's. A web page can point a name of its own at this address
 * and would then be let in as if it were ours.
 */
export const knownHost: MiddlewareHandler<Env> = async (c, next) => {
  const name = hostOf(c);
  const own = hostname().toLowerCase();
  const known = isIP(name) > 0 || name === own || ownNames(own, []).names.includes(name);
  if (known) return next();
  return problem(c, 403, 'unknown-host', 'Open the page by the address the server printed.');
};

/** Refuses what another site's page sends in the name of a paired tablet. */
export const sameOrigin: MiddlewareHandler<Env> = async (c, next) => {
  const origin = c.req.header('origin');
  const host = c.req.header('host');
  // A page that came in the clear may be anybody's: it must not write by https.
  const own = [`https://${host}`, ...(isSecure(c) ? [] : [`http://${host}`])];
  const foreign = origin !== undefined && !own.includes(origin);
  if (foreign && c.req.method !== 'GET' && c.req.method !== 'HEAD') {
    return problem(c, 403, 'foreign-origin', 'Only this server’s own page may write to it.');
  }
  return next();
};

/**
 * Lets the machine itself in, and from the network only paired devices, at a bearable rate, each to
 * what its role may do.
 *
 * @param entrance undefined when the server listens on the machine itself only
 * @param now clock [ms]
 */
export function guard(entrance: Entrance | undefined, now: () => number): MiddlewareHandler<Env> {
  const requests = new RateLimit(REQUESTS.perSecond, REQUESTS.burst, now);
  return async (c, next) => {
    const address = addressOf(c);
    if (isLoopback(address) && entrance?.pairAll !== true) {
      c.set('visitor', { role: 'brewer' });
      return next();
    }
    const device = entrance && deviceOf(c, entrance.devices);
    // A router may give all tablets one address; a device that is known answers for itself.
    if (!requests.take(device?.id ?? address)) {
      c.header('Retry-After', '1');
      return problem(c, 429, 'too-many', 'Too many requests from this device. Wait a second.');
    }
    if (device !== undefined) {
      entrance?.devices.seen(device, isSecure(c));
      const visitor = { role: device.role, device: device.id };
      c.set('visitor', visitor);
      if (mayAsk(device.role, c.req.method, c.req.path)) return next();
      const message = `This device is paired as a ${device.role}. Only a brewer’s device may do that.`;
      return problem(c, 403, 'not-your-role', message);
    }
    if (FOR_STRANGERS.test(c.req.path)) return next();
    const message = 'This device is not paired. Open the pairing address the server printed.';
    if (entrance === undefined || c.req.path.startsWith('/api/')) {
      return problem(c, 401, 'not-paired', message);
    }
    return welcomePage(c, entrance);
  };
}
