/** The token of a paired device, in a cookie that scripts cannot read and other sites cannot send. */
import type { Context } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import type { Env } from './context.ts';
import type { Device, Devices } from './devices.ts';
import { isSecure } from './request.ts';

/** Of a token that travelled in the clear. */
const PLAIN_COOKIE = 'ladlework-paired';
/** Of one that never did: a browser sends and takes a name like this by https only. */
const SECURE_COOKIE = '__Host-ladlework-paired';
const A_YEAR_S = 365 * 24 * 3600;

/** The device whose token came with a request. */
export function deviceOf(c: Context<Env>, devices: Devices): Device | undefined {
  const overheard = devices.byToken(getCookie(c, PLAIN_COOKIE) ?? '');
  if (!isSecure(c)) return overheard;
  const own = devices.byToken(getCookie(c, SECURE_COOKIE) ?? '');
  if (own !== undefined) return own;
  // Come over from plain http: what anybody may have listened to is worth nothing from now on.
  // Only when a page is opened; requests on their way beside it still carry the old one.
  if (overheard !== undefined && c.req.header('sec-fetch-mode') === 'navigate') {
    const fresh = devices.exchange(overheard);
    if (fresh !== undefined) {
      giveToken(c, fresh);
      deleteCookie(c, PLAIN_COOKIE, { path: '/' });
    }
  }
  return overheard;
}

/** Hands a device its token, for the way it came by. */
export function giveToken(c: Context<Env>, token: string): void {
  const secure = isSecure(c);
  setCookie(c, secure ? SECURE_COOKIE : PLAIN_COOKIE, token, {
    httpOnly: true,
    sameSite: 'Strict',
    path: '/',
    maxAge: A_YEAR_S,
    secure,
  });
}
