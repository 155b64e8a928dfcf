import type { MiddlewareHandler } from 'hono';

/**
 * The page brings everything with it: no other origin is ever asked, no inline script or style in
 * the markup runs.
 */
const CONTENT_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  "style-src 'self'",
  "font-src 'self'",
  "img-src 'self' data:",
  "connect-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** Headers on every answer. A route that needs another policy has set it before. */
export const safeHeaders: MiddlewareHandler = async (c, next) => {
  await next();
  const set = (name: string, value: string) => {
    if (!c.res.headers.has(name)) c.res.headers.set(name, value);
  };
  set('Content-Security-Policy', CONTENT_POLICY);
  set('X-Content-Type-Options', 'nosniff');
  set('Referrer-Policy', 'no-referrer');
  set('Cross-Origin-Resource-Policy', 'same-origin');
  // The microphone is for spoken numbers, which are off until somebody switches them on; the
  // browser still asks.
  set('Permissions-Policy', 'camera=(), geolocation=(), microphone=(self), payment=()');
  if (c.req.path.startsWith('/api/')) set('Cache-Control', 'no-store');
};
