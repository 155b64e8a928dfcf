/** Who may speak to the server, from where, and how often. */

import { isIP } from 'node:net';
import { hostname } from 'node:os';
import type { Context, MiddlewareHandler } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';
import type { Env } from './context.ts';
import { PAIR_PAGE } from './pair-page.ts';
import type { Pairing } from './pairing.ts';
import { problem } from './problem.ts';
import { RateLimit } from './rate-limit.ts';

const COOKIE = 'ladlework-paired';
const A_YEAR_S = 365 * 24 * 3600;

/** A tablet in use asks once a second or so; a burst is a page opening. */
const REQUESTS = { perSecond: 20, burst: 200 };
/** A person mistypes a code now and then. Ten letters of 26 stand four centuries against this. */
const PAIRINGS = { perSecond: 1 / 20, burst: 5 };

/** Address a request came from. */
function addressOf(c: Context<Env>): string {
  const address = c.env.incoming.socket.remoteAddress ?? '';
  return address.startsWith('::ffff:') ? address.slice('::ffff:'.length) : address;
}

export function isLoopback(address: string): boolean {
  return address === '::1' || /^127\./.test(address);
}

/**
 * Refuses names that are not this machine's. A web page can point a name of its own at this address
 * and would then be let in as if it were ours.
 */
export const knownHost: MiddlewareHandler<Env> = async (c, next) => {
  const name = hostOf(c.req.header('host') ?? '');
  const own = hostname().toLowerCase();
  const known = name === 'localhost' || isIP(name) > 0 || name === own || name === `${own}.local`;
  if (known) return next();
  return problem(c, 403, 'unknown-host', 'Open the page by the address the server printed.');
};

function hostOf(header: string): string {
  const bracketed = /^\[([^\]]+)\](?::\d+)?$/.exec(header)?.[1];
  return (bracketed ?? header.replace(/:\d+$/, '')).toLowerCase();
}

/** Refuses what another site's page sends in the name of a paired tablet. */
export const sameOrigin: MiddlewareHandler<Env> = async (c, next) => {
  const origin = c.req.header('origin');
  const host = c.req.header('host');
  const foreign =
    origin !== undefined && origin !== `http://${host}` && origin !== `https://${host}`;
  if (foreign && c.req.method !== 'GET' && c.req.method !== 'HEAD') {
    return problem(c, 403, 'foreign-origin', 'Only this server’s own page may write to it.');
  }
  return next();
};

/**
 * Lets the machine itself in, and from the network only paired devices, at a bearable rate.
 *
 * @param pairing undefined when the server listens on the machine itself only
 * @param now clock [ms]
 */
export function guard(pairing: Pairing | undefined, now: () => number): MiddlewareHandler<Env> {
  const requests = new RateLimit(REQUESTS.perSecond, REQUESTS.burst, now);
  return async (c, next) => {
    const address = addressOf(c);
    if (isLoopback(address)) return next();
    if (!requests.take(address)) {
      c.header('Retry-After', '1');
      return problem(c, 429, 'too-many', 'Too many requests from this device. Wait a second.');
    }
    if (pairing?.knows(getCookie(c, COOKIE) ?? '')) return next();
    if (c.req.path === '/pair') return next();
    const message = 'This device is not paired. Open the pairing address the server printed.';
    if (c.req.path.startsWith('/api/')) return problem(c, 401, 'not-paired', message);
    return pairPage(c, 401, message);
  };
}

/** `/pair?code=…`: gives the device its token. */
export function pairRoute(pairing: Pairing | undefined, now: () => number) {
  const attempts = new RateLimit(PAIRINGS.perSecond, PAIRINGS.burst, now);
  return (c: Context<Env>): Response | Promise<Response> => {
    if (pairing === undefined) return c.redirect('/', 303);
    const code = c.req.query('code');
    if (code === undefined) return pairPage(c, 200, 'Type the code the server printed.');
    if (!attempts.take(addressOf(c))) {
      c.header('Retry-After', '20');
      return pairPage(c, 429, 'Too many wrong codes. Wait half a minute.');
    }
    const token = pairing.pair(code);
    if (token === undefined)
      return pairPage(c, 403, 'That is not the code. It is new at each start.');
    setCookie(c, COOKIE, token, {
      httpOnly: true,
      sameSite: 'Strict',
      path: '/',
      maxAge: A_YEAR_S,
    });
    return c.redirect('/', 303);
  };
}

function pairPage(c: Context, status: 200 | 401 | 403 | 429, message: string): Response {
  c.header(
    'Content-Security-Policy',
    "default-src 'none'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
  );
  return c.html(PAIR_PAGE.replace('{message}', message), status);
}
